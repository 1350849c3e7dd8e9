"""Form fields as templates see them: what was typed, what it was understood as, what is wrong.

Nothing typed is changed here: a field shows the text that was posted, with its fault beside it.
"""

from collections.abc import Iterable, Iterator, Mapping
from copy import copy
from dataclasses import dataclass, fields, is_dataclass, replace

from app.errors import Fault
from app.web.kit.stating import Stated

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A button that answers what is asked about a field: its text, which it types into the field.

    fill: that as JSON, for a form that is live. action: the same for the server.
    """

    text: str
    fill: str
    action: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked back about what was typed in a field; nothing where there are no answers."""

    sentence: str = ""
    answers: tuple[Answer, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldView:
    """One field. options: (value, label) of a choice. understood: what the machine read.

    question: what is asked about what was typed; None for a field about which nothing ever is.
    within: the part of the form that its label takes for granted, "Border" of "Left". mode: how an
    amount is stated, "with tax". required: whether a blank is refused; by_others: whether that follows
    from what other fields say, so that a live form renews the mark.
    there: whether the form that was posted had it, filled or not.
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
    within: str = ""
    question: Question | None = None
    mode: str = ""

    @property
    def called(self) -> str:
        """How it is called away from its place on the form: "Border left"."""
        if not self.within:
            return self.label
        return f"{self.within} {self.label[:1].lower()}{self.label[1:]}"

    @property
    def id(self) -> str:
        """The element's id: the path with dashes."""
        return id_of(self.path)

    @property
    def checked(self) -> bool:
        """Whether a checkbox of this field is ticked."""
        return bool(self.value)


def id_of(path: str) -> str:
    """The id of the element of a field's path."""
    return path.replace(".", "-").replace("_", "-")


class Fields:
    """Makes the views of one form's fields from what was typed and what was wrong with it."""

    def __init__(
        self,
        typed: Mapping[str, str],
        faults: Iterable[Fault] = (),
        understood: Mapping[str, str] | None = None,
        questions: Mapping[str, Question] | None = None,
    ) -> None:
        self._typed = typed
        self._understood = understood or {}
        self._questions = questions or {}
        self._within = ""
        self._needed: frozenset[str] = frozenset()
        self._errors: dict[str, list[str]] = {}
        for fault in faults:
            self._errors.setdefault(fault.path, []).append(fault.message)

    def within(self, part: str) -> "Fields":
        """The same form, making the fields of a part of it, as "Border" or "Window A"."""
        inner = copy(self)
        inner._within = part
        return inner

    def needing(self, paths: Iterable[str]) -> "Fields":
        """The same form, of which some fields are needed because of what others say."""
        inner = copy(self)
        inner._needed = frozenset(paths)
        return inner

    def field(
        self,
        path: str,
        label: str,
        *,
        hint: str | None = None,
        options: Options = (),
        required: bool | None = False,
    ) -> FieldView:
        """The view of the field at a path. required: None where other fields say it, see `needing`."""
        errors = self._errors.get(path)
        return FieldView(
            path=path,
            label=label,
            value=self._typed.get(path, ""),
            hint=hint,
            error=" ".join(errors) if errors else None,
            understood=None if errors else self._understood.get(path),
            options=options,
            required=path in self._needed if required is None else required,
            by_others=required is None,
            there=path in self._typed,
            within=self._within,
        )

    def asked_about(
        self, path: str, label: str, *, hint: str, required: bool | None = False
    ) -> FieldView:
        """The view of a field about which something may be asked back."""
        field = self.field(path, label, hint=hint, required=required)
        return replace(field, question=self._questions.get(path, Question()))

    def amount(
        self,
        path: str,
        label: str,
        stated: Stated,
        *,
        hint: str | None = None,
        required: bool = False,
    ) -> FieldView:
        """The view of a field for an amount: it says how it is stated, with tax or without (M5).

        Beside it stands what was typed the other way.
        """
        view = self.field(path, label, hint=hint, required=required)
        told = None if view.error else stated.told(view.value)
        return replace(view, mode=stated.words, understood=told)

    def typed(self, path: str) -> str:
        """What was typed in the field at a path."""
        return self._typed.get(path, "")


def fields_in(model: object) -> Iterator[FieldView]:
    """Every field of a page model, however deep it stands in models, tuples and mappings of this floor."""
    if isinstance(model, FieldView):
        yield model
    elif isinstance(model, Mapping):
        for each in model.values():
            yield from fields_in(each)
    elif isinstance(model, tuple):
        for each in model:
            yield from fields_in(each)
    elif is_dataclass(model) and type(model).__module__.startswith("app.web."):
        for part in fields(model):
            yield from fields_in(getattr(model, part.name))
