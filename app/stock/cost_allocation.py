"""Allocates the cost of a stick or sheet to its parts, its offcuts and its waste.

Whole minor units that add up to the cost, to the last one. Source: M1, and common practice (stock at
cost, by share of length or area).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from app.cutting import OpenedSheet, OpenedStick
from app.lengths import Length, Size
from app.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class CostShares:
    """parts: by their ids. kept: of the offcuts in their order. fallouts: in theirs. waste: the rest."""

    parts: Mapping[str, Money]
    kept: tuple[Money, ...]
    fallouts: tuple[Money, ...]
    waste: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundFallout:
    """A fallout that is kept: which part it drops out of, and its sound size."""

    part: str
    size: Size


def shared_out(cost: Money, shares: Sequence[Fraction]) -> tuple[tuple[Money, ...], Money]:
    """Return an amount by shares of it, and what is left; all of them add up to it.

    Each share ends where the exact sum of shares so far ends, rounded half up. shares: zero or more,
    together one at most.
    """
    ends = [Money.zero(cost.currency)]
    total = Fraction(0)
    for share in shares:
        total += share
        ends.append(cost.times(total))
    amounts = tuple(end - begin for begin, end in pairwise(ends))
    return amounts, cost - ends[-1]


def cost_shares(
    cost: Money,
    opened: OpenedStick | OpenedSheet,
    whole: Length | Size,
    kept: Sequence[bool],
    fallouts: Sequence[SoundFallout] = (),
) -> CostShares:
    """Return the cost of a stick or sheet by length or by area. whole: its own length or size.

    kept: of each offcut in their order, whether it is kept; what is not is waste. A fallout's share
    comes off the part it drops out of.
    """
    parts, offcuts = _measures(opened)
    for fallout in fallouts:
        parts[fallout.part] -= fallout.size.area_m2
    held = [offcut for offcut, keep in zip(offcuts, kept, strict=True) if keep]
    dropped = [fallout.size.area_m2 for fallout in fallouts]
    shares = [each / _measure(whole) for each in (*parts.values(), *held, *dropped)]
    amounts, waste = shared_out(cost, shares)
    first, second = len(parts), len(parts) + len(held)
    return CostShares(
        parts=dict(zip(parts, amounts[:first], strict=True)),
        kept=amounts[first:second],
        fallouts=amounts[second:],
        waste=waste,
    )


def _measure(whole: Length | Size) -> Fraction:
    return whole.area_m2 if isinstance(whole, Size) else whole.mm


def _measures(opened: OpenedStick | OpenedSheet) -> tuple[dict[str, Fraction], list[Fraction]]:
    """Lengths or areas of the parts, by id, and of the offcuts."""
    if isinstance(opened, OpenedStick):
        rest = [] if opened.offcut is None else [opened.offcut.length.mm]
        return {laid.id: laid.length.mm for laid in opened.parts}, rest
    parts = {laid.id: laid.size.area_m2 for laid in opened.parts}
    return parts, [rest.size.area_m2 for rest in opened.offcuts]
