"""One artwork behind several windows as a program and the quote page have it.

By hand: three windows of 100 × 150, 30 apart, in borders of 60, 100, 50 and 70 at left, right, top and bottom: 520 × 270. Their
middle is at 240, 125, so an artwork of 400 × 200 begins at 40, 25, and from the back at 520 − 40 − 400 = 80.
"""

from typing import Any

from starlette.testclient import TestClient

from tests.web.shown import Counter
from tests.web.test_api_dimensions import answer
from tests.web.test_photos import THREE, asking

ASKED: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "400", "height": "200"},
    "presentation": "window",
    "mats": [{"thickness": "1.4"}],
    "borders": {"left": "60", "right": "100", "top": "50", "bottom": "70"},
    "windows": [{"width": "100", "height": "150"}] * 3,
    "arrangement": {"across": "30"},
}
PLACE = {"width": "400", "height": "200", "x": "40", "y": "25", "back_x": "80"}


def test_a_program_is_told_where_one_artwork_behind_all_windows_lies(api: TestClient) -> None:
    tree = answer(api, ASKED)
    assert tree["behind_all"] == tree["shop"]["behind_all"] == PLACE
    assert "artwork-behind-all" in {each["code"] for each in tree["notices"]}


def test_where_windows_have_artworks_of_their_own_nothing_is_answered_of_it(
    api: TestClient,
) -> None:
    own = [{"artwork": {"width": "110", "height": "160"}}] * 3
    tree = answer(api, ASKED | {"windows": own})
    assert "behind_all" not in tree
    assert "behind_all" not in tree["shop"]


def test_the_quote_page_says_that_it_took_it_so(counter: Counter) -> None:
    page = counter.post("/quotes", asking(**THREE))
    assert "is taken to lie behind all windows" in page.main


def test_the_quote_page_says_by_how_much_an_artwork_is_too_small_for_it(counter: Counter) -> None:
    """Two mats, of which 10 are seen of the inner one: 3 × 100 and 2 × (20 + 2 × 10) are 380."""
    page = counter.post("/quotes", asking(**{**THREE, "artwork.size": "378x200"}))
    assert "would have to be 2 mm wider to reach behind all windows" in page.main
    assert "is taken to lie behind all windows" not in page.main


def test_the_quote_page_says_how_to_ask_for_it(counter: Counter) -> None:
    page = counter.get("/quotes/new")
    assert page.main.count("One artwork behind all windows: the opening itself") == 1
