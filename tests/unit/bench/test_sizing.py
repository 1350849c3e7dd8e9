"""What is set on the squaring arm for the blanks of a piece, worked by hand (B11)."""

from dataclasses import replace

import pytest

from app.bench import Blank, Scale, Side, Sizing, sizing
from app.framing import Concern
from app.lengths import Length, Unit, inches, mm
from tests.builders.at_cutter import CUTTER

WITH_ARM = replace(CUTTER, arm_reach=mm(600))


def blank(part: str, width: str, height: str, *, piece: str = "") -> Blank:
    return Blank(piece=piece, part=part, width=mm(width), height=mm(height))


def said(found: Sizing) -> list[tuple[str, list[tuple[str, list[str]]]]]:
    return [
        (
            str(one.at.mm),
            [(each.blank.name, [str(side) for side in each.sides]) for each in one.blanks],
        )
        for one in found.settings
    ]


def test_each_distinct_length_is_one_setting_the_longest_first() -> None:
    """By hand: two mats 400 x 500, backing 398 x 500, glazing 400 x 398: 500, 400, 398."""
    found = sizing(
        (
            blank("mat 1", "400", "500"),
            blank("mat 2", "400", "500"),
            blank("backing", "398", "500"),
            blank("glazing", "400", "398"),
        ),
        WITH_ARM,
    )
    assert said(found) == [
        ("500", [("mat 1", ["height"]), ("mat 2", ["height"]), ("backing", ["height"])]),
        ("400", [("mat 1", ["width"]), ("mat 2", ["width"]), ("glazing", ["width"])]),
        ("398", [("backing", ["width"]), ("glazing", ["height"])]),
    ]
    assert found.moves == 3
    assert found.notices == ()


def test_a_square_blank_is_one_setting_for_both_sides() -> None:
    found = sizing((blank("mat", "300", "300"),), WITH_ARM)
    assert said(found) == [("300", [("mat", ["width", "height"])])]
    assert found.settings[0].blanks[0].sides == (Side.WIDTH, Side.HEIGHT)


def test_lengths_that_are_one_on_the_scale_are_one_setting() -> None:
    """By hand: 20 3/8 in = 517.525 mm, to a tenth of a millimetre 517.5."""
    inch_board = Blank(part="backing", width=inches("163/8"), height=mm(500))
    found = sizing((blank("mat", "517.5", "500"), inch_board), WITH_ARM)
    assert [one.at for one in found.settings] == [mm("517.5"), mm(500)]


@pytest.mark.parametrize(
    ("scale", "width", "height", "set_to"),
    [
        # 24 1/8 x 30 1/2 in = 612.775 x 774.7 mm on an arm that is read to halves: between its marks
        (CUTTER.scale, inches("193/8"), inches("61/2"), [mm("774.7"), mm("612.8")]),
        (
            Scale(unit=Unit.IN, step=inches("1/16")),
            inches("193/8"),
            inches("61/2"),
            [inches("61/2"), inches("193/8")],
        ),
        # 480 mm = 18.8976 in, that is 1209.4 sixty-fourths; 508 mm are 20 in
        (
            Scale(unit=Unit.IN, step=inches("1/16")),
            mm(480),
            mm(508),
            [inches(20), inches("1209/64")],
        ),
    ],
)
def test_a_length_of_the_other_unit_is_set_between_the_marks_and_keeps_its_exact_one(
    scale: Scale, width: Length, height: Length, set_to: list[Length]
) -> None:
    board = Blank(part="board", width=width, height=height)
    found = sizing((board,), replace(WITH_ARM, scales=(scale,)))
    assert [one.at for one in found.settings] == set_to
    assert [one.exact for one in found.settings] == [height, width]


def test_parts_of_several_pieces_share_a_setting_and_keep_their_names() -> None:
    found = sizing(
        (blank("mat", "400", "500", piece="17/1"), blank("mat", "500", "700", piece="17/2")),
        WITH_ARM,
    )
    assert said(found)[0] == ("500", [("17/1 mat", ["height"]), ("17/2 mat", ["width"])])


def test_two_blanks_that_are_alike_are_two() -> None:
    found = sizing((blank("mat", "400", "500"), blank("mat", "400", "500")), WITH_ARM)
    assert said(found)[0] == ("500", [("mat", ["height"]), ("mat", ["height"])])


def test_a_blank_longer_than_the_arm_reaches_is_said_with_its_name() -> None:
    (notice,) = sizing(
        (blank("mat", "400", "700"), blank("backing", "400", "600")), WITH_ARM
    ).notices
    assert (notice.code, notice.concern) == ("blank-beyond-arm", Concern.LOOK)
    assert "reaches 600 mm, and longer is mat (700 mm)" in notice.message
    assert "backing" not in notice.message


def test_very_many_blanks_that_are_too_long_are_counted_and_every_length_is_said() -> None:
    many = [blank(f"mat {number}", "400", str(600 + number)) for number in range(1, 9)]
    (notice,) = sizing(many, WITH_ARM).notices
    assert "longer are 8 parts, at 608, 607, 606, 605, 604, 603, 602, 601 mm" in notice.message


def test_every_length_beyond_the_arm_is_said_and_marked_and_comes_after_the_others() -> None:
    """By hand: of 1070 x 846, 840 x 590 and 646 x 640 an arm of 600 reaches 590 alone."""
    found = sizing(
        (
            blank("mat 1", "1070", "846"),
            blank("mat 2", "840", "590"),
            blank("backing", "646", "640"),
        ),
        WITH_ARM,
    )
    assert [(str(one.at.mm), one.beyond) for one in found.settings] == [
        ("590", False),
        ("1070", True),
        ("846", True),
        ("840", True),
        ("646", True),
        ("640", True),
    ]
    assert found.settings[0].in_words == "height of mat 2"
    assert found.settings[2].in_words == "height of mat 1 (beyond the arm: measure and mark)"
    assert found.moves == 1
    (notice,) = found.notices
    assert (
        "longer are mat 1 (1070 mm and 846 mm), mat 2 (840 mm), backing (646 mm and 640 mm)"
        in notice.message
    )


def test_a_cut_of_a_plan_that_makes_no_side_of_a_part_keeps_its_place() -> None:
    """By hand: a strip of 520 comes off first and is cut at 500 and 400 then."""
    found = sizing((blank("mat", "400", "500"),), WITH_ARM, (mm(520), mm(500), mm(400)))
    assert [(str(one.at.mm), one.in_words) for one in found.settings] == [
        ("520", "a strip that is cut up further"),
        ("500", "height of mat"),
        ("400", "width of mat"),
    ]


def test_an_arm_of_unknown_reach_takes_everything_and_nothing_comes_to_nothing() -> None:
    assert sizing((blank("mat", "400", "2400"),), CUTTER).notices == ()
    assert sizing((), WITH_ARM).settings == ()
