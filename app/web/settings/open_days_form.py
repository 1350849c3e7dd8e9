"""Reads on which days the shop is open from its form, and writes them back."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from app.errors import Invalid, quoted
from app.forms.reader import Reader
from app.forms.table import TICK, Field, FieldKind
from app.orders import Shop
from app.orders.open_days import MOST_CLOSED, WEEK, OpenDays, Weekday, in_spans

_TO = " to "


def _closed(read: Reader, path: str, _usual: object) -> tuple[date, ...]:
    """Read a date or a span of dates a line, as "2026-12-24 to 2027-01-02"."""
    days: list[date] = []
    for line in read.lines(path, longest=12 * MOST_CLOSED):
        span = [_day(each) for each in line.split(_TO)]
        first, last = span[0], span[-1]
        if first is None or last is None or len(span) > 2:
            read.faults.add(
                path,
                f"{quoted(line, limit=40)} is no day; type a date a line, as 2026-12-25, or a span "
                "of them, as 2026-12-24 to 2027-01-02.",
            )
        elif not 0 <= (last - first).days < MOST_CLOSED:
            read.faults.add(
                path,
                f"{quoted(line, limit=40)} is no span of days; it runs from the first to the last, "
                f"over at most {MOST_CLOSED} of them.",
            )
        else:
            days += [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return tuple(sorted(set(days)))


def _day(text: str) -> date | None:
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        return None
    return day if 2000 <= day.year <= 2200 else None


def _text(days: tuple[date, ...], _known: object) -> str:
    return "\n".join(
        first.isoformat() if first == last else f"{first.isoformat()}{_TO}{last.isoformat()}"
        for first, last in in_spans(days)
    )


def _open_on(day: Weekday) -> Field[Shop]:
    beside = WEEK.index(day) % 2 == 1
    return Field(f"open.{day.value}", f"Open on {day.value.capitalize()}", TICK, beside=beside)


OPEN_DAYS: tuple[Field[Shop], ...] = (
    *(_open_on(day) for day in WEEK),
    Field(
        "open.closed",
        "Closed on",
        FieldKind(control="lines", read=_closed, text=_text),
        "A date a line, as 2026-12-25, or 2026-12-24 to 2027-01-02. Work is promised for days on which "
        "the shop is open.",
    ),
)


def open_days_values(shop: Shop) -> dict[str, Any]:
    """Return what the fields begin with."""
    days = shop.open_days
    weekdays = {day.value: day in days.weekdays for day in WEEK}
    return {"open": {**weekdays, "closed": days.closed}}


def open_days_of(values: dict[str, Any]) -> OpenDays:
    """Take the days out of the values of a form. Raises: Invalid at the form's fields."""
    weekdays = tuple(day for day in WEEK if values.pop(f"open.{day.value}"))
    closed = values.pop("open.closed")
    try:
        return OpenDays(weekdays=weekdays, closed=closed)
    except Invalid as invalid:
        at = {"weekdays": f"open.{WEEK[0].value}", "closed": "open.closed"}
        raise Invalid(replace(each, path=at[each.path]) for each in invalid.faults) from invalid
