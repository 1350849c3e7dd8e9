"""What a request says of a piece as the fields of its form, and where it says each of them.

A member has the path of its field. Where a request may use the words of a spec as well, the field that speaks for
them is the one of the form's own table.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from app.errors import Fault, FaultCollector, Invalid
from app.lengths import Unit, exact_text, parse_length
from app.orders.quoting.form import PIECE, form_path
from app.web.api.requests_lengths import RequestModel


class TypedFields:
    """The fields of the form that a request speaks of. unit: of its bare lengths."""

    def __init__(self, unit: Unit) -> None:
        self.unit = unit
        self.faults = FaultCollector()
        self.texts = {"unit": unit.value}
        self._said_at: dict[str, str] = {}

    def say(self, at: str, text: str | None, field: str = "") -> None:
        """Type what a request says at a path; a fault where it said so elsewhere.

        field: by default the one that speaks for the path.
        """
        if text is None:
            return
        field = field or form_path(at)
        first = self._said_at.setdefault(field, at)
        if first != at:
            self.faults.add(at, f"{first} says it already; give one of the two.")
        elif text:
            self.texts[field] = text

    def say_size(
        self,
        at: str,
        width: str | None,
        height: str | None,
        names: tuple[str, str] = ("width", "height"),
    ) -> None:
        """Type a size that is given by its sides, each read for itself: a mark is for its own side."""
        sides = []
        for name, side in zip(names, (width, height), strict=True):
            try:
                length = parse_length(side or "", unit=self.unit, path=f"{at}.{name}")
                sides.append(exact_text(length, self.unit))
            except Invalid as invalid:
                self.faults.take(invalid)
        self.say(at, " x ".join(sides))

    def floats(self, window: str) -> bool:
        """Tell whether a window that was typed is shown floating: in its own way, or as the piece."""
        shown = self.texts.get(f"{window}.shown")
        return (self.texts.get("presentation") if shown == "piece" else shown) == "float"

    def in_the_request(self, faults: Iterable[Fault]) -> Invalid:
        """Faults at fields of the form where the request speaks of them."""
        return Invalid(replace(f, path=self._said_at.get(f.path, f.path)) for f in faults)


class FormModel(RequestModel):
    """A part of a request of which members are fields of the form."""

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """Type each member that is a field of the form, and those of the parts within."""
        for name in type(self).model_fields:
            _type(typed, f"{path}.{name}" if path else name, getattr(self, name))


def _type(typed: TypedFields, path: str, said: Any) -> None:
    if isinstance(said, FormModel):
        said.type_into(typed, path)
    elif isinstance(said, tuple):
        for row, each in enumerate(said):
            _type(typed, f"{path}.{row}", each)
    elif path in PIECE.at and said is not None and said is not False:
        typed.say(path, "1" if said is True else str(said))
