"""Several pieces that are alike: how many of them stand at which stage (P11).

Owns the answer from the record of changes, which say how many moved. The stage of the piece is the least of
them. A single piece stands where its record says, as it always did.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol

from app.errors import Conflict
from app.orders.stages import MAY_FOLLOW, WAY, Stage, stage_of_order

BY_NUMBER = frozenset({Stage.CUT, Stage.FRAMED, Stage.COLLECTED})
"""Stages that some of the pieces that are alike may come to before the others do."""


class Moved(Protocol):
    """A change that stands. count: how many moved; None for all that stood at the old stage."""

    @property
    def old(self) -> Stage:
        """Where they stood."""

    @property
    def new(self) -> Stage:
        """Where they stand."""

    @property
    def count(self) -> int | None:
        """How many."""


def spread(copies: int, stage: Stage, standing: Iterable[Moved]) -> Mapping[Stage, int]:
    """Tell how many stand at each stage where any does, in the order of the way of the work.

    stage: of the piece, where all of them stand unless changes say otherwise. standing: the changes that were not
    taken back, the oldest first.
    """
    changes = tuple(standing)
    if all(change.count is None for change in changes):
        return {stage: copies}
    at = dict.fromkeys(Stage, 0)
    at[changes[0].old] = copies
    for change in changes:
        there = at[change.old]
        moved = there if change.count is None else min(change.count, there)
        at[change.old] -= moved
        at[change.new] += moved
    return {each: count for each, count in at.items() if count}


def may_become(stands: Mapping[Stage, int], new: Stage) -> Mapping[Stage, int]:
    """Tell how many of those that are alike may come to a stage now, by where they stand.

    Left out of the way are all of them or none, so that one that was collected keeps the others on it.
    """
    if new not in WAY and any(not MAY_FOLLOW[stage] for stage in stands):
        return {}
    return {stage: count for stage, count in stands.items() if new in MAY_FOLLOW[stage]}


def moving(stands: Mapping[Stage, int], new: Stage, count: int | None) -> Mapping[Stage, int]:
    """Tell how many leave each stage where so many come to another; None for all that may.

    Raises: Conflict in words where that many may not.
    """
    ready = may_become(stands, new)
    able = sum(ready.values())
    if count is None or count == able:
        return ready
    if count < 1:
        raise Conflict(f"{count} cannot become “{new}”; give a whole number from 1 to {able}.")
    if new not in BY_NUMBER:
        raise Conflict(
            f"All {sum(stands.values())} become “{new}” together; split the piece first."
        )
    if count > able:
        where = " and ".join(f"{number} “{stage}”" for stage, number in ready.items())
        raise Conflict(
            f"{count} cannot become “{new}”: of {sum(stands.values())} only {where or 'none'} "
            f"{'is' if able == 1 else 'are'} ready for it."
        )
    ((stage, _),) = ready.items()
    return {stage: count}


def least(stands: Mapping[Stage, int]) -> Stage:
    """Tell where the piece stands: at the least stage of all that are alike."""
    return stage_of_order(stands)


def came_to[Change: Moved](copies: int, standing: Sequence[Change], wanted: Stage) -> Change | None:
    """Return the change by which the last of all that are alike came to a stage of the way, or past it.

    None where one of them has not. standing: the changes that were not taken back, the oldest first.
    """
    found: Change | None = None
    for count, change in enumerate(standing, start=1):
        there = least(spread(copies, change.new, standing[:count]))
        if there not in WAY or WAY.index(there) < WAY.index(wanted):
            found = None
        elif found is None:
            found = change
    return found


def in_words(stands: Mapping[Stage, int]) -> str:
    """As "12 framed, 8 collected"; empty where all stand alike."""
    if len(stands) < 2:
        return ""
    return ", ".join(f"{count} {stage}" for stage, count in stands.items())
