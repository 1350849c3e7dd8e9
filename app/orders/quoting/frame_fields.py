"""The fields of what goes around a piece: fillet, frames that are made, a frame that is given."""

from collections.abc import Iterator
from typing import Any

from app.forms.kinds import LENGTH, SIZE, FieldKind, choice
from app.lengths import Example, Size, inches, mm
from app.orders.quoting.choices import FRAME_SOURCES, FrameSource
from app.orders.quoting.piece_field import MOULDING, PART, READY_MADE, PieceField, handbook
from app.orders.quoting.piece_typed import PieceTyped

MOST_FRAMES = 3


def fillet_fields() -> Iterator[PieceField]:
    """Yield the fields of a fillet in the windows of the top mat."""
    yield PieceField(
        "fillet.material",
        "Fillet in the window",
        MOULDING,
        needed=lambda known: known.matted and known.given("fillet.tuck", "fillet.depth"),
        speaks_for=("fillet",),
        role=PART,
        rule="G19",
    )
    yield PieceField(
        "fillet.tuck",
        lambda known: f"Hidden behind {known.mat}",
        LENGTH,
        like=Example(mm(4), inches("3/16")),
        hint="its lip",
        within="Fillet",
        role=PART,
    )
    yield PieceField(
        "fillet.depth",
        lambda known: f"Thickness behind {known.mat}",
        LENGTH,
        like=Example(mm(3), inches("1/8")),
        hint="with a rule",
        within="Fillet",
        needed=lambda known: known.matted and known.given("fillet.material"),
        speaks_for=("fillet.thickness",),
        role=PART,
    )


def _given_frame() -> Iterator[PieceField]:
    """Yield the fields of a frame that is not made: which one of the price book, or what is measured of the customer's own (G24)."""

    def is_own(known: PieceTyped) -> bool:
        return known.source is FrameSource.OWN

    def measure(
        name: str, label: str, kind: FieldKind[Any], like: Example, hint: str = ""
    ) -> PieceField:
        needed = is_own if name in ("rebate", "depth") else False
        path = f"given_frame.{name}"
        return PieceField(
            path, label, kind, like=like, hint=hint, within="Frame", needed=needed, asked=True
        )

    rebate = Example(Size(mm(402), mm(502)), Size(inches("129/8"), inches("161/8")))
    yield PieceField(
        "frame.source",
        "The frame is",
        choice(FrameSource, FRAME_SOURCES),
        rule="G24",
    )
    yield PieceField(
        "given_frame.material",
        "Ready-made frame",
        READY_MADE,
        needed=lambda known: known.source is FrameSource.READY_MADE,
        speaks_for=("given_frame",),
        asked=True,
    )
    yield measure(
        "rebate", "Rebate, width × height", SIZE, rebate, "measured at the top and the left"
    )
    yield measure("depth", "Rebate depth", LENGTH, Example(mm(15), inches("5/8")))
    yield measure(
        "opposite", "The same at the bottom and the right", SIZE, rebate, "where it differs"
    )
    yield measure(
        "diagonals",
        "Diagonals",
        SIZE,
        Example(Size(mm(645), mm(641)), Size(inches("203/8"), inches("101/4"))),
        "top left to bottom right × bottom left to top right",
    )
    outside = Example(Size(mm(430), mm(530)), Size(inches("69/4"), inches("85/4")))
    yield measure("outside", "Outside, measured", SIZE, outside)
    yield measure("face", "Face width", LENGTH, Example(mm(20), inches("3/4")))
    yield measure("lip", "Lip", LENGTH, Example(mm(6), inches("1/4")))


def frame_fields() -> Iterator[PieceField]:
    """Yield the fields of the frame: where it comes from, and up to three mouldings that it is made of."""
    yield from _given_frame()
    for row, label in enumerate(("Moulding", "Second frame (outer)", "Third frame (outermost)")):
        path = f"frames.{row}"
        yield PieceField(
            f"{path}.material", label, MOULDING, speaks_for=(path,), role=PART, asked=True
        )
    yield PieceField(
        "allowance",
        "Play in the rebate (total)",
        LENGTH,
        like=handbook("allowance"),
        usual=lambda known: known.usual.allowance,
        speaks_for=(
            *(f"frames.{row}.allowance" for row in range(MOST_FRAMES)),
            "given_frame.allowance",
        ),
        role=PART,
        rule="G11",
    )
