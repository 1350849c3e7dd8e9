"""Several windows that cannot be made, and those that are only unwise: G9, G20.

The figures in each sentence are worked by hand from the places beside them.
"""

from dataclasses import replace

import pytest

from app.errors import Invalid
from app.framing import (
    Arrangement,
    Bevel,
    Dimensions,
    Edges,
    Mat,
    Opening,
    Point,
    Presentation,
    Shape,
    Slot,
    Spec,
    work_out,
)
from app.lengths import Unit, inches, mm
from tests.builders.specs import BARE, edges, faults, in_inches, mat, notices, size

ONE_MAT = replace(
    BARE, presentation=Presentation.WINDOW, mats=(mat(),), borders=Edges.equal(mm(60))
)


def window(name: str, sides: str = "100 140", at: str | None = None) -> Opening:
    width, height = sides.split()
    return Opening(
        name=name, window=size(width, height), at=None if at is None else _point(*at.split())
    )


def _point(x: str, y: str) -> Point:
    return Point(x=mm(x), y=mm(y))


PAIR = replace(
    ONE_MAT,
    openings=(window("A"), window("B")),
    arrangement=Arrangement(rows=(2,), across=mm(25)),
)
"""Two windows of 100 x 140; package 345 x 260."""


def free(*openings: Opening, package: str = "400 300") -> Spec:
    width, height = package.split()
    return replace(ONE_MAT, openings=openings, borders=None, package=size(width, height))


def test_the_pair_itself_can_be_made() -> None:
    assert work_out(PAIR).package == size("345", "260")
    assert notices(PAIR) == {}


def test_windows_that_overlap_are_named_with_how_much() -> None:
    """A ends at 60 + 100 = 160, B begins at 148: 12 across, 140 down; 12 is the way out."""
    assert faults(free(window("A", at="60 60"), window("B", at="148 60"))) == {
        "windows.1.x": "Windows A and B overlap by 12 mm."
    }
    assert faults(free(window("A", at="60 60"), window("B", at="80 190"), package="400 400")) == {
        "windows.1.y": "Windows A and B overlap by 10 mm."
    }


def test_a_window_inside_another_is_told_by_the_shortest_way_out() -> None:
    """B, 20 x 20 at 100 100 in A from 60 60 to 160 200: 60 to the left, 60 to the right, 60 up, 100
    down; at 90 100 it is 50 to the left."""
    inner = window("B", "20 20", at="100 100")
    assert faults(free(window("A", at="60 60"), inner)) == {
        "windows.1.x": "Windows A and B overlap by 60 mm."
    }
    assert faults(free(window("A", at="60 60"), window("B", "20 20", at="90 100"))) == {
        "windows.1.x": "Windows A and B overlap by 50 mm."
    }


def test_windows_that_touch_have_no_board_between_them() -> None:
    assert faults(free(window("A", at="60 60"), window("B", at="160 60"))) == {
        "windows.1.x": "Windows A and B touch."
    }


def test_windows_whose_bevels_meet_at_the_face_are_too_close() -> None:
    """2 mm at the back, but twice 1.4 at the face."""
    assert faults(free(window("A", at="60 60"), window("B", at="162 60"))) == {
        "mats.0.bevel": "Windows A and B are 2 mm apart at the back of mat 1, but its bevels take "
        "2.8 mm of that at the face; they must be further apart or the board thinner."
    }
    reverse = replace(
        free(window("A", at="60 60"), window("B", at="162 60")),
        mats=(Mat(thickness=mm("1.4"), bevel=Bevel(reverse=True)),),
    )
    assert faults(reverse) == {}


def test_a_window_outside_the_mat_is_told_by_how_much_on_which_side() -> None:
    """310 + 100 = 410 of 400; 165 + 140 = 305 of 300."""
    assert faults(free(window("A", at="-7 60"), window("B", at="310 165"))) == {
        "windows.0.x": "Window A leaves the mat by 7 mm at the left.",
        "windows.1.x": "Window B leaves the mat by 10 mm at the right.",
        "windows.1.y": "Window B leaves the mat by 5 mm at the bottom.",
    }
    assert faults(free(window("A", at="60 0"))) == {
        "windows.0.y": "Window A leaves no border at the top; there must be some."
    }


