"""Where the lines of a price jump: the nearest smaller and larger size at which each does, and by how much (P14).

A share of a sheet, a size band, a minimum and a charge step make a price stand still and then jump. The size is
that of the package, narrower or wider, lower or higher, by whole cutting steps of the shop: its borders grow or
shrink, its windows stay, so a fillet and the work stay too. What is charged by what a plan opens is left out, since only
a plan would tell. Everything is worked out in closed form: a quote asks for it with every key.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor

from app.lengths import ZERO, Length, Size
from app.money import Money
from app.pricing.charge import Charge, ChargeBy
from app.pricing.kinds import Kind
from app.pricing.lines import PriceLine, rounded
from app.pricing.measure import area_in_measure, in_measure
from app.pricing.sheetshare import Sides, ruled, sheets_by_area, smallest_share
from app.pricing.uses import LineGroup, Use


class Way(StrEnum):
    """In which direction the package changes."""

    NARROWER = "narrower"
    LOWER = "lower"
    WIDER = "wider"
    HIGHER = "higher"

    @property
    def sign(self) -> int:
        """1 where the package grows, −1 where it shrinks."""
        return 1 if self in (Way.WIDER, Way.HIGHER) else -1

    @property
    def across(self) -> bool:
        """Whether its width changes, not its height."""
        return self in (Way.NARROWER, Way.WIDER)


SMALLER, LARGER = (Way.NARROWER, Way.LOWER), (Way.WIDER, Way.HIGHER)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceStep:
    """The nearest size at which a line costs something else, with the ways that lead there by the same change.

    by: how much narrower, lower, wider or higher, in whole cutting steps; a cutting step less the price is still the one
    of now. to: what is charged there, in the measure of the line; of a size band its upper end. difference: of the line's amount,
    before discount, rush and rounding; below zero where it is cheaper.
    begins: whether the price then goes on rising, from the end of a minimum.
    """

    ways: tuple[Way, ...]
    by: Length
    to: Fraction | Length
    difference: Money
    begins: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LineSteps:
    """The steps of one line; None where there is none."""

    smaller: PriceStep | None = None
    larger: PriceStep | None = None


NO_STEPS = LineSteps()


def steps_of(use: Use, line: PriceLine, saw_loss: Length, step: Length) -> LineSteps:
    """Tell where the line of a use jumps next. saw_loss: for each rail. step: the shop's cutting step.

    Source: handbook P14.
    """
    if use.group is LineGroup.FILLET:
        return NO_STEPS
    rule = _RULES.get(use.material.charge.by)
    if rule is None:
        return NO_STEPS
    at = _At(use=use, line=line, saw_loss=saw_loss, step=step)
    return LineSteps(smaller=_nearest(rule, at, SMALLER), larger=_nearest(rule, at, LARGER))


@dataclass(frozen=True, slots=True, kw_only=True)
class _At:
    """A use with its line, and what its package changes by."""

    use: Use
    line: PriceLine
    saw_loss: Length
    step: Length

    @property
    def charge(self) -> Charge:
        return self.use.material.charge

    def sized(self, way: Way, count: int) -> Size:
        """Return the blank, or the package around which it goes, changed by so many cutting steps."""
        size, change = self.use.size, self.step * (way.sign * count)
        if way.across:
            return Size(size.width + change, size.height)
        return Size(size.width, size.height + change)

    def room(self, way: Way) -> int:
        """Tell how many cutting steps it may change that way: smaller down to one step, larger as far as it likes."""
        side = self.use.size.width if way.across else self.use.size.height
        return 10**6 if way.sign > 0 else ceil(side / self.step) - 1

    def found(
        self, way: Way, count: int, quantity: Fraction, *, begins: bool = False
    ) -> PriceStep | None:
        """Return the step after so many cutting steps, where the piece is still one and the line's amount differs."""
        one = rounded(quantity * self.line.unit_price, self.line.amount.currency)
        amount = one * self.line.copies
        difference = amount - self.line.amount
        if not 1 <= count <= self.room(way) or not (difference or begins):
            return None
        return PriceStep(
            ways=(way,), by=self.step * count, to=quantity, difference=difference, begins=begins
        )


type _Rule = Callable[[_At, Way], PriceStep | None]


def _nearest(rule: _Rule, at: _At, ways: Sequence[Way]) -> PriceStep | None:
    """Return the nearer of the steps that two ways lead to; both ways where they are as near and lead to the same."""
    found = [step for way in ways if (step := rule(at, way)) is not None]
    if not found:
        return None
    first = min(found, key=lambda step: step.by)
    alike = [
        s for s in found if (s.by, s.to, s.difference) == (first.by, first.to, first.difference)
    ]
    return PriceStep(
        ways=tuple(way for step in alike for way in step.ways),
        by=first.by,
        to=first.to,
        difference=first.difference,
        begins=first.begins,
    )


