"""From what was asked to what is agreed: worked out, priced and frozen on the day (P7)."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from app.errors import Invalid
from app.lengths import DEFAULT_STEP, Steps, Unit
from app.orders.dimensions_memo import worked_out
from app.orders.order import Agreed, ArtworkRecord
from app.orders.quoting.faults import on_the_form
from app.orders.quoting.keeping import Kept
from app.orders.quoting.reader import FindMaterial
from app.orders.quoting.request import PieceRequest, read_piece
from app.orders.shop import Shop
from app.orders.standalone_plan import opened_alone
from app.pricing.price import lines_of, summed


def steps_for(unit: Unit, shop: Shop) -> Steps:
    """Return the shop's own steps in its unit; the usual ones for a piece in the other."""
    return shop.steps if unit is shop.unit else Steps(unit=unit, step=DEFAULT_STEP[unit])


def agree(
    typed: Mapping[str, str],
    shop: Shop,
    find: FindMaterial,
    *,
    today: date,
    tax_free: bool = False,
) -> tuple[ArtworkRecord, Agreed]:
    """Return the artwork and the agreed piece of what was typed, at today's prices and rules.

    Raises: Invalid with every fault, at the quote page's fields.
    """
    asked = read_piece(typed, shop, find, tax_free=tax_free)
    return asked.artwork, freeze(asked, typed, shop, today=today)


def freeze(
    asked: PieceRequest,
    typed: Mapping[str, str],
    shop: Shop,
    *,
    today: date,
    kept: Kept | None = None,
) -> Agreed:
    """Work out and price a piece. kept: what a changed piece keeps of the agreed prices.

    Raises: Invalid where that is impossible.
    """
    rules = replace(shop.rules if kept is None else kept.rules, length_unit=asked.spec.unit)
    try:
        dimensions = worked_out(asked.spec)
        copies = asked.adjustments.copies
        opened = opened_alone(dimensions, asked.chosen, shop, copies)
        lines = lines_of(dimensions, asked.chosen, rules, opened, copies)
        price = summed(
            lines if kept is None else kept.lines.kept_in(lines), rules, asked.adjustments
        )
    except Invalid as invalid:
        raise Invalid(on_the_form(invalid.faults)) from invalid
    return Agreed(
        typed=dict(typed),
        spec=asked.spec,
        steps=steps_for(asked.spec.unit, shop),
        chosen=asked.chosen,
        price=price,
        priced_on=today,
        tax_policy=rules.tax_policy,
        tax_rates=rules.tax_rates,
        tax_free=asked.adjustments.tax_free,
        copies=asked.adjustments.copies,
    )
