"""A day for which work is promised: what is told of it while it is typed, and when it is refused."""

from dataclasses import replace
from datetime import date
from typing import Any

from app.days import Calendar, Towards, days_from_now, read_day, show_day, show_short_day
from app.errors import Fault, Invalid
from app.forms.kinds import DAY
from app.orders.open_days import OpenDays


def promised_day(day: date, calendar: Calendar, open_days: OpenDays) -> str:
    """Say a day and whether work can be promised for it.

    "Sat 28 Nov 2026, yesterday: this day is past", "Sun 13 Dec 2026, in 14 days: the shop is closed; open next on Mon 14 Dec".
    """
    return f"{show_day(day)}, {days_from_now(day, calendar.today)}{_but(day, calendar, open_days)}"


def _but(day: date, calendar: Calendar, open_days: OpenDays) -> str:
    if day < calendar.today:
        return ": this day is past"
    if open_days.open_on(day):
        return ""
    following = open_days.next_open(day)
    return (
        f": the shop is closed; open next on {show_day(following)[:4]}{show_short_day(following)}"
    )


def _told(text: str, known: Any) -> str | None:
    try:
        day = read_day(text, known.calendar, towards=Towards.COMING)
    except Invalid:
        return None
    return promised_day(day, known.calendar, known.shop.open_days)


PROMISED = replace(DAY, control="promised-day", told=_told)
"""A day for which work is promised, in a form that knows its shop."""


def past(path: str, day: date | None, today: date, kept: date | None = None) -> tuple[Fault, ...]:
    """Return a fault where a day that is promised is past. kept: the day that was promised before, which may stay."""
    if day is None or day >= today or day == kept:
        return ()
    said = f"{show_day(day)} is past. Type a day from today on, or leave the field empty."
    return (Fault(path=path, message=said),)
