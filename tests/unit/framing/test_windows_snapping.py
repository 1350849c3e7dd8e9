"""A package taken up to the next standard size (G5), against published sizes."""

from dataclasses import replace

import pytest

from app.framing import (
    Arrangement,
    Edges,
    Opening,
    Point,
    Presentation,
    Spec,
    snapped_up,
    work_out,
)
from app.lengths import (
    STANDARD_SIZES,
    Family,
    Size,
    StandardSize,
    Unit,
    inches,
    mm,
    parse_size,
    snap_up,
    standard_size,
)
from tests.builders.specs import BARE, DOUBLE, MATTED, edges, in_inches, mat, notices, size
from tests.cases import case

PAIR = replace(
    BARE,
    presentation=Presentation.WINDOW,
    mats=(mat(),),
    openings=(
        Opening(name="A", window=size("100", "140")),
        Opening(name="B", window=size("100", "140")),
    ),
    arrangement=Arrangement(rows=(2,), across=mm(25)),
    borders=edges("60", "60", "60", "70"),
)
"""Two windows of 100 x 140; package 345 x 270."""


def next_up(package: Size, among: Family | None = None) -> str:
    found = snap_up(package, among)
    assert found is not None
    return found.name


@pytest.mark.parametrize(
    ("typed", "family", "name"),
    [
        # Sources: ISO 216 as tabled publicly; a camera club's public list of frames in inches.
        ("290 x 410 mm", Family.ISO_A, "A3"),
        ("298 x 420 mm", Family.ISO_A, "A2"),
        ("354 x 500 mm", Family.ISO_B, "B2"),
        ("353 x 500 mm", Family.ISO_B, "B3"),
        ("9 x 13 in", Family.FRAME_IN, "11 × 14 in"),
        ("13 x 9 in", Family.FRAME_IN, "11 × 14 in"),
        # By hand: 20 x 20 is 400 sq in, 18 x 24 is 432.
        ("16 1/16 x 20 in", Family.FRAME_IN, "20 × 20 in"),
        ("16 1/16 x 20 1/16 in", Family.FRAME_IN, "18 × 24 in"),
        ("8 x 10 in", Family.PHOTO, "8 × 10 in"),
    ],
)
def test_the_next_published_size_holds_the_package(typed: str, family: Family, name: str) -> None:
    assert next_up(parse_size(typed, unit=Unit.MM), family) == name


@pytest.mark.parametrize("id", ["iso-a", "iso-b"])
def test_every_published_paper_size_is_its_own_next_size_and_a_millimetre_more_is_the_one_before(
    id: str,
) -> None:
    """Source: ISO 216 as tabled in public paper-size tables."""
    family = Family.ISO_A if id == "iso-a" else Family.ISO_B
    for name, (width, height) in case(id).expected.items():
        assert next_up(Size(mm(width), mm(height)), family) == name
        letter, number = name[0], int(name[1:])
        if number:
            larger = next_up(Size(mm(width) + mm(1), mm(height)), family)
            assert larger == f"{letter}{number - 1}"


def test_no_listed_frame_is_smaller_than_the_one_found_and_holds_it_too() -> None:
    """Source: a camera club's public matting page, each size of which is grown by 1/16 in."""
    for text in case("frame-sizes").expected["sizes"]:
        package = parse_size(text, unit=Unit.IN)
        package = Size(package.width + inches("1/16"), package.height)
        found = snap_up(package, Family.FRAME_IN)
        if found is None:
            continue
        for other in STANDARD_SIZES:
            if other.family is Family.FRAME_IN and other.size.area_m2 < found.size.area_m2:
                short, long = sorted((package.width, package.height))
                assert other.size.width < short or other.size.height < long


def test_a_shop_may_snap_to_the_sizes_it_keeps() -> None:
    kept = (
        StandardSize("wide", size("500", "300"), Family.FRAME_MM, "common practice"),
        StandardSize("large", size("600", "800"), Family.FRAME_MM, "common practice"),
    )
    found = snap_up(size("290", "480"), kept)
    assert found is kept[0]
    assert found.lying_as(size("290", "480")) == size("300", "500")
    assert snap_up(size("310", "480"), kept) is kept[1]
    assert snap_up(size("900", "900"), kept) is None


def test_a_standard_size_lies_as_what_it_holds() -> None:
    a3 = standard_size("A3")
    assert a3 is not None
    assert a3.lying_as(size("400", "200")) == size("420", "297")
    assert a3.lying_as(size("200", "400")) == size("297", "420")


