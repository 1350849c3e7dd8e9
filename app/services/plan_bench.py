"""A kept cutting plan as it lies at the bench, and which plans have to do with a piece."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from app.orders import Stage
from app.services import plans
from app.services.at_work import at_work
from app.services.plan_bookings import not_on_rack
from app.services.plan_fallouts import OfferedFallout, fallouts_of
from app.services.plans import LookedPlan
from app.stock.items import StockItem
from app.stock.planning.open_work import PartInPlan, PartStands, PartState
from app.stock.planning.parts import PieceRef
from app.stock.planning.plans import BinAt, CuttingPlan, PlanStage, unbooked
from app.storage import Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyPiece:
    """A piece of which every part is cut, and that is not moved yet. version: of its order."""

    ref: PieceRef
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanAtBench:
    """A plan with what may be kept of its sticks and sheets, and what was.

    offered: fallouts, of those still to be cut. kept: items with labels of their own, of those that are
    booked. ready: pieces of which all is cut. missing: what is still to be cut and is not on the rack.
    """

    looked: LookedPlan
    offered: Mapping[BinAt, tuple[OfferedFallout, ...]]
    kept: Mapping[BinAt, tuple[StockItem, ...]]
    ready: tuple[ReadyPiece, ...]
    missing: frozenset[BinAt]


def at_bench(store: Store, plan_id: int, *, offers: bool = True) -> PlanAtBench:
    """Return a plan at the bench. offers: whether fallouts are looked for, which takes the most time.

    Raises: NotFound.
    """
    looked = plans.look(store, plan_id)
    plan = looked.plan
    with store.reading() as work:
        offered = _offered(work, plan) if offers else {}
        kept = {
            at: tuple(work.stock.get(moved.item_id) for moved in booking.entry.moved[1:])
            for at, booking in looked.standing.booked.items()
        }
        ready = tuple(
            ReadyPiece(ref=piece.ref, version=work.orders.get(piece.ref.order_id).version)
            for piece in looked.pieces.values()
            if piece.all_cut and piece.parts and piece.stage is Stage.ORDERED
        )
        missing = not_on_rack(work, plan)
    return PlanAtBench(looked=looked, offered=offered, kept=kept, ready=ready, missing=missing)


def _offered(work: UnitOfWork, plan: CuttingPlan) -> Mapping[BinAt, tuple[OfferedFallout, ...]]:
    """Return the fallouts of what is still to be cut, all pieces read at once."""
    at = {part.id: where for where in unbooked(plan) for part in plan.parts_in(where)}
    parts = [part for part in plan.parts() if part.id in at]
    offered: dict[BinAt, tuple[OfferedFallout, ...]] = {}
    for each in fallouts_of(work, parts, work.shop.get()):
        where = at[each.part.id]
        offered[where] = (*offered.get(where, ()), each)
    return offered


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOfPiece:
    """A plan that holds parts of a piece, or cut some."""

    id: int
    number: str
    stage: PlanStage
    planned: int = 0
    cut: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPiece:
    """How it stands with the cutting of a piece. open: parts that no plan holds."""

    plans: tuple[PlanOfPiece, ...]
    parts: int
    open: int
    cut: int

    @property
    def all_cut(self) -> bool:
        """Whether every part of the piece is cut."""
        return self.parts > 0 and self.cut == self.parts


def planned_pieces(store: Store, piece_ids: Iterable[int]) -> Mapping[int, PlannedPiece]:
    """Tell how it stands with the cutting of some pieces, by id; only of those that are on the way."""
    return {
        piece.ref.piece_id: PlannedPiece(
            plans=_plans_of(piece.parts),
            parts=len(piece.parts),
            open=len(piece.open_parts),
            cut=sum(each.state is PartState.CUT for each in piece.parts),
        )
        for piece in at_work(store, piece_ids).pieces
    }


def _plans_of(parts: Sequence[PartStands]) -> tuple[PlanOfPiece, ...]:
    """Return the plans of some parts, the newest first, each with how many it holds and how many it cut."""
    by_plan: dict[int, list[PartInPlan]] = {}
    for each in parts:
        if each.by is not None:
            by_plan.setdefault(each.by.plan_id, []).append(each.by)
    return tuple(
        PlanOfPiece(
            id=plan_id,
            number=held[0].plan_number,
            stage=held[0].plan_stage,
            planned=sum(each.held for each in held),
            cut=sum(each.cut for each in held),
        )
        for plan_id, held in sorted(by_plan.items(), reverse=True)
    )
