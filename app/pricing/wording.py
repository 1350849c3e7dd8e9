"""Numbers in the sentences that explain a price: quantities, unit prices, factors.

Owns their printing for people only; every figure is kept exact beside it.
"""

from fractions import Fraction

from app.money import Currency, Money, round_half_up, show_money
from app.pricing.measure import Measure

_EACH = {
    Measure.METRE: "a metre",
    Measure.FOOT: "a foot",
    Measure.SQUARE_METRE: "a m²",
    Measure.SQUARE_FOOT: "a sq ft",
    Measure.SHEET: "a sheet",
    Measure.BAND: "for the size",
    Measure.EACH: "each",
    Measure.MINUTE: "a minute",
}

_MOST_DECIMALS = 6


def decimal(number: Fraction, places: int = 3) -> str:
    """Return a number of zero or more with up to so many decimals, half up: "2.22", "0.252"."""
    scale: int = 10**places
    whole, rest = divmod(round_half_up(number * scale), scale)
    decimals = f"{rest:0{places}d}".rstrip("0")
    return f"{whole}.{decimals}" if decimals else str(whole)


def quantity_text(quantity: Fraction, measure: Measure, price: Fraction = Fraction(0)) -> str:
    """Return a quantity with its unit: "2.22 m", "1/4 sheet"; counted things are a bare number.

    price: minor units for one; the decimals are then enough to work the amount out from what is read.
    """
    if measure is Measure.SHEET:
        return _sheets_text(quantity, price)
    if measure in (Measure.BAND, Measure.EACH):
        return decimal(quantity)
    return f"{decimal(quantity, _places(quantity, measure, price))} {measure}"


_FINEST_PART = 64
"""Parts of a sheet finer than this read better as decimals. Source: ours."""


def _sheets_text(quantity: Fraction, price: Fraction) -> str:
    if quantity <= 1 and quantity.denominator <= _FINEST_PART:
        return f"{quantity} sheet"
    number = decimal(quantity, _places(quantity, Measure.SHEET, price))
    return f"{number} sheet{'s' if quantity > 1 else ''}"


def _places(quantity: Fraction, measure: Measure, price: Fraction) -> int:
    """Return the fewest decimals whose number times the price is the amount to the minor unit."""
    amount = round_half_up(quantity * price)
    for places in range(1 if measure is Measure.MINUTE else 3, _MOST_DECIMALS):
        scale: int = 10**places
        if round_half_up(Fraction(round_half_up(quantity * scale), scale) * price) == amount:
            return places
    return _MOST_DECIMALS


def unit_text(minor: Fraction, currency: Currency, measure: Measure) -> str:
    """Return a price per unit: "14.20 a metre"; two more decimals where the minor unit is too coarse."""
    if minor.denominator == 1:
        amount = show_money(Money(minor.numerator, currency))
    else:
        amount = decimal(minor / currency.minor_per_unit, currency.digits + 2)
    return f"{amount} {_EACH[measure]}"
