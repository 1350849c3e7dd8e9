"""How it stands with each part of the pieces in work: open, planned, cut.

Owns the answer from a piece's parts and what plans have done with parts of its. A part is the same
only while it is what it was: of a piece that was changed, other parts are open again.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from app.orders import Stage
from app.stock.planning.part_changes import ChangedPart, spoiled_parts
from app.stock.planning.parts import CountedNeed, PartToCut, PieceRef
from app.stock.planning.plans import BinAt, CuttingPlan, PlanStage

CUT_BY_HAND = frozenset({Stage.CUT, Stage.FRAMED, Stage.COLLECTED})
"""A piece that was moved here counts as cut, whatever plans say; but for what was spoiled since."""


class PartState(StrEnum):
    """How it stands with a part."""

    OPEN = "open"
    PLANNED = "planned"
    CUT = "cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartInPlan:
    """A part as some plan has it. what: as of the part then. to_buy: its bin was not on the rack."""

    plan_id: int
    plan_number: str
    plan_stage: PlanStage
    at: BinAt
    part: str
    what: str
    to_buy: bool = False
    booked: bool = False
    spoiled: bool = False

    @property
    def held(self) -> bool:
        """Whether an open plan is still to cut the part."""
        return self.plan_stage is PlanStage.OPEN and not self.booked and not self.spoiled

    @property
    def cut(self) -> bool:
        """Whether its plan has cut the part, and it was not spoiled."""
        return self.booked and not self.spoiled


@dataclass(frozen=True, slots=True, kw_only=True)
class PartStands:
    """A part and how it stands. by: the plan that holds it or cut it. spoiled: whether one of it was.

    otherwise: the plan that holds or cut a part of this name that is another now: the piece was
    changed since.
    """

    part: PartToCut
    state: PartState
    by: PartInPlan | None = None
    spoiled: bool = False
    otherwise: PartInPlan | None = None

    @property
    def by_hand(self) -> bool:
        """Whether it counts as cut and no plan has cut it: its piece was moved on."""
        return self.state is PartState.CUT and self.by is None


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceInWork:
    """A piece with everything it needs. stage: of the piece. counted: hardware and the like.

    Of several that are alike parts are those of all, and counted what those need that are not framed yet.
    """

    ref: PieceRef
    stage: Stage
    parts: tuple[PartStands, ...]
    counted: tuple[CountedNeed, ...] = ()

    @property
    def open_parts(self) -> tuple[PartToCut, ...]:
        """The parts that are neither cut nor held by a plan."""
        return tuple(each.part for each in self.parts if each.state is PartState.OPEN)

    @property
    def all_cut(self) -> bool:
        """Whether every part that is cut from stock is cut."""
        return all(each.state is PartState.CUT for each in self.parts)


def cut_by_hand(plan: CuttingPlan, pieces: Iterable[PieceInWork]) -> frozenset[str]:
    """Return the ids of the parts of a plan that were cut by hand meanwhile. pieces: those that its parts are for."""
    cut = {
        (each.part.id, each.part.what) for piece in pieces for each in piece.parts if each.by_hand
    }
    return frozenset(part.id for part in plan.parts() if (part.id, part.what) in cut)


def parts_standing(
    parts: Sequence[PartToCut],
    stage: Stage,
    in_plans: Iterable[PartInPlan],
    stands: Mapping[Stage, int] = MappingProxyType({}),
    *,
    changes: Iterable[ChangedPart] = (),
) -> tuple[PartStands, ...]:
    """Tell how it stands with the parts of one piece. in_plans: of that piece, in any order.

    stands: of several alike, how many stand at each stage; without it all stand at the stage of the piece. As
    many of them as were moved on count as cut: those of which plans have cut the most.
    changes: what became of its parts without a plan, the oldest first.
    """
    by_id: Mapping[str, list[PartInPlan]] = defaultdict(list)
    for each in in_plans:
        by_id[each.part].append(each)
    moved = sum(stands[at] for at in stands.keys() & CUT_BY_HAND)
    copies = {part.copy for part in parts}
    if not stands:
        moved = len(copies) if stage in CUT_BY_HAND else 0
    cut = Counter(part.copy for part in parts if any(each.cut for each in by_id[part.id]))
    by_hand = sorted(copies, key=lambda copy: (-cut[copy], copy))[:moved]
    spoiled = spoiled_parts(changes)
    return tuple(
        _stands(
            part,
            by_id.get(part.id, ()),
            by_hand=part.copy in by_hand,
            spoiled=(part.id, part.what) in spoiled,
        )
        for part in parts
    )


def _stands(
    part: PartToCut, in_plans: Sequence[PartInPlan], *, by_hand: bool, spoiled: bool
) -> PartStands:
    """spoiled: without a plan, and not cut anew."""
    ours = [each for each in in_plans if each.what == part.what]
    other = next((x for x in in_plans if x.what != part.what and (x.held or x.cut)), None)
    cut = next((each for each in ours if each.cut), None)
    held = next((each for each in ours if each.held), None)
    spoiled = spoiled or any(each.spoiled for each in ours)
    if cut is not None or (by_hand and not spoiled):
        state, by = PartState.CUT, cut
    else:
        state, by = (PartState.OPEN if held is None else PartState.PLANNED), held
    return PartStands(part=part, state=state, by=by, spoiled=spoiled, otherwise=other)
