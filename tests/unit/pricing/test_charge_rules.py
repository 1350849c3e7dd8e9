"""The charge rules, each in a table worked by hand (P1 to P3).

The piece is a rectangle without anything else; what is taken of a material is given straight.
"""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from app.lengths import Size, Unit, inches, mm
from app.pricing import Charge, ChargeBy, CostPer, LineGroup, Measure, Selling
from app.pricing.measure import unit_cost
from app.pricing.quantities import CuttingBasis, Quantity, quantity_of
from app.pricing.uses import Use
from tests.builders.values import euro, size
from tests.builders.watercolour import backing, extra, glazing, mat, moulding, ring

METRIC = CuttingBasis(unit=Unit.MM, saw_loss=mm("8.5"))


def rails(**changes: Any) -> Use:
    """Two rails of 603 mm and two of 490 mm: 2186 mm; 34 mm go at the saw."""
    plain = Use(
        material=moulding(),
        group=LineGroup.FRAME,
        part="frame",
        size=size(562, 449),
        runs=((mm(603), 2), (mm(490), 2)),
        sawn=True,
        face=mm(25),
    )
    return replace(plain, **changes)


def blank(material: Any, of: Size, count: int = 1) -> Use:
    return Use(material=material, group=LineGroup.MATS, part="mat", size=of, count=count)


@pytest.mark.parametrize(
    ("charge", "metres"),
    [
        ({}, "2.22"),  # 2186 + 34
        ({"waste": Fraction(1, 10)}, "2.442"),  # 2220 × 1.1
        ({"minimum_length": mm(2500)}, "2.5"),
        ({"minimum_length": mm(2220)}, "2.22"),
        ({"step": mm(100)}, "2.3"),
        ({"step": mm(10)}, "2.22"),  # already whole
        ({"waste": Fraction(1, 4), "minimum_length": mm(1500), "step": mm(500)}, "3"),  # 2775
        ({"minimum_length": mm(2250), "step": mm(500)}, "2.5"),
    ],
)
def test_length_is_long_points_and_loss_and_waste_at_least_the_minimum_up_to_the_step(
    charge: dict[str, Any], metres: str
) -> None:
    material = moulding(charge=Charge(by=ChargeBy.LENGTH, **charge))
    charged = quantity_of(rails(material=material), METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(metres), Measure.METRE)
    assert charged.notice is None


def test_a_length_that_costs_by_the_foot_is_charged_in_feet() -> None:
    # 10 ft of rails without any loss
    use = rails(
        material=moulding(per=CostPer.FOOT), runs=((inches(36), 2), (inches(24), 2)), sawn=False
    )
    charged = quantity_of(use, METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(10), Measure.FOOT)


def test_a_length_that_is_not_sawn_loses_nothing() -> None:
    assert quantity_of(rails(sawn=False), METRIC).quantity == Fraction("2.186")


def test_a_rail_longer_than_a_stick_is_priced_by_its_length() -> None:
    charged = quantity_of(rails(runs=((mm(3001), 2), (mm(490), 2))), METRIC)
    assert charged.quantity == Fraction("7.016")  # 6002 + 980 + 34


@pytest.mark.parametrize(
    ("of", "charge", "square_metres"),
    [
        ((562, 449), {}, "0.252338"),
        ((562, 449), {"waste": Fraction(1, 10)}, "0.2775718"),
        ((562, 449), {"minimum_area": Fraction(3, 10)}, "0.3"),
        ((500, 400), {"waste": Fraction(1, 4), "minimum_area": Fraction(1, 4)}, "0.25"),
        ((100, 100), {"minimum_area": Fraction(1, 4)}, "0.25"),
    ],
)
def test_area_is_the_blank_and_waste_at_least_the_minimum(
    of: tuple[int, int], charge: dict[str, Any], square_metres: str
) -> None:
    material = glazing(charge=Charge(by=ChargeBy.AREA, **charge))
    charged = quantity_of(blank(material, size(*of)), METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(square_metres), Measure.SQUARE_METRE)


def test_an_area_that_costs_by_the_square_foot_is_charged_in_square_feet() -> None:
    material = glazing(per=CostPer.SQUARE_FOOT, charge=Charge(by=ChargeBy.AREA))
    # 24 × 18 in = 2 ft × 1 1/2 ft
    charged = quantity_of(blank(material, Size(inches(24), inches(18))), METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(3), Measure.SQUARE_FOOT)


def test_the_minimum_area_is_for_each_of_several() -> None:
    lining = extra(
        per=CostPer.SQUARE_METRE,
        charge=Charge(by=ChargeBy.AREA, minimum_area=Fraction(1, 4)),
    )
    assert quantity_of(blank(lining, size(100, 100), count=2), METRIC).quantity == Fraction(1, 2)


