"""Parts that are spoiled at the bench: noted, cut anew without a cutting plan, or found not to be spoiled after all.

What a plan cut or is to cut is noted in that plan. Of what is cut by hand the rack gives what is spoiled and what is cut anew."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from app.counting import counted
from app.errors import Conflict, Invalid, quoted
from app.journal import Noted
from app.orders import Stage
from app.services.at_work import AT_WORK, AtWork, at_work, at_work_in
from app.services.off_the_rack import put_back, take
from app.services.open_work import pieces_in_work
from app.services.plans import spoil_in
from app.stock.consumption import UsedUp, in_all
from app.stock.movements import MovementKind
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
from app.storage import Stamp, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class PartAtBench:
    """A part of a piece as the bench sees it.

    by_hand: spoiled without a plan and not cut anew since, so that it is told here what follows. plan: the number of the
    plan that holds it, by which it is cut; empty where none does. plan_id: that plan's id.
    """

    key: str
    words: str
    state: PartState
    spoiled: bool
    by_hand: bool
    note: str = ""
    plan: str = ""
    plan_id: int | None = None


def parts_at_bench(store: Store, piece_id: int) -> tuple[PartAtBench, ...]:
    """Return the parts of a piece in work that are cut from stock; none of one that is not."""
    with store.reading() as work:
        piece = _piece(work, piece_id)
        if piece is None:
            return ()
        last = last_changes(work.part_changes.of([piece_id]).get(piece_id, ()))
    return tuple(_at_bench(each, last.get((each.part.id, each.part.what))) for each in piece.parts)


def _at_bench(stands: PartStands, last: ChangedPart | None) -> PartAtBench:
    spoiled = (
        last is not None and last.change is PartChange.SPOILED and stands.state is not PartState.CUT
    )
    held = stands.by if stands.state is PartState.PLANNED else None
    return PartAtBench(
        key=stands.part.key,
        words=stands.part.words,
        state=stands.state,
        spoiled=stands.spoiled,
        by_hand=spoiled,
        note=last.note if last is not None and spoiled else "",
        plan="" if held is None else held.plan_number,
        plan_id=None if held is None else held.plan_id,
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
    _check_none_spoiled(
        work, piece_ids, "; or press the button that names it too. Then the piece is cut."
    )


def check_not_spoiled(work: UnitOfWork, piece_ids: Iterable[int]) -> None:
    """Refuse to frame pieces that still have a part to be cut anew.

    Only parts that were noted as spoiled without a plan count, of which the bench is told when they are cut anew.
    Raises: Conflict.
    """
    _check_none_spoiled(work, piece_ids, "; then the piece is framed.")


def _check_none_spoiled(work: UnitOfWork, piece_ids: Iterable[int], then: str) -> None:
    """Refuse where a part is spoiled without a plan, and say where it is told of it that it is cut anew. then: ends that.

    Raises: Conflict.
    """
    for parts in spoiled_in(work, piece_ids).values():
        by_hand = [part for part in parts if part.by_hand]
        plans = sorted({part.plan for part in by_hand if part.plan})
        if plans:
            how = f"Book what {', '.join(plans)} cuts anew"
        else:
            how = "Say at the bench that it is cut anew, or that it is not spoiled"
        if by_hand:
            raise Conflict(f"{spoiled_words([part.words for part in by_hand])}. {how}{then}")


def spoiled_words(words: Sequence[str]) -> str:
    """In words, without a full stop: "1 part is spoiled and not cut anew: glazing"."""
    count = counted(len(words), "part is", "parts are")
    return f"{count} spoiled and not cut anew: {', '.join(words)}"


def spoil(
    store: Store, piece_id: int, key: str, act: Stamp, *, note: str = ""
) -> tuple[UsedUp, ...]:
    """Note that a part was spoiled: it is open work again. Returns what left the rack by that.

    What a plan cut or is to cut is noted in that plan, also where the piece was called cut before the plan was booked: the
    plan's own stick or sheet went into what is spoiled. Else the part of a piece that counts as cut has left the rack
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
        if (plan_id := _plan_of(work, piece_id, stands)) is not None:
            spoil_in(work, plan_id, part.id, act, note=note)
            return ()
        if (part.id, part.what) in _spoiled_of(work, piece_id):
            raise Conflict(f"The {part.words} is noted as spoiled already and is open work.")
        uncut = piece.stage is Stage.ORDERED
        used, moved = take(work, [part], MovementKind.SPOILED, act, note) if uncut else ([], [])
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
        used, moved = ([], []) if later else take(work, [stands.part], MovementKind.SPOILED, act)
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
            back.append(put_back(work, movement, act))
        work.part_changes.add(piece_id, _changed(stands.part, PartChange.TAKEN_BACK, act))
        return in_all(back)


def note_cut_anew(work: UnitOfWork, piece_id: int, parts: Iterable[PartToCut], act: Stamp) -> None:
    """Note of some parts of a piece those that were spoiled as cut anew: they are cut with its others."""
    spoiled = _spoiled_of(work, piece_id)
    for part in parts:
        if (part.id, part.what) in spoiled:
            work.part_changes.add(piece_id, _changed(part, PartChange.CUT_ANEW, act))


def note_spoiled_again(work: UnitOfWork, piece_id: int, when: datetime, act: Stamp) -> None:
    """Take back that parts of a piece were cut anew at a moment: they are spoiled again, as it was noted."""
    last = last_changes(work.part_changes.of([piece_id]).get(piece_id, ()))
    for each in last.values():
        if each.change is PartChange.CUT_ANEW and each.at == when:
            undone = replace(each, change=PartChange.TAKEN_BACK, at=act.now, by=act.who)
            work.part_changes.add(piece_id, undone)


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


def _plan_of(work: UnitOfWork, piece_id: int, stands: PartStands) -> int | None:
    """Return the plan that cut a part or holds it; a part of a piece that counts as cut is held by its plan until that is booked."""
    if stands.by is not None:
        return stands.by.plan_id
    part = stands.part
    in_plans = work.plans.parts_of([piece_id]).get(piece_id, ())
    return next(
        (x.plan_id for x in in_plans if x.held and (x.part, x.what) == (part.id, part.what)), None
    )


def _check_spoiled(work: UnitOfWork, piece: PieceInWork, stands: PartStands) -> ChangedPart:
    """Return the change by which a part is spoiled. Raises: Conflict where it is not."""
    piece_id, part = piece.ref.piece_id, stands.part
    last = last_changes(work.part_changes.of([piece_id]).get(piece_id, ()))
    wrong = last.get((part.id, part.what))
    if wrong is None or wrong.change is not PartChange.SPOILED:
        raise Conflict(f"The {part.words} is not noted as spoiled here.")
    return wrong


def _spoiled_of(work: UnitOfWork, piece_id: int) -> frozenset[tuple[str, str]]:
    return spoiled_parts(work.part_changes.of([piece_id]).get(piece_id, ()))


def _changed(part: PartToCut, change: PartChange, act: Stamp) -> ChangedPart:
    return ChangedPart(part=part.id, what=part.what, change=change, at=act.now, by=act.who)
