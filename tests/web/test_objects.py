"""An object in a box through HTTP: the quote page, its settings, and as programs ask for it (G22, D7).

Worked by hand: mats 1.4, spacers 25, glass 2, mount board 3, backing 3: 2 + 26.4 + 3 + 3 = 34.4.
"""

from dataclasses import replace
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.services import price_book
from app.storage import Stamp, Store
from tests.unit.orders.test_quoting_object import BOX, SPACER, deep, strip
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown
from tests.web.test_api_dimensions import answer, refused
from tests.web.test_orders import do

DIMENSIONS: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "200", "height": "150", "thickness": "20", "object": True},
    "presentation": "window",
    "mats": [{"thickness": "1.4"}],
    "borders": {"left": "60", "right": "60", "top": "60", "bottom": "60"},
    "glazing": {"thickness": "2"},
    "spacer": "25",
    "mount_board": {"thickness": "3"},
    "backing": {"thickness": "3"},
}


def of_height(height: str, **artwork: Any) -> dict[str, Any]:
    return DIMENSIONS | {"artwork": DIMENSIONS["artwork"] | {"thickness": height} | artwork}


def said(tree: dict[str, Any]) -> dict[str, str]:
    return {notice["code"]: notice["message"] for notice in tree["notices"]}


def test_an_object_adds_nothing_to_the_stack_of_its_box(api: TestClient) -> None:
    """Clear are 26.4 - 20 = 6.4."""
    tree = answer(api, DIMENSIONS)
    assert (tree["stack"], tree["shop"]["stack"]) == ("34.4", "34.4")
    assert "object-close-to-glazing" not in said(tree)
    assert "26.4 mm" in said(tree)["object-depth"]


def test_too_little_room_over_it_names_the_spacer_that_would_do(api: TestClient) -> None:
    """26.4 - 25 = 1.4; 25 + 3 - 1.4 = 26.6."""
    tree = answer(api, of_height("25"))
    assert tree["stack"] == "34.4"
    assert "1.4 mm" in said(tree)["object-close-to-glazing"]
    assert "26.6 mm" in said(tree)["object-close-to-glazing"]


def test_glass_that_would_lie_on_it_is_refused_at_the_spacers(api: TestClient) -> None:
    """30 + 3 - 1.4 = 31.6."""
    found = refused(api, of_height("30"))
    assert set(found) == {"spacer"}
    assert "31.6 mm" in found["spacer"]
    assert answer(api, of_height("30") | {"glazing": None})["stack"] == "36"


def test_an_old_request_keeps_its_sum(api: TestClient) -> None:
    """D1: 2 + 25 + 1.4 + 20 + 3 + 3."""
    flat = {"width": "200", "height": "150", "thickness": "20"}
    assert answer(api, DIMENSIONS | {"artwork": flat})["stack"] == "54.4"
    assert answer(api, of_height("20", object=False))["stack"] == "54.4"


@pytest.mark.parametrize("shown", ["canvas", "canvas-float"])
def test_an_object_is_not_shown_as_a_canvas(api: TestClient, shown: str) -> None:
    asked = {key: value for key, value in DIMENSIONS.items() if key not in ("mats", "borders")}
    assert set(refused(api, asked | {"presentation": shown})) == {"presentation"}


@pytest.mark.parametrize("value", ["yes", 1, None])
def test_whether_it_is_an_object_is_true_or_false(api: TestClient, value: object) -> None:
    assert set(refused(api, of_height("20", object=value))) == {"artwork.object"}


def test_the_description_has_it(api: TestClient) -> None:
    schemas = api.get("/api/openapi.json").json()["components"]["schemas"]
    for name in ("ArtworkAsked", "ArtworkToPrice"):
        assert "object" in schemas[name]["properties"]


@pytest.fixture
def at_counter(counter: Counter, stocked: Store) -> Counter:
    """A counter whose price book has spacers, and a moulding that is deep enough."""
    for material in (SPACER, strip("SP-30", "30"), deep("D-40", "40")):
        price_book.add(stocked, material, Stamp(who="Ilse", now=NOW))
    return counter


def worked(counter: Counter, **changes: str) -> Shown:
    """The page while typing; a__b stands for a.b."""
    typed = {name.replace("__", "."): text for name, text in changes.items()}
    return counter.post("/quotes?live=1", BOX | typed)


def label(page: Shown) -> str:
    return page.words(id="artwork-thickness-label")


def test_the_page_asks_how_high_an_object_is(at_counter: Counter) -> None:
    assert label(at_counter.get("/quotes/new")) == "Thickness"
    page = worked(at_counter)
    assert label(page) == "Height of the object"
    assert page.one(id="artwork-thickness-label").get("data-unfold") is not None
    assert label(worked(at_counter, artwork__kind="print")) == "Thickness"
    live = at_counter.post("/quotes?live=1", BOX, **{"x-partial": "1"})
    assert label(live) == "Height of the object"


def test_the_page_says_the_depth_of_the_box_and_what_holds_it(at_counter: Counter) -> None:
    """Mat 1.5: 26.5 from glass to board, 2 + 26.5 + 3 + 3 = 34.5, of 14; 36.5 with the points."""
    page = worked(at_counter)
    assert page.status == 200
    assert page.facts["glass to mount board"] == "26.5 mm"
    assert page.facts["stack"] == "34.5 of 14 mm in the rebate"
    price = page.words(id="price")
    assert "at least 36.5 mm: D-40 (40 mm)." in price
    assert "20.5 mm more than the rebate" not in price
    assert "22.5 mm more than the rebate of 14 mm" in price
    assert "SP-30" not in price
    unglazed = worked(at_counter, glazing__material="")
    assert unglazed.facts["front to mount board"] == "26.5 mm"


