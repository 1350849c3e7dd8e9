"""An outside, and a frame that is given, through HTTP: the quote page, the price book, and as programs ask (G23, G24).

Worked by hand: 500 − 2 × (20 − 6) − 3 = 469, 400 − 31 = 369; a rebate of 402 × 302 less 3 is 399 × 299.
"""

from typing import Any

from starlette.testclient import TestClient

from app.services import price_book, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.unit.orders.test_quoting_given_sizes import OUTSIDE, OWN, READY, READY_MADE, REGLAZED
from tests.web.conftest import NOW
from tests.web.shown import Counter, words
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
    assert "Not used: the outside is fixed" in page.text
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


def test_a_size_that_would_not_be_used_is_asked_about_before_the_quote_is_kept(
    counter: Counter,
) -> None:
    """The borders are what is given, and an outside is typed: it is one or the other, and nothing goes in silence."""
    typed = {**TYPED, "customer": "Anna", "outside.size": "60 x 50 cm", "action": "save"}
    refused = counter.post("/quotes", typed)
    assert refused.status == 422
    said = refused.error("outside.size")
    assert "“60 x 50 cm” is typed here. Not used: the borders are fixed" in said
    assert "choose “Fix the outside instead” to use it, or “Leave it out”" in said
    assert refused.fields["outside.size"] == "60 x 50 cm"
    left = counter.post("/quotes", {**refused.fields, "action": "leave:outside.size"})
    assert left.fields["outside.size"] == ""
    kept = counter.go("/quotes", {**left.fields, "action": "save"})
    assert "The quote is saved as Q-2026-0001." in kept.main


def test_that_one_is_used_after_all_leaves_nothing_to_ask(counter: Counter) -> None:
    typed = {**TYPED, "customer": "Anna", "package.size": "50 x 60 cm"}
    used = counter.post("/quotes", {**typed, "action": "say:sizing:package"})
    assert (
        "The quote is saved as Q-2026-0001."
        in counter.go("/quotes", {**used.fields, "action": "save"}).main
    )


def test_what_belongs_to_nothing_is_asked_about_with_all_else_that_is_wrong(
    counter: Counter,
) -> None:
    typed = {
        **TYPED,
        "customer": "Anna",
        "mats.2.reveal": "7",
        "hardware.1.count": "3",
        "extras.0.count": "2",
        "mats.2.core": "black",
        "discount": "many",
        "action": "save",
    }
    refused = counter.post("/quotes", typed)
    assert "“7” is typed here. Not used: no mat is chosen" in refused.error("mats.2.reveal")
    assert "“black” is typed here. Not used: no mat is chosen" in refused.error("mats.2.core")
    assert "no hardware is chosen beside it" in refused.error("hardware.1.count")
    assert "no extra is chosen beside it" in refused.error("extras.0.count")
    assert refused.error("discount")


def test_what_was_told_when_a_piece_was_agreed_is_not_asked_again(
    counter: Counter, stocked: Store
) -> None:
    act = Stamp(who="Ilse", now=NOW)
    asked = CustomerRequest(name="Anna")
    quotes.save_new(stocked, asked, TYPED | {"outside.size": "60 x 50 cm"}, SHOP, act)
    form = counter.get("/orders/1/pieces/1/change").form("/orders/1/pieces/1")
    form |= {"artwork.title": "Heron", "action": "save"}
    assert "its price stays as agreed" in counter.go("/orders/1/pieces/1", form).main


def test_measures_of_a_frame_that_is_made_are_left_out_together(counter: Counter) -> None:
    typed = {**TYPED, "given_frame.rebate": "402 x 302", "given_frame.depth": "16"}
    page = counter.post("/quotes", {**typed, "customer": "Anna", "action": "recalculate"})
    action = "leave:given_frame.rebate,given_frame.depth"
    buttons = {each.get("value"): words(each) for each in page.tree.iter("button")}
    assert buttons[action] == "Leave it out"
    left = counter.post("/quotes", {**typed, "customer": "Anna", "action": action})
    assert (left.fields["given_frame.rebate"], left.fields["given_frame.depth"]) == ("", "")
