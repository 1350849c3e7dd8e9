"""What leaves the rack of a piece that is cut without a cutting plan, and comes back; parts spoiled at the bench.

A piece takes what it opens by itself of whole stock (C1 to C3): how it was really cut nobody says, and what is
left over is labelled by hand. Only of materials of which stock is kept; nothing is refused for going below zero.
Parts that an open plan holds leave the rack when that is booked, and those that one cut have left already.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from types import MappingProxyType

from app.counting import counted
from app.errors import Conflict, Invalid, quoted
from app.journal import Noted
from app.orders import Stage
from app.pricing import Material
from app.services.at_work import AT_WORK, AtWork, at_work, at_work_in
from app.services.open_work import pieces_in_work
from app.services.opened_by_hand import Opening, leaving, openings, whole_stock
from app.services.plans import spoil_in
from app.stock.consumption import TakenOff, UsedUp, in_all
from app.stock.movements import Movement, MovementKind, NewMovement, contrary
from app.stock.planning.open_work import PartStands, PartState, PieceInWork
from app.stock.planning.part_changes import (
    LONGEST_NOTE,
    ChangedPart,
    PartChange,
    last_changes,
    noted_in_words,
    spoiled_parts,
)
from app.stock.planning.parts import PartToCut
from app.stock.planning.plans import Moved, reserved_by
from app.storage import Stamp, Store, UnitOfWork

type OpenParts = Mapping[int, tuple[PartToCut, ...]]
"""The open parts of some pieces, by the piece's id."""


type _Reserving = Mapping[str, Counter[int]]
"""How many of each item the open plans still take, by the plan's number."""


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
        spoiled = _spoiled_of(work, piece_id) if piece_id in cut_now else frozenset()
        for part in parts:
            if (part.id, part.what) in spoiled:
                work.part_changes.add(piece_id, _changed(part, PartChange.CUT_ANEW, act))
        left = {part.id for part in open_parts(work, [piece_id]).get(piece_id, ())}
        cut = [part for part in parts if part.id not in left]
        used += _take(work, cut, MovementKind.CUT, act)[0]
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
        reserving = _reserving(work)
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
    found: Iterable[Opening], reserving: _Reserving, gone: Counter[int]
) -> tuple[UsedUp, ...]:
    """Return what the parts of one piece take that is reserved. gone: counts on what has left each item."""
    used: list[UsedUp] = []
    for problem, taken in leaving(found, MappingProxyType(gone.copy())):
        left = taken.item.on_hand - taken.count
        used.append(_used_up(problem.material, taken, left, reserving))
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
        last = last_changes(work.part_changes.of([piece_id]).get(piece_id, ()))
        for each in last.values():
            if each.change is PartChange.CUT_ANEW and each.at == when:
                undone = replace(each, change=PartChange.TAKEN_BACK, at=act.now, by=act.who)
                work.part_changes.add(piece_id, undone)
    back = [
        movement
        for movement in work.stock.cut_for(cut_at)
        if movement.entry.piece_id is not None
        and movement.entry.at == cut_at[movement.entry.piece_id]
    ]
    return in_all([_put_back(work, movement, act) for movement in back])


@dataclass(frozen=True, slots=True, kw_only=True)
class PartAtBench:
    """A part of a piece as the bench sees it. by_hand: spoiled without a plan, so that it is told here what follows."""

    key: str
    words: str
    state: PartState
    spoiled: bool
    by_hand: bool
    note: str = ""


def parts_at_bench(store: Store, piece_id: int) -> tuple[PartAtBench, ...]:
    """Return the parts of a piece in work that are cut from stock; none of one that is not."""
    with store.reading() as work:
        piece = _piece(work, piece_id)
        if piece is None:
            return ()
        last = last_changes(work.part_changes.of([piece_id]).get(piece_id, ()))
    return tuple(_at_bench(each, last.get((each.part.id, each.part.what))) for each in piece.parts)


def _at_bench(stands: PartStands, last: ChangedPart | None) -> PartAtBench:
    spoiled = last is not None and last.change is PartChange.SPOILED
    return PartAtBench(
        key=stands.part.key,
        words=stands.part.words,
        state=stands.state,
        spoiled=stands.spoiled,
        by_hand=spoiled,
        note=last.note if last is not None and spoiled else "",
    )


type SpoiledParts = Mapping[int, tuple[PartAtBench, ...]]
"""Parts of pieces in work that are spoiled and not cut anew, by the piece's id; pieces without one are left out."""