@pytest.mark.parametrize(
    ("of", "share"),
    [
        ((100, 280), "1/8"),  # 280 × 407.5 or 140 × 815
        ((400, 500), "1/4"),  # 560 × 407.5
        ((562, 449), "1/2"),  # turned in 560 × 815
        ((1120, 815), "1"),
    ],
)
def test_a_sheet_share_is_charged_in_sheets(of: tuple[int, int], share: str) -> None:
    charged = quantity_of(blank(mat(), size(*of)), METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(share), Measure.SHEET)
    assert charged.notice is None


def test_a_blank_larger_than_the_sheet_is_charged_by_its_area_and_says_so() -> None:
    charged = quantity_of(blank(mat(), size(2240, 815)), METRIC)
    assert charged.quantity == 2
    assert charged.how == ("2240 × 815 mm is larger than a sheet, so it counts as 2 sheets.",)


def test_a_long_thin_blank_past_the_sheet_is_charged_a_whole_one() -> None:
    charged = quantity_of(blank(mat(), size(1121, 10)), METRIC)
    assert charged.quantity == 1


@pytest.mark.parametrize(
    ("of", "price", "noticed"),
    [
        ((300, 499), "4.00", False),
        ((300, 500), "4.00", False),  # exactly 800
        ((300, 501), "6.00", False),
        ((700, 500), "6.00", False),  # exactly 1200
        ((700, 501), "6.00", True),
    ],
)
def test_a_size_band_reaches_up_to_its_united_size(
    of: tuple[int, int], price: str, noticed: bool
) -> None:
    charged = quantity_of(blank(backing(), size(*of)), METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(1), Measure.BAND)
    assert charged.price == euro(price)
    assert (charged.notice is not None) == noticed


def test_what_is_each_is_counted() -> None:
    use = replace(blank(ring(), size(562, 449)), group=LineGroup.HARDWARE, count=4)
    charged = quantity_of(use, METRIC)
    assert (charged.quantity, charged.measure) == (Fraction(4), Measure.EACH)


@pytest.mark.parametrize(
    ("changes", "measure", "cost"),
    [
        ({"per": CostPer.STICK}, Measure.METRE, "500"),  # 15.00 over 3 m
        ({"per": CostPer.METRE}, Measure.METRE, "1500"),
        ({"per": CostPer.FOOT}, Measure.FOOT, "1500"),
    ],
)
def test_the_cost_of_a_length_follows_its_basis(
    changes: dict[str, Any], measure: Measure, cost: str
) -> None:
    assert unit_cost(moulding(**changes), measure) == Fraction(cost)


def test_the_cost_of_a_sheet_follows_its_basis() -> None:
    area = Fraction("0.9128")  # 1.12 × 0.815 m²
    priced = Selling(price=euro("1"))
    assert unit_cost(mat(), Measure.SHEET) == 900
    assert unit_cost(mat(per=CostPer.SQUARE_METRE), Measure.SHEET) == 900 * area
    by_area = mat(charge=Charge(by=ChargeBy.AREA), selling=priced)
    assert unit_cost(by_area, Measure.SQUARE_METRE) == 900 / area
    # 1 sq ft = 0.3048² m² = 0.09290304 m²
    by_foot = mat(per=CostPer.SQUARE_FOOT)
    assert unit_cost(by_foot, Measure.SHEET) == 900 * area / Fraction("0.09290304")


def test_the_cost_of_one_of_a_hundred() -> None:
    assert unit_cost(ring(), Measure.EACH) == 6
    assert unit_cost(ring(per=CostPer.EACH), Measure.EACH) == 600


def test_a_moulding_by_size_band_costs_what_it_uses_up() -> None:
    material = moulding(charge=replace(backing().charge, waste=Fraction(1, 10)), selling=Selling())
    charged: Quantity = quantity_of(rails(material=material), METRIC)
    assert charged.price == euro("6.00")  # 562 + 449 = 1011
    assert (charged.spent, charged.spent_measure) == (Fraction("2.442"), Measure.METRE)


def test_the_sentences_speak_in_the_shops_unit() -> None:
    use = rails(runs=((inches("19.625"), 2), (inches("23.625"), 2)), sawn=False, face=None)
    charged = quantity_of(use, CuttingBasis(unit=Unit.IN))
    assert charged.how == ('2 × 19 5/8" + 2 × 23 5/8" = 86 1/2".',)


def test_every_step_of_a_length_is_said() -> None:
    charge = Charge(
        by=ChargeBy.LENGTH, waste=Fraction(1, 10), minimum_length=mm(2550), step=mm(100)
    )
    assert quantity_of(rails(material=moulding(charge=charge)), METRIC).how == (
        "2 × 603 mm + 2 × 490 mm = 2186 mm.",
        "Lost at the saw: 4 × 8.5 mm = 34 mm.",
        "With 10 % for waste: 2442 mm.",
        "At least 2550 mm is charged.",
        "Up to the next 100 mm: 2600 mm.",
    )