def _by_length(at: _At, way: Way) -> PriceStep | None:
    """Return a charge step, or the end of a minimum (P2). Each cutting step changes the runs by a fixed length."""
    charge, use = at.charge, at.use
    each = at.step * _runs_along(use, way)
    if each <= ZERO or not (charge.step or charge.minimum_length):
        return None
    net = use.length * use.count
    if use.sawn:
        net += at.saw_loss * use.pieces * use.count
    waste = 1 + charge.waste
    now = _charged_length(net, charge)
    if way.sign < 0:
        if not charge.step or now - charge.step < charge.minimum_length:
            return None
        count = ceil((net * waste - (now - charge.step)) / (each * waste))
    else:
        count = floor((now - net * waste) / (each * waste)) + 1
        if not charge.step and now > net * waste and count == 1:
            return None
        if not charge.step and now == net * waste:
            return None
    then = _charged_length(net + each * (way.sign * count), charge)
    quantity = in_measure(then, at.line.measure)
    return at.found(way, count, quantity, begins=not charge.step)


def _runs_along(use: Use, way: Way) -> int:
    """Tell how many runs of a use are as long as the package is wide or high."""
    if use.material.kind is Kind.HARDWARE:
        return use.count if way.across else 0
    return 2 * use.count


def _charged_length(net: Length, charge: Charge) -> Length:
    length = max(net * (1 + charge.waste), charge.minimum_length)
    if not charge.step:
        return length
    return charge.step * ceil(length / charge.step)


def _by_area(at: _At, way: Way) -> PriceStep | None:
    """Return the end of a minimum (P3); below it and above it the price goes with the area."""
    charge = at.charge
    area = at.use.size.area_m2 * (1 + charge.waste)
    if way.sign < 0 or area >= charge.minimum_area:
        return None
    side, other = at.use.size.width, at.use.size.height
    if not way.across:
        side, other = other, side
    limit = charge.minimum_area * 1_000_000 / ((1 + charge.waste) * other.mm)
    count = floor((Length(limit) - side) / at.step) + 1
    then = at.sized(way, count).area_m2 * (1 + charge.waste)
    quantity = area_in_measure(then, at.line.measure) * at.use.count
    return None if count == 1 else at.found(way, count, quantity, begins=True)


def _by_band(at: _At, way: Way) -> PriceStep | None:
    """Return the next size band with another price (P1)."""
    bands, united = at.charge.bands, at.use.size.united
    place = next((n for n, band in enumerate(bands) if united <= band.up_to), len(bands) - 1)
    now = bands[place].price
    if way.sign < 0:
        others = (n for n in range(place - 1, -1, -1) if bands[n].price != now)
    else:
        others = (n for n in range(place + 1, len(bands)) if bands[n].price != now)
    to = next(others, None)
    if to is None:
        return None
    if way.sign < 0:
        count = ceil((united - bands[to].up_to) / at.step)
    else:
        count = floor((bands[to - 1].up_to - united) / at.step) + 1
    # Narrow bands may lie within one cutting step.
    united += at.step * (way.sign * count)
    band = next((each for each in bands if united <= each.up_to), bands[-1])
    if not 1 <= count <= at.room(way):
        return None
    return PriceStep(
        ways=(way,),
        by=at.step * count,
        to=band.up_to,
        difference=(band.price - now) * (at.use.count * at.line.copies),
    )


def _by_share(at: _At, way: Way) -> PriceStep | None:
    """Return the next share of the sheet (P1). A blank that no sheet covers goes with its area and does not jump; one
    that outgrows the sheet by the step jumps to a whole one, or to its area.
    """
    sheet = at.use.material.sheet
    assert sheet is not None, "a sheet material has its sheet"
    shares = at.charge.shares
    side, other = at.use.size.width, at.use.size.height
    if not way.across:
        side, other = other, side
    reach = [_reach(other, blocks) for _, blocks in ruled(sheet.size, shares)]
    place = next((n for n, far in enumerate(reach) if far is not None and side <= far), None)
    if place is None:
        return None
    if way.sign < 0:
        smaller = [far for far in reach[:place] if far is not None]
        if not smaller:
            return None
        count = ceil((side - max(smaller)) / at.step)
    else:
        farthest = max(far for far in reach[: place + 1] if far is not None)
        count = floor((farthest - side) / at.step) + 1
    blank = at.sized(way, count) if 1 <= count <= at.room(way) else None
    if blank is None:
        return None
    share = smallest_share(blank, sheet.size, shares) or sheets_by_area(blank, sheet.size)
    return at.found(way, count, share)


def _reach(other: Length, blocks: Sequence[Sides]) -> Length | None:
    """Tell how far one side of a blank may go within a share of the sheet, the other one as it is; None where not at all."""
    reached = [
        longer if other <= shorter else shorter for shorter, longer in blocks if other <= longer
    ]
    return max(reached, default=None)


_RULES: dict[ChargeBy, _Rule] = {
    ChargeBy.LENGTH: _by_length,
    ChargeBy.AREA: _by_area,
    ChargeBy.SIZE_BAND: _by_band,
    ChargeBy.SHEET_SHARE: _by_share,
}
"""The ways of charging that jump with the size."""
