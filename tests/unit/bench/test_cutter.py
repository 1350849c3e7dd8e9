"""A cutter is described whole or not at all. Cut lengths: common practice."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.bench import CUT_LENGTHS, PinRow, Scale, Stops, usual_cutter
from app.errors import Invalid
from app.lengths import LARGEST, Unit, inches, mm
from tests.builders.cutters import HALVES, SIXTEENTHS, with_both_scales, with_pins


def test_the_usual_cutter_has_a_cut_length_that_is_on_the_market() -> None:
    on_the_market = [mm("812.8"), mm(1016), mm("1193.8"), mm(1524)]  # 32, 40, 47, 60 in
    assert list(CUT_LENGTHS) == on_the_market
    assert all(usual_cutter(unit).cut_length in on_the_market for unit in Unit)


def test_the_usual_cutter_reads_in_the_unit_asked_for() -> None:
    assert usual_cutter(Unit.MM).step == mm("0.5")
    assert usual_cutter(Unit.IN).step == inches("1/32")
    assert usual_cutter(Unit.IN).unit is Unit.IN


def test_every_fault_of_a_cutter_comes_at_once_at_its_field() -> None:
    with pytest.raises(Invalid) as raised:
        replace(
            usual_cutter(Unit.MM),
            name="  ",
            cut_length=mm(0),
            guide_reach=mm(-3),
            scales=(
                Scale(unit=Unit.MM, step=mm(6), pins=PinRow(first=mm(-1), pitch=mm(0))),
                Scale(unit=Unit.MM, step=mm(0)),
            ),
            guide_correction=mm(11),
            start_offset=mm("-10.5"),
            end_offset=mm(12),
            deepest_board=mm(21),
            stops=Stops(near_correction=mm(-11), far_correction=mm("10.5")),
            arm_reach=mm(0),
        )
    assert [fault.path for fault in raised.value.faults] == [
        "name",
        "cut_length",
        "guide_reach",
        "deepest_board",
        "arm_reach",
        "scales.0.step",
        "scales.0.pins.pitch",
        "scales.0.pins.first",
        "scales.1.unit",
        "scales.1.step",
        "guide_correction",
        "start_offset",
        "end_offset",
        "stops.near_correction",
        "stops.far_correction",
    ]
    for fault in raised.value.faults:
        assert fault.message.endswith(".")


def test_a_fault_says_what_was_given_and_what_is_allowed_in_the_scales_unit() -> None:
    with pytest.raises(Invalid) as raised:
        replace(usual_cutter(Unit.IN), guide_correction=inches("1/2"))
    (fault,) = raised.value.faults
    assert '1/2"' in fault.message
    assert '0.394"' in fault.message  # 10 mm


def test_corrections_are_signed_and_go_to_ten_millimetres_either_way() -> None:
    cutter = replace(usual_cutter(Unit.MM), guide_correction=mm(-10), start_offset=mm(10))
    assert (cutter.guide_correction, cutter.start_offset) == (mm(-10), mm(10))


@pytest.mark.parametrize(
    ("setting", "pin"),
    [("73.5", "70"), ("70", "70"), ("69.5", "60"), ("15", "15"), ("14.5", None), ("24.5", "15")],
)
def test_the_pin_goes_into_the_hole_at_or_below_the_setting(setting: str, pin: str | None) -> None:
    """Source: handbook B2, "pin at 70, then 3.5 more"."""
    first = mm(10) if setting.startswith(("6", "7")) else mm(15)
    cutter = with_pins(usual_cutter(Unit.MM), first=first, pitch=mm(10))
    assert cutter.pin_at(mm(setting)) == (None if pin is None else mm(pin))


def test_a_cutter_without_holes_has_no_pin() -> None:
    assert usual_cutter(Unit.MM).pin_at(mm(70)) is None


def test_the_scale_takes_the_nearest_step_and_half_way_goes_up() -> None:
    cutter = usual_cutter(Unit.IN)
    assert cutter.on_scale(inches("1/64")) == inches("1/32")
    assert cutter.on_scale(inches(Fraction(2761, 1000))) == inches(Fraction(88, 32))


def test_holes_may_be_as_far_apart_as_any_length_goes() -> None:
    cutter = with_pins(usual_cutter(Unit.MM), first=mm(10), pitch=LARGEST)
    assert cutter.scale.pins == PinRow(first=mm(10), pitch=LARGEST)
    with pytest.raises(Invalid) as raised:
        with_pins(cutter, first=mm(10), pitch=LARGEST + mm("0.1"))
    assert [fault.path for fault in raised.value.faults] == ["scales.0.pins.pitch"]


# --- both scales (B8) -------------------------------------------------------------------------------

BOTH = with_both_scales(usual_cutter(Unit.MM))


def test_a_cutter_is_read_on_its_scale_of_a_unit_with_the_steps_and_holes_of_that() -> None:
    """By hand: 66.8 mm is 66.8 / 25.4 = 2.6299 in, of which the nearest sixteenth is 42 / 16 = 2 5/8 in;
    the hole at or below it is the fifth one, 1/2 + 4 × 1/2 = 2 1/2 in. In half millimetres it is 67, above 60.
    """
    in_mm, in_inches = BOTH.read_in(Unit.MM), BOTH.read_in(Unit.IN)
    assert (in_mm.on_scale(mm("66.8")), in_mm.pin_at(mm(67))) == (mm(67), mm(60))
    assert in_inches.on_scale(mm("66.8")) == inches("21/8")
    assert in_inches.pin_at(inches("21/8")) == inches("5/2")
    assert (in_inches.unit, in_inches.step) == (Unit.IN, inches("1/16"))


def test_reading_the_other_scale_changes_nothing_else_of_a_cutter() -> None:
    cutter = replace(BOTH, guide_correction=mm("-0.5"), arm_reach=mm(900), stops=Stops(near=True))
    in_inches = cutter.read_in(Unit.IN)
    assert in_inches == replace(cutter, scales=(SIXTEENTHS, HALVES))
    assert in_inches.read_in(Unit.MM) == cutter
    assert cutter.read_in(Unit.MM) is cutter


def test_a_cutter_without_a_scale_in_a_unit_is_read_as_it_is() -> None:
    cutter = usual_cutter(Unit.MM)
    assert cutter.read_in(Unit.IN) is cutter


def test_two_scales_of_one_unit_are_refused_in_words() -> None:
    with pytest.raises(Invalid) as raised:
        replace(BOTH, scales=(SIXTEENTHS, replace(SIXTEENTHS, step=inches("1/32"))))
    (fault,) = raised.value.faults
    assert fault.path == "scales.1.unit"
    assert fault.message.startswith("Two scales are in inches;")


def test_a_fault_of_a_scale_is_said_in_its_own_unit() -> None:
    """1/4 in is 6.35 mm, and 5 mm is the coarsest: 5 / 25.4 = 0.197 in."""
    with pytest.raises(Invalid) as raised:
        replace(BOTH, scales=(HALVES, replace(SIXTEENTHS, step=inches("1/4"))))
    (fault,) = raised.value.faults
    assert fault.path == "scales.1.step"
    assert 'is 1/4"; it must be above zero and at most 0.197"' in fault.message


def test_a_cutter_without_any_scale_is_refused() -> None:
    with pytest.raises(Invalid) as raised:
        replace(BOTH, scales=())
    assert [fault.path for fault in raised.value.faults] == ["scales"]