def test_two_windows_of_one_name_are_both_told() -> None:
    again = "2 windows are called A; no two may be."
    assert faults(replace(PAIR, openings=(window("A"), window("A")))) == {
        "windows.0.id": again,
        "windows.1.id": again,
    }
    slot = Slot(size=size("40", "10"), gap=mm(30))
    taken = (replace(window("A"), slot=slot), window("A slot"))
    assert list(faults(replace(PAIR, openings=taken))) == ["windows.1.id"]


def test_what_two_windows_of_one_name_say_alike_is_said_once() -> None:
    """Gaps of 20 and grooves at 60: each of the middle ones runs across both its neighbours."""
    crossed = replace(
        PAIR,
        openings=(window("A"), window("A"), window("B"), window("B")),
        arrangement=Arrangement(rows=(4,), across=mm(20)),
        groove=mm(60),
    )
    with pytest.raises(Invalid) as refused:
        work_out(crossed)
    said = [(fault.path, fault.message) for fault in refused.value.faults]
    assert len(said) == len(set(said))
    assert ("groove", "The groove around window A runs across window B.") in said


def test_a_window_needs_a_name_that_fits_into_it() -> None:
    found = faults(replace(PAIR, openings=(window("  "), window("x" * 21))))
    assert found == {
        "windows.0.id": "A window has no name; each one needs its own.",
        "windows.1.id": "The name of window 2 is 21 characters long; at most 20 are allowed.",
    }


def test_a_size_comes_from_artwork_or_window_and_not_from_both_or_neither() -> None:
    both = Opening(name="A", artwork=size("100", "100"), window=size("90", "90"))
    found = faults(replace(PAIR, openings=(both, Opening(name="B"))))
    assert found == {
        "windows.0": "The size of window A was given by both of artwork and window; exactly one of "
        "them is needed.",
        "windows.1": "The size of window B was given by neither of artwork and window; exactly one "
        "of them is needed.",
    }


def test_sizes_overlaps_and_gaps_below_zero_are_told_at_their_windows() -> None:
    wrong = (
        replace(window("A", "0 140"), overlap=mm(-1)),
        Opening(name="B", artwork=size("100", "-5"), gap=mm(-2), floats=True),
    )
    found = faults(replace(PAIR, openings=wrong))
    assert set(found) == {
        "windows.0.width",
        "windows.0.overlap",
        "windows.1.artwork.height",
        "windows.1.gap",
    }
    assert found["windows.0.width"] == "The width of window A is 0 mm; it must be above zero."


def test_an_overlap_that_eats_a_window_names_it_where_it_was_given() -> None:
    artwork = size("80", "100")
    own = Opening(name="A", artwork=artwork, overlap=mm(40))
    assert faults(replace(PAIR, openings=(own, window("B")))) == {
        "windows.0.overlap": "An overlap of 40 mm at each edge leaves no window A in an "
        "artwork of 80 × 100 mm; it must be under 40 mm."
    }
    pieces = Opening(name="A", artwork=size("10", "100"))
    assert list(faults(replace(PAIR, openings=(pieces, window("B"))))) == ["overlap"]


def test_rows_hold_as_many_windows_as_are_given() -> None:
    assert faults(replace(PAIR, arrangement=Arrangement(rows=(2, 1), across=mm(5)))) == {
        "arrangement.rows": "The rows hold 2 + 1 = 3 windows, but 2 were given."
    }
    assert list(faults(replace(PAIR, arrangement=Arrangement(rows=(2, 0), across=mm(5))))) == [
        "arrangement.rows"
    ]
    assert list(faults(replace(PAIR, arrangement=Arrangement(rows=())))) == ["arrangement.rows"]


