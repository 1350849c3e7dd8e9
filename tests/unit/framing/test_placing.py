"""Where artworks lie on their board, and their hinges, worked by hand (G25, D9)."""

from dataclasses import replace

import pytest

from app.framing import (
    Arrangement,
    Dimensions,
    Edges,
    Opening,
    Point,
    Presentation,
    Slot,
    Spec,
    UnderMats,
    UnderWay,
    in_steps,
    work_out,
)
from app.framing.placing import (
    Hinges,
    alike_by,
    carrying_board,
    hinges_alike,
    hinges_for,
    placed_artworks,
)
from app.lengths import ZERO, Length, Steps, Unit, inches, mm
from tests.builders.specs import BARE, DOUBLE, MATTED, mat, panel, size

HALF = Steps(unit=Unit.MM, step=mm("0.5"))


def places(found: Dimensions) -> list[tuple[str, Length, Length]]:
    return [(each.name, each.left, each.top) for each in placed_artworks(found)]


def test_behind_a_window_an_artwork_reaches_out_by_the_overlap() -> None:
    """297 x 420, overlap 5, borders 60: the window is 287 x 410 at 60, 60; the artwork begins 5 before it."""
    assert places(work_out(MATTED)) == [("", mm(55), mm(55))]


def test_behind_two_mats_it_lies_by_the_inner_window() -> None:
    """The inner window begins the reveal further in: 60 + 6 - 5, whichever way the under mat is worked."""
    own = replace(DOUBLE, under=UnderMats(way=UnderWay.OWN_EDGES, trim=mm(3)))
    reveal = DOUBLE.mats[1].reveal
    assert reveal is not None
    assert DOUBLE.borders is not None
    expected = [("", DOUBLE.borders.left + reveal - mm(5), DOUBLE.borders.top + reveal - mm(5))]
    for spec in (DOUBLE, own):
        assert places(work_out(spec)) == expected
        assert places(in_steps(work_out(spec), HALF)) == expected


def test_from_a_trimmed_mount_board_it_is_less_by_the_trim() -> None:
    spec = replace(MATTED, mount_board=panel(trim="2"), backing=panel())
    assert carrying_board(work_out(spec))[0] == "mount board"
    assert places(work_out(spec)) == [("", mm(53), mm(53))]
    backed = replace(MATTED, backing=panel())
    assert carrying_board(work_out(backed)) == ("backing", work_out(backed).package)
    assert carrying_board(work_out(MATTED))[0] == "mat"
    assert carrying_board(work_out(BARE))[0] == "package"


def test_a_float_lies_its_gap_inside_the_window() -> None:
    spec = replace(MATTED, presentation=Presentation.FLOAT)
    assert places(work_out(spec)) == [("", mm(70), mm(70))]
    bare = replace(BARE, presentation=Presentation.FLOAT)
    assert places(work_out(bare)) == [("", mm(10), mm(10))]


def test_in_a_given_package_with_weighting_it_lies_higher_than_the_middle() -> None:
    """Package 407 x 540: left (407 - 287) / 2 = 60; top + bottom = 130, bottom 10 more: top 60."""
    spec = replace(MATTED, borders=None, package=size("407", "540"), weighting=mm(10))
    assert places(work_out(spec)) == [("", mm(55), mm(55))]


def test_several_have_a_place_each_and_title_slots_none() -> None:
    """Windows of 90 x 140 for artworks of 100 x 150, at 60 and 60 + 90 + 30."""
    slot = Slot(size=size("60", "15"), gap=mm(12))
    openings = (
        Opening(name="A", artwork=size("100", "150"), at=Point(x=mm(60), y=mm(60)), slot=slot),
        Opening(name="B", artwork=size("100", "150"), at=Point(x=mm(180), y=mm(70))),
        Opening(name="C", window=size("50", "50"), at=Point(x=mm(300), y=mm(60))),
    )
    found = work_out(replace(MATTED, openings=openings))
    assert places(found) == [("A", mm(55), mm(55)), ("B", mm(175), mm(65))]


def three(artwork: tuple[str, str], **more: object) -> Spec:
    """Three windows of 100 x 150 in a row, 30 apart; borders left 60, right 100, top 50, bottom 70: 520 x 270 in all."""
    return replace(
        MATTED,
        artwork=size(*artwork),
        borders=Edges(left=mm(60), right=mm(100), top=mm(50), bottom=mm(70)),
        openings=tuple(Opening(name=name, window=size("100", "150")) for name in "ABC"),
        arrangement=Arrangement(rows=(3,), across=mm(30)),
        **more,
    )


