"""Forms as tables: one line declares a field.

What a line says of a field is said nowhere else: its path, what it is called, what it holds, what a blank
stands for, an example, whether it is needed. Reading, writing back, the views on a page, the labels of faults
and of two versions side by side, and the list of known fields follow from it.

A line may follow from what else is known, `C`: the shop, or the shop with all that was typed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import KW_ONLY, dataclass, replace
from functools import cached_property
from typing import Any, Protocol

from app.days import Calendar
from app.forms.kinds import FieldKind, FormContext, KnowsToday, Options
from app.forms.reader import Reader
from app.forms.rows import MOST_ROWS, rows_in
from app.lengths import Example, Examples

type Typed = Mapping[str, str]
"""What was typed in a form: the text of each field, by its path."""

type Said[C] = str | Callable[[C], str]


class HowStated(Protocol):
    """Whether an amount is stated with tax or without, and how it reads the other way."""

    @property
    def words(self) -> str:
        """The words for it: "with tax", "without tax"; "" where nothing is ever taxed."""

    def told(self, text: str) -> str | None:
        """Return a typed amount as it is the other way; None while it cannot be read."""


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
