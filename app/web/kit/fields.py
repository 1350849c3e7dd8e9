"""Form fields as templates see them: what was typed, what it was understood as, what is wrong.

Nothing typed is changed here: a field shows the text that was posted, with its fault beside it.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cached_property
from typing import Any

from app.errors import Fault
from app.forms.kinds import FormContext, Options
from app.forms.table import Field, Form, HowStated, Rows, called, hint_of, said
from app.lengths import Unit
from app.money import Currency
from app.orders import Shop


@dataclass(frozen=True, slots=True)
class OfShop:
    """The shop that a form follows from; a form that follows from more has a subclass of this."""

    shop: Shop

    @property
    def unit(self) -> Unit:
        """The unit of the shop."""
        return self.shop.unit

    @property
    def currency(self) -> Currency:
        """The currency of the shop."""
        return self.shop.currency


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A button that answers a question about a field by typing its text into the field.

    fill: that field and text as JSON, for a form that is live. action: the same for the server.
    """

    text: str
    fill: str
    action: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question that is asked back about what was typed in a field. Without answers nothing is asked.

    unscripted: whether it is for pages without scripts alone, where a list under the field cannot open.
    """

    sentence: str = ""
    answers: tuple[Answer, ...] = ()
    unscripted: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldView:
    """One field, ready to print.

    options: (value, label) of a choice. understood: what the typed text was read as. question: what is
    asked back about the typed text; None for a field about which nothing is ever asked. within: the
    part of the form that its label takes for granted, "Border" of "Left". mode: how an amount is
    stated, "with tax". required: whether a blank is refused. by_others: whether that follows from other
    fields, so that a live form renews the mark. there: whether the form that was posted had the field,
    filled or not. by_habit: whether its text was filled in as what the shop usually takes. control: what it is typed into. find: the materials that a finder looks among. finds_at: the address that it
    asks with the whole form; "" where it asks the price book. rule:
    the number of the handbook's rule that explains it.
    """

    path: str
    label: str
    value: str = ""
    hint: str | None = None
    error: str | None = None
    understood: str | None = None
    options: Options = ()
    required: bool = False
    by_others: bool = False
    there: bool = False
    by_habit: bool = False
    within: str = ""
    question: Question | None = None
    mode: str = ""
    control: str = ""
    find: str = ""
    finds_at: str = ""
    rule: str = ""

    @property
    def called(self) -> str:
        """The name of the field away from its place on the form: "Border left"."""
        return called(self.label, self.within)

    @property
    def filled(self) -> bool:
        """Whether the field has text or a fault."""
        return bool(self.value or self.error)

    @property
    def id(self) -> str:
        """The id of its element: the path with dashes."""
        return id_of(self.path)

    @property
    def checked(self) -> bool:
        """Whether the box of this field is ticked."""
        return bool(self.value)


def id_of(path: str) -> str:
    """Return the id of the element of a field: its path with dashes."""
    return path.replace(".", "-").replace("_", "-")


class Fields:
    """Makes the views of a form's fields from what was typed and from its faults.

    hints: of fields whose blank stands for something else than the form says.
    """

    def __init__(
        self,
        typed: Mapping[str, str],
        faults: Iterable[Fault] = (),
        understood: Mapping[str, str] | None = None,
        questions: Mapping[str, Question] | None = None,
        rules: Mapping[str, str] | None = None,
        *,
        hints: Mapping[str, str] | None = None,
        by_habit: frozenset[str] = frozenset(),
        grown: frozenset[str] = frozenset(),
        finds_at: str = "",
    ) -> None:
        """finds_at: the address that finders ask with the whole form, up to the path of the field. by_habit, grown: of fields that were filled in as usual, all of them and those that the posted form had not."""
        self._typed = typed
        self._by_habit = by_habit
        self._grown = grown
        self._finds_at = finds_at
        self._understood = understood or {}
        self._questions = questions or {}
        self._rules = rules or {}
        self._hints = hints or {}
        self._errors: dict[str, list[str]] = {}
        for fault in faults:
            self._errors.setdefault(fault.path, []).append(fault.message)

    def field(
        self,
        path: str,
        label: str,
        *,
        hint: str | None = None,
        options: Options = (),
        required: bool = False,
    ) -> FieldView:
        """Return the view of the field at a path."""
        return self._view(path, label=label, hint=hint, options=options, required=required)

    def _view(self, path: str, **said: Any) -> FieldView:
        """Return the view of a field with what was typed there; said: what the form says of it."""
        errors = self._errors.get(path)
        return FieldView(
            path=path,
            value=self._typed.get(path, ""),
            error=" ".join(errors) if errors else None,
            understood=None if errors else self._understood.get(path),
            there=path in self._typed and path not in self._grown,
            by_habit=path in self._by_habit,
            **said,
        )

    def of[C: FormContext](self, field: Field[C], known: C) -> FieldView:
        """Return the view of a declared field."""
        view = self._view(
            field.path,
            label=said(field.label, known),
            hint=self._hints.get(field.path) or hint_of(field, known) or None,
            options=field.options(known) if field.options else field.kind.options,
            required=field.needed(known) if callable(field.needed) else field.needed,
            by_others=callable(field.needed),
            within=said(field.within, known),
            question=self._questions.get(field.path, Question() if field.asked else None),
            control=field.kind.control,
            find=field.kind.find,
            finds_at=f"{self._finds_at}{field.path}" if field.kind.find and self._finds_at else "",
            rule=field.rule or self._rules.get(field.path, ""),
        )
        if field.kind.told:
            return self._told(view, field.kind.told(view.value, known))
        return self._stated(view, field.stated(known, self._typed)) if field.stated else view

    def _told(self, view: FieldView, understood: str | None) -> FieldView:
        return replace(view, understood=None if view.error else understood)

    def _stated(self, view: FieldView, stated: HowStated) -> FieldView:
        told = None if view.error else stated.told(view.value)
        return replace(view, mode=stated.words, understood=told)

    def fill(self, paths: Iterable[str]) -> bool:
        """Tell whether anything was typed in any of some fields."""
        return any(self._typed.get(path, "") for path in paths)

    def rows_of[C: FormContext](self, rows: Rows[C], known: C) -> "RowsView[C]":
        """Return the views of numbered rows, as many as were typed."""
        return RowsView(
            name=rows.path,
            all=self.field(rows.path, rows.label),
            rows=tuple(FormView(row, known, self) for row in rows.of(self._typed)),
            blank=FormView(rows.blank, known, Fields({})),
        )


@dataclass(frozen=True, slots=True)
class RowView:
    """The fields of one numbered row.

    shown: whether it is open, not folded away.
    """

    number: int
    fields: tuple[FieldView, ...]
    shown: bool

    @property
    def there(self) -> bool:
        """Whether the page that was posted has the row already."""
        return self.fields[0].there


@dataclass(frozen=True, slots=True, kw_only=True)
class RowsView[C: FormContext]:
    """Numbered rows of the same fields.

    all: the field at which faults of all rows together stand. blank: the row that a button adds.
    """

    name: str
    all: FieldView
    rows: "tuple[FormView[C], ...]"
    blank: "FormView[C]"


class FormView[C: FormContext](Mapping[str, FieldView]):
    """The views of a form's fields by their paths, each made when it is asked for."""

    def __init__(self, form: Form[C], known: C, make: Fields) -> None:
        self._form = form
        self._known = known
        self._make = make
        self._made: dict[str, FieldView] = {}

    def __getitem__(self, path: str) -> FieldView:
        if path not in self._made:
            self._made[path] = self._make.of(self._form.at[path], self._known)
        return self._made[path]

    def __iter__(self) -> Iterator[str]:
        return iter(self._form.paths)

    def __len__(self) -> int:
        return len(self._form.paths)

    def rows(self, name: str, at_least: int = 1, *, more: int = 1) -> tuple[RowView, ...]:
        """Return the numbered rows of a name.

        The first `at_least` are shown, and with them all up to the last filled one and `more` beyond
        it.
        """
        rows = self._form.rows[name]
        filled = (number for number, row in enumerate(rows, 1) if self._make.fill(row))
        last = max(filled, default=0)
        shown = max(at_least, last + more if last else 0)
        return tuple(
            RowView(number, tuple(self[path] for path in row), number < shown)
            for number, row in enumerate(rows)
        )

    def filled(self, *paths: str) -> bool:
        """Tell whether any of some fields has text or a fault."""
        return any(self[path].filled for path in paths)

    @cached_property
    def repeats(self) -> Mapping[str, RowsView[C]]:
        """The rows of which there are as many as were typed, by their names."""
        return {rows.name: self._make.rows_of(rows, self._known) for rows in self._form.repeats}

    def lines(self, part: str = "") -> tuple[tuple[FieldView, ...], ...]:
        """Return the fields of a part of the page line by line: a tuple holds fields that stand beside each other."""
        lines: list[list[FieldView]] = []
        for path, field in self._form.at.items():
            if field.part == part:
                if not field.beside:
                    lines.append([])
                lines[-1].append(self[path])
        return tuple(map(tuple, lines))

    @property
    def on_the_page(self) -> Iterator[FieldView]:
        """The fields that the posted page had: all but those of rows that it has not grown to."""
        grown = {
            path: row[0]
            for name in self._form.grows
            for row in self._form.rows[name]
            for path in row
        }
        return (self[path] for path in self if path not in grown or self[grown[path]].there)


def fields_in(model: object) -> Iterator[FieldView]:
    """Find every field of a page model, however deep it stands in models, tuples and mappings of the web package."""
    if isinstance(model, FieldView):
        yield model
    elif isinstance(model, Mapping):
        for each in model.values():
            yield from fields_in(each)
        if isinstance(model, FormView):
            yield from fields_in(tuple((each.all, each.rows) for each in model.repeats.values()))
    elif isinstance(model, tuple):
        for each in model:
            yield from fields_in(each)
    elif is_dataclass(model) and type(model).__module__.startswith("app.web."):
        for part in fields(model):
            yield from fields_in(getattr(model, part.name))