def test_places_and_rows_do_not_mix() -> None:
    mixed = replace(PAIR, openings=(window("A", at="60 60"), window("B")), arrangement=None)
    assert faults(mixed) == {
        "windows": "Window A was given a place and window B none; give all of them a place, or none "
        "and let rows place them."
    }
    both = replace(PAIR, openings=(window("A", at="60 60"), window("B", at="200 60")))
    assert list(faults(both)) == ["arrangement"]


def test_a_gap_needs_a_figure_or_a_package_to_follow_from() -> None:
    squared = replace(PAIR, openings=(*PAIR.openings, window("C"), window("D")))
    assert faults(replace(squared, arrangement=Arrangement(rows=(2, 2)))) == {
        "arrangement.across": "No gap across was given and no glass size that it could follow from; "
        "one of them is needed.",
        "arrangement.down": "No gap down was given and no glass size that it could follow from; one of "
        "them is needed.",
    }
    assert faults(replace(PAIR, arrangement=Arrangement(rows=(2,), across=mm(0)))) == {
        "arrangement.across": "The gap across between windows is 0 mm; it must be above zero."
    }


def test_borders_that_leave_nothing_for_the_gaps_are_told() -> None:
    """300 - 2 x 60 = 180, but two windows need 200."""
    assert faults(
        replace(PAIR, arrangement=Arrangement(rows=(2,)), package=size("300", "260"))
    ) == {
        "arrangement.across": "Nothing is left for the gaps across: the borders leave 180 mm of the "
        "glass size, and the windows need 200 mm."
    }


def test_a_package_smaller_than_its_windows_and_gaps_is_told() -> None:
    """2 x 100 + 25 = 225 wide."""
    found = faults(replace(PAIR, borders=None, package=size("210", "260")))
    assert list(found) == ["package.width"]
    assert found["package.width"].startswith(
        "The glass size is 210 mm in width, 15 mm too small for the windows of the top mat with their "
        "gaps, 225 mm."
    )


def test_a_package_that_leaves_a_given_border_nothing_is_told() -> None:
    """300 - 225 - 20 - 100 = -45: each border would give half, the left one 20 - 22.5 = -2.5."""
    found = faults(
        replace(PAIR, borders=edges("20", "100", "60", "60"), package=size("300", "260"))
    )
    assert found == {
        "package.width": "The glass size is 300 mm in width, but with windows and gaps of 225 mm and "
        "the borders given one border would be −2.5 mm; make it larger than 305 mm, or them smaller."
    }


def test_more_than_twenty_four_windows_are_refused() -> None:
    many = tuple(window(f"w{number}") for number in range(25))
    found = faults(replace(PAIR, openings=many, arrangement=Arrangement(rows=(25,), across=mm(20))))
    assert found == {"windows": "25 windows were given; at most 24 fit in a piece."}


def test_windows_need_a_mat_and_a_presentation_that_has_one() -> None:
    assert list(faults(replace(PAIR, mats=(), borders=None, presentation=Presentation.FLOAT))) == [
        "mats"
    ]
    assert "windows" in faults(
        replace(PAIR, mats=(), borders=None, presentation=Presentation.CLOSE)
    )


def test_a_slot_that_runs_into_another_window_is_told() -> None:
    """The slot of A runs from 60 + 140 + 20 = 220 to 240, into C, which begins at 230."""
    slotted = replace(window("A", at="60 60"), slot=Slot(size=size("60", "20"), gap=mm(20)))
    assert faults(free(slotted, window("C", at="60 230"), package="400 450")) == {
        "windows.1.y": "Windows A slot and C overlap by 10 mm."
    }
    bad = replace(window("A"), slot=Slot(size=size("60", "0"), gap=mm(0)))
    assert set(faults(replace(PAIR, openings=(bad, window("B"))))) == {
        "windows.0.slot.height",
        "windows.0.slot.gap",
    }


def test_a_slot_outside_the_mat_is_told_at_the_slot() -> None:
    slotted = replace(window("A", at="60 60"), slot=Slot(size=size("240", "20"), gap=mm(20)))
    assert faults(free(slotted)) == {
        "windows.0.slot": "Window A slot leaves the mat by 10 mm at the left."
    }


