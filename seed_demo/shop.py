"""The sample shop itself: what it works and prices with."""

from dataclasses import replace
from fractions import Fraction

from app.bench import PinRow, Scale, Stops, usual_cutter
from app.lengths import Unit, inches, mm
from app.money import CURRENCIES, Money, TaxRate
from app.orders import Labour, Shop, usual_shop
from app.orders.usual_choices import UsualChoices, UsualHanging, UsualPart
from app.pricing import MarkupStep, MarkupTable

NAME = "Quillmoor Framing"
PEOPLE = ("Mirela", "Tobin")
EURO = CURRENCIES["EUR"]

STANDARD = TaxRate("standard", "Tax", Fraction(20, 100))
REDUCED = TaxRate("reduced", "Reduced tax, conservation work", Fraction(10, 100))
NO_TAX = TaxRate("none", "No tax", Fraction(0))


def euro(text: str) -> Money:
    """An amount as written in the tables: "14.20". Exact to the cent."""
    minor = Fraction(text) * EURO.minor_per_unit
    if minor.denominator != 1:
        raise ValueError(f"{text} euro is not a whole number of cents")
    return Money(minor.numerator, EURO)


def _sliding(code: str, name: str, *steps: tuple[str, str]) -> MarkupTable:
    """A sliding table from (up to, factor); an empty "up to" is the open last step."""
    return MarkupTable(
        code=code,
        name=name,
        steps=tuple(
            MarkupStep(up_to=euro(up_to) if up_to else None, factor=Fraction(factor))
            for up_to, factor in steps
        ),
    )


MARKUP_TABLES = (
    _sliding(
        "mouldings",
        "Mouldings, by the metre",
        ("3.00", "3.7"),
        ("5.00", "3.4"),
        ("7.00", "3.1"),
        ("10.00", "2.9"),
        ("14.00", "2.7"),
        ("18.00", "2.5"),
        ("", "2.4"),
    ),
    _sliding(
        "boards",
        "Mats and mount boards, by the sheet",
        ("8.00", "4.2"),
        ("12.00", "3.7"),
        ("20.00", "3.2"),
        ("", "2.7"),
    ),
)


CUTTERS = (
    replace(
        usual_cutter(Unit.MM, name="The long cutter"),
        cut_length=inches(47),
        guide_reach=mm(330),
        scales=(
            Scale(unit=Unit.MM, step=mm("0.5"), pins=PinRow(first=mm(20), pitch=mm(10))),
            Scale(
                unit=Unit.IN,
                step=inches("1/32"),
                pins=PinRow(first=inches("1/2"), pitch=inches("1/2")),
            ),
        ),
        stops=Stops(near=True, far=True),
        arm_reach=mm(1100),
        start_offset=mm("1.5"),
        end_offset=mm("1.5"),
    ),
    replace(usual_cutter(Unit.MM, name="The short cutter"), cut_length=inches(32)),
)


def _hung_by(up_to_kg: str, up_to_width: str, *parts: tuple[str, int]) -> UsualHanging:
    """A choice of hanging; an empty limit is none."""
    return UsualHanging(
        up_to_kg=Fraction(up_to_kg) if up_to_kg else None,
        up_to_width=mm(up_to_width) if up_to_width else None,
        parts=tuple(UsualPart(material=code, count=count) for code, count in parts),
    )


USUAL_CHOICES = UsualChoices(
    mat="SALT14",
    glazing="CLEAR2",
    backing="BACK2/A",
    hanging=(
        _hung_by("1.5", "1000", ("RING1", 2), ("WIRE15", 1)),
        _hung_by("3", "1000", ("RING2", 2), ("WIRE30", 1)),
        _hung_by("12", "", ("STRAP4", 2)),
        _hung_by("", "", ("CLEAT60", 1)),
    ),
)


def quillmoor() -> Shop:
    """The sample shop: millimetres, euro, prices with tax, rounded to ten cents."""
    usual = usual_shop(NAME, Unit.MM, EURO.code, STANDARD.percent)
    return replace(
        usual,
        sample=True,
        cutters=CUTTERS,
        step=mm(1),
        address="3 Saltpan Yard, Orrenby (an invented place: this is the sample shop)",
        contact="01632 960 100 · bench@quillmoor.example",
        tax_number="XX 00 960 100 (invented)",
        people=PEOPLE,
        labour=Labour(hourly_rate=euro("39.00")),
        tax_rates=(STANDARD, REDUCED, NO_TAX),
        markup_tables=MARKUP_TABLES,
        rounding_step=euro("0.10"),
        usual_choices=USUAL_CHOICES,
    )
