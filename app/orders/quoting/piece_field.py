"""A field of a piece, what part it plays, and the kinds of field that several parts of the form share."""

from collections.abc import Callable
from dataclasses import dataclass

from app.forms.kinds import FieldKind
from app.forms.table import Field
from app.framing import DEFAULTS
from app.lengths import Example, Length, Unit, inches, mm
from app.orders.quoting.piece_typed import PieceTyped
from app.pricing import Kind, Material

SIZE_HINTS = {
    Unit.MM: '400 x 500, 30 x 40 cm, 16x20", A3 …',
    Unit.IN: "16x20, 15 3/4 x 20, 30 x 40 cm, A3 …",
}
"""How a size may be said. A bare one is in the unit worked in, so the examples are too."""

PACKAGE_HINTS = {
    Unit.MM: '500 x 600, 50 x 60 cm, 20x24" …',
    Unit.IN: "20x24, 20 1/4 x 24, 50 x 60 cm …",
}
"""The same for a package, which is larger than its artwork: usual sizes of frames."""

BORDER = Example(mm(60), inches("5/2"))
BETWEEN = Example(mm(40), inches("3/2"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Role:
    """noted: says of the artwork what neither design nor price follow from. sizes: other parts are as large as this
    field says. drawn: it shows in the drawing.
    """

    noted: bool = False
    sizes: bool = False
    drawn: bool = True


NOTED = Role(noted=True, drawn=False)
SEEN = Role(noted=True)
SIZES = Role(sizes=True)
PART = Role()
TERM = Role(drawn=False)


@dataclass(frozen=True, slots=True)
class PieceField(Field[PieceTyped]):
    """A field of a piece. speaks_for: paths of a spec, by their last rows, whose faults stand here."""

    role: Role = SIZES
    speaks_for: tuple[str, ...] = ()


def _material(kind: Kind) -> FieldKind[Material | None]:
    """Return a material of one kind, by its code or as much of its name as only it has."""
    return FieldKind(
        control="finder",
        read=lambda read, path, _usual: read.material(path, kind),  # type: ignore[attr-defined]
        text=lambda material, _known: material.code if material else "",
        find=kind.value,
    )


MOULDING, MAT, GLAZING, BOARD, HARDWARE, EXTRA, READY_MADE = (
    _material(kind) for kind in Kind if kind is not Kind.GOODS
)


def handbook(name: str) -> Example:
    """Return the handbook's default as an example."""

    def of(unit: Unit) -> Length:
        length: Length = getattr(DEFAULTS[unit], name)
        return length

    return Example.of(of)


type Words = Callable[[PieceTyped], str]
