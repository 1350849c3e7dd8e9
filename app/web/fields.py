"""Form fields as templates see them: what was typed, what it was understood as, what is wrong.

Nothing typed is changed here: a field shows the text that was posted, with its fault beside it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.errors import Fault

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldView:
    """One field. options: (value, label) of a choice. understood: what the machine read.

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
    there: bool = False

    @property
    def id(self) -> str:
        """The element's id: the path with dashes."""
        return self.path.replace(".", "-").replace("_", "-")

    @property
    def checked(self) -> bool:
        """Whether a checkbox of this field is ticked."""
        return bool(self.value)


class Fields:
    """Makes the views of one form's fields from what was typed and what was wrong with it."""

    def __init__(
        self,
        typed: Mapping[str, str],
        faults: Iterable[Fault] = (),
        understood: Mapping[str, str] | None = None,
    ) -> None:
        self._typed = typed
        self._understood = understood or {}
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
        """The view of the field at a path."""
        errors = self._errors.get(path)
        return FieldView(
            path=path,
            label=label,
            value=self._typed.get(path, ""),
            hint=hint,
            error=" ".join(errors) if errors else None,
            understood=None if errors else self._understood.get(path),
            options=options,
            required=required,
            there=path in self._typed,
        )
