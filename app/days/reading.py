"""Reads a day as a person types it: "13 Dec", "13.12.", "12/13", "in 2 weeks", "Friday", "2026-12-13".

Whatever `printing` writes is read back as the same day. A day without its year is the next such day or the last
one, today included, as the field asks. Nothing is guessed: a number alone, a month that does not exist in the shop's
order of day and month, a day that its month has not, and a weekday that is not that day's are refused in words.
Libraries that read days were looked at and left: they take a bare number for a day of this month, exchange day and
month where that gives a day, and know no day of the past or to come.
"""

import re
from calendar import monthrange
from collections.abc import Callable
from datetime import date, timedelta

from app.days.calendar import Calendar, DayOrder, Towards
from app.days.printing import MONTHS, WEEKDAYS, show_day
from app.errors import Invalid, quoted

FIRST_YEAR, LAST_YEAR = 2000, 2200

_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})", re.ASCII)
_DOTTED = re.compile(
    r"(?P<day>\d{1,2})\. ?(?P<month>\d{1,2})\.?(?: ?(?P<year>\d{4}|\d{2}))?", re.ASCII
)
_SLASHED = re.compile(
    r"(?P<first>\d{1,2})(?P<by>[/-])(?P<second>\d{1,2})(?:(?P=by)(?P<year>\d{4}|\d{2}))?", re.ASCII
)
_DAY = r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?"
_YEAR = r"(?:[ ,.-]+(?P<year>\d{4}|\d{2}))?"
_DAY_AND_NAME = re.compile(rf"{_DAY}(?: of)?[ -]*(?P<month>[a-z]+)\.?{_YEAR}", re.ASCII)
_NAME_AND_DAY = re.compile(rf"(?P<month>[a-z]+)\.?[ -]*{_DAY}{_YEAR}", re.ASCII)
_AWAY = re.compile(
    r"(?:(?P<coming>in) )?(?P<count>\d{1,4}|[a-z]{1,6}) (?P<unit>day|week|month|year)s?"
    r"(?: (?P<past>ago))?",
    re.ASCII,
)
_WEEKDAY = re.compile(r"(?:(?P<which>next|last|this|on) )?(?P<name>[a-z]+)\.?", re.ASCII)
_AFTER_WEEKDAY = re.compile(r"(?P<name>[a-z]+)\.?,? (?P<rest>.*\d.*)", re.ASCII)

_MONTH_FORMS = (
    re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})", re.ASCII),
    re.compile(r"(?P<month>\d{1,2}) ?[/.] ?(?P<year>\d{4})", re.ASCII),
    re.compile(r"(?P<month>[a-z]+)\.?(?:[ ,-]+(?P<year>\d{4}))?", re.ASCII),
)

_WORDS = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
]
_COUNTS = {"a": 1, "an": 1} | {word: count for count, word in enumerate(_WORDS, start=1)}
_NEAR = {"today": 0, "tomorrow": 1, "yesterday": -1}


class _Wrong(Exception):
    """Why a text is no day; the message goes on after what was typed is quoted."""


def read_day(
    typed: str, calendar: Calendar, *, towards: Towards = Towards.COMING, path: str = "day"
) -> date:
    """Return the day that was typed.

    towards: whether a day without its year, and a weekday, is the next such day or the last one.

    Raises: Invalid at the path, with a sentence that quotes what was typed and gives examples.
    """
    text = " ".join(typed.casefold().replace(",", ", ").split()).replace(" ,", ",")
    try:
        day = _read(text, calendar, towards)
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            raise _Wrong(f"lies too far away; years from {FIRST_YEAR} to {LAST_YEAR} are kept")
    except _Wrong as wrong:
        raise Invalid.at(path, f"{quoted(typed.strip())} {wrong}.") from None
    except OverflowError:
        far = f"lies too far away; years from {FIRST_YEAR} to {LAST_YEAR} are kept"
        raise Invalid.at(path, f"{quoted(typed.strip())} {far}.") from None
    return day


def read_month(typed: str, calendar: Calendar, *, path: str = "month") -> date:
    """Return the first day of the month that was typed: "2026-11", "Nov 2026", "11/2026", "November".

    Without its year it is the last such month, that of today included.

    Raises: Invalid at the path, with a sentence that quotes what was typed and gives examples.
    """
    text = " ".join(typed.casefold().split())
    match = next((found for form in _MONTH_FORMS if (found := form.fullmatch(text))), None)
    name = match["month"] if match else ""
    month = int(name) if name.isdigit() else _month(name)
    if match is None or month is None or not 1 <= month <= 12:
        raise Invalid.at(
            path, f"{quoted(typed.strip())} is no month; type it as Nov 2026, 11/2026 or 2026-11."
        )
    today = calendar.today
    year = int(match["year"] or today.year - (month > today.month))
    if not FIRST_YEAR <= year <= LAST_YEAR:
        far = f"lies too far away; years from {FIRST_YEAR} to {LAST_YEAR} are kept"
        raise Invalid.at(path, f"{quoted(typed.strip())} {far}.")
    return date(year, month, 1)


def examples(calendar: Calendar, towards: Towards = Towards.COMING) -> str:
    """Return some days as they may be typed, for a hint or a fault."""
    away = "in 2 weeks" if towards is Towards.COMING else "2 days ago"
    return f"13 Dec, {calendar.example}, Friday, {away} or 2026-12-13"


