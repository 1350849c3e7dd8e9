"""What pieces use up of hardware and the like leaves the rack when they are framed, and comes back.

Only of materials of which stock is kept. Nothing is refused for going below zero; it is said.
"""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from app.errors import NotFound
from app.services.open_work import pieces_in_work
from app.stock.consumption import UsedUp, in_all, may_be_taken, taken_off
from app.stock.movements import Movement, MovementKind, NewMovement, contrary
from app.stock.planning.parts import CountedNeed
from app.storage import Stamp, Store, UnitOfWork


def take_used(work: UnitOfWork, piece_ids: Iterable[int], act: Stamp) -> tuple[UsedUp, ...]:
    """Take what framed pieces used off the rack; returns it by material.

    What has no stock, left the price book or cannot be worked out any more takes nothing.
    """
    pieces, _ = pieces_in_work(work, work.open_pieces.get(piece_ids))
    needs = [need for piece in pieces for need in piece.counted]
    return in_all(used for need in needs for used in _take(work, need, act))


def put_back_used(work: UnitOfWork, piece_ids: Iterable[int], act: Stamp) -> tuple[UsedUp, ...]:
    """What pieces used lies on the rack again, by contrary movements; returns it by material."""
    back: list[Movement] = list(work.stock.used_by(piece_ids))
    for movement in back:
        record = work.stock.movements(movement.item_id)
        entry = contrary(record, movement.id, at=act.now, by=act.who)
        work.stock.move(movement.item_id, entry)
    return in_all(_used_up(work, movement) for movement in back)


def used_by_pieces(store: Store, piece_ids: Iterable[int]) -> Mapping[int, tuple[UsedUp, ...]]:
    """What pieces took off the rack, by their ids; of those that took nothing there is none."""
    found: dict[int, list[UsedUp]] = {}
    with store.reading() as work:
        for movement in work.stock.used_by(piece_ids):
            if movement.entry.piece_id is not None:
                found.setdefault(movement.entry.piece_id, []).append(_used_up(work, movement))
    return {piece_id: in_all(used) for piece_id, used in found.items()}


def _take(work: UnitOfWork, need: CountedNeed, act: Stamp) -> tuple[UsedUp, ...]:
    try:
        material = work.materials.get(need.material.code).value
    except NotFound:
        return ()
    items = [kept for kept in work.stock.of_material(material.code, gone=True) if kept.item.whole]
    if not items or need.quantity <= 0 or not may_be_taken(need, material):
        return ()
    leaving = taken_off(need.quantity, items, work.stock.opened(material.code))
    for taken in leaving:
        entry = NewMovement(
            kind=MovementKind.USED,
            change=-taken.count,
            at=act.now,
            by=act.who,
            piece_id=need.piece.piece_id,
            used=taken.used,
        )
        work.stock.move(taken.item.id, entry)
    return tuple(
        UsedUp(
            material=material,
            count=taken.count,
            used=taken.used,
            on_hand=work.stock.get(taken.item.id).on_hand,
        )
        for taken in leaving
    )


def _used_up(work: UnitOfWork, movement: Movement) -> UsedUp:
    item = work.stock.get(movement.item_id)
    return UsedUp(
        material=work.materials.get(item.item.material).value,
        count=-movement.entry.change,
        used=movement.entry.used or Fraction(0),
        on_hand=item.on_hand,
    )
