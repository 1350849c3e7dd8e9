"""Where a line jumps next, worked by hand (P14). Cutting steps of 1 mm; prices as of tests/builders/watercolour."""

from dataclasses import replace

import pytest

from app.lengths import Length, Size, mm
from app.money import Money
from app.pricing import Charge, ChargeBy, CostPer, Kind, LineGroup, Material, Use
from app.pricing.lines import material_line
from app.pricing.steps import NO_STEPS, LineSteps, PriceStep, Way, steps_of
from tests.builders.materials import counted, sold_at
from tests.builders.values import euro, size
from tests.builders.watercolour import backing, extra, glazing, mat, moulding, ring, rules

STEP = mm(1)
SMALLER, LARGER = (Way.NARROWER, Way.LOWER), (Way.WIDER, Way.HIGHER)


def steps(use: Use, step: Length = STEP) -> LineSteps:
    return steps_of(use, material_line(use, rules()), mm("8.5"), step)


def sheet(material: Material, blank: Size) -> Use:
    return Use(material=material, group=LineGroup.BOARDS, part="board", size=blank)


def frame(width: int, height: int, charge: Charge) -> Use:
    return Use(
        material=moulding(charge=charge),
        group=LineGroup.FRAME,
        part="frame",
        size=size(width - 38, height - 38),
        runs=((mm(width), 2), (mm(height), 2)),
        sawn=True,
    )


def brief(step: PriceStep | None) -> tuple[tuple[Way, ...], Length, Money] | None:
    return None if step is None else (step.ways, step.by, step.difference)


def test_a_band_ends_at_its_size_and_the_next_one_begins_beyond_it() -> None:
    """Up to 800 it is 4.00, up to 1200 6.00. 812 − 12 = 800; 796 + 4 = 800 is the same band still."""
    above = steps(sheet(backing(), size(500, 312)))
    assert brief(above.smaller) == (SMALLER, mm(12), euro("-2.00"))
    assert above.smaller is not None
    assert above.smaller.to == mm(800)
    assert above.larger is None, "there is no band beyond the last one"
    below = steps(sheet(backing(), size(500, 296)))
    assert brief(below.larger) == (LARGER, mm(5), euro("2.00"))
    assert below.smaller is None


def test_at_the_very_end_of_a_band_the_next_step_leaves_it() -> None:
    assert brief(steps(sheet(backing(), size(500, 300))).larger) == (LARGER, mm(1), euro("2.00"))


def test_a_share_of_the_sheet_ends_where_its_block_does() -> None:
    """400 × 500 of 1120 × 815 is a quarter, 407.5 × 560: 8 wider it is more. An eighth is 203.75 × 560, so
    196.25 narrower, in whole steps 197. A sheet sells for 36.00.
    """
    found = steps(sheet(mat(), size(400, 500)))
    assert brief(found.smaller) == ((Way.NARROWER,), mm(197), euro("-4.50"))
    assert brief(found.larger) == ((Way.WIDER,), mm(8), euro("9.00"))


def test_a_whole_sheet_has_no_larger_share() -> None:
    assert steps(sheet(mat(), size(1100, 800))).larger is None


def test_a_blank_that_outgrows_the_sheet_becomes_a_whole_one() -> None:
    """1120 × 400 is half of a sheet of 1120 × 815; 1121 lies on none, and counts as one of 36.00: 18.00 more."""
    found = steps(sheet(mat(), size(1120, 400)))
    assert brief(found.larger) == ((Way.WIDER,), mm(1), euro("18.00"))


def test_a_blank_that_no_sheet_covers_goes_with_its_area() -> None:
    assert steps(sheet(mat(), size(1200, 900))) == NO_STEPS


