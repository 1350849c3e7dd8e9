"""Numbers of a price as people read them: quantities, unit prices, factors.

A line shows them short (`short_quantity`, `short_unit`): whole minutes, lengths and areas to a hundredth, prices in
whole minor units. The sentences that explain it (`quantity_text`, `unit_text`) show as many decimals as it takes to work
the amount out from what is read. Every figure is kept exact beside both.
"""

from fractions import Fraction

from app.lengths import Unit
from app.money import Currency, Money, round_half_up, show_money
from app.pricing.measure import Measure, in_other, read_in

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
        return _sheets_text(quantity, decimal(quantity, _places(quantity, measure, price)))
    if measure in (Measure.BAND, Measure.EACH):
        return decimal(quantity)
    return f"{decimal(quantity, _places(quantity, measure, price))} {measure}"


SHORT_PLACES = 2
"""Decimals of a quantity on a line. Source: ours; a hundredth of a m² is a sheet of A6."""


def short_quantity(quantity: Fraction, measure: Measure, unit: Unit = Unit.MM) -> str:
    """Return a quantity with its unit as a line shows it: "5.58 ft", "0.14 m²", "40 min"; half up.

    unit: of the page; in inches metres are read in feet.

    What would be nothing so keeps its first decimal that says something, "0.004 m²"; less than a minute is "1 min".
    """
    quantity, measure = in_other(quantity, measure, read_in(measure, unit)), read_in(measure, unit)
    if measure is Measure.SHEET:
        return _sheets_text(quantity, short_decimal(quantity))
    if measure is Measure.MINUTE:
        return f"{max(round_half_up(quantity), 1 if quantity else 0):,} {measure}"
    short = short_decimal(quantity)
    return short if measure in (Measure.BAND, Measure.EACH) else f"{short} {measure}"


def short_decimal(number: Fraction) -> str:
    """Return a number of zero or more to a hundredth, half up; the first decimal that says something where it is less."""
    places = SHORT_PLACES
    while number and not round_half_up(number * 10**places) and places < _MOST_DECIMALS:
        places += 1
    return decimal(number, places)


def short_unit(minor: Fraction, currency: Currency, measure: Measure, unit: Unit = Unit.MM) -> str:
    """Return a price per unit in whole minor units, half up: "25.96 a m²"; below ten of them with two more decimals,
    as of pegs at "0.024 each". unit: of the page, as of a quantity.
    """
    minor, measure = price_in(minor, measure, unit)
    if minor < 10:
        return unit_text(minor, currency, measure)
    return unit_text(Fraction(round_half_up(minor)), currency, measure)


def price_in(minor: Fraction, measure: Measure, unit: Unit) -> tuple[Fraction, Measure]:
    """Return a price per unit in the measure that people read in a unit: 10 a metre is 3.048 a foot in inches."""
    read = read_in(measure, unit)
    return minor / in_other(Fraction(1), measure, read), read


_FINEST_PART = 64
"""Parts of a sheet finer than this read better as decimals. Source: ours."""


def _sheets_text(quantity: Fraction, number: str) -> str:
    """number: the quantity as a decimal, for what is no plain part of a sheet."""
    if quantity <= 1 and quantity.denominator <= _FINEST_PART:
        return f"{quantity} sheet"
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
