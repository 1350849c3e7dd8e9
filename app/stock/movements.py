"""Movements of stock: append-only, each with who, when and why.

Owns the kinds and what each does to the count. A mistake is corrected by a contrary movement.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from app.errors import Invalid


class MovementKind(StrEnum):
    """Why a count changed. COUNTED: brought to what was counted; TAKEN_BACK: a contrary entry."""

    BOUGHT = "bought"
    CUT = "cut"
    KEPT = "kept"
    SPOILED = "spoiled"
    COUNTED = "counted"
    TAKEN_BACK = "taken back"


ADDS = frozenset({MovementKind.BOUGHT, MovementKind.KEPT})
TAKES = frozenset({MovementKind.CUT, MovementKind.SPOILED})


@dataclass(frozen=True, slots=True, kw_only=True)
class NewMovement:
    """A movement to be kept. change: how many more (less, below zero).

    plan_id, piece_id, line_id: the cutting plan, the piece, the line of a supplier's order it belongs
    to. takes_back: the id of the movement it undoes.
    Raises: Invalid where the change does not go with its kind.
    """

    kind: MovementKind
    change: int
    at: datetime
    by: str
    note: str = ""
    plan_id: int | None = None
    piece_id: int | None = None
    line_id: int | None = None
    takes_back: int | None = None

    def __post_init__(self) -> None:
        wrong = (
            (self.kind in ADDS and self.change <= 0)
            or (self.kind in TAKES and self.change >= 0)
            or (self.kind is not MovementKind.COUNTED and self.change == 0)
        )
        if wrong:
            raise Invalid.at("change", f"{self.change} is no count that can be “{self.kind}”.")
        if (self.takes_back is not None) != (self.kind is MovementKind.TAKEN_BACK):
            raise Invalid.at("takes_back", "What is taken back names the movement it undoes.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """A movement as it is kept."""

    id: int
    item_id: int
    entry: NewMovement
