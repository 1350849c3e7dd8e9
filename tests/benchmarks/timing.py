"""Measuring two or more acts so that what disturbs one disturbs the other as much."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil
from time import perf_counter

type Act = Callable[[], object]
type Clock = Callable[[], float]
"""Seconds: of the wall, or of a processor, whom others on the machine disturb less."""


@dataclass(frozen=True, slots=True)
class Times:
    """How long an act took each time, in milliseconds, shortest first."""

    sorted_ms: tuple[float, ...]

    @classmethod
    def of(cls, milliseconds: Sequence[float]) -> "Times":
        """From times in any order."""
        return cls(tuple(sorted(milliseconds)))

    def percentile(self, percent: int) -> float:
        """The shortest time that so many per cent of all do not exceed (nearest rank)."""
        return self.sorted_ms[max(0, ceil(len(self.sorted_ms) * percent / 100) - 1)]

    @property
    def median(self) -> float:
        """The time in the middle."""
        return self.percentile(50)


def alternating(
    acts: Sequence[Act], *, rounds: int, warm: int, clock: Clock = perf_counter
) -> tuple[Times, ...]:
    """The times of some acts, done in turn: A B A B. warm: rounds before the watch runs."""
    for _ in range(warm):
        for act in acts:
            act()
    taken: list[list[float]] = [[] for _ in acts]
    for _ in range(rounds):
        for act, times in zip(acts, taken, strict=True):
            started = clock()
            act()
            times.append((clock() - started) * 1000)
    return tuple(map(Times.of, taken))
