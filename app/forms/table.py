"""Forms as tables: one line declares a field.

What a line says of a field is said nowhere else: its path, what it is called, what it holds, what a blank
stands for, an example, whether it is needed. Reading, writing back, the views on a page, the labels of faults
and of two versions side by side, and the list of known fields follow from it.

A line may follow from what else is known, `C`: the shop, or the shop with all that was typed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import KW_ONLY, dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction
from functools import cached_property
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
from app.forms.rows import MOST_ROWS, rows_in
from app.framing.mass import mass_text
from app.lengths import ZERO, Example, Examples, Length, Size, Unit
from app.money import Currency, Money, show_money

type Typed = Mapping[str, str]
"""What was typed in a form: the text of each field, by its path."""

type Options = tuple[tuple[str, str], ...]
"""(value, label) of each choice."""

type Said[C] = str | Callable[[C], str]


class HowStated(Protocol):
    """Whether an amount is stated with tax or without, and how it reads the other way."""

    @property
    def words(self) -> str:
        """The words for it: "with tax", "without tax"; "" where nothing is ever taxed."""

    def told(self, text: str) -> str | None:
        """Return a typed amount as it is the other way; None while it cannot be read."""


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


@dataclass(frozen=True, slots=True)
class Field[C]:
    """One field of a form.

    hint: stands beside the field. "{usual}" in it is replaced by the usual value; where there is no
    hint, the usual value alone is printed. within: the part of the form that its label takes for
    granted, "Border" of "left". usual: the value that a blank stands for, or a function that returns
    it; where a blank is refused, it stands in for the missing value. like: an example for the sentence
    that asks for a value. options: returns the choices where they follow from what is known. needed:
    whether a blank is refused. wish: the sentence that refuses it, whole or up to the example. asked:
    whether the app may ask back about what was typed. apart: whether it stands outside of its numbered
    row. rule: the number of the handbook's rule that explains it. beside: whether it stands beside the
    field before it on the page. part: the part of the page that it stands in, "" for the first. stated:
    returns whether its amount is with tax or without, by all that was typed.
    """

    path: str
    label: Said[C]
    kind: FieldKind[Any]
    hint: Said[C] = ""
    _: KW_ONLY
    within: Said[C] = ""
    usual: Any = None
    like: Example | None = None
    options: Callable[[C], Options] | None = None
    needed: bool | Callable[[C], bool] = False
    wish: str = ""
    asked: bool = False
    apart: bool = False
    rule: str = ""
    beside: bool = False
    part: str = ""
    stated: Callable[[C, Typed], HowStated] | None = None


def _calendar_of(known: object) -> Calendar | None:
    return known.calendar if isinstance(known, KnowsToday) else None


class Form[C: FormContext]:
    """The fields of a form, in the order of the page.

    grows: names of the numbered rows that a page grows by. repeats: rows of fields, as many as there
    are. usual: returns what a blank stands for by its path, for fields that do not say so themselves.
    root: the path beneath which the form stands in another one.
    """

    def __init__(
        self,
        *fields: Field[C],
        grows: tuple[str, ...] = (),
        repeats: "tuple[Rows[C], ...]" = (),
        usual: Callable[[C], Callable[[str], Any]] | None = None,
        root: str = "",
    ) -> None:
        self.fields = fields if usual is None else tuple(_with_usual(f, usual) for f in fields)
        self.grows = grows
        self.repeats = repeats
        self.root = root

    @cached_property
    def at(self) -> Mapping[str, Field[C]]:
        """The fields by their paths within this form."""
        return {field.path.removeprefix(self.root): field for field in self.fields}

    @cached_property
    def paths(self) -> tuple[str, ...]:
        """The path of every field."""
        return tuple(self.at)

    def under(self, path: str, within: str = "") -> "Form[C]":
        """Return the same form beneath a path of another one.

        within: the part of that form which its labels take for granted.
        """
        return Form(
            *(
                replace(field, path=f"{path}.{field.path}", within=within or field.within)
                for field in self.fields
            ),
            repeats=tuple(rows.under(path, within) for rows in self.repeats),
            root=f"{path}.",
        )

    @cached_property
    def examples(self) -> Examples:
        """The examples of lengths and sizes, by path without the numbers of rows."""
        fields = (*self.fields, *(each for rows in self.repeats for each in rows.at(0).fields))
        return {
            ".".join(part for part in field.path.split(".") if not part.isdigit()): field.like
            for field in fields
            if field.like is not None
        }

    @cached_property
    def rows(self) -> Mapping[str, tuple[tuple[str, ...], ...]]:
        """The paths of each numbered row, by the name of the rows."""
        rows: dict[str, dict[int, list[str]]] = {}
        for field in self.fields:
            name, _, rest = field.path.partition(".")
            number = rest.partition(".")[0]
            if number.isdigit() and not field.apart:
                rows.setdefault(name, {}).setdefault(int(number), []).append(field.path)
        return {name: tuple(tuple(each) for each in of.values()) for name, of in rows.items()}

    def reader(self, typed: Typed, known: C) -> Reader:
        """Return a reader of what was typed, which knows the examples of the form."""
        return Reader(typed, known.unit, known.currency, self.examples, _calendar_of(known))

    def values(self, read: Reader, known: C) -> dict[str, Any]:
        """Read the value of every field; the faults stay with the reader."""
        return {path: value_of(field, read, known) for path, field in self.at.items()}

    def read(self, typed: Typed, known: C) -> dict[str, Any]:
        """Read the value of every field. Raises: Invalid with every fault, at its field."""
        read = self.reader(typed, known)
        values = self.values(read, known)
        read.faults.finish()
        return values

    def filled(self, read: Reader) -> bool:
        """Tell whether anything was typed. Choices and hidden fields do not count."""
        chosen = ("hidden", "select")
        return any(
            read.given(field.path) for field in self.fields if field.kind.control not in chosen
        ) or any(row.filled(read) for rows in self.repeats for row in rows.of(read.typed))

    def rows_filled(self, name: str, read: Reader) -> "Iterator[Form[C]]":
        """Return the forms of the rows of a name in which anything was typed."""
        return next(rows for rows in self.repeats if rows.name == name).filled(read)

    def typed(self, value_at: Callable[[str], Any], known: C) -> dict[str, str]:
        """Return the text that each field begins with; it is blank where the value is None."""
        values = ((field, value_at(path)) for path, field in self.at.items())
        typed = {
            field.path: "" if value is None else field.kind.text(value, known)
            for field, value in values
        }
        for rows in self.repeats:
            for number, each in enumerate(value_at(rows.name)):
                typed |= rows.at(number).typed(values_in(each), known)
        return typed


@dataclass(frozen=True, slots=True)
class Rows[C: FormContext]:
    """Numbered rows of the same fields, as many as there are.

    name: the name of the rows in paths. one: what a single row is called, "Rate" of "Rate 2". form: the
    form of a single row. label: what all of them are called. first: fields that only the first row
    needs. least, most: how many rows a page shows.
    """

    name: str
    one: str
    form: Form[C]
    _: KW_ONLY
    label: str = ""
    first: tuple[str, ...] = ()
    least: int = 0
    most: int = MOST_ROWS
    root: str = ""
    within: str = ""

    @property
    def path(self) -> str:
        """The path of all rows together."""
        return f"{self.root}{self.name}"

    def under(self, path: str, within: str) -> "Rows[C]":
        """Return the same rows within a row of others."""
        return replace(self, root=f"{path}.", within=within)

    def at(self, number: int) -> Form[C]:
        """Return the form of the row of a number, from 0."""
        row = self.form.under(
            f"{self.path}.{number}", called(f"{self.one} {number + 1}", self.within)
        )
        if number or not self.first:
            return row
        fields = (replace(f, needed=f.needed or p in self.first) for p, f in row.at.items())
        return Form(*fields, repeats=row.repeats, root=row.root)

    @property
    def blank(self) -> Form[C]:
        """The form of a row that a script adds."""
        return self.form.under(f"{self.path}.__row__")

    def of(self, typed: Typed) -> "Iterator[Form[C]]":
        """Return the forms of the rows that were typed, filled or not, and of those that a page shows anyway."""
        count = min(max(rows_in(typed, self.path), self.least), self.most)
        return (self.at(number) for number in range(count))

    def filled(self, read: Reader) -> "Iterator[Form[C]]":
        """Return the forms of the rows in which anything was typed."""
        return (row for row in self.of(read.typed) if row.filled(read))


def value_of[C: FormContext](field: Field[C], read: Reader, known: C) -> Any:
    """Read the value of a field, or take the usual one where it is blank or unreadable; faults stay
    with the reader.
    """
    if field.wish and (not callable(field.needed) or field.needed(known)):
        read.need(field.path, field.wish)
    return field.kind.read(read, field.path, usual_of(field, known))


def values_in(*values: object) -> Callable[[str], Any]:
    """Return a function that finds the value at a path, "profile.face", in the first object that has
    it.

    It looks for an attribute of an object, a key of a mapping, a number in a tuple, a member of a set
    (True or False). Beneath None everything is None.
    """

    beneath: dict[str, Callable[[str], Any]] = {}

    def value_at(path: str) -> Any:
        name, _, rest = path.partition(".")
        if rest and name in beneath:
            return beneath[name](rest)
        value = next(found for each in values if (found := _value(each, name)) is not _MISSING)
        if not rest or value is None:
            return value
        beneath[name] = values_in(value)
        return beneath[name](rest)

    return value_at


_MISSING = object()


def _value(value: Any, name: str) -> Any:
    if isinstance(value, dict):
        return value.get(name, _MISSING)
    if isinstance(value, tuple):
        return value[int(name)] if int(name) < len(value) else None
    return name in value if isinstance(value, frozenset) else getattr(value, name, _MISSING)


def _with_usual[C](field: Field[C], usual: Callable[[C], Callable[[str], Any]]) -> Field[C]:
    if field.usual is not None:
        return field
    return replace(field, usual=lambda known: usual(known)(field.path))


def said[C](words: Said[C], known: C) -> str:
    """Return words as they are, or as they follow from what is known."""
    return words if isinstance(words, str) else words(known)


def usual_of[C](field: Field[C], known: C) -> Any:
    """Return the value that a blank field stands for; None where nothing is usual."""
    return field.usual(known) if callable(field.usual) else field.usual


def hint_of[C: FormContext](field: Field[C], known: C) -> str:
    """Return the hint with the usual value in its place. A choice and a field that is needed have no usual value."""
    hint = said(field.hint, known)
    chosen = field.kind.options or field.options or field.needed is True
    if field.usual is None or chosen or (hint and "{usual}" not in hint):
        return hint
    usual = field.kind.text(usual_of(field, known), known)
    return hint.format(usual=usual) if hint else usual


def called(label: str, within: str) -> str:
    """Return what a field is called away from its place on the form: "Border left"."""
    return f"{within} {label[:1].lower()}{label[1:]}" if within else label
