"""What is taken off the rack by hand and put back there, with the word on which open plans lack it then."""

from collections import Counter
from collections.abc import Iterable, Mapping
from fractions import Fraction

from app.pricing import Material
from app.services.opened_by_hand import leaving, openings, whole_stock
from app.stock.consumption import TakenOff, UsedUp
from app.stock.movements import Movement, MovementKind, NewMovement, contrary
from app.stock.planning.parts import PartToCut
from app.stock.planning.plans import Moved, reserved_by
from app.storage import Stamp, UnitOfWork

type Reserving = Mapping[str, Counter[int]]
"""How many of each item the open plans still take, by the plan's number."""


def take(
    work: UnitOfWork,
    parts: Iterable[PartToCut],
    kind: MovementKind,
    act: Stamp,
    note: str = "",
) -> tuple[list[UsedUp], list[Moved]]:
    """Take what some parts of one piece open off the rack, as far as stock of it is kept."""
    used: list[UsedUp] = []
    moved: list[Moved] = []
    parts = tuple(parts)
    stock = whole_stock(work, (part.material.code for part in parts))
    for problem, taken in tuple(leaving(openings(work, parts, stock))):
        entry = NewMovement(
            kind=kind,
            change=-taken.count,
            at=act.now,
            by=act.who,
            piece_id=next(iter(problem.parts.values())).piece.piece_id,
            note=note,
        )
        movement_id = work.stock.move(taken.item.id, entry)
        moved.append(Moved(item_id=taken.item.id, movement_id=movement_id))
        left = work.stock.get(taken.item.id)
        used.append(used_up(problem.material, taken, left.on_hand, reserved_in_plans(work)))
    return used, moved


def used_up(material: Material, taken: TakenOff, left: int, reserving: Reserving) -> UsedUp:
    """Return what was taken. left: how many are on hand now; the open plans that take more lack them."""
    taking = {number: taken_by[taken.item.id] for number, taken_by in reserving.items()}
    lacking = sum(taking.values()) > left
    return UsedUp(
        material=material,
        count=taken.count,
        used=taken.used,
        on_hand=left,
        reserved_by=tuple(number for number, count in taking.items() if count and lacking),
    )


def reserved_in_plans(work: UnitOfWork) -> Reserving:
    """Return how many of each item every open plan still takes."""
    return {plan.number: reserved_by(plan) for plan in work.plans.open()}


def put_back(work: UnitOfWork, movement: Movement, act: Stamp) -> UsedUp:
    """Put on the rack again what a movement took off it; returns what that was."""
    record = work.stock.movements(movement.item_id)
    work.stock.move(movement.item_id, contrary(record, movement.id, at=act.now, by=act.who))
    item = work.stock.get(movement.item_id)
    count = -movement.entry.change
    return UsedUp(
        material=work.materials.get(item.item.material).value,
        count=count,
        used=Fraction(count),
        on_hand=item.on_hand,
    )