def test_the_page_names_the_spacers_of_the_price_book(at_counter: Counter) -> None:
    """25 + 3 - 1.5 = 26.5."""
    price = worked(at_counter, artwork__thickness="25").words(id="price")
    assert "1.5 mm stays clear" in price
    assert "at least 26.5 mm: SP-30 (30 mm)." in price


def test_glass_on_the_object_stands_at_the_depth_of_the_spacers(at_counter: Counter) -> None:
    """30 + 3 - 1.5 = 31.5."""
    page = at_counter.post("/quotes", BOX | {"artwork.thickness": "30", "action": "save"})
    assert page.status == 422
    assert "31.5 mm" in page.error("spacer.depth")
    assert page.fields["artwork.thickness"] == "30"
    assert page.has("drawing-front")


def test_how_an_object_is_shown_is_refused_where_it_is_chosen(at_counter: Counter) -> None:
    page = at_counter.post("/quotes", BOX | {"presentation": "canvas", "action": "save"})
    assert page.status == 422
    assert "mount board" in page.error("presentation")


def test_an_object_that_is_kept_reads_the_same_on_order_and_bench(at_counter: Counter) -> None:
    form = BOX | {"customer": "Amber Quill", "version": "0", "action": "save"}
    order = at_counter.go("/quotes", form)
    assert order.facts["glass to mount board"] == "26.5 mm"
    assert "From glass to mount board: 26.5 mm; the object is 20 mm high" in order.main
    do(at_counter, "/orders/1", "take", deposit="")
    bench = at_counter.get("/orders/1/pieces/1")
    assert "mount the object on the mount board" in bench.main.lower()
    assert "then fix the spacers along the walls of the rebate" in bench.main


def test_the_room_over_an_object_is_a_setting(at_counter: Counter) -> None:
    """8 wanted, 26.5 - 20 = 6.5 clear: 20 + 8 - 1.5 = 26.5."""
    settings = at_counter.get("/settings/allowances")
    assert settings.fields["object_clearance"] == "3"
    form = settings.form("/settings/allowances") | {"object_clearance": "8"}
    assert at_counter.post("/settings/allowances", form).status == 303
    assert at_counter.get("/settings/allowances").fields["object_clearance"] == "8"
    price = worked(at_counter).words(id="price")
    assert "only 6.5 mm stays clear between it and the glazing; 8 mm is wanted" in price


PRICED: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"size": "200 x 150", "kind": "object", "thickness": "25", "object": True},
    "presentation": "float",
    "mats": [{"material": "M-101"}],
    "frames": [{"material": "LIN-20"}],
    "glazing": "G-2",
    "mount_board": "B-3",
    "backing": "B-3",
    "spacer": {"material": "SP-25", "depth": "25"},
}


def test_a_price_asked_for_an_object_says_what_the_price_book_has(at_counter: Counter) -> None:
    response = at_counter.client.post("/api/price", json=PRICED)
    assert response.status_code == 200, response.text
    tree = response.json()
    assert tree["dimensions"]["stack"] == "34.5"
    codes = said(tree)
    assert "SP-30" in codes["spacer-deep-enough"]
    assert "D-40" in codes["moulding-deep-enough"]


def test_a_price_asked_by_kind_alone_keeps_its_sum(at_counter: Counter) -> None:
    """D1: 2 + 25 + 1.5 + 25 + 3 + 3 = 59.5."""
    artwork = {key: value for key, value in PRICED["artwork"].items() if key != "object"}
    response = at_counter.client.post("/api/price", json=PRICED | {"artwork": artwork})
    assert response.json()["dimensions"]["stack"] == "59.5"
    assert not [code for code in said(response.json()) if code.startswith("object")]


def test_a_price_of_glass_on_an_object_is_refused_at_the_spacers(at_counter: Counter) -> None:
    artwork = PRICED["artwork"] | {"thickness": "30"}
    response = at_counter.client.post("/api/price", json=PRICED | {"artwork": artwork})
    assert response.status_code == 422
    assert [field["path"] for field in response.json()["error"]["fields"]] == ["spacer.depth"]


def test_a_blank_depth_of_spacers_is_that_of_the_strip(at_counter: Counter, stocked: Store) -> None:
    """By its section, or by what its name ends with; where neither says it, it is asked."""
    page = worked(at_counter, spacer__material="SP-30", spacer__depth="")
    assert page.status == 200
    assert page.words(id="spacer-depth-said") == "30 mm"
    bare = replace(SPACER, code="SP-N", profile=None)
    for code, name in (("SP-N", "Spacer strip, white, 27 mm"), ("SP-X", "Spacer strip, white")):
        price_book.add(stocked, replace(bare, code=code, name=name), Stamp(who="Ilse", now=NOW))
    named = worked(at_counter, spacer__material="SP-N", spacer__depth="")
    assert named.words(id="spacer-depth-said") == "27 mm"
    unsaid = {**BOX, "spacer.material": "SP-X", "spacer.depth": "", "customer": "Anna"}
    refused = at_counter.post("/quotes", unsaid | {"action": "save"})
    assert "the price book does not say how deep these are" in refused.error("spacer.depth")