def test_one_behind_all_windows_lies_about_their_middle() -> None:
    """The windows reach from 60 to 420 and from 50 to 200: 240 - 400 / 2 = 40 and 125 - 200 / 2 = 25."""
    found = work_out(three(("400", "200")))
    assert found.artworks == (("", size("400", "200")),)
    assert places(found) == places(in_steps(found, HALF)) == [("", mm(40), mm(25))]
    trimmed = work_out(three(("400", "200"), mount_board=panel(trim="2")))
    assert places(trimmed) == [("", mm(38), mm(23))]


def test_one_behind_all_windows_is_mirrored_on_the_back() -> None:
    """From its right edge to the mat's, 520 - 440 = 80; which is the border of 100 less the 20 that are covered there."""
    found = work_out(three(("400", "200")))
    one = found.behind_all
    assert one is not None
    assert (one.x, one.back_x) == (mm(40), mm(80))


def test_one_behind_all_windows_stays_on_the_mat_and_still_has_a_place() -> None:
    """500 wide about 240 would begin 10 before the mat: at its edge it ends at 500, 20 before the other one."""
    found = work_out(three(("500", "270")))
    one = found.behind_all
    assert one is not None
    assert places(found) == [("", ZERO, ZERO)]
    assert one.back_x == mm(20)
    assert places(work_out(three(("520", "270")))) == []


def test_steps_do_not_change_whether_one_lies_behind_all_windows() -> None:
    """520.2 wide in a package of 520.2, which is cut at 520: it is still one artwork, and lies at the edge."""
    asked = three(("520.2", "200"))
    borders = Edges(left=mm("60.2"), right=mm(100), top=mm(50), bottom=mm(70))
    cut = in_steps(work_out(replace(asked, borders=borders)), HALF)
    assert cut.package == size("520", "270")
    assert places(cut) == [("", ZERO, mm(25))]


@pytest.mark.parametrize(
    "spec",
    [
        BARE,  # as large as its package
        replace(BARE, presentation=Presentation.CANVAS),
        replace(BARE, presentation=Presentation.CANVAS_FLOAT),
    ],
)
def test_what_fills_its_package_or_is_a_canvas_has_no_place_to_find(spec: Spec) -> None:
    assert placed_artworks(work_out(spec)) == ()


def test_a_close_fit_in_a_larger_package_lies_in_its_middle() -> None:
    spec = replace(BARE, package=size("301", "426"))
    assert places(work_out(spec)) == [("", mm(2), mm(3))]


@pytest.mark.parametrize(
    ("width", "count", "inset"),
    [
        ("80", 2, "20"),  # a tenth is 8, at least 25, but a quarter is 20
        ("100", 2, "25"),
        ("297", 2, "29.7"),
        ("420", 2, "42"),  # 420 - 84 = 336
        ("475", 2, "47.5"),  # 380 between: as far as may be
        ("476", 3, "47.6"),  # 380.8
        ("860", 3, "50"),  # 760
        ("861", 4, "50"),
    ],
)
def test_hinges_in_millimetres(width: str, count: int, inset: str) -> None:
    assert hinges_for(mm(width), Unit.MM) == Hinges(count=count, inset=mm(inset))


@pytest.mark.parametrize(
    ("width", "count", "inset"),
    [("8", 2, "1"), ("16", 2, "8/5"), ("19", 3, "19/10"), ("30", 3, "2")],
)
def test_hinges_in_inches(width: str, count: int, inset: str) -> None:
    """1 to 2 in from the corners, 15 in apart at most: 19 - 3.8 = 15.2; 30 - 4 = 26."""
    assert hinges_for(inches(width), Unit.IN) == Hinges(count=count, inset=inches(inset))


def test_what_lies_alike_is_said_together() -> None:
    openings = tuple(
        Opening(name=name, artwork=size(wide, "150"))
        for name, wide in zip("AB", ("100", "300"), strict=True)
    )
    found = placed_artworks(
        work_out(
            replace(
                MATTED,
                mats=(mat(),),
                openings=openings,
                borders=MATTED.borders,
                package=size("700", "400"),
            )
        )
    )
    assert alike_by(found, ["55", "55"]) == (("55", ("A", "B")),)
    assert hinges_alike(found, Unit.MM) == (
        (Hinges(count=2, inset=mm(25)), ("A",)),
        (Hinges(count=2, inset=mm(30)), ("B",)),
    )
    assert found[0].left > ZERO
