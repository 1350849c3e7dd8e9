"""Open work: which parts of which pieces are still to be cut, and what is on the rack for them."""

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from functools import partial

from app.cutting.problem import MOST_PARTS
from app.errors import Invalid
from app.framing import Dimensions, in_steps
from app.orders import Agreed, Shop, Stage
from app.orders.dimensions_memo import worked_out
from app.pricing import Material
from app.stock.former_codes import Codes
from app.stock.items import StockForm, StockItem
from app.stock.material_states import (
    MaterialState,
    Queue,
    Whole,
    material_states,
    states_of_queue,
)
from app.stock.planning.open_work import PartInPlan, PieceInWork, parts_standing
from app.stock.planning.part_changes import ChangedPart
from app.stock.planning.parts import CountedNeed, PartToCut, PieceNeeds, PieceRef, needs_of
from app.stock.planning.plans import CuttingPlan, beyond_rack, reserved_by
from app.stock.planning.problems import (
    Ask,
    OnRack,
    PlanningProblem,
    is_usual,
    problem_of,
    problems_of,
)
from app.storage import Coming, KeptPiece, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkFilter:
    """Which open work is meant; everything given must hold.

    pieces: their ids; None for all. materials: codes, any case; none for all. due_by: due on that day
    or earlier, so that what has no due date is left out.
    """

    pieces: frozenset[int] | None = None
    materials: frozenset[str] = frozenset()
    due_by: date | None = None

    def wants(self, piece: KeptPiece) -> bool:
        """Tell whether a piece is meant."""
        if self.pieces is not None and piece.ref.piece_id not in self.pieces:
            return False
        due = piece.ref.due
        return self.due_by is None or (due is not None and due <= self.due_by)

    def wants_part(self, part: PartToCut) -> bool:
        """Tell whether a part of such a piece is meant."""
        wanted = {code.strip().casefold() for code in self.materials}
        return not wanted or part.material.code.casefold() in wanted


_MOST_QUEUES = 300
"""Answers kept for materials whose open parts and stock did not change since. Source: ours."""

_MOST_LISTS = 4
"""Lists of pieces in work of which nothing changed since: for buying, for planning, for what is counted. Source: ours."""


ALL_WORK = WorkFilter()


@dataclass(frozen=True, slots=True, kw_only=True)
class Troubled:
    """A piece whose parts cannot be worked out any more, and why."""

    ref: PieceRef
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenWork:
    """The pieces in work, the first due first, and what is asked of the rack for them.

    parts: those that are meant and open: no plan holds them, and they are not cut.
    """

    pieces: tuple[PieceInWork, ...]
    parts: tuple[PartToCut, ...]
    troubled: tuple[Troubled, ...]


def open_work(store: Store, wanted: WorkFilter = ALL_WORK) -> OpenWork:
    """Return the pieces that are ordered and not cut, and those of which a part was spoiled since."""
    with store.reading() as work:
        return open_work_in(work, wanted)


def counted_needs(store: Store, wanted: WorkFilter = ALL_WORK) -> tuple[CountedNeed, ...]:
    """Hardware and the like of the pieces that are ordered or cut, and not yet framed."""
    with store.reading() as work:
        kept = work.open_pieces.at(Stage.ORDERED, Stage.CUT)
        pieces, _ = pieces_in_work(work, [each for each in kept if wanted.wants(each)])
    return tuple(need for piece in pieces for need in piece.counted)


def open_work_in(work: UnitOfWork, wanted: WorkFilter = ALL_WORK) -> OpenWork:
    """As `open_work`, within a transaction that does more."""
    kept = [
        each for each in work.open_pieces.in_work(also=spoiled_pieces(work)) if wanted.wants(each)
    ]
    pieces, troubled = pieces_in_work(work, kept)
    meant = [piece for piece in pieces if piece.stage is Stage.ORDERED or piece.open_parts]
    parts = (part for piece in meant for part in piece.open_parts)
    return OpenWork(
        pieces=tuple(meant),
        parts=tuple(part for part in parts if wanted.wants_part(part)),
        troubled=troubled,
    )


def spoiled_pieces(work: UnitOfWork) -> frozenset[int]:
    """Return the pieces with a part that was spoiled, by a plan or without one."""
    return work.plans.spoiled_pieces() | work.part_changes.spoiled_pieces()


