"""Standard sizes against the tables they come from."""

import pytest

from app.lengths import (
    STANDARD_SIZES,
    Family,
    Size,
    Unit,
    inches,
    mm,
    parse_size,
    sizes_that_hold,
    standard_size,
)
from tests.cases import case


@pytest.mark.parametrize(
    ("name", "sides"),
    # Source: ISO 216 as tabled in public paper-size tables.
    [*case("iso-a").expected.items(), *case("iso-b").expected.items()],
)
def test_iso_sizes_are_halved_and_rounded_down(name: str, sides: list[str]) -> None:
    found = standard_size(name)
    assert found is not None
    assert found.size == Size(mm(sides[0]), mm(sides[1]))


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [("A0", 841, 1189), ("A7", 74, 105), ("A9", 37, 52), ("B0", 1000, 1414), ("B10", 31, 44)],
)
def test_iso_sizes_between_and_at_the_ends(name: str, width: int, height: int) -> None:
    # Source: ISO 216 as tabled in public paper-size tables (from memory).
    found = standard_size(name)
    assert found is not None
    assert found.size == Size(mm(width), mm(height))


@pytest.mark.parametrize(("name", "sides"), case("arch").expected.items())
def test_engineering_and_architectural_sheets(name: str, sides: list[str]) -> None:
    # Source: ANSI/ASME Y14.1 sizes as tabled publicly.
    found = standard_size(name)
    assert found is not None
    assert found.size == Size(inches(sides[0]), inches(sides[1]))


def test_common_frame_sizes_and_museum_mats_are_listed() -> None:
    # Source: a camera club's public matting page; Jackson, The Museum (1917), p. 175.
    listed = {
        family: {standard.size for standard in STANDARD_SIZES if standard.family is family}
        for family in Family
    }
    for text in case("frame-sizes").expected["sizes"]:
        assert parse_size(text, unit=Unit.IN) in listed[Family.FRAME_IN]
    for text in ("14x18", "22x28", "28x40"):
        assert parse_size(text, unit=Unit.IN) in listed[Family.MUSEUM_MAT]


def test_every_standard_size_is_portrait_or_square_with_a_name_of_its_own_and_a_source() -> None:
    names = [(standard.name, standard.family) for standard in STANDARD_SIZES]
    assert len(names) == len(set(names))
    for standard in STANDARD_SIZES:
        assert standard.size.width <= standard.size.height
        assert standard.source


@pytest.mark.parametrize("name", ["a3", " A 3 ", "DIN A3", "iso-a3"])
def test_names_are_found_however_they_are_written(name: str) -> None:
    found = standard_size(name)
    assert found is not None
    assert found.name == "A3"


@pytest.mark.parametrize("name", ["", "A11", "C5", "16x20", "iso"])
def test_an_unknown_name_is_no_size(name: str) -> None:
    assert standard_size(name) is None


def test_the_smallest_frames_that_hold_a_size_come_first() -> None:
    # By hand from the published list of frame sizes: 10 1/2 x 13 in fits 11x14 (154 sq in),
    # 12x16 (192), 14x18 (252); 8x12, 9x12, 12x12 are too short or too narrow.
    names = [s.name for s in sizes_that_hold(Size(inches("21/2"), inches(13)), Family.FRAME_IN)]
    assert names == ["11 × 14 in", "12 × 16 in", "14 × 18 in"]


def test_frames_of_both_scales_stand_in_one_order_by_area() -> None:
    # By hand, in sq cm: 29.7 x 42 cm is 1247, 30 x 45 cm 1350, 14 x 18 in 35.56 x 45.72 = 1626.
    names = [standard.name for standard in sizes_that_hold(Size(mm(295), mm(410)))]
    assert names == ["29.7 × 42 cm", "30 × 45 cm", "14 × 18 in"]


def test_a_landscape_size_is_held_by_the_same_frames() -> None:
    upright = Size(mm(295), mm(410))
    assert sizes_that_hold(upright) == sizes_that_hold(upright.turned())


def test_a_size_is_held_by_its_own_frame() -> None:
    held = sizes_that_hold(Size(mm(400), mm(300)), Family.FRAME_MM, limit=1)
    assert [standard.name for standard in held] == ["30 × 40 cm"]


def test_what_no_frame_holds_gets_no_names() -> None:
    assert sizes_that_hold(Size(mm(2000), mm(2000))) == ()
