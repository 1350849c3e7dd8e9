"""Raising many prices by one percentage, as a supplier's letter or a new year asks."""

from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from app.money import Money, round_to_step
from app.pricing.book import Material


class Raised(StrEnum):
    """What is raised. A sell price that follows the cost by a markup follows it here too."""

    COST = "cost"
    PRICE = "price"
    BOTH = "both"


def raised(
    material: Material, share: Fraction, what: Raised, step: Money | None = None
) -> Material:
    """Return the material with its cost, its given prices, or both changed by a share, half up.

    share: 1/20 for 5 % more, below zero for less; above -1. Prices given are the one outright and
    those of the size bands. step: to which they are rounded; None or zero for the exact minor unit. A cost
    is what a supplier bills, so it is never rounded to a step. Source: M1 for the minor unit, P6 for the step.
    """

    def changed(money: Money) -> Money:
        return money.times(1 + share)

    def given(money: Money) -> Money:
        return _on_the_step(money, changed(money), step)

    if what in (Raised.COST, Raised.BOTH):
        material = replace(material, cost=changed(material.cost))
    if what in (Raised.PRICE, Raised.BOTH):
        charge, selling = material.charge, material.selling
        bands = tuple(replace(band, price=given(band.price)) for band in charge.bands)
        if selling.price is not None:
            selling = replace(selling, price=given(selling.price))
        material = replace(material, charge=replace(charge, bands=bands), selling=selling)
    return material


def _on_the_step(old: Money, new: Money, step: Money | None) -> Money:
    """Return a new price on the step, or as it is where the step is too coarse for it.

    That is where the price would be nothing, stay, or go the other way: a raise never lowers one.
    """
    if step is None:
        return new
    rounded = round_to_step(new, step)
    moves = rounded > old if new > old else rounded < old
    return rounded if rounded and moves else new
