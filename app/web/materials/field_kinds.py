"""How single fields of a material are read and written, and when they count."""

import re
from dataclasses import replace
from fractions import Fraction

from app.forms.kinds import ABOVE_ZERO, MONEY, FieldKind, FormContext, Options, otherwise
from app.forms.reader import Reader, number_text, read_number
from app.forms.table import Typed
from app.framing.notices.weight import DENSITIES
from app.lengths import Unit, mm
from app.money import Money, show_percent
from app.pricing import CHARGES, Charge, ChargeBy, Selling, cost_bases
from app.pricing.measure import SQUARE_FOOT_M2, Measure
from app.pricing.wording import short_quantity
from app.web.kit import stating
from app.web.kit.stating import Stated
from app.web.materials.choices import PER
from app.web.materials.material_field import MaterialTyped, When


def stated_costs(known: MaterialTyped, _typed: Typed) -> Stated:
    """Return how a cost is stated, with tax or without."""
    return stating.costs(known.shop, known.rate)


def stated_prices(known: MaterialTyped, _typed: Typed) -> Stated:
    """Return how a price is stated, with tax or without."""
    return stating.prices(known.shop, known.rate)


def by_length(known: MaterialTyped) -> bool:
    """Tell whether the amounts of a charge by length are asked."""
    return known.amounts is ChargeBy.LENGTH


def by_area(known: MaterialTyped) -> bool:
    """Tell whether the amounts of a charge by area are asked."""
    return known.amounts is ChargeBy.AREA


def by_shares(known: MaterialTyped) -> bool:
    """Tell whether parts of a sheet are sold."""
    return known.by is ChargeBy.SHEET_SHARE


def wasted(known: MaterialTyped) -> bool:
    """Tell whether something is added for waste."""
    return known.by in (ChargeBy.LENGTH, ChargeBy.AREA, ChargeBy.SIZE_BAND)


def sold(way: str) -> When:
    """Return what tells whether a way of selling was chosen."""
    return lambda known: known.way == way


def read_shares(read: Reader, path: str, _usual: object) -> tuple[Fraction, ...]:
    """Read the shares of a sheet that may be sold, "1/8, 1/4, 1/2, 1"; blank stands for the usual ones."""
    usual = Charge(by=ChargeBy.SHEET_SHARE).shares
    parts = read.text(path, 200).replace(",", " ").replace(";", " ").split()
    shares = []
    for part in parts:
        one = Reader({path: part}, read.unit, read.currency)
        shares.append(one.number(path, "part of a sheet"))
        for fault in one.faults.faults:
            read.faults.add(fault.path, fault.message, fault.code)
    return tuple(shares) if parts and not read.faults else usual


def read_matter(read: Reader, path: str, _usual: object) -> str:
    """Read what a sheet is made of."""
    matter = read.text(path, 40)
    if matter and matter not in DENSITIES:
        read.faults.add(path, f"Choose one of {', '.join(DENSITIES)}.")
    return matter


def way_text(selling: Selling, _known: object) -> str:
    """Return the way in which a material is sold, as the select has it."""
    return next((way for way in ("price", "table") if getattr(selling, way) is not None), "markup")


def bases(known: MaterialTyped) -> Options:
    """Return what a cost may be for."""
    bases = dict.fromkeys(base for by in CHARGES[known.kind] for base in cost_bases(known.kind, by))
    return tuple((base.value, PER[base]) for base in bases)


def markup_hint(known: MaterialTyped) -> str:
    """Say what a markup factor does."""
    sold = stating.prices(known.shop, known.rate).words
    comes_to = f", which gives the price {sold}" if sold else ""
    return f"2.5 sells at two and a half times the cost{comes_to}."


def markup_tables(known: MaterialTyped) -> Options:
    """Return the markup tables of the shop."""
    return tuple((table.code, table.name) for table in known.shop.markup_tables)


def tax_rates(known: MaterialTyped) -> Options:
    """Return the tax rates of the shop."""
    return tuple(
        (rate.code, f"{rate.name} · {show_percent(rate.percent)}") for rate in known.shop.tax_rates
    )


MEASURE = otherwise(ABOVE_ZERO, mm(1))
AMOUNT = replace(MONEY, read=lambda read, path, _: read.money(path, Money.zero(read.currency)))
"""An amount whose blank is refused by its own sentence."""

_SQUARE_FEET = re.compile(r"(.+?)\s*(?:sq\.?\s*ft\.?|ft²|ft2)", re.IGNORECASE)


def _area(read: Reader, path: str, _usual: object) -> Fraction:
    """Read an area in m², or with its mark in sq ft: "0.1", "1.5 sq ft". It is none where it is blank."""
    match = _SQUARE_FEET.fullmatch(read.raw(path))
    if match is None:
        return read.number(path, "minimum area")
    read.used.add(path)
    feet = read.take(lambda: read_number(match[1], "minimum area", path=path))
    return Fraction(0) if feet is None else feet * SQUARE_FOOT_M2


def _area_text(area: Fraction, known: FormContext) -> str:
    """Write an area so that it reads back exactly: in sq ft where it was typed so, else in m²."""
    feet = number_text(area / SQUARE_FOOT_M2)
    ends = Fraction(feet) == area / SQUARE_FOOT_M2 and "/" not in feet
    return f"{feet} sq ft" if area and ends else number_text(area)


def _area_told(text: str, known: FormContext) -> str | None:
    read = Reader({"area": text}, known.unit, known.currency)
    area = _area(read, "area", None)
    if known.unit is not Unit.IN or read.faults or not area or _SQUARE_FEET.fullmatch(text.strip()):
        return None
    return short_quantity(area / SQUARE_FOOT_M2, Measure.SQUARE_FOOT)


AREA = FieldKind[Fraction](control="number", read=_area, text=_area_text, told=_area_told)
