"""Says beneath a line of a price at which size near by it jumps (P14)."""

from dataclasses import replace
from fractions import Fraction

from app.lengths import Length, Steps, Unit, show
from app.money import show_money
from app.orders import Agreed, Shop
from app.orders.dimensions_memo import worked_out
from app.pricing import ChargeBy, Measure, Use
from app.pricing.steps import PriceStep, steps_of
from app.pricing.uses import uses_of
from app.pricing.wording import short_quantity
from app.web.pieces.price import PriceView

NEAR = Fraction(1, 5)
"""A step is told where it is at most this part of the package's longer side away. Our own choice."""


def with_steps(price: PriceView, agreed: Agreed, shop: Shop) -> PriceView:
    """Return the view of a price of today with the steps near by beneath its lines, in the cutting steps of the piece."""
    dimensions = worked_out(agreed.spec)
    near = max(dimensions.package.width, dimensions.package.height) * NEAR
    uses = uses_of(dimensions, agreed.chosen)
    lines = list(price.lines)
    for place, (use, line) in enumerate(zip(uses, agreed.price.lines, strict=False)):
        found = steps_of(use, line, shop.saw_loss, agreed.steps.step)
        told = tuple(
            _said(step, use, line.measure, agreed.steps)
            for step in (found.smaller, found.larger)
            if step is not None and step.by <= near
        )
        if told:
            lines[place] = replace(lines[place], steps=told)
    return replace(price, lines=tuple(lines))


def _said(step: PriceStep, use: Use, measure: Measure, steps: Steps) -> str:
    ways = " or ".join(step.ways)
    if step.begins:
        last = show(step.by - steps.step, steps.unit, mark=True)
        return f"Up to {last} {ways} it costs the same."
    by = show(step.by, steps.unit, mark=True)
    change = f"{show_money(abs(step.difference))} {'more' if step.difference.minor > 0 else 'less'}"
    return f"Would be {change} if {by} {ways} ({_lands(step, use, measure, steps.unit)})"


def _lands(step: PriceStep, use: Use, measure: Measure, unit: Unit) -> str:
    """Say what is charged there, in brackets."""
    if isinstance(step.to, Length):
        return f"the band up to {show(step.to, unit, mark=True)}"
    rule = use.material.charge.by
    if rule is ChargeBy.SHEET_SHARE:
        return "a whole sheet" if step.to == 1 else f"{step.to} of a sheet"
    return f"{short_quantity(step.to, measure, unit)} charged"