def test_borders_follow_and_the_bottom_keeps_what_it_has_more() -> None:
    """Package 407 x 540, bottom 10 more; 40 x 60 cm is too narrow, 42 x 59.4 the next. Sides (420 - 287)/2 = 66.5, top (594 - 410 - 10)/2 = 87."""
    found = snapped_up(MATTED, Family.FRAME_MM)
    assert found is not None
    assert found.standard.name == "42 × 59.4 cm"
    worked = work_out(found.spec)
    assert worked.package == size("420", "594")
    assert worked.windows[0].size == size("287", "410")
    assert worked.layers[0].borders == edges("66.5", "66.5", "87", "97")


def test_layers_and_frames_follow_the_snapped_package() -> None:
    """Windows 299 x 422 and 287 x 410 in 420 x 594: sides 60.5, top (594 - 422 - 10)/2 = 81. Its frame
    has a rebate of 423 x 597."""
    found = snapped_up(DOUBLE, Family.FRAME_MM)
    assert found is not None
    worked = work_out(found.spec)
    assert worked.layers[0].borders == edges("60.5", "60.5", "81", "91")
    assert worked.layers[1].borders == edges("66.5", "66.5", "87", "97")
    assert worked.frames[0].rebate == size("423", "597")


def test_a_landscape_package_gets_a_landscape_size_and_keeps_its_gaps() -> None:
    """345 x 270 goes into 28 x 35 cm lying down, 350 x 280: sides (350 - 225)/2 = 62.5, top
    (280 - 140 - 10)/2 = 65."""
    found = snapped_up(PAIR, Family.FRAME_MM)
    assert found is not None
    assert found.standard.name == "28 × 35 cm"
    worked = work_out(found.spec)
    assert worked.package == size("350", "280")
    assert worked.layers[0].borders == edges("62.5", "62.5", "65", "75")
    assert worked.gaps is not None
    assert worked.gaps.across == mm(25)


def test_gaps_that_filled_a_package_stay_as_they_came_out() -> None:
    """345 - 120 - 200 = 25 across, in 350 as in 345."""
    filled = replace(PAIR, arrangement=Arrangement(rows=(2,)), package=size("345", "270"))
    found = snapped_up(filled, Family.FRAME_MM)
    assert found is not None
    worked = work_out(found.spec)
    assert worked.gaps is not None
    assert worked.gaps.across == mm(25)


def test_windows_with_places_move_together() -> None:
    """5 more across and 10 more down: each window 2.5 to the right and 5 down."""
    free = replace(
        PAIR,
        arrangement=None,
        openings=tuple(
            replace(opening, at=Point(x=mm(x), y=mm(60)))
            for opening, x in zip(PAIR.openings, (60, 185), strict=True)
        ),
    )
    found = snapped_up(free, Family.FRAME_MM)
    assert found is not None
    worked = work_out(found.spec)
    assert [(w.x, w.y) for w in worked.windows] == [(mm("62.5"), mm(65)), (mm("187.5"), mm(65))]
    assert worked.layers[0].borders == edges("62.5", "62.5", "65", "75")


def test_an_inch_package_snaps_to_itself_where_it_is_a_standard_one() -> None:
    found = snapped_up(in_inches(), Family.FRAME_IN)
    assert found is not None
    assert found.standard.name == "11 × 14 in"
    assert work_out(found.spec).layers == work_out(in_inches()).layers


@pytest.mark.parametrize(
    "spec",
    [
        replace(BARE, presentation=Presentation.CANVAS),
        replace(MATTED, borders=None),
        replace(MATTED, borders=Edges.equal(mm(2000))),
    ],
    ids=["canvas", "no package", "larger than any"],
)
def test_what_cannot_be_snapped_is_left_alone(spec: Spec) -> None:
    assert snapped_up(spec, Family.FRAME_MM) is None


def test_a_close_fit_in_the_next_size_is_said_to_be_loose() -> None:
    """297 x 420 fills 29.7 x 42 cm; 290 x 420 leaves 7."""
    close = replace(BARE, artwork=size("290", "420"))
    found = snapped_up(close, Family.FRAME_MM)
    assert found is not None
    assert found.standard.name == "29.7 × 42 cm"
    assert "smaller than the glass size by 7 mm in width" in notices(found.spec)["package-loose"]
