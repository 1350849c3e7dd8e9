"""What is said of one artwork behind several windows; figures by hand from G1 and G9.

Three windows of 100 x 150 in a row, 30 apart, with borders of 60: they take 360 x 150 of a package of 480 x 270.
"""

from dataclasses import replace

import pytest

from app.framing import Arrangement, Edges, Opening, Spec, work_out
from app.framing.notice import Concern
from app.lengths import mm
from tests.builders.specs import MATTED, mat, notices, size

TAKEN = "is taken to lie behind all windows: they are openings of a given size, and it reaches behind every one. "
INSTEAD = " As it is, each window is taken to have an artwork of its own."


def three(width: str, height: str, **more: object) -> Spec:
    given: dict[str, object] = {
        "artwork": size(width, height),
        "borders": Edges.equal(mm(60)),
        "openings": tuple(Opening(name=name, window=size("100", "150")) for name in "ABC"),
        "arrangement": Arrangement(rows=(3,), across=mm(30)),
    }
    return replace(MATTED, **given | more)  # type: ignore[arg-type]


def test_it_is_said_that_one_artwork_was_taken_to_lie_behind_all() -> None:
    """400 - 360 = 40 and 190 - 150 = 40: 20 at each edge."""
    assert notices(three("400", "190")) == {
        "artwork-behind-all": f"The artwork, 400 × 190 mm, {TAKEN}The mat covers 20 mm of it at each edge."
    }


def test_what_is_covered_is_said_edge_by_edge_where_it_differs() -> None:
    """With a border of 15 at the left the middle is at 195, and 400 / 2 = 200 is more: it begins at the mat's edge, 15 before
    the first window, and ends at 400, 25 behind the last one at 375. 154 high: 2 are covered, less than half of the usual 3/16 in.
    """
    borders = Edges(left=mm(15), right=mm(60), top=mm(60), bottom=mm(60))
    said = notices(three("400", "154", borders=borders))
    assert said["artwork-behind-all"].endswith(
        "The mat covers of it 15 mm at the left, 25 mm at the right, 2 mm at the top, 2 mm at the bottom."
    )
    assert said["artwork-barely-covered"] == (
        "Little of the artwork is covered at the top, bottom: it can slip out from behind the mat."
    )


def test_behind_two_mats_the_inner_one_covers_it() -> None:
    """Inner windows of 100 in top ones of 112, 30 apart: they take 384 x 150; 400 - 384 = 16, 166 - 150 = 16."""
    said = notices(three("400", "166", mats=(mat(), mat(reveal="6"))))
    assert said["artwork-behind-all"].endswith("The mat covers 8 mm of it at each edge.")


@pytest.mark.parametrize(
    ("given", "why", "concern"),
    [
        (
            ("358", "200"),
            "would have to be 2 mm wider to reach behind all windows, which take 360 × 150 mm.",
            Concern.LOOK,
        ),
        (
            ("358", "149"),
            "would have to be 2 mm wider and 1 mm higher to reach behind all windows, which take 360 × 150 mm.",
            Concern.LOOK,
        ),
        (
            ("483", "200"),
            "is 3 mm wider than its glass size, 480 × 270 mm, so it does not go behind all windows.",
            Concern.RISK,
        ),
    ],
)
def test_one_that_does_not_go_behind_all_says_by_how_much(
    given: tuple[str, str], why: str, concern: Concern
) -> None:
    (found,) = (
        each for each in work_out(three(*given)).notices if each.code == "artwork-not-behind-all"
    )
    assert found.message == f"The artwork, {given[0]} × {given[1]} mm, {why}{INSTEAD}"
    assert found.concern is concern


@pytest.mark.parametrize(
    "spec",
    [
        three("110", "160"),
        three("310", "160"),  # 50 are missing, half of a window
        three("530", "160"),  # 50 are too much
        three("160", "160"),  # behind A it ends at the edge of B, 30 on either side
        three(
            "400",
            "200",
            openings=tuple(Opening(name=n, artwork=size("110", "160")) for n in "ABC"),
        ),
    ],
    ids=[
        "of one window",
        "far too narrow",
        "far too wide",
        "up to the next window",
        "own artworks",
    ],
)
def test_nothing_is_said_where_each_window_has_its_own(spec: Spec) -> None:
    assert not any(code.endswith("behind-all") for code in notices(spec))
