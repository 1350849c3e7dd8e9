"""Sticks and sheets of a cutting plan as drawings: places, proportions, and what is written once."""

from dataclasses import replace
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import pytest

from app.cutting import (
    LaidPart,
    LaidRail,
    OpenedSheet,
    OpenedStick,
    Sheet,
    SheetCut,
    SheetPart,
    SheetProblem,
    SheetRest,
    Stick,
    StickPart,
    StickProblem,
    StickRest,
    Way,
)
from app.drawings.plans.sheet import SheetToCut, sheet_plan
from app.drawings.plans.stick import StickToCut, stick_plan
from app.lengths import ZERO, Size, Steps, Unit, inches, mm

SVG = "{http://www.w3.org/2000/svg}"

RAILS = ("7/frame-1.top", "7/frame-1.bottom", "7/frame-1.left", "7/frame-1.right")
"""By hand: 573 + 8.5 + 573 + 8.5 + 460 + 8.5 + 460 = 2091.5 of 3000; one more cut, then 900 (C1)."""

STICK = StickToCut(
    opened=OpenedStick(
        stock="whole",
        copy=1,
        parts=(
            LaidRail(id=RAILS[0], copy=1, at=ZERO, length=mm(573)),
            LaidRail(id=RAILS[1], copy=1, at=mm("581.5"), length=mm(573)),
            LaidRail(id=RAILS[2], copy=1, at=mm(1163), length=mm(460)),
            LaidRail(id=RAILS[3], copy=1, at=mm("1631.5"), length=mm(460)),
        ),
        offcut=StickRest(at=mm(2100), length=mm(900)),
    ),
    asked=StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="whole", length=mm(3000)),),
        parts=tuple(
            StickPart(id=id, length=mm(long), group="7/frame-1")
            for id, long in zip(RAILS, (573, 573, 460, 460), strict=True)
        ),
        kerf=mm("8.5"),
        keep=mm(300),
    ),
    pieces=dict.fromkeys(RAILS, "2026-0148/1"),
    mitres=dict.fromkeys(RAILS, mm(20)),
)

MAT = SheetToCut(
    opened=OpenedSheet(
        stock="whole",
        copy=1,
        cuts=(
            SheetCut(stage=1, way=Way.ACROSS, at=mm(429), start=ZERO, end=mm(1120)),
            SheetCut(stage=2, way=Way.DOWN, at=mm(542), start=ZERO, end=mm(429)),
        ),
        parts=(LaidPart(id="7/mat-1", copy=1, x=ZERO, y=ZERO, size=Size(mm(542), mm(429))),),
        offcuts=(
            SheetRest(x=ZERO, y=mm(429), size=Size(mm(1120), mm(386))),
            SheetRest(x=mm(542), y=ZERO, size=Size(mm(578), mm(429))),
        ),
    ),
    asked=SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="whole", size=Size(mm(1120), mm(815))),),
        parts=(SheetPart(id="7/mat-1", size=Size(mm(542), mm(429))),),
    ),
    pieces={"7/mat-1": "2026-0148/1"},
    cuts=(
        SheetCut(stage=1, way=Way.ACROSS, at=mm(429), start=ZERO, end=mm(1120)),
        SheetCut(stage=2, way=Way.DOWN, at=mm(542), start=ZERO, end=mm(429)),
    ),
)


def groups(svg: str, name: str) -> list[Element]:
    return [g for g in ElementTree.fromstring(svg).iter(f"{SVG}g") if g.get("class") == name]


