"""Steps of the work that were ticked: an append-only record, and what stands of it.

Kept by the step's id, never by its place, so that a tick stays with its step while prices, other
steps or the cutter change. Which steps a piece has is for `workbench`.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from app.bench import Step
from app.journal import Noted, standing_by
from app.lengths import Unit, exact_text
from app.orders.stages import Stage

_PARTS = re.compile(r"; (?=\d+ × )")
"""Where the parts begin in the words of a step."""

_WORDED_OTHERWISE = (
    # Blanks were sized edge to edge, with the sizes run on behind the names; which they are stands with the parts.
    (
        re.compile(r"^(?:size edge to edge: |cut the blanks to size, ).*?(?=; \d+ × |$)"),
        "cut the blanks to size",
    ),
)
"""Words of steps that were put otherwise since a tick could be kept with them, and what they are read as."""

TICKABLE = frozenset({Stage.ORDERED, Stage.CUT, Stage.FRAMED})
"""Where a piece is worked on: from the order until it is collected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick(Noted):
    """One tick of a box, or its taking back. words: what the step said at that time."""

    step: str
    words: str
    ticked: bool

    @property
    def text(self) -> str:
        """What the step said then, in the unit of its ticket, without the exact sizes of its parts behind it."""
        return _PARTS.split(self.words, maxsplit=1)[0]


def standing(ticks: Iterable[Tick]) -> dict[str, Tick]:
    """Return the ticks that were not taken back, by step. ticks: the oldest first."""
    return standing_by(ticks, lambda tick: tick.step, stands=lambda tick: tick.ticked)


def words_of(step: Step) -> str:
    """Return everything that a step asks for, so that a change of it shows: its text and its parts."""
    parts = [
        f"{part.count} × {part.name} "
        + " × ".join(exact_text(length, Unit.MM) for length in part.lengths)
        for part in step.parts
        if part.lengths
    ]
    return "; ".join((step.text, *parts))


def asked_the_same(tick: Tick, step: Step) -> bool:
    """Tell whether a step asks for what it did when it was ticked, also where that was put in other words then."""
    return _read(tick.words) == _read(words_of(step))


def _read(words: str) -> str:
    for before, now in _WORDED_OTHERWISE:
        words = before.sub(now, words)
    return words


def done_before(ticks: Iterable[Tick], steps: Iterable[Step]) -> tuple[Tick, ...]:
    """Return what was ticked and stands, of steps that the piece or the cutter asks no longer (M7)."""
    now = {step.id for step in steps}
    return tuple(tick for step, tick in standing(ticks).items() if step not in now)


def done_otherwise(ticks: Iterable[Tick], steps: Iterable[Step]) -> tuple[Tick, ...]:
    """Return what was ticked and stands, of steps that are gone or ask for something else now (M7)."""
    now = {step.id: step for step in steps}
    return tuple(
        tick
        for step, tick in standing(ticks).items()
        if step not in now or not asked_the_same(tick, now[step])
    )
