"""Steps of the work that were ticked: an append-only record, and what stands of it.

Kept by the step's id, never by its place, so that a tick stays with its step while prices, other
steps or the cutter change. Which steps a piece has is for `workbench`.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from app.bench import Step
from app.journal import Noted, standing_by
from app.lengths import Unit, exact_text
from app.orders.stages import Stage

_PARTS = re.compile(r"; (?=\d+ × )")
"""Where the parts begin in the words of a step."""

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
    """Return everything that a step asks for, so that a change of it shows: its text, its details and its parts."""
    return "; ".join((step.said, *_parts_of(step)))


def _parts_of(step: Step) -> Iterator[str]:
    for part in step.parts:
        if part.lengths:
            lengths = " × ".join(exact_text(length, Unit.MM) for length in part.lengths)
            yield f"{part.count} × {part.name} {lengths}"


def asked_the_same(tick: Tick, step: Step) -> bool:
    """Tell whether a step asks for what it asked when it was ticked.

    What was ticked before steps had details, or while they were only worded otherwise, counts as the same.
    """
    if _plain(tick.words) == _plain(words_of(step)):
        return True
    return _plain(tick.words) == _plain("; ".join((step.text, *_parts_of(step))))


_WORDED_OTHERWISE = tuple(
    (re.compile(now_or_then), plain)
    for now_or_then, plain in (
        (r"^(?:size edge to edge: |cut the blanks? to size, |check the ready-cut blanks? with a rule, ).*?(?=; \d+ × |$)", "cut the blanks to size"),
        (r"^check the ready-cut (mount board|backing) with a rule, ", r"cut the \1 "),
        (r" \(pin ([^()]+?)(?: \+ |, then )([^()]+?)(?: on the scale)?\)", r" (pin \1 + \2)"),
        (r"^mark the back of (.+?)(?:; edges are named as it lies, back up|, face down; edges are named as it lies)", r"mark \1"),
        (r"^lay the fallout back into (.+?), fix (.+?) behind it, (?:mark|cut) from the edges of .+?(?=;|$)", r"fix \2 behind \1"),
        (r"^(.+?) face down, fallout in: fix (.+?) face down behind it, (?:mark|cut) from .+?’s edges", r"fix \2 behind \1"),
        (r"^lift (.+?) off face (?:down|up), (the windows?) drops? out", r"drop \2 out of \1"),
        (r"^(?:turn )?(.+?)(?: face up| stays face up)?, drop (.+?) out(?:, corners)? clean", r"drop \2 out of \1"),
        (r"^turn the (\w+)s face down and fix .+?(?=; \d+ × |$)", r"fix the \1s together, reveals even"),
        (r"\blay (?:the \w+ and )?the \w+ in, then fix the spacers", "lay it in, then fix the spacers"),
        (r"\bfit .+?, drive the points|\blay the package in, points in", "fit it in"),
        (r"\bclose the package\b|\bbind .+? together with tape", "close it"),
        (r"\balong the edges of the (?:package|glass)\b", "along the edges"),
        (r"\bfrom the (?:package|glass)’s edges\b", "from its edges"),
        (r"\bpoints in\b", "drive the points"),
        (r"^(artwork|object): condition as noted; ", r"\1: "),
        (r"\bplace each behind its window", "place it behind the window"),
        (r"\braise each\b", "raise it"),
        (r"; (?:no wire|wire about [\d.]+ (?:m|in))(?=;|$)", ""),
        (r"^fix (?:the rings|the hanging parts|two straps or a cleat) level", "fix the hanging parts level"),
    )
)  # fmt: skip
"""How steps were worded and are, each beside what both come to, so that ticks of before stay with their steps."""


def _plain(words: str) -> str:
    for worded, plain in _WORDED_OTHERWISE:
        words = worded.sub(plain, words)
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
        for id, tick in standing(ticks).items()
        if id not in now or not asked_the_same(tick, now[id])
    )
