"""Days as text, one way on every page and paper; `reading` reads each of them back.

Names of days and months are ours and not those of the machine, so that every shop prints alike.
"""

from datetime import date, datetime

from app.counting import counted

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
"""From Monday on, as `date.weekday` counts them."""

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def show_day(day: date) -> str:
    """Return a day as "Thu 10 Dec 2026"."""
    return f"{WEEKDAYS[day.weekday()][:3]} {show_short_day(day)} {day.year}"


def show_short_day(day: date) -> str:
    """Return a day as "10 Dec", where its year is not in doubt."""
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def show_month(day: date) -> str:
    """Return the month of a day as "November 2026"."""
    return f"{MONTHS[day.month - 1]} {day.year}"


def show_moment(moment: datetime) -> str:
    """Return a day and a time as "Thu 10 Dec 2026, 14:05"."""
    return f"{show_day(moment)}, {moment:%H:%M}"


def days_from_now(day: date, today: date) -> str:
    """Tell how far a day is from today: "today", "tomorrow", "in 18 days", "yesterday", "3 days ago".

    From two months of the calendar on it is told in whole months, from two years on in whole years, down: "in 2
    months", "3 years ago". A day with its time counts as its day.
    """
    day, today = _plain(day), _plain(today)
    apart = (day - today).days
    if abs(apart) <= 1:
        return ("yesterday", "today", "tomorrow")[apart + 1]
    far = _far(*sorted((day, today)))
    return f"in {far}" if apart > 0 else f"{far} ago"


def _plain(day: date) -> date:
    return day.date() if isinstance(day, datetime) else day


def _far(early: date, late: date) -> str:
    months = (late.year - early.year) * 12 + late.month - early.month - (late.day < early.day)
    if months < 2:
        return counted((late - early).days, "day")
    return counted(months, "month") if months < 24 else counted(months // 12, "year")
