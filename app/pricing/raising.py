"""Raising many prices by one percentage, as a supplier's letter or a new year asks."""

from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from app.money import Money
from app.pricing.book import Material


class Raised(StrEnum):
    """What is raised. A sell price that follows the cost by a markup follows it here too."""

    COST = "cost"
    PRICE = "price"
    BOTH = "both"


def raised(material: Material, share: Fraction, what: Raised) -> Material:
    """Return the material with its cost, its given prices, or both changed by a share, half up.

    share: 1/20 for 5 % more, below zero for less; above -1. Prices given are the one outright and
    those of the size bands. Source: M1 for the rounding.
    """

    def changed(money: Money) -> Money:
        return money.times(1 + share)

    if what in (Raised.COST, Raised.BOTH):
        material = replace(material, cost=changed(material.cost))
    if what in (Raised.PRICE, Raised.BOTH):
        charge, selling = material.charge, material.selling
        bands = tuple(replace(band, price=changed(band.price)) for band in charge.bands)
        if selling.price is not None:
            selling = replace(selling, price=changed(selling.price))
        material = replace(material, charge=replace(charge, bands=bands), selling=selling)
    return material
