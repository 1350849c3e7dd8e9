"""Reads on which days the shop is open from its form, and writes them back."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from app.days import Calendar, read_spans, span_text
from app.errors import Invalid
from app.forms.kinds import TICK, FieldKind, understood_days
from app.forms.reader import Reader
from app.forms.table import Field
from app.orders import Shop
from app.orders.open_days import MOST_CLOSED, WEEK, OpenDays, Weekday, in_spans
from app.web.kit.fields import OfShop


@dataclass(frozen=True, slots=True)
class OfShopToday(OfShop):
    """The shop that the form of its open days is about, on the day on which it is filled in."""

    today: date

    @property
    def calendar(self) -> Calendar:
        """How days are understood in the shop today."""
        return self.shop.calendar(self.today)


def _closed(read: Reader, path: str, _usual: object) -> tuple[date, ...]:
    """Read a day or a span of days a line, as "24 Dec to 2 Jan"."""
    calendar = read.calendar
    assert calendar is not None, "a form with days follows from what knows today"
    text = read.text(path, 12 * MOST_CLOSED)
    spans = read.take(lambda: read_spans(text, calendar, longest=MOST_CLOSED, path=path)) or ()
    apart = ((first, (last - first).days) for first, last in spans)
    days = {first + timedelta(days=n) for first, length in apart for n in range(length + 1)}
    return tuple(sorted(days))


def _text(days: tuple[date, ...], _known: object) -> str:
    return "\n".join(map(span_text, in_spans(days)))


def _told(text: str, known: OfShopToday) -> str | None:
    return understood_days(text, known.calendar, MOST_CLOSED)


def _hint(known: OfShopToday) -> str:
    return (
        f"A day or a span of days a line, as 25 Dec, {known.calendar.example} or 24 Dec to 2 Jan. Work is promised "
        "for days on which the shop is open."
    )


def _open_on(day: Weekday) -> Field[OfShopToday]:
    beside = WEEK.index(day) % 2 == 1
    return Field(f"open.{day.value}", f"Open on {day.value.capitalize()}", TICK, beside=beside)


OPEN_DAYS: tuple[Field[OfShopToday], ...] = (
    *(_open_on(day) for day in WEEK),
    Field(
        "open.closed",
        "Closed on",
        FieldKind(control="closed-days", read=_closed, text=_text, told=_told),
        _hint,
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
