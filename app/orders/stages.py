"""The stages of a piece, of a line without one and of an order, and the one table of what may follow what.

A piece moves; an order stands where the least of its pieces stands. Taking a change back is not a
row of the table: it undoes the last change, whatever it was, and leaves both in the record. A line without a
piece goes the same way and skips what it does not come to.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from app.errors import Conflict
from app.journal import Noted


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

WORK_SKIPS = frozenset({Stage.CUT})
"""What a line of work does not come to."""

GOODS_SKIP = frozenset({Stage.CUT, Stage.FRAMED})
"""What a line of goods does not come to, which lie ready."""


DELETED = "deleted"
"""What is noted of a quote that leaves the way because it was a mistake, and not since the customer declined it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StageChange(Noted):
    """One change of the stage of a piece or a line. takes_back: undoes the one before it.

    count: how many of those that are alike moved; None for all that stood at the old stage (P11).
    """

    old: Stage
    new: Stage
    takes_back: bool = False
    note: str = ""
    count: int | None = None

    @property
    def deletes(self) -> bool:
        """Whether it is of a quote that was deleted."""
        return self.new is Stage.DECLINED and self.note == DELETED

    @property
    def brings_back(self) -> bool:
        """Whether it takes back that a quote was deleted."""
        return self.takes_back and self.note == DELETED

    @property
    def of_deletion(self) -> str:
        """What it says of a quote that was deleted or brought back; "" for any other change."""
        if self.brings_back:
            return "brought back with the quote"
        return "deleted with the quote" if self.deletes else ""


def word_of(stage: Stage, *, with_pieces: bool) -> str:
    """Return the word for where an order stands; one without a piece is ready where it would be framed, and never cut."""
    words = {Stage.CUT: "ordered", Stage.FRAMED: "ready"}
    return stage.value if with_pieces else words.get(stage, stage.value)


def may_follow(stage: Stage, skips: frozenset[Stage] = frozenset()) -> tuple[Stage, ...]:
    """Return what may follow a stage, by the one table; what is skipped is passed over."""
    found: list[Stage] = []
    for new in MAY_FOLLOW[stage]:
        found += may_follow(new, skips) if new in skips else (new,)
    return tuple(dict.fromkeys(found))


def skipped_after(stage: Stage, skips: frozenset[Stage]) -> frozenset[Stage]:
    """Return what is skipped right after a stage."""
    passed = frozenset(MAY_FOLLOW[stage]) & skips
    return passed.union(*(skipped_after(new, skips) for new in passed))


def check_move(
    old: Stage, new: Stage, *, skips: frozenset[Stage] = frozenset(), what: str = "The piece"
) -> None:
    """Raises: Conflict with what may follow, unless `new` may follow `old`."""
    following = may_follow(old, skips)
    if new in following:
        return
    allowed = " or ".join(f"“{stage}”" for stage in following)
    rest = f"only {allowed} can follow." if allowed else "nothing follows it; undo it instead."
    raise Conflict(f"{what} is “{old}” and cannot become “{new}”: {rest}")


def stage_of_order(pieces: Iterable[Stage]) -> Stage:
    """Return the least stage of the pieces that are still on the way.

    Where none is: declined if all were declined, else cancelled. No piece at all is quoted.
    """
    stages = tuple(pieces)
    on_the_way = [stage for stage in stages if stage not in LEFT_THE_WAY]
    if on_the_way:
        return min(on_the_way, key=WAY.index)
    if not stages:
        return Stage.QUOTED
    return Stage.DECLINED if set(stages) == {Stage.DECLINED} else Stage.CANCELLED
