"""Reads the fields of a piece one by one, as they were typed on the quote page.

A typed piece is a flat mapping of field path to text. Nothing typed is ever lost: the mapping is
kept with the piece and shown again.
"""

from dataclasses import dataclass, field
from typing import Any, Protocol

from app.errors import quoted
from app.forms.reader import Reader
from app.forms.table import usual_of
from app.lengths import Length, Size, Unit, doubt_about, doubt_about_border, parse_size
from app.orders.quoting.form import PIECE
from app.orders.quoting.piece_typed import PieceTyped
from app.pricing import Kind, Material

LONGEST_FIELD = 2000

NEEDED = "needed"
"""Code of a fault that only says what is still to be typed; while one types it is no error."""

NOT_FOUND = "material-not-found"
"""Code of a fault at a material that is not in the price book, or not only one."""

WHICH_UNIT = "which-unit"
"""Code of a fault that asks in which unit a bare size was said. It offers the sizes that may be meant, the
likeliest first, which is taken until it is answered; while one types it is no error. Source: L4."""


@dataclass(frozen=True, slots=True)
class Several:
    """More than one material that a typed text fits. count: how many. names: of the first of them."""

    count: int
    names: tuple[str, ...] = field(default=(), compare=False)


class FindMaterial(Protocol):
    """Looks a material up by what was typed."""

    def __call__(self, text: str, kind: Kind) -> Material | Several | None:
        """Return the material whose code or whole name this is (any case), else the only match; else how many it fits, None for none."""


def not_one(text: str, called: str, found: Several | None) -> str:
    """Say why a typed text is no material: how many it fits, or that nothing is called so. called: what is looked for."""
    typed = quoted(text)
    if found is None:
        return f"No {called} called {typed}; type a part of its name, or its code."
    many = called if called in _NO_PLURAL else f"{called}s"
    return f"{found.count} {many} match {typed}: choose one, or type more of its name."


_NO_PLURAL = ("hardware", "goods")


class PieceReader(Reader):
    """Reads typed fields one by one, gathering the faults.

    longest: the longest sheet in the price book, where sizes are as said at a counter and doubtful ones are
    asked about; None where they are as a program gives them.
    """

    def __init__(
        self, known: PieceTyped, find: FindMaterial, longest: Length | None = None
    ) -> None:
        super().__init__(known.typed, known.unit, known.currency, PIECE.examples)
        self.known = known
        self._find = find
        self._longest = longest
        for path, text in known.typed.items():
            if len(text) > LONGEST_FIELD:
                self.faults.add(
                    path,
                    f"This field has {len(text)} characters; at most {LONGEST_FIELD} are read.",
                )

    @property
    def bare_mass(self) -> Unit:
        """A weight is said as the shop does, whatever the piece is worked in."""
        return self.known.shop.unit

    def raw(self, path: str) -> str:
        """Return what was typed, without the blanks around it; empty where it is too long to be read."""
        text = super().raw(path)
        return text if len(text) <= LONGEST_FIELD else ""

    def text(self, path: str, longest: int = LONGEST_FIELD) -> str:
        """Return the field's text; empty when it was not typed, and, with a fault, where it is longer than its own limit."""
        return self.raw(path) if longest == LONGEST_FIELD else super().text(path, longest)

    def at(self, path: str) -> Any:
        """Return the value of a field of the form; what is usual where it is blank or unreadable."""
        asked = PIECE.at[path]
        return asked.kind.read(self, path, usual_of(asked, self.known))

    def said_size(self, path: str, what: str) -> Size | None:
        """Return a size that a customer may say; None, with a fault, where it is blank or unreadable.

        Of a doubtful one the likeliest reading, with a fault that asks.
        """
        return self._size(path, what, self._likely(path))

    def ask_of_border(self, path: str, size: str) -> None:
        """Note what is to be asked about a border; while it is not answered, the likeliest is taken. size: the artwork's, as typed."""
        if self._longest is None or self.unit is not Unit.MM:
            return
        doubt = doubt_about_border(self.raw(path), size)
        if doubt is not None:
            self.faults.add(
                path,
                f"{quoted(self.raw(path))} may be meant in inches, as the artwork is, or in mm; choose which.",
                WHICH_UNIT,
                doubt.answers,
            )

    def measured_size(self, path: str, what: str) -> Size | None:
        """Return a size that no customer says, so that it is never asked about."""
        return self._size(path, what, self.raw(path))

    def _size(self, path: str, what: str, text: str) -> Size | None:
        """text: what is read for what was typed."""
        if not self.given(path):
            if not self.known.given(path):
                self.faults.add(
                    path,
                    f'The {what} is empty; type it as said, as 30 x 40 cm, 16x20" or A3.',
                    NEEDED,
                )
            return None
        such_as = self.such_as(path)
        return self.take(lambda: parse_size(text, unit=self.unit, path=path, such_as=such_as))

    def _likely(self, path: str) -> str:
        """Return what was typed; of a doubtful size what it is taken for, with a fault that asks."""
        text = self.raw(path)
        if self._longest is None:
            return text
        doubt = doubt_about(text, unit=self.unit, longest=self._longest)
        if doubt is None:
            return text
        self.faults.add(
            path,
            f"{quoted(text)} may be meant in cm, in or mm; choose which.",
            WHICH_UNIT,
            doubt.answers,
        )
        return doubt.likely

    def material(self, path: str, kind: Kind) -> Material | None:
        """Return a material of one kind; None where the field is blank or, with a fault, not found."""
        text = self.raw(path)
        if not text:
            return None
        found = self._find(text, kind)
        if isinstance(found, Material):
            return found
        called = self.known.mat if kind is Kind.MAT else kind.called
        self.faults.add(path, not_one(text, called, found), NOT_FOUND, found.names if found else ())
        return None
