"""What a piece really takes of its materials beside what its price counts on (P2, P3, C3).

Owns the comparison, for the shop alone (P9). A piece is looked at by itself, cut from new stock: what
is left and worth keeping is not used up, what is too small to keep is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.lengths import ZERO
from app.money import Money, round_half_up
from app.orders.dimensions_memo import worked_out
from app.orders.order import Agreed
from app.orders.shop import Shop
from app.orders.standalone_plan import CutAlone, cut_alone
from app.pricing import ChargeBy, Material, Measure, Opened, OpenedSheets, OpenedSticks, PriceLine
from app.pricing.measure import in_measure, length_measure, unit_cost
from app.pricing.uses import uses_of

MOST_ALIKE_LOOKED_AT = 60
"""Of how many that are alike it is told what they really use, since that is asked while somebody types. Source: ours."""

_HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class RealUse:
    """One material of a piece.

    lost: what is neither in a part nor kept, in mm or m²: saw cuts, trims and rests too small. lines:
    of the price, for this material. short: what the price leaves uncounted of the cost, above zero.
    """

    material: Material
    opened: Opened
    lost: Fraction
    lines: tuple[PriceLine, ...]
    short: Money | None = None


def real_use(agreed: Agreed, shop: Shop) -> tuple[RealUse, ...]:
    """Return each material of a piece that comes in sticks or sheets, in the order of its price.

    Left out is what is charged each: its cost is of a piece, not of a sheet. Of more than `MOST_ALIKE_LOOKED_AT`
    nothing is told.
    """
    if agreed.copies > MOST_ALIKE_LOOKED_AT:
        return ()
    uses = uses_of(worked_out(agreed.spec), agreed.chosen)
    wanted = (use for use in uses if use.material.charge.by is not ChargeBy.EACH)
    return tuple(_real_use(alone, agreed) for alone in cut_alone(wanted, shop, agreed.copies))


def _real_use(alone: CutAlone, agreed: Agreed) -> RealUse:
    places = {(use.group, use.part) for use in alone.uses}
    code, opened = alone.material.code, alone.opened
    lines = tuple(
        line
        for line in agreed.price.lines
        if line.code == code and (line.group, line.part) in places
    )
    return RealUse(
        material=alone.material,
        opened=opened,
        lost=_lost(alone, opened, agreed.copies),
        lines=lines,
        short=_short(_cost(alone.material, opened), lines, agreed),
    )


def _lost(alone: CutAlone, opened: Opened, copies: int) -> Fraction:
    if isinstance(opened, OpenedSticks):
        in_parts = sum((use.length * use.count for use in alone.uses), ZERO) * copies
        return opened.used_up.mm - in_parts.mm
    area = sum((use.size.area_m2 * use.count for use in alone.uses), Fraction(0)) * copies
    return opened.used_up * opened.sheet.area_m2 - area


def _cost(material: Material, opened: Opened) -> Fraction:
    """Return what is used up costs the shop, in minor units, exact."""
    if isinstance(opened, OpenedSheets):
        return opened.used_up * unit_cost(material, Measure.SHEET)
    measure = length_measure(material.per)
    return in_measure(opened.used_up, measure) * unit_cost(material, measure)


def _short(cost: Fraction, lines: Sequence[PriceLine], agreed: Agreed) -> Money | None:
    """Return the cost beyond that of the lines, where it is more than their rounding can explain.

    Costs of lines stand rounded half up for each copy, so each may be half a minor unit above.
    """
    counted = sum((line.cost.minor for line in lines), Fraction(0))
    missing = cost - counted
    if missing <= _HALF * max(1, sum(line.copies for line in lines)):
        return None
    return Money(round_half_up(missing), agreed.price.currency)
