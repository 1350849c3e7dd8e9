"""One artwork behind several windows: where it lies, and that its photo is drawn through all of them.

By hand: three windows of 100 × 150 in a row, 30 apart, reach 3 × 100 + 2 × 30 = 360 across and 150 down; with borders of 60
the package is 480 × 270, and their middle is its own.
"""

import pytest

from app.drawings import FrontView, Look, front
from app.drawings.piece.wording import piece_in_words
from app.framing import Arrangement, Edges, Opening, Presentation, Spec, work_out
from app.lengths import Unit, mm
from tests.builders.drawn import extent, mat, of_class, read, spec
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
