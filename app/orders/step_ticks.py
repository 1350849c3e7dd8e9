"""Steps of the work that were ticked: an append-only record, and what stands of it.

Kept by the step's id, never by its place, so that a tick stays with its step while prices, other
steps or the cutter change. Which steps a piece has is for `workbench`.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from app.bench import Step
from app.journal import Noted, standing_by
from app.lengths import Unit, exact_text
from app.orders.stages import Stage

TICKABLE = frozenset({Stage.ORDERED, Stage.CUT, Stage.FRAMED})
"""Where a piece is worked on: from the order until it is collected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick(Noted):
    """One tick of a box, or its taking back. words: what the step said at that time."""

    step: str
    words: str
    ticked: bool


def standing(ticks: Iterable[Tick]) -> dict[str, Tick]:
    """The ticks that were not taken back, by step. ticks: the oldest first."""
    return standing_by(ticks, lambda tick: tick.step, stands=lambda tick: tick.ticked)


def words_of(step: Step) -> str:
    """Everything that a step asks for, so that a change of it shows: its text and its parts."""
    parts = [
        f"{part.count} × {part.name} "
        + " × ".join(exact_text(length, Unit.MM) for length in part.lengths)
        for part in step.parts
        if part.lengths
    ]
    return "; ".join((step.text, *parts))
