"""The stages of a piece and of an order, and the one table of what may follow what.

A piece moves; an order stands where the least of its pieces stands. Taking a change back is not a
row of the table: it undoes the last change, whatever it was, and leaves both in the record.
"""

from collections.abc import Iterable
from enum import StrEnum

from app.errors import Conflict


class Stage(StrEnum):
    """Where a piece or an order stands."""

    QUOTED = "quoted"
    ORDERED = "ordered"
    CUT = "cut"
    FRAMED = "framed"
    COLLECTED = "collected"
    DECLINED = "declined"
    CANCELLED = "cancelled"


WAY = (Stage.QUOTED, Stage.ORDERED, Stage.CUT, Stage.FRAMED, Stage.COLLECTED)
"""The way of the work, first to last."""

LEFT_THE_WAY = frozenset({Stage.DECLINED, Stage.CANCELLED})

MAY_FOLLOW: dict[Stage, tuple[Stage, ...]] = {
    Stage.QUOTED: (Stage.ORDERED, Stage.DECLINED),
    Stage.ORDERED: (Stage.CUT, Stage.CANCELLED),
    Stage.CUT: (Stage.FRAMED, Stage.CANCELLED),
    Stage.FRAMED: (Stage.COLLECTED, Stage.CANCELLED),
    Stage.COLLECTED: (),
    Stage.DECLINED: (Stage.QUOTED,),
    Stage.CANCELLED: (),
}


def check_move(old: Stage, new: Stage) -> None:
    """Raises: Conflict with what may follow, unless `new` may follow `old`."""
    if new in MAY_FOLLOW[old]:
        return
    allowed = " or ".join(f"“{stage}”" for stage in MAY_FOLLOW[old])
    rest = f"only {allowed} can follow." if allowed else "nothing follows it; take it back instead."
    raise Conflict(f"The piece is “{old}” and cannot become “{new}”: {rest}")


def stage_of_order(pieces: Iterable[Stage]) -> Stage:
    """The least stage of the pieces that are still on the way.

    Where none is: declined if all were declined, else cancelled. No piece at all is quoted.
    """
    stages = tuple(pieces)
    on_the_way = [stage for stage in stages if stage not in LEFT_THE_WAY]
    if on_the_way:
        return min(on_the_way, key=WAY.index)
    if not stages:
        return Stage.QUOTED
    return Stage.DECLINED if set(stages) == {Stage.DECLINED} else Stage.CANCELLED