def test_a_charge_step_is_reached_from_both_sides() -> None:
    """2320 + 4 × 8.5 = 2354, charged 2400. Two rails change with each mm: 54 less are 27, 46 more still 2400, so
    24 with the next mm. 100 mm sell for 1.42.
    """
    found = steps(frame(630, 530, Charge(by=ChargeBy.LENGTH, step=mm(100))))
    assert brief(found.smaller) == (SMALLER, mm(27), euro("-1.42"))
    assert brief(found.larger) == (LARGER, mm(24), euro("1.42"))


def test_the_coarser_steps_of_a_shop_go_past_the_size_itself() -> None:
    """In steps of 5 mm 27 becomes 30, and 24 becomes 25."""
    found = steps(frame(630, 530, Charge(by=ChargeBy.LENGTH, step=mm(100))), mm(5))
    assert brief(found.smaller) == (SMALLER, mm(30), euro("-1.42"))
    assert brief(found.larger) == (LARGER, mm(25), euro("1.42"))


def test_below_its_minimum_a_length_costs_the_same_up_to_where_that_ends() -> None:
    """700 + 34 = 734, at least 1000: 133 mm wider is 1000, 134 are 1002, which sell for 14.23 in place of 14.20."""
    found = steps(frame(200, 150, Charge(by=ChargeBy.LENGTH, minimum_length=mm(1000))))
    assert found.smaller is None
    assert brief(found.larger) == (LARGER, mm(134), euro("0.03"))
    assert found.larger is not None
    assert found.larger.begins


def test_no_step_leads_below_the_minimum() -> None:
    """At least 1000 in steps of 300 is 1200; 900 would be the next one down."""
    charge = Charge(by=ChargeBy.LENGTH, minimum_length=mm(1000), step=mm(300))
    assert steps(frame(250, 250, charge)).smaller is None


def test_the_minimum_of_an_area_ends_at_its_size() -> None:
    """0.2 m² with 10 % are 0.22 of at least 0.25: 454.54 × 500 reaches it, so 55 mm; 0.25025 × 54.00 = 13.51."""
    found = steps(sheet(glazing(), size(400, 500)))
    assert found.smaller is None
    assert brief(found.larger) == ((Way.WIDER,), mm(55), euro("0.01"))


@pytest.mark.parametrize(
    "use",
    [
        sheet(glazing(), size(600, 500)),
        frame(630, 530, Charge(by=ChargeBy.LENGTH)),
        Use(material=ring(), group=LineGroup.HARDWARE, part="hanging", size=size(500, 400)),
        Use(material=extra(), group=LineGroup.EXTRAS, part="extra", size=size(500, 400)),
        replace(frame(630, 530, Charge(by=ChargeBy.LENGTH, step=mm(100))), group=LineGroup.FILLET),
    ],
    ids=["area", "length", "each", "extra", "fillet"],
)
def test_what_goes_evenly_or_not_with_the_package_has_no_steps(use: Use) -> None:
    assert steps(use) == NO_STEPS


def test_a_wire_follows_the_width_alone() -> None:
    """630 across, in steps of 100 charged 700: 30 narrower is 600, 71 wider 701. A metre is 2.00."""
    wire = counted(
        "W1", "Wire", Kind.HARDWARE, "1.00", sold_at("2.00"),
        per=CostPer.METRE, charge=Charge(by=ChargeBy.LENGTH, step=mm(100)),
    )  # fmt: skip
    use = Use(
        material=wire, group=LineGroup.HARDWARE, part="hanging", size=size(600, 500),
        runs=((mm(630), 1),),
    )  # fmt: skip
    found = steps(use)
    assert brief(found.smaller) == ((Way.NARROWER,), mm(30), euro("-0.20"))
    assert brief(found.larger) == ((Way.WIDER,), mm(71), euro("0.20"))


def test_bands_of_one_price_are_one() -> None:
    bands = backing().charge
    alike = replace(
        bands, bands=(*bands.bands[:1], replace(bands.bands[0], up_to=mm(900)), *bands.bands[1:])
    )
    found = steps(sheet(backing(charge=alike), size(500, 350)))
    assert brief(found.larger) == (LARGER, mm(51), euro("2.00"))
    assert found.smaller is None
