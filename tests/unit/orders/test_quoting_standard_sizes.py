"""Standard sizes to take a package up to, as what is typed then (G5)."""

import pytest

from app.framing import Edges, work_out
from app.lengths import Size, mm
from app.orders.quoting.request import read_piece
from app.orders.quoting.standard_sizes import SizeOffer, standard_sizes
from tests.builders.photograph import PIECE, find
from tests.builders.worked import SHOP


def offers_for(typed: dict[str, str]) -> tuple[SizeOffer, ...]:
    return standard_sizes(work_out(read_piece(typed, SHOP, find).spec), SHOP)


def taken(typed: dict[str, str], which: int = 0) -> dict[str, str]:
    return typed | offers_for(typed)[which].fields


def borders_of(typed: dict[str, str]) -> Edges:
    return work_out(read_piece(typed, SHOP, find).spec).layers[0].borders


def test_the_next_sizes_hold_the_package_with_its_borders() -> None:
    """Window 90 × 140, borders 60: package 210 × 260. Of the frames in cm 20 × 30 is too narrow;
    by area 21 × 29.7 is 623.7 cm², 24 × 30 is 720, 30 × 30 is 900, 28 × 35 is 980."""
    assert [offer.size for offer in offers_for(PIECE)] == [
        "21 × 29.7 cm",
        "24 × 30 cm",
        "30 × 30 cm",
    ]


def test_the_borders_follow_equal_at_the_sides() -> None:
    """In 240 × 300: (240 − 90) / 2 = 75 left and right, (300 − 140) / 2 = 80 above and below."""
    typed = taken(PIECE, 1)
    assert (typed["sizing"], typed["package.size"]) == ("package", "24 × 30 cm")
    assert borders_of(typed) == Edges(left=mm(75), right=mm(75), top=mm(80), bottom=mm(80))


def test_what_the_bottom_had_more_it_keeps() -> None:
    """Bottom 75, 15 more than the top: 210 × 275 in 210 × 297; 297 − 140 = 157 = 71 + 86."""
    typed = taken(PIECE | {"borders.bottom": "75"})
    assert typed["weighting"] == "15"
    assert borders_of(typed) == Edges(left=mm(60), right=mm(60), top=mm(71), bottom=mm(86))


def test_a_package_that_lies_gets_a_size_that_lies() -> None:
    typed = PIECE | {"artwork.size": "150 x 100"}
    assert offers_for(typed)[0].size == "21 × 29.7 cm landscape"
    assert work_out(read_piece(taken(typed), SHOP, find).spec).package == Size(mm(297), mm(210))


def test_a_size_that_was_taken_leads_to_the_next_one() -> None:
    assert offers_for(taken(PIECE))[0].size == "24 × 30 cm"


def test_gaps_that_followed_stay_as_they_came_out() -> None:
    """Two windows of 90 in 400 between borders of 60 leave a gap of 400 − 120 − 180 = 100."""
    both = {"windows.count": "2", "sizing": "both", "package.size": "400 x 260"}
    typed = taken(PIECE | both)
    assert typed["arrangement.across"] == "100"
    assert typed["package.size"] == "30 × 40 cm landscape"


def test_places_move_together_to_the_middle() -> None:
    """Window 90 × 140 at 30, 40 with the same borders right and below: package 150 × 220, up to
    150 × 200? No: 220 is too long. 180 × 240: (180 − 90) / 2 = 45, (240 − 140) / 2 = 50."""
    places = {"arrangement.placing": "free", "windows.0.x": "30", "windows.0.y": "40"}
    free = {name: text for name, text in PIECE.items() if name != "borders.left"} | places
    typed = taken(free)
    assert typed["package.size"] == "18 × 24 cm"
    assert (typed["windows.0.x"], typed["windows.0.y"]) == ("45", "50")


@pytest.mark.parametrize(
    "changes",
    [
        {"presentation": "close", "mats.0.material": ""},
        {"presentation": "canvas"},
        {"borders.left": "600"},
    ],
    ids=["close fit", "canvas", "larger than any"],
)
def test_nothing_is_offered_where_no_borders_could_follow(changes: dict[str, str]) -> None:
    assert offers_for(PIECE | changes) == ()