def spoiled_now(store: Store, piece_ids: Iterable[int]) -> SpoiledParts:
    """Return the parts of some pieces that are spoiled, by a plan or without one, and still to be cut anew."""
    return _spoiled_of_all(at_work(store, piece_ids))


def spoiled_in(work: UnitOfWork, piece_ids: Iterable[int]) -> SpoiledParts:
    """As `spoiled_now`, within a transaction that does more."""
    return _spoiled_of_all(at_work_in(work, piece_ids))


def _spoiled_of_all(read: AtWork) -> SpoiledParts:
    found = {
        piece.ref.piece_id: tuple(
            _at_bench(each, last.get((each.part.id, each.part.what)))
            for each in piece.parts
            if each.spoiled and each.state is not PartState.CUT
        )
        for piece in read.pieces
        for last in [last_changes(read.changes.get(piece.ref.piece_id, ()))]
    }
    return {piece_id: parts for piece_id, parts in found.items() if parts}


@dataclass(frozen=True, slots=True, kw_only=True)
class PartNoted(Noted):
    """What was noted of a part at the bench. what: as "mat 2 spoiled – slipped"."""

    what: str


def noted_of_parts(store: Store, piece_ids: Iterable[int]) -> Mapping[int, tuple[PartNoted, ...]]:
    """Return all that was noted of spoiled parts without a plan, by the piece's id, the oldest first."""
    with store.reading() as work:
        return noted_in(work, piece_ids)


def noted_in(work: UnitOfWork, piece_ids: Iterable[int]) -> Mapping[int, tuple[PartNoted, ...]]:
    """As `noted_of_parts`, within a transaction that does more."""
    changes = work.part_changes.of(tuple(piece_ids))
    pieces, _ = pieces_in_work(work, work.open_pieces.get(changes) if changes else ())
    words = {each.part.id: each.part.words for piece in pieces for each in piece.parts}
    return {
        piece_id: tuple(
            PartNoted(at=each.at, by=each.by, what=said)
            for each, said in zip(noted, noted_in_words(noted, words), strict=True)
        )
        for piece_id, noted in changes.items()
    }


def check_cut_anew(work: UnitOfWork, piece_ids: Iterable[int]) -> None:
    """Refuse to call pieces cut of which a part was noted as spoiled without a plan, until it is said of that part too.

    Raises: Conflict.
    """
    for parts in spoiled_in(work, piece_ids).values():
        if by_hand := [part.words for part in parts if part.by_hand]:
            raise Conflict(
                f"{spoiled_words(by_hand)}. Say at the bench that it is cut anew, or that it is not spoiled; or press the "
                "button that names it too. Then the piece is cut."
            )


def check_not_spoiled(work: UnitOfWork, piece_ids: Iterable[int]) -> None:
    """Refuse to frame pieces that still have a part to be cut anew.

    Only parts that were noted as spoiled without a plan count, of which the bench is told when they are cut anew.
    Raises: Conflict.
    """
    for parts in spoiled_in(work, piece_ids).values():
        if by_hand := [part.words for part in parts if part.by_hand]:
            raise Conflict(
                f"{spoiled_words(by_hand)}. Say at the bench that it is cut anew, or that it is not spoiled; then the "
                "piece is framed."
            )


def spoiled_words(words: Sequence[str]) -> str:
    """In words, without a full stop: "1 part is spoiled and not cut anew: glazing"."""
    count = counted(len(words), "part is", "parts are")
    return f"{count} spoiled and not cut anew: {', '.join(words)}"


def spoil(
    store: Store, piece_id: int, key: str, act: Stamp, *, note: str = ""
) -> tuple[UsedUp, ...]:
    """Note that a part was spoiled: it is open work again. Returns what left the rack by that.

    What a plan cut or is to cut is noted in that plan. Else the part of a piece that counts as cut has left the rack
    already, and what is cut anew will leave it; of a piece that is not cut yet, what was spoiled leaves it now.
    Raises: NotFound; Conflict where there is no such part or it is spoiled already; Invalid at "note".
    """
    if len(note) > LONGEST_NOTE:
        raise Invalid.at(
            "note", f"The note has {len(note)} characters; at most {LONGEST_NOTE} are kept."
        )
    with store.writing() as work:
        piece, stands = _part_of(work, piece_id, key)
        part = stands.part
        if stands.by is not None:
            spoil_in(work, stands.by.plan_id, part.id, act, note=note)
            return ()
        if (part.id, part.what) in _spoiled(work, piece):
            raise Conflict(f"The {part.words} is noted as spoiled already and is open work.")
        uncut = piece.stage is Stage.ORDERED
        used, moved = _take(work, [part], MovementKind.SPOILED, act, note) if uncut else ([], [])
        spoiled = replace(_changed(part, PartChange.SPOILED, act), note=note, moved=tuple(moved))
        work.part_changes.add(piece_id, spoiled)
        return in_all(used)


