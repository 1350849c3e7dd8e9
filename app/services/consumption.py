"""What pieces use up of hardware and the like leaves the rack when they are framed, goods when they are handed
over; and comes back.

Only of materials of which stock is kept. Nothing is refused for going below zero; it is said.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from fractions import Fraction

from app.errors import NotFound
from app.orders import OrderLine
from app.services.open_work import needs_of_one
from app.stock.consumption import UsedUp, in_all, may_be_taken, taken_off
from app.stock.items import StockForm, form_of
from app.stock.movements import Movement, MovementKind, NewMovement, contrary
from app.stock.planning.parts import CountedNeed
from app.storage import Stamp, Store, UnitOfWork


def take_used(work: UnitOfWork, framed: Mapping[int, int], act: Stamp) -> tuple[UsedUp, ...]:
    """Take what framed pieces used off the rack; returns it by material.

    framed: how many of those that are alike, by the piece's id. What has no stock, left the price book or cannot
    be worked out any more takes nothing.
    """
    needs = needs_of_one(work, work.open_pieces.get(framed))
    return in_all(
        used for need in needs for used in _take(work, need.times(framed[need.piece.piece_id]), act)
    )


def put_back_used(
    work: UnitOfWork, unframed: Mapping[int, datetime | None], act: Stamp
) -> tuple[UsedUp, ...]:
    """Put what pieces used on the rack again, by contrary movements; returns it by material.

    unframed: by the piece's id, when those were framed that are not after all; None for all of it.
    """
    back = [
        movement
        for movement in work.stock.used_by(unframed)
        if movement.entry.piece_id is not None
        and unframed[movement.entry.piece_id] in (None, movement.entry.at)
    ]
    return _put_back(work, back, act)


def _put_back(work: UnitOfWork, back: Sequence[Movement], act: Stamp) -> tuple[UsedUp, ...]:
    for movement in back:
        record = work.stock.movements(movement.item_id)
        entry = contrary(record, movement.id, at=act.now, by=act.who)
        work.stock.move(movement.item_id, entry)
    return in_all(_used_up(work, movement) for movement in back)


def take_sold(work: UnitOfWork, lines: Iterable[OrderLine], act: Stamp) -> tuple[UsedUp, ...]:
    """Take the goods of lines off the rack as they are handed over; returns it by material (P12).

    Of what has no stock or left the price book nothing is taken.
    """
    return in_all(used for line in lines for used in _sell(work, line, act))


def put_back_sold(work: UnitOfWork, line_ids: Iterable[int], act: Stamp) -> tuple[UsedUp, ...]:
    """Put what was handed over with lines on the rack again, by contrary movements; returns it by material."""
    return _put_back(work, work.stock.sold_with(line_ids), act)


def used_by_pieces(store: Store, piece_ids: Iterable[int]) -> Mapping[int, tuple[UsedUp, ...]]:
    """Return what pieces took off the rack, by their ids; of those that took nothing there is none."""
    found: dict[int, list[UsedUp]] = {}
    with store.reading() as work:
        for movement in work.stock.used_by(piece_ids):
            if movement.entry.piece_id is not None:
                found.setdefault(movement.entry.piece_id, []).append(_used_up(work, movement))
    return {piece_id: in_all(used) for piece_id, used in found.items()}


def sold_by_lines(store: Store, line_ids: Iterable[int]) -> Mapping[int, tuple[UsedUp, ...]]:
    """Return what lines took off the rack, by their ids; of those that took nothing there is none."""
    found: dict[int, list[UsedUp]] = {}
    with store.reading() as work:
        for movement in work.stock.sold_with(line_ids):
            if movement.entry.order_line_id is not None:
                used = _used_up(work, movement)
                found.setdefault(movement.entry.order_line_id, []).append(used)
    return {line_id: in_all(used) for line_id, used in found.items()}


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


def _sell(work: UnitOfWork, line: OrderLine, act: Stamp) -> tuple[UsedUp, ...]:
    code = work.order_lines.material_of(line.id)
    if code is None:
        return ()
    material = work.materials.get(code).value
    items = [kept for kept in work.stock.of_material(code, gone=True) if kept.item.whole]
    if not items or form_of(material) is not StockForm.EACH:
        return ()
    leaving = taken_off(Fraction(line.agreed.number), items)
    for taken in leaving:
        entry = NewMovement(
            kind=MovementKind.SOLD,
            change=-taken.count,
            at=act.now,
            by=act.who,
            order_line_id=line.id,
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
        used=Fraction(-movement.entry.change)
        if movement.entry.used is None
        else movement.entry.used,
        on_hand=item.on_hand,
    )