def texts(svg: str) -> list[str]:
    return [text.text or "" for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def corners(part: Element) -> list[tuple[float, float]]:
    outline = next(part.iter(f"{SVG}polygon"))
    pairs = (pair.split(",") for pair in (outline.get("points") or "").split())
    return [(float(x), float(y)) for x, y in pairs]


def box(group: Element) -> list[float]:
    rect = next(group.iter(f"{SVG}rect"))
    return [float(rect.get(name) or "nan") for name in ("x", "y", "width", "height")]


def test_rails_lie_along_the_stick_where_they_are_cut_and_slant_by_the_face() -> None:
    parts = [corners(part) for part in groups(stick_plan(STICK), "plan-part")]
    assert [(c[0][0], c[3][0]) for c in parts] == [
        (0, 573),
        (581.5, 1154.5),
        (1163, 1623),
        (1631.5, 2091.5),
    ]
    assert [(c[1][0] - c[0][0], c[3][0] - c[2][0]) for c in parts] == [(20, 20)] * 4


def test_a_strip_that_is_not_of_a_frame_is_cut_square() -> None:
    parts = [corners(part) for part in groups(stick_plan(replace(STICK, mitres={})), "plan-part")]
    assert all(c[0][0] == c[1][0] and c[2][0] == c[3][0] for c in parts)


def test_what_is_left_of_a_stick_is_hatched_in_its_place_with_its_size() -> None:
    (rest,) = groups(stick_plan(STICK), "plan-offcut")
    x, _, width, _ = box(rest)
    assert (x, width) == (2100, 900)
    assert [text.text for text in rest.iter(f"{SVG}text")] == ["900"]
    assert next(rest.iter(f"{SVG}path")).get("d", "").count("M") > 5


def test_each_size_is_written_once_a_part_and_each_cut_once_in_its_order() -> None:
    written = texts(stick_plan(STICK))
    assert (written.count("573"), written.count("460"), written.count("900")) == (2, 2, 1)
    numbers = [
        (text.text, float(circle.get("cx") or "nan"))
        for cut in groups(stick_plan(STICK), "plan-cut")
        for text in cut.iter(f"{SVG}text")
        for circle in cut.iter(f"{SVG}circle")
    ]
    assert numbers == [("1", 573), ("2", 1154.5), ("3", 1623), ("4", 2091.5)]


def test_pieces_are_named_in_full_where_all_fit_and_else_by_letters_with_a_key() -> None:
    wide = texts(stick_plan(STICK, across=60))
    assert wide.count("2026-0148/1") == 4
    narrow = texts(stick_plan(STICK, across=20))
    assert narrow.count("A") == 4
    assert any(line.replace("\N{NO-BREAK SPACE}", " ") == "A = 2026-0148/1" for line in narrow)


def test_trimmed_ends_are_drawn_and_said() -> None:
    trimmed = replace(STICK, asked=replace(STICK.asked, end_trim=mm(10)))
    (bare,) = groups(stick_plan(trimmed), "plan-bare")
    ends = [(r.get("x"), r.get("width")) for r in bare.iter(f"{SVG}rect")][1:]
    assert ends == [("0", "10"), ("2990", "10")]
    said = " ".join(texts(stick_plan(trimmed)))
    assert "10 mm trimmed off each end, 8.5 mm lost at each cut." in said


def test_a_sheet_and_its_parts_keep_their_proportions() -> None:
    svg = sheet_plan(MAT)
    (bare,), (part,) = groups(svg, "plan-bare"), groups(svg, "plan-part")
    assert box(bare) == [0, 0, 1120, 815]
    assert box(part) == [0, 0, 542, 429]
    kept = [
        [float(rect.get(n) or "nan") for n in ("x", "y", "width", "height")]
        for each in groups(svg, "plan-offcut")
        for rect in [next(each.iter(f"{SVG}rect"))]
    ]
    assert kept == [[0, 429, 1120, 386], [542, 0, 578, 429]]


def test_every_size_on_a_sheet_is_written_once() -> None:
    written = texts(sheet_plan(MAT))
    for size in ("542 × 429", "1120 × 386", "578 × 429"):
        assert written.count(size) == 1


def test_cuts_are_numbered_where_they_begin_and_no_two_numbers_meet() -> None:
    rings = [next(cut.iter(f"{SVG}circle")) for cut in groups(sheet_plan(MAT), "plan-cut")]
    across, down = ((float(r.get("cx") or 0), float(r.get("cy") or 0)) for r in rings)
    assert across[0] < 0
    assert across[1] == 429
    assert down[0] == 542
    assert down[1] < 0


def test_sizes_are_in_the_unit_of_the_question() -> None:
    asked = replace(MAT.asked, unit=Unit.IN)
    part = replace(MAT.opened.parts[0], size=Size(inches("20.5"), inches(16)))
    sheet = replace(MAT, asked=asked, opened=replace(MAT.opened, parts=(part,)))
    assert "20 1/2 × 16" in texts(sheet_plan(sheet))


@pytest.mark.parametrize("across", [20, 28, 60])
def test_everything_lies_within_the_drawing(across: int) -> None:
    for svg in (stick_plan(STICK, across), sheet_plan(MAT, across)):
        root = ElementTree.fromstring(svg)
        x, y, width, height = map(float, (root.get("viewBox") or "").split())
        for circle in root.iter(f"{SVG}circle"):
            cx, cy, r = (float(circle.get(n) or "nan") for n in ("cx", "cy", "r"))
            assert x <= cx - r
            assert cx + r <= x + width
            assert y <= cy - r
            assert cy + r <= y + height


def test_what_is_left_over_is_measured_down_to_the_shops_steps() -> None:
    """As it goes to the rack: 20.772 in is a stick of 20 3/4 where the shop cuts in sixteenths."""
    sixteenths = Steps(unit=Unit.IN, step=inches("1/16"))
    rest = StickRest(at=mm(2100), length=inches("20.772"))
    stick = replace(
        STICK,
        asked=replace(STICK.asked, unit=Unit.IN),
        opened=replace(STICK.opened, offcut=rest),
        steps=sixteenths,
    )
    assert stick.kept == "20 3/4"
    assert "20 3/4" in texts(stick_plan(stick))
    sheet = replace(
        MAT,
        asked=replace(MAT.asked, unit=Unit.IN),
        opened=replace(
            MAT.opened,
            offcuts=(SheetRest(x=ZERO, y=mm(429), size=Size(inches("4.344"), inches("16.462"))),),
        ),
        steps=sixteenths,
    )
    assert sheet.kept == ("4 5/16 × 16 7/16",)
    assert "4 5/16 × 16 7/16" in texts(sheet_plan(sheet))


def test_a_part_without_room_for_its_words_has_a_number_that_is_told_beside() -> None:
    """A part of 60 x 60 on 1120 x 815 with letters of 56: seven signs of three quarters of that do not go in."""
    small = Size(mm(60), mm(60))
    opened = replace(
        MAT.opened, parts=(LaidPart(id="7/mat-1", copy=1, x=ZERO, y=ZERO, size=small),)
    )
    svg = sheet_plan(replace(MAT, opened=opened), 20)
    (part,) = groups(svg, "plan-part")
    assert [text.text for text in part.iter(f"{SVG}text")] == ["1"]
    assert "part 1: 60 × 60, A" in texts(svg)


def test_letters_are_as_large_on_a_sheet_whose_height_the_page_bounds() -> None:
    """815 high in 10 letters is 81.5, more than 1120 wide in 20, 56; a ring is 0.72 of them around, 58.68."""
    circles = ElementTree.fromstring(sheet_plan(MAT, 20, upright=10)).iter(f"{SVG}circle")
    assert [float(each.get("r") or 0) for each in circles] == pytest.approx([58.68] * 2, abs=0.01)