def pieces_in_work(
    work: UnitOfWork, kept: Sequence[KeptPiece]
) -> tuple[tuple[PieceInWork, ...], tuple[Troubled, ...]]:
    """Tell how it stands with each part of some pieces, and those that cannot be worked out.

    Where nothing changed of what is read of them all, as after most writes, it is the very same answer again.
    """
    ids = [each.ref.piece_id for each in kept]
    in_plans, changes = work.plans.parts_of(ids), work.part_changes.of(ids)
    told = [
        (each, in_plans.get(id, ()), changes.get(id, ()))
        for id, each in zip(ids, kept, strict=True)
    ]

    def make() -> tuple[tuple[PieceInWork, ...], tuple[Troubled, ...]]:
        pieces: list[PieceInWork] = []
        troubled: list[Troubled] = []
        for each, planned, changed in told:
            try:
                pieces.append(_in_work(work, each, planned, changed))
            except Invalid as invalid:
                troubled.append(Troubled(ref=each.ref, message=invalid.message))
        return tuple(pieces), tuple(troubled)

    read = tuple((_written(each), each.stage, each.changes, *rest) for each, *rest in told)
    return work.lasting.of("pieces in work", read, make, most=_MOST_LISTS)


def _in_work(
    work: UnitOfWork,
    kept: KeptPiece,
    planned: tuple[PartInPlan, ...],
    changes: tuple[ChangedPart, ...],
) -> PieceInWork:
    """Tell how it stands with each part of a piece, which is worked out again when any of what is read of it changed.

    Raises: Invalid.
    """
    needs = _needs(work, kept)
    stands = kept.stands(needs.copies)

    def make() -> PieceInWork:
        unframed = needs.copies - sum(stands.get(at, 0) for at in (Stage.FRAMED, Stage.COLLECTED))
        return PieceInWork(
            ref=kept.ref,
            stage=kept.stage,
            parts=parts_standing(needs.parts, kept.stage, planned, stands, changes=changes),
            counted=tuple(need.times(unframed) for need in needs.counted if unframed),
        )

    read = (_written(kept), kept.stage, frozenset(stands.items()), planned, changes)
    return work.lasting.of("in work", read, make)


def needs_of_one(work: UnitOfWork, kept: Iterable[KeptPiece]) -> Iterator[CountedNeed]:
    """Hardware and the like of each of some pieces, one of those that are alike; of what cannot be worked out none."""
    for each in kept:
        with suppress(Invalid):
            yield from _needs(work, each).counted


def _needs(work: UnitOfWork, kept: KeptPiece) -> PieceNeeds:
    """Return what a piece needs; what was agreed is written once, so it is worked out once. Raises: Invalid."""

    def make() -> PieceNeeds:
        agreed = kept.agreed
        return needs_of(kept.ref, agreed, cut_of(agreed))

    return work.lasting.of("needs", _written(kept), make)


def _written(kept: KeptPiece) -> Hashable:
    """Return what the needs of a piece follow from: its snapshot, which is written once, its names, the codes of today."""
    return kept.snapshot_id, kept.ref, kept.codes


def cut_of(agreed: Agreed) -> Dimensions:
    """Return a piece's dimensions in the shop's steps. Raises: Invalid where it cannot be worked out."""
    return in_steps(worked_out(agreed.spec), agreed.steps)


def problems_for(store: Store, wanted: WorkFilter = ALL_WORK) -> tuple[PlanningProblem, ...]:
    """Return a question for each material of the open work; none where nothing is open.

    Raises: Invalid where more is asked than one plan can hold.
    """
    with store.reading() as work:
        return problems_in(work, open_work_in(work, wanted).parts)


def problems_in(work: UnitOfWork, parts: Iterable[PartToCut]) -> tuple[PlanningProblem, ...]:
    """As `problems_for`, for parts that are known, within a transaction that does more."""
    parts = tuple(parts)
    book = work.materials.several({part.material.code for part in parts})
    return _asked(work, parts, book, _rack_of(_stock_of(work, book, work.plans.open()), book))


def problems_in_batches(
    work: UnitOfWork,
    parts: Iterable[PartToCut],
    book: Mapping[str, Material],
    plans: Sequence[CuttingPlan],
) -> tuple[PlanningProblem, ...]:
    """As `problems_in`, where more of a material may be asked than one plan can hold: then several questions of it.

    book: the materials of the parts at least, by code. plans: those that are open. What is on the rack is offered to the first question. Source: ours; who buys for
    thousands of parts needs the sum and no plan of them all.
    """
    rack = _rack_of(_stock_of(work, book, plans), book)
    found: list[PlanningProblem] = []
    parts = tuple(parts)
    batches = work.lasting.of(
        "batches", None, lambda: _batches(parts), same=parts, most=_MOST_LISTS
    )
    for batch in batches:
        found += _asked(work, batch, book, () if found else rack)
    return tuple(found)


def _asked(
    work: UnitOfWork,
    parts: Iterable[PartToCut],
    book: Mapping[str, Material],
    rack: Iterable[OnRack],
) -> tuple[PlanningProblem, ...]:
    return problems_of(parts, book, rack, work.shop.get(), asking(work))


