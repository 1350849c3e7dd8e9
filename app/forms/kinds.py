"""What a field of a form holds: how its value is read and written, and what it is typed into.

A kind knows nothing of the field that has it; what reading and writing need of the surroundings is the form’s context.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction
from typing import Any, Protocol, runtime_checkable

from app.days import (
    Calendar,
    Towards,
    days_from_now,
    read_day,
    read_spans,
    show_day,
    show_short_day,
    show_spans,
)
from app.errors import Invalid
from app.forms.reader import Reader, length_text, number_text, percent_text, size_text
from app.framing.mass import mass_text
from app.lengths import ZERO, Length, Size, Unit
from app.money import Currency, Money, show_money

type Options = tuple[tuple[str, str], ...]
"""(value, label) of each choice."""


class FormContext(Protocol):
    """What every form knows of its surroundings: the unit and the currency of a number without a mark."""

    @property
    def unit(self) -> Unit:
        """The unit of lengths and sizes."""

    @property
    def currency(self) -> Currency:
        """The currency of amounts."""


@runtime_checkable
class KnowsToday(Protocol):
    """What a form with days knows besides."""

    @property
    def calendar(self) -> Calendar:
        """How a day is understood that is typed."""


@dataclass(frozen=True, slots=True)
class In:
    """The unit and the currency of a number without a mark, for a form that follows from nothing else."""

    unit: Unit
    currency: Currency


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldKind[T]:
    """What a field holds: how its value is read and written, and what it is typed into.

    control: the name by which the pages print what it is typed into. read: returns the value of what
    was typed, or the given default where that is blank or, with a fault, unreadable. text: writes a
    value so that it reads back exactly. find: the materials that a finder looks among. told: returns what a typed
    text was understood as, to stand beside it; None while it cannot be read.
    """

    control: str
    read: Callable[[Reader, str, Any], T]
    text: Callable[[T, FormContext], str]
    options: Options = ()
    find: str = ""
    told: "Callable[[str, Any], str | None] | None" = None


def _plain(value: str, _known: FormContext) -> str:
    return value


TEXT = FieldKind[str](
    control="text", read=lambda read, path, usual: read.text(path) or usual or "", text=_plain
)
AREA = FieldKind[str](control="area", read=TEXT.read, text=_plain)
LENGTH = FieldKind[Length](
    control="length", read=Reader.length, text=lambda value, known: length_text(value, known.unit)
)
ABOVE_ZERO = replace(
    LENGTH,
    read=lambda read, path, usual: read.length(
        path, ZERO if usual is None else usual, zero_ok=False
    ),
)
SIGNED = replace(LENGTH, read=lambda read, path, _usual: read.signed(path))
"""A length that may be less than zero."""
SIZE = FieldKind[Size](
    control="length", read=Reader.size, text=lambda value, known: size_text(value, known.unit)
)


def size_from(least: Mapping[Unit, Length]) -> FieldKind[Size]:
    """Return the kind of field for a width and a height that are no less than a length, given in either unit."""
    return replace(
        SIZE, read=lambda read, path, usual: read.size(path, usual, least=least[read.unit])
    )


MASS = FieldKind[Fraction | None](
    control="text",
    read=Reader.mass,
    text=lambda kg, known: "" if kg is None else mass_text(kg, known.unit),
)
MONEY = FieldKind[Money](
    control="money", read=Reader.money, text=lambda value, _known: show_money(value)
)
PERCENT = FieldKind[Fraction](
    control="number", read=Reader.percent, text=lambda value, _known: percent_text(value)
)


def understood_day(text: str, calendar: Calendar, towards: Towards) -> str | None:
    """Return what day a text is, and how far from today: "Sun 13 Dec 2026, in 14 days"; None where it is none."""
    try:
        day = read_day(text, calendar, towards=towards)
    except Invalid:
        return None
    return say_day(day, calendar)


def say_day(day: date, calendar: Calendar) -> str:
    """Say a day and how far from today it is: "Sun 13 Dec 2026, in 14 days"."""
    return f"{show_day(day)}, {days_from_now(day, calendar.today)}"


def understood_days(text: str, calendar: Calendar, longest: int) -> str | None:
    """Return which days and spans of days a list is, a line each: "Tue 8 Dec 2026; Thu 24 Dec 2026 to Sat 2 Jan 2027".

    longest: the days that a span may be of. None where a line is none, or nothing is typed.
    """
    try:
        return show_spans(read_spans(text, calendar, longest=longest)) or None
    except Invalid:
        return None


def _day_of(control: str, towards: Towards) -> FieldKind[date | None]:
    return FieldKind(
        control=control,
        read=lambda read, path, _usual: read.day(path, towards),
        text=lambda value, _known: day_text(value) if value else "",
        told=lambda text, known: understood_day(text, known.calendar, towards),
    )


def day_text(day: date) -> str:
    """Write a day for its field, where its weekday stands beside: "13 Dec 2026"."""
    return f"{show_short_day(day)} {day.year}"


DAY = _day_of("day", Towards.COMING)
"""A day to come, where its year is not typed."""
PAST_DAY = _day_of("past-day", Towards.PAST)
"""A day of the past, where its year is not typed."""
TICK = FieldKind[bool](
    control="checkbox",
    read=lambda read, path, _usual: read.ticked(path),
    text=lambda value, _known: "1" if value else "",
)


def optional(kind: FieldKind[Any]) -> FieldKind[Any]:
    """Return the same kind of field, whose value is None where it is blank, whatever is usual then."""

    def read(read: Reader, path: str, usual: Any) -> Any:
        return kind.read(read, path, usual) if read.given(path) else None

    return replace(kind, read=read)


def otherwise(kind: FieldKind[Any], value: object) -> FieldKind[Any]:
    """Return the same kind of field with a fixed value for a blank one, which its hint does not mention."""
    return replace(kind, read=lambda read, path, _usual: kind.read(read, path, value))


def text_of(longest: int, control: str = "text") -> FieldKind[str]:
    """Return the kind of field for a text of limited length."""
    return FieldKind(
        control=control,
        read=lambda read, path, usual: read.text(path, longest) or usual or "",
        text=_plain,
    )


def number(what: str) -> FieldKind[Fraction]:
    """Return the kind of field for a number of zero or more.

    what: its name in a sentence.
    """
    return FieldKind(
        control="number",
        read=lambda read, path, usual: read.number(path, what, usual),
        text=lambda value, _known: number_text(value),
    )


def percent(high: int) -> FieldKind[Fraction]:
    """Return the kind of field for a share that is typed in percent.

    high: the highest percentage allowed.
    """
    return FieldKind(
        control="number",
        read=lambda read, path, usual: read.percent(path, usual, high=high),
        text=PERCENT.text,
    )


def whole(what: str, low: int = 0, high: int = 10**6) -> FieldKind[int]:
    """Return the kind of field for a whole number between two bounds, both allowed.

    what: its name in a sentence.
    """
    return FieldKind(
        control="number",
        read=lambda read, path, usual: read.whole(path, what, usual, low=low, high=high),
        text=lambda value, _known: str(value),
    )


def choice[E: StrEnum](of: type[E], options: Options, control: str = "select") -> FieldKind[E]:
    """Return the kind of field for a choice among some values.

    options: the value and the label of each.
    """
    return FieldKind(
        control=control,
        read=lambda read, path, usual: read.choice(path, of, usual),
        text=lambda value, _known: value.value if value is not None else "",
        options=options,
    )
