"""A cutter is described whole or not at all. Cut lengths: common practice."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.bench import CUT_LENGTHS, usual_cutter
from app.errors import Invalid
from app.lengths import LARGEST, Unit, inches, mm


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
            step=mm(6),
            pin_pitch=mm(0),
            first_pin=mm(-1),
            guide_correction=mm(11),
            start_offset=mm("-10.5"),
            end_offset=mm(12),
            deepest_board=mm(21),
        )
    assert [fault.path for fault in raised.value.faults] == [
        "name",
        "cut_length",
        "guide_reach",
        "step",
        "deepest_board",
        "pin_pitch",
        "first_pin",
        "guide_correction",
        "start_offset",
        "end_offset",
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
    ("pitch", "first", "missing"), [("10", None, "first_pin"), (None, "10", "pin_pitch")]
)
def test_holes_need_their_first_one_and_their_pitch(
    pitch: str | None, first: str | None, missing: str
) -> None:
    with pytest.raises(Invalid) as raised:
        replace(
            usual_cutter(Unit.MM),
            pin_pitch=None if pitch is None else mm(pitch),
            first_pin=None if first is None else mm(first),
        )
    assert [fault.path for fault in raised.value.faults] == [missing]


@pytest.mark.parametrize(
    ("setting", "pin"),
    [("73.5", "70"), ("70", "70"), ("69.5", "60"), ("15", "15"), ("14.5", None), ("24.5", "15")],
)
def test_the_pin_goes_into_the_hole_at_or_below_the_setting(setting: str, pin: str | None) -> None:
    """Source: handbook B2, "pin at 70, then 3.5 more"."""
    first = mm(10) if setting.startswith(("6", "7")) else mm(15)
    cutter = replace(usual_cutter(Unit.MM), pin_pitch=mm(10), first_pin=first)
    assert cutter.pin_at(mm(setting)) == (None if pin is None else mm(pin))


def test_a_cutter_without_holes_has_no_pin() -> None:
    assert usual_cutter(Unit.MM).pin_at(mm(70)) is None


def test_the_scale_takes_the_nearest_step_and_half_way_goes_up() -> None:
    cutter = usual_cutter(Unit.IN)
    assert cutter.on_scale(inches("1/64")) == inches("1/32")
    assert cutter.on_scale(inches(Fraction(2761, 1000))) == inches(Fraction(88, 32))


def test_holes_may_be_as_far_apart_as_any_length_goes() -> None:
    cutter = replace(usual_cutter(Unit.MM), pin_pitch=LARGEST, first_pin=mm(10))
    assert cutter.pin_pitch == LARGEST
    with pytest.raises(Invalid) as raised:
        replace(cutter, pin_pitch=LARGEST + mm("0.1"))
    assert [fault.path for fault in raised.value.faults] == ["pin_pitch"]