def asking(work: UnitOfWork) -> Ask:
    """Return what asks of a material; a question is made again when any of its parts, its material, its rack or the shop changed.

    Parts stay the very same objects for as long as what they follow from is remembered.
    """

    def ask(
        parts: Sequence[PartToCut], booked: Material | None, items: Sequence[OnRack], shop: Shop
    ) -> PlanningProblem:
        made = partial(problem_of, parts, booked, items, shop)
        same = (*parts, booked, shop)
        return work.lasting.of("questions", tuple(items), made, same=same, most=_MOST_QUEUES)

    return ask


def _batches(parts: Iterable[PartToCut]) -> tuple[tuple[PartToCut, ...], ...]:
    """Return the parts in batches with as many of each material as one plan can hold."""
    counts: Counter[tuple[str, StockForm]] = Counter()
    batches: dict[int, list[PartToCut]] = {}
    for part in parts:
        asked = part.material.code, part.form
        batches.setdefault(counts[asked] // MOST_PARTS, []).append(part)
        counts[asked] += 1
    return tuple(tuple(batch) for batch in batches.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stock:
    """The items of some materials, the oldest first, with how many of each open plans have reserved, by its id, and how many of
    a material they are still to buy, by its code.
    """

    items: tuple[StockItem, ...]
    reserved: Counter[int]
    promised: Counter[str]


def _stock_of(
    work: UnitOfWork, book: Mapping[str, Material], plans: Sequence[CuttingPlan]
) -> _Stock:
    """plans: those that are open."""
    return _Stock(
        items=work.stock.of_materials(book),
        reserved=sum(map(reserved_by, plans), Counter()),
        promised=sum(map(beyond_rack, plans), Counter()),
    )


def _rack_of(stock: _Stock, book: Mapping[str, Material]) -> tuple[OnRack, ...]:
    """Return what is on the rack of some materials and what of it no open plan has taken.

    Whole stock that open plans were to buy counts as taken once it is there, the oldest first.
    """
    promised = Counter(stock.promised)
    rack: list[OnRack] = []
    for kept in stock.items:
        code = kept.item.material
        free = max(kept.on_hand - stock.reserved[kept.id], 0)
        if is_usual(kept.item, book[code]):
            free, promised[code] = max(free - promised[code], 0), max(promised[code] - free, 0)
        rack.append(OnRack(kept=kept, available=free))
    return tuple(rack)


def states_of_materials(
    store: Store, of: frozenset[int] | None = None
) -> Mapping[int, Mapping[str, MaterialState]]:
    """Tell how it stands with every material of every piece in work: by the piece's id, then by code.

    of: the ids of the pieces that are asked about; only questions of their materials are then asked, of all pieces. A
    material that was called otherwise stands under its former codes too.
    """
    with store.reading() as work:
        found = open_work_in(work)
        codes = {
            each.part.material.code
            for piece in found.pieces
            if of is None or piece.ref.piece_id in of
            for each in piece.parts
        }
        book = work.materials.several(codes)
        parts = as_many_as_planned(part for part in found.parts if part.material.code in codes)
        stock = _stock_of(work, book, work.plans.open())
        problems = _asked(work, parts, book, _rack_of(stock, book))
        supply = _whole_stock(stock, work.supplier_orders.coming(), book)

        def states_of(queue: Queue) -> Mapping[str, MaterialState]:
            made = partial(states_of_queue, queue)
            counts = (queue.waiting, queue.usual, queue.on_order)
            return work.lasting.of("queues", counts, made, same=(queue.asked,), most=_MOST_QUEUES)

        states = material_states(found.pieces, problems, supply, states_of, of)
        return _also_as_agreed(states, work.materials.codes())


def as_many_as_planned(parts: Iterable[PartToCut]) -> Iterator[PartToCut]:
    """Yield the first parts of each material, as many as one plan can hold; of further ones it is said that they are to buy."""
    counts: Counter[tuple[str, StockForm]] = Counter()
    for part in parts:
        counts[part.material.code, part.form] += 1
        if counts[part.material.code, part.form] <= MOST_PARTS:
            yield part


def _also_as_agreed(
    states: Mapping[int, Mapping[str, MaterialState]], codes: Codes
) -> Mapping[int, Mapping[str, MaterialState]]:
    """Return the same under the codes that materials had when a piece was agreed."""
    return {
        piece_id: {**{old: of[new] for old, new in codes.now if new in of}, **of}
        for piece_id, of in states.items()
    }


def _whole_stock(
    stock: _Stock, coming: Mapping[str, Coming], book: Mapping[str, Material]
) -> Mapping[str, Whole]:
    free: Counter[str] = Counter()
    for kept in stock.items:
        if is_usual(kept.item, book[kept.item.material]):
            free[kept.item.material] += kept.on_hand - stock.reserved[kept.id]
    return {
        code: Whole(free=free[code], on_order=coming[code].on_order if code in coming else 0)
        for code in book
    }
