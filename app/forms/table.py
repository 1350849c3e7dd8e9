"""Forms as tables: one line declares a field.

What a line says of a field is said nowhere else: its path, what it is called, what it holds, what a blank
stands for, an example, whether it is needed. Reading, writing back, the views on a page, the labels of faults
and of two versions side by side, and the list of known fields follow from it.

A line may follow from what else is known, `C`: the shop, or the shop with all that was typed.
"""

from collections.abc import Callable, Mapping
from dataclasses import KW_ONLY, dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cached_property
from typing import Any, Protocol

from app.forms.reader import Reader, length_text, number_text, percent_text, size_text
from app.framing.mass import mass_text
from app.lengths import Example, Examples, Length, Size, Unit
from app.money import Currency, Money, show_money

type Options = tuple[tuple[str, str], ...]
"""(value, label) of each choice."""

type Said[C] = str | Callable[[C], str]


class Known(Protocol):
    """What every form knows: what a bare number is in."""

    @property
    def unit(self) -> Unit:
        """Of lengths and sizes."""

    @property
    def currency(self) -> Currency:
        """Of amounts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind[T]:
    """What a field holds.

    control: what it is typed into, a name that the pages print by. read: the value of what was typed, the given one
    where that is blank or, with a fault, unreadable. text: a value as typed, reading back exactly. find: the
    materials that a finder looks among.
    """

    control: str
    read: Callable[[Reader, str, Any], T]
    text: Callable[[T, Known], str]
    options: Options = ()
    find: str = ""


def _plain(value: str, _known: Known) -> str:
    return value


TEXT = Kind[str](
    control="text", read=lambda read, path, usual: read.text(path) or usual or "", text=_plain
)
AREA = Kind[str](control="area", read=TEXT.read, text=_plain)
LENGTH = Kind[Length](
    control="length", read=Reader.length, text=lambda value, known: length_text(value, known.unit)
)
SIZE = Kind[Size](
    control="length", read=Reader.size, text=lambda value, known: size_text(value, known.unit)
)
MASS = Kind[Fraction | None](
    control="text",
    read=Reader.mass,
    text=lambda kg, known: "" if kg is None else mass_text(kg, known.unit),
)
MONEY = Kind[Money](
    control="money", read=Reader.money, text=lambda value, _known: show_money(value)
)
PERCENT = Kind[Fraction](
    control="number", read=Reader.percent, text=lambda value, _known: percent_text(value)
)
TICK = Kind[bool](
    control="checkbox",
    read=lambda read, path, _usual: read.ticked(path),
    text=lambda value, _known: "1" if value else "",
)


def text_of(longest: int, control: str = "text") -> Kind[str]:
    """A text of at most so many characters."""
    return Kind(
        control=control,
        read=lambda read, path, usual: read.text(path, longest) or usual or "",
        text=_plain,
    )


def number(what: str) -> Kind[Fraction]:
    """A number of zero or more. what: its name in a sentence."""
    return Kind(
        control="number",
        read=lambda read, path, usual: read.number(path, what, usual),
        text=lambda value, _known: number_text(value),
    )


def percent(high: int) -> Kind[Fraction]:
    """A share, typed per cent, of at most so much."""
    return Kind(
        control="number",
        read=lambda read, path, usual: read.percent(path, usual, high=high),
        text=PERCENT.text,
    )


def whole(what: str, low: int = 0, high: int = 10**6) -> Kind[int]:
    """A whole number between two bounds, both allowed. what: its name in a sentence."""
    return Kind(
        control="number",
        read=lambda read, path, usual: read.whole(path, what, usual, low=low, high=high),
        text=lambda value, _known: str(value),
    )


def choice[E: StrEnum](of: type[E], options: Options) -> Kind[E]:
    """One of some choices, with the label of each."""
    return Kind(
        control="select",
        read=lambda read, path, usual: read.choice(path, of, usual),
        text=lambda value, _known: value.value if value is not None else "",
        options=options,
    )


@dataclass(frozen=True, slots=True)
class Field[C]:
    """One field of a form.

    hint: beside the field, "{usual}" in it standing for what a blank is taken for; where there is none, that
    alone. within: the part of the form that its label takes for granted, "Border" of "left". usual:
    the value that a blank stands for. like: a value that would do, for the sentence that asks for one. options: of a
    choice that follows from what is known. needed: whether a blank is refused. asked: whether something may be
    asked back about what was typed. apart: whether it stands outside of its numbered row. rule: the number of
    the rule in the handbook that says what it is.
    """

    path: str
    label: Said[C]
    kind: Kind[Any]
    _: KW_ONLY
    hint: Said[C] = ""
    within: Said[C] = ""
    usual: Callable[[C], Any] | None = None
    like: Example | None = None
    options: Callable[[C], Options] | None = None
    needed: bool | Callable[[C], bool] = False
    asked: bool = False
    apart: bool = False
    rule: str = ""


class Form[C: Known]:
    """The fields of a form, in the order of the page. grows: names of the numbered rows that a page grows by."""

    def __init__(self, *fields: Field[C], grows: tuple[str, ...] = ()) -> None:
        self.fields = fields
        self.grows = grows

    @cached_property
    def at(self) -> Mapping[str, Field[C]]:
        """The fields by their paths."""
        return {field.path: field for field in self.fields}

    @cached_property
    def paths(self) -> tuple[str, ...]:
        """The path of every field."""
        return tuple(self.at)

    @cached_property
    def examples(self) -> Examples:
        """The examples of lengths and sizes, whichever row they stand in."""
        return {
            ".".join(part for part in field.path.split(".") if not part.isdigit()): field.like
            for field in self.fields
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

    def reader(self, typed: Mapping[str, str], known: C) -> Reader:
        """Reads what was typed, with the examples of the form."""
        return Reader(typed, known.unit, known.currency, self.examples)

    def values(self, read: Reader, known: C) -> dict[str, Any]:
        """The value of every field; the faults stay with the reader."""
        return {
            field.path: field.kind.read(read, field.path, usual_of(field, known))
            for field in self.fields
        }

    def read(self, typed: Mapping[str, str], known: C) -> dict[str, Any]:
        """The value of every field. Raises: Invalid with every fault, at its field."""
        read = self.reader(typed, known)
        values = self.values(read, known)
        read.faults.finish()
        return values

    def typed(self, value_at: Callable[[str], Any], known: C) -> dict[str, str]:
        """The text that each field begins with; blank where its value is None."""
        values = ((field, value_at(field.path)) for field in self.fields)
        return {
            field.path: "" if value is None else field.kind.text(value, known)
            for field, value in values
        }

    def labels(self, known: C) -> dict[str, str]:
        """What each field is called away from its place, by its path."""
        return {
            field.path: called(said(field.label, known), said(field.within, known))
            for field in self.fields
        }


def said[C](words: Said[C], known: C) -> str:
    """Words, or those that follow from what is known."""
    return words if isinstance(words, str) else words(known)


def usual_of[C](field: Field[C], known: C) -> Any:
    """What a blank field stands for; None where nothing is usual."""
    return None if field.usual is None else field.usual(known)


def hint_of[C: Known](field: Field[C], known: C) -> str:
    """The hint with what is usual in its place."""
    hint = said(field.hint, known)
    if field.usual is None or (hint and "{usual}" not in hint):
        return hint
    usual = field.kind.text(field.usual(known), known)
    return hint.format(usual=usual) if hint else usual


def called(label: str, within: str) -> str:
    """How a field is called away from its place on the form: "Border left"."""
    return f"{within} {label[:1].lower()}{label[1:]}" if within else label
