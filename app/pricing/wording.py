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


def decimal(number: Fraction, places: int = 3) -> str:
    """A number of zero or more with up to so many decimals, half up: "2.22", "0.252"."""
    scale: int = 10**places
    whole, rest = divmod(round_half_up(number * scale), scale)
    decimals = f"{rest:0{places}d}".rstrip("0")
    return f"{whole}.{decimals}" if decimals else str(whole)


def quantity_text(quantity: Fraction, measure: Measure) -> str:
    """A quantity with its unit: "2.22 m", "1/4 sheet"; counted things are a bare number."""
    if measure is Measure.SHEET:
        return f"{quantity} sheet" if quantity <= 1 else f"{decimal(quantity)} sheets"
    if measure in (Measure.BAND, Measure.EACH):
        return decimal(quantity)
    return f"{decimal(quantity, 1 if measure is Measure.MINUTE else 3)} {measure}"


def unit_text(minor: Fraction, currency: Currency, measure: Measure) -> str:
    """A price per unit: "14.20 a metre"; two more decimals where the minor unit is too coarse."""
    if minor.denominator == 1:
        amount = show_money(Money(minor.numerator, currency))
    else:
        amount = decimal(minor / currency.minor_per_unit, currency.digits + 2)
    return f"{amount} {_EACH[measure]}"
