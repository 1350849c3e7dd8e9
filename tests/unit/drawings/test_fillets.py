"""Fillets as they are drawn; figures worked by hand from G19.

The sketch with a fillet of face 10, lip and tuck 4, 3 thick: window 2 410 × 287, outside 418 × 295,
sight 398 × 275. It lies about the middle of the window, whose left-top corner is at 20.5 + 70 + 6 =
96.5 from the left and the top of the frame's outside.
"""

from dataclasses import replace

import pytest

from app.drawings import Colour, FrameLook, Look, front, measured, section
from app.framing import Arrangement, Dimensions, Opening, work_out
from app.lengths import Size, Steps, Unit, mm
from tests.builders.drawn import fillet, many, of_class, points, read, sketch, texts

MANY = many()
LINED = MANY["fillet"]


def said(svg: str) -> list[str]:
    return [one.text for one in texts(read(svg))]


def eight_windows() -> Dimensions:
    openings = tuple(Opening(name=name, window=Size(mm(100), mm(150))) for name in "ABCDEFGH")
    arrangement = Arrangement(rows=(4, 4), across=mm(30), down=mm(30))
    return work_out(replace(LINED.spec, openings=openings, arrangement=arrangement))


def test_the_front_shows_its_rails_inside_the_window() -> None:
    root = read(front(LINED, Look(fillet=FrameLook(colour=Colour.parse("#a07a30")))))
    (drawn,) = of_class(root, "fillet")
    lip, face = of_class(drawn, "lip")[0], of_class(drawn, "rail")[0]
    # From 96.5 - 4 = 92.5 out; the face rises 4 further in, at 96.5; it ends 6 inside, at 102.5.
    assert points(lip)[0] == pytest.approx((92.5, 92.5))
    assert points(lip)[3] == pytest.approx((96.5, 96.5))
    assert points(face)[0] == pytest.approx((96.5, 96.5))
    assert points(face)[1] == pytest.approx((96.5 + 410, 96.5))
    assert points(face)[3] == pytest.approx((102.5, 102.5))


def test_the_mat_lies_over_the_fillet_and_the_fillet_over_the_artwork() -> None:
    groups = [one.get("class") for one in read(front(LINED, Look())).iter()]
    assert groups.index("artwork") < groups.index("fillet") < groups.index("mat mat-2")


def test_every_window_has_its_own() -> None:
    assert len(of_class(read(front(eight_windows(), Look())), "fillet")) == 8
    assert not of_class(read(front(sketch(), Look())), "fillet")


def test_it_is_said_to_whoever_cannot_see_it() -> None:
    assert "A fillet shows 6 mm inside the window." in read(front(LINED, Look()))[1].text
    assert "inside each window." in read(front(eight_windows(), Look()))[1].text
    assert "fillet" not in read(front(sketch(), Look()))[1].text


def test_the_section_has_it_between_mat_and_artwork() -> None:
    """Stack 2 + 1.4 + 1.4 + 3 + 0.3 + 3 = 11.1; 14 − 2 − 11.1 = 0.9 left."""
    words = said(section(LINED, Unit.MM))
    names = [t for t in words if t.startswith(("gl", "mat", "fil", "art", "back"))]
    assert names == [
        "glazing 2",
        "mat 1: 1.4",
        "mat 2: 1.4",
        "fillet 3",
        "artwork 0.3",
        "backing 3",
    ]
    assert {"stack 11.1", "room left 0.9"} <= set(words)


def test_the_measured_view_tells_what_shows_and_what_is_seen_inside() -> None:
    words = said(measured(LINED, Unit.MM))
    for figure in ("in fillet 398", "in fillet 275", "shows 6"):
        assert words.count(figure) == 1, figure
    assert "mat and fillet 11 at each edge" in " ".join(words)


def test_several_windows_say_once_what_shows() -> None:
    words = " ".join(said(measured(eight_windows(), Unit.MM)))
    assert "Fillet: 4 behind the mat, 6 showing in each window." in words


def test_figures_follow_the_rails_as_they_are_cut() -> None:
    """A tuck of 3.7 and face 10: 410 + 7.4 − 20 = 397.4, up to 397.5 (L2)."""
    spec = replace(LINED.spec, fillet=replace(fillet(), tuck=mm("3.7")))
    steps = Steps(unit=Unit.MM, step=mm("0.5"))
    assert "in fillet 397.5" in said(measured(work_out(spec), Unit.MM, steps))