def cut_anew(store: Store, piece_id: int, key: str, act: Stamp) -> tuple[UsedUp, ...]:
    """Note that a spoiled part was cut anew without a plan. Returns what left the rack.

    Of a piece that is not cut yet nothing does: what the part takes leaves the rack with the piece's other parts.
    Raises: NotFound; Conflict where it is not spoiled, or a plan is to cut it.
    """
    with store.writing() as work:
        piece, stands = _part_of(work, piece_id, key)
        _check_spoiled(work, piece, stands)
        if stands.by is not None:
            raise Conflict(
                f"The {stands.part.words} is in {stands.by.plan_number}; book it there, so that it "
                "leaves the rack once."
            )
        later = piece.stage is Stage.ORDERED
        used, moved = ([], []) if later else _take(work, [stands.part], MovementKind.SPOILED, act)
        anew = replace(_changed(stands.part, PartChange.CUT_ANEW, act), moved=tuple(moved))
        work.part_changes.add(piece_id, anew)
        return in_all(used)


def not_spoiled(store: Store, piece_id: int, key: str, act: Stamp) -> tuple[UsedUp, ...]:
    """Note that a part was not spoiled after all. Returns what lies on the rack again.

    Raises: NotFound; Conflict where it is not noted as spoiled, or was planned anew.
    """
    with store.writing() as work:
        piece, stands = _part_of(work, piece_id, key)
        wrong = _check_spoiled(work, piece, stands)
        if stands.by is not None:
            raise Conflict(
                f"It was planned anew in {stands.by.plan_number}; that one would be cut for nothing."
            )
        back: list[UsedUp] = []
        for moved in wrong.moved:
            record = work.stock.movements(moved.item_id)
            movement = next(each for each in record if each.id == moved.movement_id)
            back.append(_put_back(work, movement, act))
        work.part_changes.add(piece_id, _changed(stands.part, PartChange.TAKEN_BACK, act))
        return in_all(back)


def _piece(work: UnitOfWork, piece_id: int) -> PieceInWork | None:
    kept = [each for each in work.open_pieces.get([piece_id]) if each.stage in AT_WORK]
    pieces, _ = pieces_in_work(work, kept)
    return pieces[0] if pieces else None


def _part_of(work: UnitOfWork, piece_id: int, key: str) -> tuple[PieceInWork, PartStands]:
    piece = _piece(work, piece_id)
    if piece is None:
        raise Conflict("The piece is not in work, so none of its parts can be spoiled.")
    for each in piece.parts:
        if each.part.key == key:
            return piece, each
    raise Conflict(f"The piece has no part {quoted(key)} that is cut from stock.")


def _spoiled(work: UnitOfWork, piece: PieceInWork) -> frozenset[tuple[str, str]]:
    return _spoiled_of(work, piece.ref.piece_id)


def _spoiled_of(work: UnitOfWork, piece_id: int) -> frozenset[tuple[str, str]]:
    return spoiled_parts(work.part_changes.of([piece_id]).get(piece_id, ()))


def _check_spoiled(work: UnitOfWork, piece: PieceInWork, stands: PartStands) -> ChangedPart:
    """Return the change by which a part is spoiled. Raises: Conflict where it is not."""
    piece_id, part = piece.ref.piece_id, stands.part
    last = last_changes(work.part_changes.of([piece_id]).get(piece_id, ()))
    wrong = last.get((part.id, part.what))
    if wrong is None or wrong.change is not PartChange.SPOILED:
        raise Conflict(f"The {part.words} is not noted as spoiled here.")
    return wrong


def _changed(part: PartToCut, change: PartChange, act: Stamp) -> ChangedPart:
    return ChangedPart(part=part.id, what=part.what, change=change, at=act.now, by=act.who)


def _take(
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
        used.append(_used_up(problem.material, taken, left.on_hand, _reserving(work)))
    return used, moved


def _used_up(material: Material, taken: TakenOff, left: int, reserving: _Reserving) -> UsedUp:
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


def _reserving(work: UnitOfWork) -> _Reserving:
    return {plan.number: reserved_by(plan) for plan in work.plans.open()}


def _put_back(work: UnitOfWork, movement: Movement, act: Stamp) -> UsedUp:
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
