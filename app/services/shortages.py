"""What is short: of every material that open work wants or that the shop watches, by supplier.

Owns nothing of the sum (`app.stock.buying.to_buy`): it brings together the pieces in work, the open cutting
plans, the rack, the levels and what is coming.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from app.orders import Stage
from app.pricing import Kind
from app.pricing.measure import Measure
from app.services.open_work import (
    pieces_in_work,
    problems_in_batches,
    spoiled_pieces,
    states_of_materials,
)
from app.stock.balances import Balance
from app.stock.buying.demand import (
    in_all,
    odd_on_rack,
    wanted_by_count,
    wanted_by_plan,
    wanted_by_problem,
    whole_opened,
)
from app.stock.buying.goods import wanted_by_lines
from app.stock.buying.to_buy import Demand, Purchase, Supply, purchase_of
from app.stock.levels import NO_LEVELS
from app.stock.material_states import MaterialState
from app.stock.planning.open_work import PieceInWork, cut_by_hand
from app.stock.planning.parts import CountedNeed, PartToCut
from app.stock.planning.plans import CuttingPlan, held_parts, reserved_by
from app.stock.planning.problems import PlanningProblem
from app.storage import Coming, Store, UnitOfWork

_MOST_QUESTIONS = 300
"""Answers kept for materials of which the open parts and the rack did not change since. Source: ours."""

_MOST_LISTS = 4
"""Lists of pieces of which it is remembered what is counted for them. Source: ours."""

_MOST_ASKED = 50
"""Sets of pieces of which it is remembered how it stands with their materials. Source: ours; a shop looks at few orders at once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FromSupplier:
    """What to buy of one supplier, by code. supplier: "" for materials that have none."""

    supplier: str
    purchases: tuple[Purchase, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortages:
    """Everything that is short. not_in_book: wanted of materials that have left the price book."""

    suppliers: tuple[FromSupplier, ...]
    not_in_book: tuple[Demand, ...] = ()


def what_to_buy(store: Store) -> Shortages:
    """Return what is short, by supplier; materials without a supplier come last."""
    return store.remembered("what to buy", lambda: _what_to_buy(store))


def _what_to_buy(store: Store) -> Shortages:
    with store.reading() as work:
        found = supplies(work)
    short = [each for each in found.purchases.values() if each.quantity]
    return Shortages(suppliers=_by_supplier(short), not_in_book=found.not_in_book)


def states_of_pieces(
    store: Store, piece_ids: Iterable[int]
) -> Mapping[int, Mapping[str, MaterialState]]:
    """Tell how it stands with each material of some pieces that is cut from stock, by the piece's id, then by its code.

    Nothing for a piece that is not in work. All pieces are looked at together, for one stick is not in
    hand for two; that is done once after each write for the pieces that are asked about together.
    """
    ids = frozenset(piece_ids)
    return store.remembered(
        "states of materials", lambda: states_of_materials(store, ids), asked=ids, most=_MOST_ASKED
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplies:
    """How it stands with every material that is wanted, watched or coming, by its code."""

    purchases: Mapping[str, Purchase]
    not_in_book: tuple[Demand, ...] = ()


def supplies(work: UnitOfWork) -> Supplies:
    """Tell how it stands with every material that is wanted, watched or coming."""
    book = {material.code: material for material in work.materials.all(inactive=True)}
    plans = work.plans.open()
    reserved = sum(map(reserved_by, plans), Counter[int]())
    balances = {each.material.code: each for each in work.stock_lists.balances(reserved=reserved)}
    pieces = _pieces(work, plans)
    problems = problems_in_batches(work, pieces.open_parts(), book, plans)
    unframed = pieces.at(Stage.ORDERED, Stage.CUT)
    wanted = in_all(
        (
            *(_wanted(work, each) for each in problems),
            *_wanted_by_plans(plans, pieces),
            *_wanted_by_count(work, tuple(unframed), balances.keys()),
            *wanted_by_lines(work.order_lines.goods_ordered()),
        )
    )
    odd: Counter[str] = Counter()
    for each in problems:
        odd[each.material.code] += odd_on_rack(each)
    coming = work.supplier_orders.coming()
    levels = work.stock.every_level()
    codes = sorted({*wanted, *balances, *coming} & book.keys())
    return Supplies(
        purchases={
            code: purchase_of(
                book[code],
                wanted.get(code),
                _supply(balances.get(code), odd[code], coming.get(code)),
                levels.get(code, NO_LEVELS),
            )
            for code in codes
        },
        not_in_book=tuple(wanted[code] for code in sorted(wanted.keys() - book.keys())),
    )


def _wanted(work: UnitOfWork, problem: PlanningProblem) -> Demand:
    """Return what a question wants; one that was asked before is not planned again."""

    def make() -> Demand:
        return wanted_by_problem(problem, whole_opened(problem.asked))

    return work.lasting.of("wanted", None, make, same=(problem,), most=_MOST_QUESTIONS)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pieces:
    """The pieces that want something, the first due first, read once.

    removed, spoiled, in_plans: the ids of those that were removed, that have a spoiled part, that open plans are still to cut.
    """

    all: tuple[PieceInWork, ...]
    removed: frozenset[int]
    spoiled: frozenset[int]
    in_plans: frozenset[int]

    def at(self, *stages: Stage) -> list[PieceInWork]:
        """Return those at some stages that were not removed."""
        return [
            each
            for each in self.all
            if each.stage in stages and each.ref.piece_id not in self.removed
        ]

    def open_parts(self) -> Iterator[PartToCut]:
        """Yield the open parts of those in work, as `open_work` has them."""
        for each in self.at(Stage.ORDERED, Stage.CUT, Stage.FRAMED):
            if each.stage is Stage.ORDERED or each.ref.piece_id in self.spoiled:
                yield from each.open_parts


def _pieces(work: UnitOfWork, plans: Iterable[CuttingPlan]) -> _Pieces:
    """Read the pieces that are ordered or cut, those with a spoiled part, and those that open plans are to cut."""
    spoiled = spoiled_pieces(work)
    in_plans = frozenset(part.piece.piece_id for plan in plans for part in held_parts(plan))
    kept = work.open_pieces.at_or((Stage.ORDERED, Stage.CUT), spoiled | in_plans)
    pieces, _ = pieces_in_work(work, kept)
    return _Pieces(
        all=pieces,
        removed=frozenset(each.ref.piece_id for each in kept if each.removed),
        spoiled=spoiled,
        in_plans=in_plans,
    )


def _wanted_by_plans(plans: Iterable[CuttingPlan], pieces: _Pieces) -> Iterator[Demand]:
    """Yield what open plans are still to buy; what was cut by hand meanwhile wants nothing any more."""
    held = {each.ref.piece_id: each for each in pieces.all if each.ref.piece_id in pieces.in_plans}
    for plan in plans:
        ids = {part.piece.piece_id for part in plan.parts()}
        ours = (held[piece_id] for piece_id in ids & held.keys())
        yield from wanted_by_plan(plan, cut_by_hand(plan, ours))


def _wanted_by_count(
    work: UnitOfWork, pieces: Sequence[PieceInWork], stocked: Iterable[str]
) -> tuple[Demand, ...]:
    """Return what is counted for some pieces, as long as they stand as they do. stocked: the codes of what stock is kept of."""
    codes = frozenset(stocked)
    return work.lasting.of(
        "counted",
        codes,
        lambda: wanted_by_count(_kept_in_stock(pieces, codes)),
        same=pieces,
        most=_MOST_LISTS,
    )


def _kept_in_stock(
    pieces: Iterable[PieceInWork], stocked: Collection[str]
) -> Iterator[CountedNeed]:
    """Yield what is counted and bought: hardware, what is measured off, and of other extras those kept in stock.

    An extra may be work and no material, as stretching is. Source: common practice.
    """
    for piece in pieces:
        for need in piece.counted:
            material = need.material
            measured = need.measure in (Measure.METRE, Measure.FOOT)
            if material.kind is not Kind.EXTRA or measured or material.code in stocked:
                yield need


def _supply(balance: Balance | None, odd: int, coming: Coming | None) -> Supply:
    """Return what is free in the usual size, and what is coming."""
    return Supply(
        free=balance.free - odd if balance else 0,
        on_order=coming.on_order if coming else 0,
        drafted=coming.drafted if coming else 0,
    )


def _by_supplier(purchases: Iterable[Purchase]) -> tuple[FromSupplier, ...]:
    """By supplier in any case, under the name that comes first."""
    groups: dict[str, list[Purchase]] = {}
    for purchase in purchases:
        groups.setdefault(purchase.material.supplier.strip().casefold(), []).append(purchase)
    return tuple(
        FromSupplier(supplier=ours[0].material.supplier.strip(), purchases=tuple(ours))
        for _, ours in sorted(groups.items(), key=lambda each: (not each[0], each[0]))
    )
