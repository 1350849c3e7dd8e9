"""What leaves the rack of a piece that is cut without a cutting plan, and comes back.

A piece takes what it opens by itself of whole stock (C1 to C3): how it was really cut nobody says, and what is
left over is labelled by hand. Only of materials of which stock is kept; nothing is refused for going below zero.
Parts that an open plan holds leave the rack when that is booked, and those that one cut have left already.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from app.orders import Stage
from app.pricing import Material
from app.services.at_work import at_work
from app.services.off_the_rack import Reserving, put_back, reserved_in_plans, take, used_up
from app.services.open_work import pieces_in_work
from app.services.opened_by_hand import Opening, leaving, openings, whole_stock
from app.services.spoiling import note_cut_anew, note_spoiled_again
from app.stock.consumption import UsedUp, in_all
from app.stock.movements import MovementKind
from app.stock.planning.parts import PartToCut
from app.storage import Stamp, Store, UnitOfWork

type OpenParts = Mapping[int, tuple[PartToCut, ...]]
"""The open parts of some pieces, by the piece's id."""


def open_parts(work: UnitOfWork, piece_ids: Iterable[int]) -> OpenParts:
    """Return the parts of some pieces that no plan has cut or holds, by the piece's id: before they are cut by hand."""
    pieces, _ = pieces_in_work(work, work.open_pieces.get(piece_ids))
    return {piece.ref.piece_id: piece.open_parts for piece in pieces}


def take_cut(work: UnitOfWork, before: OpenParts, act: Stamp) -> tuple[UsedUp, ...]:
    """Take off the rack what pieces open that were cut by hand; returns it by material.

    before: their `open_parts`; taken is what is open no more. What was spoiled of them before is cut anew with the rest,
    where all of a piece are cut: `check_cut_anew` has asked for that.
    """
    used: list[UsedUp] = []
    kept = work.open_pieces.get(before) if before else ()
    cut_now = {each.ref.piece_id for each in kept if each.stage is not Stage.ORDERED}
    for piece_id, parts in before.items():
        if piece_id in cut_now:
            note_cut_anew(work, piece_id, parts, act)
        left = {part.id for part in open_parts(work, [piece_id]).get(piece_id, ())}
        cut = [part for part in parts if part.id not in left]
        used += take(work, cut, MovementKind.CUT, act)[0]
    return in_all(used)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenFromPlans:
    """What cutting pieces by hand would take that open plans have reserved.

    of_piece: were the piece cut alone, by its id. together: were all of them cut.
    """

    of_piece: Mapping[int, tuple[UsedUp, ...]]
    together: tuple[UsedUp, ...]


def would_take_reserved(store: Store, piece_ids: Iterable[int]) -> TakenFromPlans:
    """Return what cutting some pieces by hand would take that open plans have reserved; nothing is taken."""
    ids = tuple(piece_ids)
    return store.remembered(
        "reserved and cut by hand", lambda: _would_take_reserved(store, ids), asked=ids, most=50
    )


def _would_take_reserved(store: Store, piece_ids: tuple[int, ...]) -> TakenFromPlans:
    pieces = at_work(store, piece_ids).pieces
    with store.reading() as work:
        reserving = reserved_in_plans(work)
        items = {item for taken in reserving.values() for item, count in taken.items() if count}
        codes = work.stock.materials_of(items)
        if not codes:
            return TakenFromPlans(of_piece={}, together=())
        stock = whole_stock(work, codes)
        gone: Counter[int] = Counter()
        together: list[UsedUp] = []
        alone: dict[int, tuple[UsedUp, ...]] = {}
        for piece in pieces:
            parts = tuple(part for part in piece.open_parts if part.material.code in codes)
            found = tuple(openings(work, parts, stock))
            alone[piece.ref.piece_id] = _reserved_of(found, reserving, Counter())
            together += _reserved_of(found, reserving, gone)
        return TakenFromPlans(of_piece=alone, together=in_all(together))


def _reserved_of(
    found: Iterable[Opening], reserving: Reserving, gone: Counter[int]
) -> tuple[UsedUp, ...]:
    """Return what the parts of one piece take that is reserved. gone: counts on what has left each item."""
    used: list[UsedUp] = []
    for problem, taken in leaving(found, MappingProxyType(gone.copy())):
        left = taken.item.on_hand - taken.count
        used.append(used_up(problem.material, taken, left, reserving))
        gone[taken.item.id] += taken.count
    return in_all(each for each in used if each.reserved_by)


def keeps_stock(store: Store) -> bool:
    """Tell whether the shop writes down any stock."""
    with store.reading() as work:
        return work.stock.is_kept()


def open_parts_of(store: Store, piece_ids: Iterable[int]) -> OpenParts:
    """As `open_parts`, on its own: for `not_on_rack`, before the pieces are cut by hand."""
    with store.reading() as work:
        return open_parts(work, piece_ids)


def not_on_rack(store: Store, before: OpenParts) -> tuple[Material, ...]:
    """Return the materials of what was cut by hand since that the rack has none of, so that nothing was taken.

    before: the `open_parts_of` the pieces. None of them in a shop that writes down no stock at all.
    """
    with store.reading() as work:
        if not work.stock.is_kept():
            return ()
        left = {part.id for parts in open_parts(work, before).values() for part in parts}
        cut = [part for parts in before.values() for part in parts if part.id not in left]
        stock = whole_stock(work, (part.material.code for part in cut))
        materials = {part.material.code: part.material for part in cut}
        return tuple(
            material
            for code, material in materials.items()
            if not any(
                kept.item.form is part.form
                for part in cut
                if part.material.code == code
                for kept in stock.items.get(code, ())
            )
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CutUp:
    """Whole stock of a material that a piece was cut from by hand. item_id: of the rack."""

    material: Material
    item_id: int


def cut_up(store: Store, piece_ids: Iterable[int]) -> Mapping[int, tuple[CutUp, ...]]:
    """Return what left the rack for pieces that were cut by hand, by the piece's id: offcuts of it may be kept."""
    found: dict[int, dict[int, CutUp]] = {}
    with store.reading() as work:
        for movement in work.stock.cut_for(piece_ids):
            code = work.stock.get(movement.item_id).item.material
            of_piece = found.setdefault(movement.entry.piece_id or 0, {})
            of_piece[movement.item_id] = CutUp(
                material=work.materials.get(code).value, item_id=movement.item_id
            )
    return {piece_id: tuple(items.values()) for piece_id, items in found.items()}


def put_back_cut(
    work: UnitOfWork, cut_at: Mapping[int, datetime], act: Stamp
) -> tuple[UsedUp, ...]:
    """Put what pieces opened when they were cut on the rack again; returns it by material. cut_at: when, by the piece's id.

    What was cut anew with them is spoiled again, as it was noted.
    """
    for piece_id, when in cut_at.items():
        note_spoiled_again(work, piece_id, when, act)
    back = [
        movement
        for movement in work.stock.cut_for(cut_at)
        if movement.entry.piece_id is not None
        and movement.entry.at == cut_at[movement.entry.piece_id]
    ]
    return in_all([put_back(work, movement, act) for movement in back])
