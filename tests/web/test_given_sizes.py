"""An outside, and a frame that is given, through HTTP: the quote page, the price book, and as programs ask (G23, G24).

Worked by hand: 500 − 2 × (20 − 6) − 3 = 469, 400 − 31 = 369; a rebate of 402 × 302 less 3 is 399 × 299.
"""

from typing import Any

from starlette.testclient import TestClient

from app.services import price_book
from app.storage import Stamp, Store
from tests.unit.orders.test_quoting_given_sizes import OUTSIDE, OWN, READY, READY_MADE, REGLAZED
from tests.web.conftest import NOW
from tests.web.shown import Counter
from tests.web.test_api_dimensions import answer, refused

DIMENSIONS: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "300", "height": "200"},
    "presentation": "window",
    "mats": [{"thickness": "1.4"}],
    "frames": [{"face": "20", "lip": "6", "rebate_depth": "14"}],
}
GIVEN = {
    **{name: value for name, value in DIMENSIONS.items() if name != "frames"},
    "given_frame": {"rebate": {"width": "402", "height": "302"}, "depth": "14"},
}


def test_a_program_gives_the_outside(api: TestClient) -> None:
    tree = answer(api, DIMENSIONS | {"outside": {"width": "500", "height": "400"}})
    assert tree["package"] == {"width": "469", "height": "369"}
    assert tree["frames"][0]["outside"] == {"width": "500", "height": "400"}
    assert "given_frame" not in tree


def test_a_program_gives_a_frame(api: TestClient) -> None:
    tree = answer(api, GIVEN)
    assert tree["package"] == {"width": "399", "height": "299"}
    assert tree["frames"] == []
    assert tree["given_frame"] == {
        "rebate": {"width": "402", "height": "302"},
        "outside": None,
        "lip": None,
        "lean": "0",
    }


def test_the_lean_of_a_frame_is_answered(api: TestClient) -> None:
    """400 × 300 with 503 and 497: (253009 − 247009)/1600 = 3.75."""
    frame = {
        "rebate": {"width": "400", "height": "300"},
        "diagonals": {"falling": "503", "rising": "497"},
    }
    tree = answer(api, GIVEN | {"given_frame": frame})
    assert tree["given_frame"]["lean"] == "3.75"
    assert "frame-out-of-square" in {one["code"] for one in tree["notices"]}
    wrong = frame | {"diagonals": {"falling": "503", "rising": "540"}}
    assert set(refused(api, GIVEN | {"given_frame": wrong})) == {"given_frame.diagonals"}


def test_one_of_package_outside_and_frame_is_enough(api: TestClient) -> None:
    size = {"width": "500", "height": "400"}
    assert set(refused(api, GIVEN | {"package": size})) == {"package"}
    assert set(refused(api, DIMENSIONS | {"package": size, "outside": size})) == {"outside"}


def test_what_is_in_a_frame_needs_no_size(api: TestClient) -> None:
    asked = {
        "unit": "mm",
        "presentation": "as-it-came",
        "given_frame": GIVEN["given_frame"],
        "glazing": {"thickness": "2"},
    }
    assert answer(api, asked)["glazing"] == {"width": "399", "height": "299"}


SIDES = ("left", "right", "top", "bottom")


def with_ready_made(store: Store) -> None:
    price_book.add(store, READY, Stamp(who="Ilse", now=NOW))


def test_the_boxes_that_follow_show_what_came_out(counter: Counter) -> None:
    page = counter.post(
        "/quotes?live=1", {**OUTSIDE, "customer": "Anna", "outside.size": "50 x 42 cm"}
    )
    assert [page.one(id=f"borders-{side}-hint").get("data-inside") for side in SIDES] == [
        "80",
        "80",
        "90",
        "90",
    ]
    assert "470 × 390 mm" in page.text
    assert "Equal borders of 80 mm" in page.text


def test_the_button_makes_the_borders_equal_without_a_script(counter: Counter) -> None:
    typed = {**OUTSIDE, "customer": "Anna", "outside.size": "50 x 42 cm"}
    page = counter.post("/quotes", {**typed, "action": "take:500 × 400"})
    assert page.fields["outside.size"] == "500 × 400"


def test_what_is_not_used_says_so_and_can_be_used(counter: Counter) -> None:
    typed = {**OUTSIDE, "customer": "Anna", "package.size": "45 x 35 cm"}
    page = counter.post("/quotes?live=1", typed)
    assert "Not used: the outside is given" in page.text
    used = counter.post("/quotes", {**typed, "action": "say:sizing:package"})
    assert used.fields["sizing"] == "package"
    assert "450 × 350 mm" in used.text


def test_a_frame_that_was_brought_in_is_quoted_and_printed(counter: Counter) -> None:
    page = counter.post("/quotes?live=1", {**OWN, "customer": "Anna"})
    assert "400 × 302 mm" in page.text
    assert "397 × 299 mm" in page.text
    reglazed = counter.post("/quotes?live=1", {**REGLAZED, "customer": "Anna"})
    assert "402 × 302 mm" in reglazed.text
    assert "399 × 299 mm" in reglazed.text


def test_a_ready_made_frame_stands_in_the_price_book(stocked: Store, counter: Counter) -> None:
    with_ready_made(stocked)
    listed = counter.get("/materials?kind=ready-made")
    assert "RM-4030" in listed.text
    assert "402 × 302" in listed.text
    form = counter.get("/materials/RM-4030/edit")
    assert form.fields["frame.rebate"] == "402 × 302"
    page = counter.post("/quotes?live=1", {**READY_MADE, "customer": "Anna"})
    assert "399 × 299 mm" in page.text
    kept = counter.get("/materials/price-book.csv")
    assert "402 × 302" in kept.text


def test_a_program_prices_a_ready_made_frame_and_an_outside(
    stocked: Store, counter: Counter
) -> None:
    with_ready_made(stocked)
    api = counter.client
    asked: dict[str, Any] = {
        "unit": "mm",
        "artwork": {"width": "300", "height": "200"},
        "mats": [{"material": "M-101"}],
        "given_frame": {"material": "RM-4030"},
    }
    priced = api.post("/api/price", json=asked).json()
    assert priced["dimensions"]["package"] == {"width": "399", "height": "299"}
    twice = api.post("/api/price", json=asked | {"outside": {"size": "50 x 40 cm"}})
    assert twice.status_code == 422
    assert {each["path"] for each in twice.json()["error"]["fields"]} == {"outside"}
    own = asked | {
        "given_frame": {"rebate": {"width": "402", "height": "302"}, "depth": "16"},
    }
    assert api.post("/api/price", json=own).json()["dimensions"]["frames"] == []
    whole = {name: value for name, value in asked.items() if name != "given_frame"}
    whole |= {"frames": [{"material": "LIN-20"}], "outside": {"size": "50 x 40 cm"}}
    tree = api.post("/api/price", json=whole).json()
    assert tree["dimensions"]["package"] == {"width": "470", "height": "370"}