@pytest.mark.parametrize(
    ("sides", "rise", "says"),
    [
        ("200 80", None, "rises 100 mm and leaves no straight sides in a height of 80 mm"),
        ("200 300", "300", "is 300 mm and leaves no straight sides in a height of 300 mm"),
        ("200 300", "0", "is 0 mm; it must be above zero"),
    ],
)
def test_an_arch_keeps_straight_sides_under_its_round_top(
    sides: str, rise: str | None, says: str
) -> None:
    arch = replace(window("A", sides), shape=Shape.ARCH, rise=None if rise is None else mm(rise))
    found = faults(replace(ONE_MAT, openings=(arch,)))
    assert list(found) == ["windows.0.rise"]
    assert says in found["windows.0.rise"]


def test_only_an_arch_has_a_rise() -> None:
    found = faults(replace(ONE_MAT, openings=(replace(window("A"), rise=mm(10)),)))
    assert found == {
        "windows.0.rise": "A rise of 10 mm was given for window A, but only an arch has one."
    }


def test_a_groove_stays_on_the_board_and_off_other_windows() -> None:
    """A groove 58.6 from the face edge, 1.4 past the back one, reaches the mat's edge exactly; one of
    23 reaches 24.4 into a gap of 25, whose last 1.4 is B's bevel."""
    found = faults(replace(ONE_MAT, openings=(window("A"),), groove=mm("60.6")))
    assert found["groove"].splitlines()[0] == (
        "The groove around window A leaves the mat by 2 mm at the left."
    )
    assert faults(replace(PAIR, groove=mm(23))) == {
        "groove": "The groove around window A runs across window B.\n"
        "The groove around window B runs across window A."
    }
    assert list(faults(replace(PAIR, groove=mm(0)))) == ["groove"]
    assert list(faults(replace(BARE, groove=mm(5)))) == ["groove"]


def test_grooves_that_run_across_each_other_are_pointed_out() -> None:
    """Two grooves 12 off, each 13.4 past the back edge, in a gap of 25: 26.8."""
    found = notices(replace(PAIR, groove=mm(12)))
    assert found == {"grooves-cross": "Grooves run across each other: A and B."}
    assert notices(replace(PAIR, groove=mm(11))) == {}  # 2 x 12.4 = 24.8


def test_all_faults_come_at_once() -> None:
    wrong = replace(
        PAIR,
        openings=(window("A", "0 140"), Opening(name="A")),
        arrangement=Arrangement(rows=(3,), across=mm(-1)),
        groove=mm(-1),
    )
    assert set(faults(wrong)) == {
        "windows.0.id",
        "windows.1.id",
        "windows.0.width",
        "windows.1",
        "arrangement.rows",
        "arrangement.across",
        "groove",
    }


def test_the_faults_of_frames_are_told_beside_those_of_windows() -> None:
    wrong = replace(PAIR, openings=(Opening(name="A"), window("B")), weighting=mm(-3))
    assert set(faults(wrong)) == {"windows.0", "weighting"}


def test_a_bridge_under_the_lesser_of_both_customary_figures_is_pointed_out_by_name() -> None:
    """G9: 20 mm and 3/4 in, 19.05 mm, whatever the unit of the piece."""
    close = replace(PAIR, arrangement=Arrangement(rows=(2,), across=mm(19)))
    assert notices(close) == {
        "bridge-below-least": "Little board is left between windows: A and B 19 mm. The smallest usual "
        "bridge is 20 mm or 3/4 in."
    }
    for across in ("19.05", "19.5", "20"):
        apart = replace(PAIR, arrangement=Arrangement(rows=(2,), across=mm(across)))
        assert notices(apart) == {}


def test_the_least_bridge_of_an_inch_piece_is_three_quarters() -> None:
    pair = (
        Opening(name="A", window=size("2", "3", Unit.IN)),
        Opening(name="B", window=size("2", "3", Unit.IN)),
    )
    for gap, codes in (("11/16", ["bridge-below-least"]), ("3/4", [])):
        spec = in_inches(
            openings=pair,
            arrangement=Arrangement(rows=(2,), across=inches(gap)),
        )
        assert [code for code in notices(spec) if code.startswith("bridge")] == codes


