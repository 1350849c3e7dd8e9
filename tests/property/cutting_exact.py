"""The least that small cutting problems can cost, found without anything of ours (C6).

Sticks by a mixed-integer programme solved by HiGHS (Huangfu and Hall 2018, doi 10.1007/s12532-017-0130-5);
sheets by trying every way of cutting edge to edge. All lengths are small whole numbers.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

import highspy

type Bar = tuple[int, int]
"""Usable length and cost of one stick."""


def least_cost_of_sticks(bars: Sequence[Bar], parts: Sequence[int], kerf: int) -> int:
    """What the cheapest choice of bars that hold all parts costs.

    One unknown for each bar, whether it is opened, and one for each part on each bar. n parts need their lengths and n - 1
    kerfs, so each part counts with one kerf and so does the bar.
    """
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.0)
    opened = [model.addBinary() for _ in bars]
    lies = [[model.addBinary() for _ in bars] for _ in parts]
    for row in lies:
        model.addConstr(model.qsum(row) == 1)
    for bar, (length, _) in enumerate(bars):
        used = model.qsum([(part + kerf) * row[bar] for part, row in zip(parts, lies, strict=True)])
        model.addConstr(used <= (length + kerf) * opened[bar])
    model.minimize(model.qsum([cost * one for one, (_, cost) in zip(opened, bars, strict=True)]))
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return round(model.getObjectiveValue())


@dataclass(frozen=True, slots=True)
class Oblong:
    """A part of a sheet. turn: whether it may lie the other way round."""

    width: int
    height: int
    turn: bool

    @property
    def ways(self) -> tuple[tuple[int, int], ...]:
        straight = (self.width, self.height)
        return (straight, straight[::-1]) if self.turn else (straight,)


@dataclass(frozen=True)
class EdgeToEdge:
    """Every way of cutting a few parts from a sheet. stages: None for any number."""

    parts: tuple[Oblong, ...]
    kerf: int
    stages: int | None

    def fit(self, size: tuple[int, int], chosen: frozenset[int]) -> bool:
        """Whether all chosen parts can be cut from one piece of that size."""

        @cache
        def cut_from(chosen: frozenset[int], size: tuple[int, int], way: int, depth: int) -> bool:
            """way: of the last cut, 0 down and 1 across, -1 for none; depth: its stage."""
            if len(chosen) == 1:
                # At most one more cut of its last direction, and one of the other that only trims.
                (only,) = chosen
                return any(w <= size[0] and h <= size[1] for w, h in self.parts[only].ways)
            for new in (0, 1):
                stage = depth + (new != way)
                if self.stages is not None and stage > self.stages:
                    continue
                if any(
                    two_pieces(near, chosen - near, size, new, stage) for near in _halves(chosen)
                ):
                    return True
            return False

        def two_pieces(
            near: frozenset[int], far: frozenset[int], size: tuple[int, int], way: int, stage: int
        ) -> bool:
            """Whether one cut can leave some parts before it and the others beyond."""
            for at in self._extents(near, way):
                rest = size[way] - at - self.kerf
                if rest <= 0:
                    return False
                if cut_from(near, _sized(size, way, at), way, stage):
                    return cut_from(far, _sized(size, way, rest), way, stage)
            return False

        return cut_from(chosen, size, -1, 0)

    def _extents(self, chosen: frozenset[int], way: int) -> list[int]:
        """How far parts pushed to one side can reach: sums of some of their sides and the kerfs."""
        sums = {0}
        for each in chosen:
            sides = {sides[way] for sides in self.parts[each].ways}
            sums |= {total + side + (self.kerf if total else 0) for total in sums for side in sides}
        return sorted(sums - {0})

    def least_cost(self, new: tuple[tuple[int, int], int], owned: tuple[int, int] | None) -> int:
        """The cost of the fewest new sheets (a size and what one costs) beside one owned for nothing."""

        @cache
        def least(chosen: frozenset[int]) -> int:
            if not chosen:
                return 0
            first = min(chosen)
            return min(
                new[1] + least(chosen - some)
                for some in _subsets(chosen)
                if first in some and self.fit(new[0], some)
            )

        whole = frozenset(range(len(self.parts)))
        kept = [frozenset[int]()]
        if owned is not None:
            kept += [some for some in _subsets(whole) if self.fit(owned, some)]
        return min(least(whole - some) for some in kept)


def _sized(size: tuple[int, int], way: int, length: int) -> tuple[int, int]:
    return (length, size[1]) if way == 0 else (size[0], length)


def _subsets(chosen: frozenset[int]) -> Iterator[frozenset[int]]:
    """Every choice of at least one."""
    order = sorted(chosen)
    for bits in range(1, 2 ** len(order)):
        yield frozenset(each for place, each in enumerate(order) if bits >> place & 1)


def _halves(chosen: frozenset[int]) -> Iterator[frozenset[int]]:
    """Every choice that leaves some."""
    return (some for some in _subsets(chosen) if some != chosen)