def _read(text: str, calendar: Calendar, towards: Towards) -> date:
    if text in _NEAR:
        return calendar.today + timedelta(days=_NEAR[text])
    for pattern, found in _FORMS:
        if match := pattern.fullmatch(text):
            day = found(match, calendar, towards)
            if day is not None:
                return day
    if (match := _AFTER_WEEKDAY.fullmatch(text)) and (
        weekday := _weekday(match["name"])
    ) is not None:
        return _of_weekday(_read(match["rest"], calendar, towards), weekday)
    if text.isdigit():
        raise _Wrong(
            f"is a number without its month; type the day as {examples(calendar, towards)}"
        )
    raise _Wrong(f"is no day that can be read; type it as {examples(calendar, towards)}")


def _iso(match: re.Match[str], calendar: Calendar, towards: Towards) -> date:
    return _on(int(match["day"]), int(match["month"]), match["year"], calendar, towards)


def _slashed(match: re.Match[str], calendar: Calendar, towards: Towards) -> date:
    first, second = int(match["first"]), int(match["second"])
    day_first = calendar.order is DayOrder.DAY_FIRST
    day, month = (first, second) if day_first else (second, first)
    if not 1 <= month <= 12:
        order = "the day stands first" if day_first else "the month stands first"
        raise _Wrong(
            f"has a month {month}, since {order} here; type it as {calendar.example} or 13 Dec"
        )
    return _on(day, month, match["year"], calendar, towards)


def _named(match: re.Match[str], calendar: Calendar, towards: Towards) -> date | None:
    month = _month(match["month"])
    if month is None:
        return None
    return _on(int(match["day"]), month, match["year"], calendar, towards)


def _away(match: re.Match[str], calendar: Calendar, towards: Towards) -> date | None:
    """Read "in 2 weeks", "two weeks ago", and "two weeks" as its field asks."""
    said = match["count"]
    if not said.isdigit() and said not in _COUNTS:
        return None
    if match["coming"] and match["past"]:
        raise _Wrong("says both to come and past; type “in 2 weeks” or “2 weeks ago”")
    count = _COUNTS.get(said) or int(said)
    if match["past"] or (towards is Towards.PAST and not match["coming"]):
        count = -count
    today = calendar.today
    match match["unit"]:
        case "day":
            return today + timedelta(days=count)
        case "week":
            return today + timedelta(weeks=count)
        case unit:
            return _months_on(today, count * (12 if unit == "year" else 1))


def _months_on(day: date, months: int) -> date:
    """Return the same day so many months on, the last of a shorter month."""
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise OverflowError
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def _on_weekday(match: re.Match[str], calendar: Calendar, towards: Towards) -> date | None:
    """Read "Friday": the next or the last one, never today; "next Friday" is that of the week after this one, weeks
    beginning on Monday; "last Friday" the last one; "this Friday" that of this week.
    """
    weekday, today = _weekday(match["name"]), calendar.today
    if weekday is None:
        return None
    monday = today - timedelta(days=today.weekday())
    match match["which"]:
        case "next":
            return monday + timedelta(days=7 + weekday)
        case "this":
            return monday + timedelta(days=weekday)
        case "last":
            towards = Towards.PAST
        case _:
            pass
    if towards is Towards.PAST:
        return today - timedelta(days=(today.weekday() - weekday - 1) % 7 + 1)
    return today + timedelta(days=(weekday - today.weekday() - 1) % 7 + 1)


_Found = Callable[[re.Match[str], Calendar, Towards], date | None]

_FORMS: tuple[tuple[re.Pattern[str], _Found], ...] = (
    (_ISO, _iso),
    (_DOTTED, _iso),
    (_SLASHED, _slashed),
    (_DAY_AND_NAME, _named),
    (_NAME_AND_DAY, _named),
    (_AWAY, _away),
    (_WEEKDAY, _on_weekday),
)


def _on(day: int, month: int, year: str | None, calendar: Calendar, towards: Towards) -> date:
    """Return a day of a month, and of the year that its field asks for where none was typed."""
    if not 1 <= month <= 12:
        raise _Wrong(f"has a month {month}; months run from 1 to 12")
    longest = monthrange(2000, month)[1]
    if not 1 <= day <= longest:
        length = "28 days, 29 in a leap year" if month == 2 else f"{longest} days"
        raise _Wrong(f"does not exist; {MONTHS[month - 1]} has {length}")
    if year is not None:
        return _in_year(day, month, int(year) + (2000 if len(year) == 2 else 0))
    step = 1 if towards is Towards.COMING else -1
    years = range(calendar.today.year, calendar.today.year + 9 * step, step)
    return next(
        found
        for found in (date(each, month, day) for each in years if day <= monthrange(each, month)[1])
        if (found >= calendar.today if step == 1 else found <= calendar.today)
    )


def _in_year(day: int, month: int, year: int) -> date:
    if year == 0:
        raise _Wrong(f"lies too far away; years from {FIRST_YEAR} to {LAST_YEAR} are kept")
    if day > monthrange(year, month)[1]:
        raise _Wrong(f"does not exist; February has 28 days in {year}")
    return date(year, month, day)


def _of_weekday(day: date, weekday: int) -> date:
    if day.weekday() != weekday:
        is_so = WEEKDAYS[day.weekday()]
        raise _Wrong(f"is no {WEEKDAYS[weekday]}; {show_day(day)[4:]} is a {is_so}")
    return day


def _weekday(name: str) -> int | None:
    return _starting(WEEKDAYS, name, least=2)


def _month(name: str) -> int | None:
    found = _starting(MONTHS, "sep" if name == "sept" else name, least=3)
    return None if found is None else found + 1


def _starting(names: tuple[str, ...], typed: str, *, least: int) -> int | None:
    """Return the place of the name that begins as typed; None where none does, or too few letters say so."""
    if len(typed) < least:
        return None
    full = [number for number, name in enumerate(names) if name.casefold().startswith(typed)]
    return full[0] if len(full) == 1 else None
