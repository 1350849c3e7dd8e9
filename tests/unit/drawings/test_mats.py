"""Plans of one mat; figures by hand from G4, G7 and G10."""

import pytest

from app.drawings import mat_plan
from app.framing import Dimensions, work_out
from app.lengths import Unit
from tests.builders.drawn import (
    SVG,
    Written,
    borders,
    extent,
    many,
    mat,
    moulding,
    read,
    spec,
    texts,
)

MANY = many()


def uneven() -> Dimensions:
    """Artwork 420 × 297, overlap 5, borders 60 left, 90 right, 70 above, 80 below: 560 × 437."""
    return work_out(
        spec(420, 297, mats=(mat(),), borders=borders(60, 90, 70, 80), frames=(moulding(),))
    )


def written(dimensions: Dimensions, layer: int = 1, *, back: bool) -> dict[str, Written]:
    found = texts(read(mat_plan(dimensions, layer, Unit.MM, from_back=back)))
    return {one.text: one for one in found}


def windows(dimensions: Dimensions, *, back: bool) -> list[tuple[float, float, float, float]]:
    root = read(mat_plan(dimensions, 1, Unit.MM, from_back=back))
    return [extent(one) for one in root.iter(f"{SVG}rect")]


def test_from_the_front_the_window_lies_in_its_borders():
    assert (60, 70, 410, 287) in windows(uneven(), back=False)
    front = written(uneven(), back=False)
    assert front["60"].right < front["window 410"].left < front["90"].left
    assert front["70"].bottom < front["80"].top


def test_from_the_back_left_and_right_are_exchanged_and_it_says_so():
    # x from the back = 560 - 60 - 410 = 90 (G10).
    assert (90, 70, 410, 287) in windows(uneven(), back=True)
    back = written(uneven(), back=True)
    assert back["90"].right < back["window 410"].left < back["60"].left
    assert back["70"].bottom < back["80"].top
    assert {"BACK OF MAT 1", "left and right are exchanged"} <= set(back)


def test_a_window_too_small_for_words_has_them_below():
    back = " ".join(written(MANY["tiny"], back=True))
    assert "Back of mat 1: left and right are exchanged." in back
    assert "BACK OF MAT 1" not in back


def test_an_under_mat_fixed_behind_is_measured_from_the_top_mat():
    # Window 1 is 290 + 12 by 190 + 12; package 302 + 110 by 202 + 110; blank 3 less on every
    # side; borders 50 + 6 and 60 + 6 (G3, G4, G7).
    said = written(MANY["trimmed behind"], 2, back=False)
    assert {"top mat 412", "top mat 312", "blank 406", "blank 306", "56", "66"} <= set(said)
    assert "top mat's edges" in " ".join(said)


def test_an_under_mat_on_its_own_edges_is_measured_from_them():
    # 50 + 6 - 3 and 60 + 6 - 3 to a blank of 406 × 306.
    said = written(MANY["own edges"], 2, back=False)
    assert {"blank 406", "blank 306", "53", "63"} <= set(said)
    assert not any(text.startswith("top mat ") for text in said)
    assert "its own edges" in " ".join(said)


@pytest.mark.parametrize("layer", [0, 2, -1])
def test_a_layer_that_the_piece_has_not_is_refused(layer):
    with pytest.raises(ValueError, match=f"layer {layer} of a piece with 1 mats"):
        mat_plan(uneven(), layer, Unit.MM, from_back=False)


def test_the_plan_is_told_in_words():
    root = read(mat_plan(uneven(), 1, Unit.MM, from_back=True))
    assert root[0].text == "Back of mat 1"
    assert root[1].text == (
        "Seen from the back; left and right are exchanged. Blank 560 × 437 mm, window "
        "410 × 287 mm. Borders: left 90, right 60, top 70, bottom 80."
    )
