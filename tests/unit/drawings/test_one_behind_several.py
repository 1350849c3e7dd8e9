"""One artwork behind several windows: where it lies, that its photo is drawn through all of them, and how it is measured.

By hand: three windows of 100 × 150 in a row, 30 apart, reach 3 × 100 + 2 × 30 = 360 across and 150 down; with borders of 60
the package is 480 × 270, and their middle is its own. With borders of 60, 100, 50 and 70 at left, right, top and bottom the
package is 520 × 270, and the middle of the windows at 60 + 180 = 240 and 50 + 75 = 125: an artwork of 400 × 200 begins at
40, 25, and from the back 520 - 40 - 400 = 80 from the left, which is the border of 100 less the 20 that are covered.
"""

import pytest

from app.drawings import FrontView, Look, front, measured
from app.drawings.piece.layout import lay_out
from app.drawings.piece.wording import piece_in_words
from app.drawings.section.profile import profile_of
from app.framing import Arrangement, Edges, Opening, Presentation, Spec, work_out
from app.lengths import Unit, mm
from tests.builders.drawn import borders, extent, mat, of_class, read, spec, texts
from tests.builders.values import size

PHOTO = Look(image="photo.png")


def triptych(width: int, height: int, **more: object) -> Spec:
    openings = tuple(Opening(name=name, window=size(100, 150)) for name in "ABC")
    given = {
        "mats": (mat(),),
        "borders": Edges.equal(mm(60)),
        "openings": openings,
        "arrangement": Arrangement(rows=(3,), across=mm(30)),
    }
    return spec(width, height, **given | more)


def drawn(asked: Spec) -> list[tuple[float, ...]]:
    """Where each photo lies in the package."""
    found = of_class(read(front(work_out(asked), PHOTO, view=FrontView.ALONE)), "artwork")
    return [extent(each) for each in found if each.tag.endswith("image")]


ASIDE = borders(60, 100, 50, 70)


def said_with_it(asked: Spec) -> list[str]:
    found = texts(read(measured(work_out(asked), Unit.MM)))
    return [one.text.replace("\N{NO-BREAK SPACE}", " ") for one in found]


def test_its_photo_is_drawn_once_through_all_of_them_to_scale() -> None:
    """400 × 200 about the middle at 240, 135 begins at 40, 35."""
    assert drawn(triptych(400, 200)) == [pytest.approx((40, 35, 400, 200))]


def test_one_that_would_lie_beyond_the_package_is_moved_into_it() -> None:
    """With a border of 20 at the left and 100 at the right the middle of the windows is at 20 + 180 = 200, and half of 440 is
    220: it begins at 0 where it would begin 20 before. The height of 270 is that of the package.
    """
    borders = Edges(left=mm(20), right=mm(100), top=mm(60), bottom=mm(60))
    assert drawn(triptych(440, 270, borders=borders)) == [pytest.approx((0, 0, 440, 270))]


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        (triptych(359, 200), "it does not reach behind all of them"),
        (triptych(400, 149), "it is too low"),
        (triptych(481, 200), "it is wider than the package"),
        (
            triptych(
                400, 200, openings=tuple(Opening(name=n, artwork=size(110, 160)) for n in "ABC")
            ),
            "each window has its own",
        ),
        (triptych(400, 200, presentation=Presentation.FLOAT), "what floats lies in one window"),
    ],
)
def test_elsewhere_no_photo_is_drawn(asked: Spec, why: str) -> None:
    assert drawn(asked) == [], why


def test_a_single_window_of_a_given_size_is_about_its_artwork_as_ever() -> None:
    asked = triptych(
        110, 160, openings=(Opening(name="A", window=size(100, 150)),), arrangement=None
    )
    assert work_out(asked).behind_all is None
    assert drawn(asked) == [pytest.approx((55, 55, 110, 160))]


def test_it_is_named_once_in_words() -> None:
    dimensions = work_out(triptych(400, 200))
    said = piece_in_words(dimensions, Unit.MM)
    assert said.startswith("The artwork, 400 × 200 mm, lies behind the windows of one mat: ")


def test_the_measured_drawing_shows_it_once_with_its_place_on_the_mat() -> None:
    """40 from the left and 25 from the top edge of the mat."""
    asked = triptych(400, 200, borders=ASIDE)
    figures = said_with_it(asked)
    for figure in ("artwork 400", "artwork 200", "40", "25"):
        assert figures.count(figure) == 1, figure
    (place,) = lay_out(work_out(asked)).artworks
    assert (place.box.x, place.box.y) == pytest.approx((40, 25))


def test_the_measured_drawing_says_where_it_lies_from_the_back() -> None:
    said = " ".join(said_with_it(triptych(400, 200, borders=ASIDE)))
    assert "seen from the back 80 from the left edge of the mat." in said


def test_windows_with_an_artwork_each_are_measured_without_one_behind_all() -> None:
    openings = tuple(Opening(name=n, artwork=size(110, 160)) for n in "ABC")
    figures = said_with_it(triptych(400, 200, borders=ASIDE, openings=openings))
    assert not any(each.startswith("artwork ") for each in figures)
    assert "behind all windows" not in " ".join(figures)


def test_the_section_covers_what_the_mat_covers_of_it_at_the_left() -> None:
    """366 wide about the middle at 240 begins at 57, 3 behind the first window at 60."""
    strips = {
        each.name: each for each in profile_of(work_out(triptych(366, 200, borders=ASIDE))).strips
    }
    assert strips["mat"].back[1] - strips["artwork"].front[0] == pytest.approx(3)


def test_the_section_goes_by_the_inner_window_of_two_mats() -> None:
    """The given windows are those of the inner mat, and the gap of 30 is that of the top one, whose windows are 112 wide: they
    reach from 60 to 60 + 336 + 60 = 456, the inner ones from 66 to 450. 390 wide about 258 it begins at 63, 3 before 66.
    """
    asked = triptych(390, 200, borders=ASIDE, mats=(mat(), mat(reveal=6)))
    strips = {each.name: each for each in profile_of(work_out(asked)).strips}
    assert strips["mat 2:"].back[1] - strips["artwork"].front[0] == pytest.approx(3)
