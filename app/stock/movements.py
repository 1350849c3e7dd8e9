"""Movements of stock: append-only, each with who, when and why.

Owns the kinds and what each does to the count. A mistake is corrected by a contrary movement.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from fractions import Fraction

from app.errors import Conflict, Invalid
from app.journal import Contrary, Refusals, Written, to_take_back


class MovementKind(StrEnum):
    """Why a count changed.

    USED: by a piece that was framed. SOLD: handed over with a line of an order (P12). COUNTED: brought to what was counted. TAKEN_BACK: a contrary entry.
    """

    BOUGHT = "bought"
    CUT = "cut"
    KEPT = "kept"
    SPOILED = "spoiled"
    USED = "used"
    SOLD = "sold"
    COUNTED = "counted"
    TAKEN_BACK = "taken back"


ADDS = frozenset({MovementKind.BOUGHT, MovementKind.KEPT})
TAKES = frozenset({MovementKind.CUT, MovementKind.SPOILED, MovementKind.USED, MovementKind.SOLD})
BY_HAND = frozenset({MovementKind.CUT, MovementKind.SPOILED})
"""What a person may write down as taken off the rack; the rest follows from work."""

_MAY_BE_NONE = frozenset({MovementKind.COUNTED, MovementKind.USED, MovementKind.TAKEN_BACK})


@dataclass(frozen=True, slots=True, kw_only=True)
class NewMovement(Contrary):
    """A movement to be kept. change: how many more (less, below zero).

    used: exactly how much a piece used up, 7/5 of wire by the metre; that may open no new whole one, so
    that the change is 0. plan_id, piece_id, line_id: the cutting plan, the piece, the line of a supplier's
    order it belongs to. order_line_id: the line of an order that it was sold with.
    Raises: Invalid where the change does not go with its kind.
    """

    kind: MovementKind
    change: int
    note: str = ""
    plan_id: int | None = None
    piece_id: int | None = None
    line_id: int | None = None
    used: Fraction | None = None
    order_line_id: int | None = None

    def __post_init__(self) -> None:
        wrong = (
            (self.kind in ADDS and self.change < 0)
            or (self.kind in TAKES and self.change > 0)
            or (self.kind not in _MAY_BE_NONE and self.change == 0)
        )
        if wrong:
            raise Invalid.at("change", f"{self.change} is no count that can be “{self.kind}”.")
        if (self.takes_back is not None) != (self.kind is MovementKind.TAKEN_BACK):
            raise Invalid.at("takes_back", "What is taken back names the movement it undoes.")
        by_a_piece = self.used is not None and self.used > 0 and self.piece_id is not None
        if by_a_piece != (self.kind is MovementKind.USED):
            raise Invalid.at("used", "What was used says by which piece, and how much of it.")
        if self.kind is MovementKind.SOLD and self.order_line_id is None:
            raise Invalid.at("order_line_id", "What was sold says with which line of an order.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement(Written[NewMovement]):
    """A movement as it is kept."""

    item_id: int


_REFUSALS = Refusals(
    unknown="That movement is not one of this item.",
    contrary="What was undone stays so; enter the movement again instead.",
    again="That movement was undone already.",
)


def contrary(
    movements: Sequence[Movement], movement_id: int, *, at: datetime, by: str
) -> NewMovement:
    """Return the movement that undoes one of an item's movements; it stays with the same plan, piece, line.

    Raises: Conflict where that one is not among them, changed nothing, undoes another or was undone.
    """
    wrong = to_take_back(movements, movement_id, _REFUSALS)
    if not wrong.change and wrong.kind is not MovementKind.USED:
        raise Conflict("That count found what was noted; there is nothing to undo.")
    return NewMovement(
        kind=MovementKind.TAKEN_BACK,
        change=-wrong.change,
        at=at,
        by=by,
        plan_id=wrong.plan_id,
        piece_id=wrong.piece_id,
        line_id=wrong.line_id,
        order_line_id=wrong.order_line_id,
        takes_back=movement_id,
    )
