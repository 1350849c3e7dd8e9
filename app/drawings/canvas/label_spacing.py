"""Keeping labels on one line apart, each as near as can be to what it names."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class _LabelRun:
    """Neighbours that touch: they move together about the middle of what they want."""

    first: float
    widths: tuple[float, ...]
    wishes: tuple[float, ...]

    @property
    def end(self) -> float:
        return self.first + sum(self.widths)


def spread(wishes: Sequence[float], widths: Sequence[float]) -> tuple[float, ...]:
    """Middles for labels of given widths that keep their order and never overlap.

    Least squares from the middles wished for, which rise; by pooling neighbours that collide.
    """
    runs: list[_LabelRun] = []
    for wish, width in zip(wishes, widths, strict=True):
        run = _run((width,), (wish,))
        while runs and runs[-1].end > run.first:
            before = runs.pop()
            run = _run(before.widths + run.widths, before.wishes + run.wishes)
        runs.append(run)
    return tuple(middle for run in runs for middle in _middles(run))


def _run(widths: tuple[float, ...], wishes: tuple[float, ...]) -> _LabelRun:
    """Touching labels, placed where the sum of their squared shifts is least."""
    offset, starts = 0.0, []
    for width, wish in zip(widths, wishes, strict=True):
        starts.append(wish - offset - width / 2)
        offset += width
    return _LabelRun(sum(starts) / len(starts), widths, wishes)


def _middles(run: _LabelRun) -> tuple[float, ...]:
    at, middles = run.first, []
    for width in run.widths:
        middles.append(at + width / 2)
        at += width
    return tuple(middles)