def test_windows_that_meet_corner_to_corner_are_measured_across_the_corner() -> None:
    """12 across and 14 down is 18.4 of board, under 19.05; 15 and 15 is 21.2."""
    near = free(window("A", at="60 60"), window("B", at="172 214"), package="400 450")
    assert "A and B 12 mm across and 14 mm down" in notices(near)["bridge-below-least"]
    apart = free(window("A", at="60 60"), window("B", at="175 215"), package="400 450")
    assert "bridge-below-least" not in notices(apart)


def test_staggered_circles_are_measured_as_circles() -> None:
    """Circles of 100 with middles 72 across and 96 down are 120 apart, so 20 between them, though
    the squares around them share 28 by 4; with 65 and 72 they are 97 apart and overlap by 3."""

    def circles(x: str) -> Spec:
        round_one = replace(window("A", "100 100", at="60 60"), shape=Shape.OVAL)
        round_two = replace(window("B", "100 100", at=x), shape=Shape.OVAL)
        return free(round_one, round_two, package="400 400")

    assert "bridge-below-least" not in notices(circles("132 156"))
    assert "A and B 12.5 mm" in notices(circles("127.5 150"))["bridge-below-least"]
    assert faults(circles("125 132")) == {"windows.1.y": "Windows A and B overlap by 3 mm."}


def test_a_slot_close_under_its_window_is_a_bridge_too() -> None:
    slotted = replace(window("A"), slot=Slot(size=size("60", "20"), gap=mm(15)))
    found = notices(replace(ONE_MAT, openings=(slotted,)))
    assert "A and A slot 15 mm" in found["bridge-below-least"]


def test_round_windows_need_a_cutter_for_ovals() -> None:
    """Source: G20."""
    spec = replace(
        PAIR,
        openings=(
            replace(window("A"), shape=Shape.OVAL),
            replace(window("B"), shape=Shape.ARCH),
        ),
    )
    said = notices(spec)["needs-oval-cutter"].splitlines()
    assert said == [
        "Oval window A: a straight-line cutter cannot make it; a cutter for ovals is needed.",
        "Arched window B: a straight-line cutter makes only the straight sides; the round top needs "
        "a cutter for ovals.",
    ]


def test_borders_under_the_smallest_are_pointed_out_for_free_places() -> None:
    found = notices(free(window("A", at="40 60"), package="200 260"))
    assert found["border-below-smallest"].startswith(
        "Narrow border: left 40 mm, seen from the front."
    )


def test_places_that_make_other_borders_than_those_given_say_so() -> None:
    placed = replace(ONE_MAT, openings=(window("A", at="70 60"),))
    found = notices(placed)
    assert found == {
        "borders-not-as-given": "The borders are not as given, because windows, gaps and glass size fix them: "
        "left 70 mm instead of 60 mm."
    }


def test_a_window_as_large_as_its_artwork_is_pointed_out_by_name() -> None:
    bare = Opening(name="A", artwork=size("100", "140"), overlap=mm(0))
    found = notices(replace(PAIR, openings=(bare, window("B"))))
    assert found["artwork-barely-covered"].endswith("slip through it: A.")


def test_one_window_between_given_borders_covers_its_own_artwork() -> None:
    """220 - 120 = 100 wide over an artwork of 110: 5 each edge; 260 - 120 = 140 high over 150."""
    one = Opening(name="A", artwork=size("110", "150"))
    found: Dimensions = work_out(
        replace(ONE_MAT, openings=(one,), package=size("220", "260"), overlap=mm(0))
    )
    assert found.windows[0].size == size("100", "140")
    assert notices(found)["artwork-covered"].count("5 mm") == 2


def test_a_fault_is_an_invalid_with_a_code() -> None:
    with pytest.raises(Invalid) as caught:
        work_out(replace(PAIR, openings=(window("A"), window("A"))))
    assert {fault.code for fault in caught.value.faults} == {"invalid"}
