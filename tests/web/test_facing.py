"""The screen turned to the customer: what may then be asked for, and how it is turned and turned back."""

import re
from collections.abc import Iterator

import pytest
from fastapi.routing import iter_route_contexts
from starlette.testclient import TestClient

from app.documents.quote import details, quote
from app.storage import DATABASE_NAME, Store
from app.web.app import create_app
from app.web.kit.access import BESIDE_CUSTOMER, is_of
from app.web.kit.facing import COOKIE
from app.web.kit.visitor import Role, Turned, Visitor
from tests.builders.hasty import new_sample
from tests.builders.worked import TYPED
from tests.web.at_bench import phone_on
from tests.web.conftest import OWN_ADDRESS
from tests.web.shown import Counter
from tests.web.test_every_route import filled

Route = tuple[str, str]


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with new_sample(tmp_path_factory.mktemp("facing") / DATABASE_NAME, orders=40) as store:
        yield store


@pytest.fixture
def screen(sample: Store) -> Iterator[TestClient]:
    """A screen that can be turned. Nothing is followed."""
    with TestClient(
        create_app(sample),
        base_url=OWN_ADDRESS,
        headers={"sec-fetch-site": "same-origin"},
        follow_redirects=False,
    ) as client:
        yield client


def turned(client: TestClient, back_to: str = "/", to: str = "customer") -> str:
    """Turn the screen, and return where that leads."""
    answer = client.post("/turn", data={"to": to, "next": back_to})
    assert answer.status_code == 303
    return answer.headers["location"]


def test_it_is_turned_for_this_browser_alone_and_for_as_long_as_it_is_open(
    screen: TestClient,
) -> None:
    answer = screen.post("/turn", data={"to": "customer", "next": "/quotes/new"})
    (cookie,) = (
        each for each in answer.headers.get_list("set-cookie") if each.startswith(f"{COOKIE}=")
    )
    assert "httponly" in cookie.lower()
    assert "samesite=lax" in cookie.lower()
    assert "max-age" not in cookie.lower()
    assert "expires" not in cookie.lower()


def test_every_route_but_those_for_a_customer_is_closed(screen: TestClient) -> None:
    turned(screen, "/orders/1")
    routes = {
        (method, route.path)
        for route in iter_route_contexts(screen.app.routes)  # type: ignore[attr-defined]
        for method in (route.methods or ())
        if route.path and method != "HEAD"
    }
    closed = {
        route
        for route in routes - {("POST", "/turn")}
        if screen.request(route[0], filled(route[1], slug="shop")).status_code == 403
    }
    assert len(closed) > 150
    assert routes - closed == BESIDE_CUSTOMER


def test_a_closed_page_says_so_and_is_opened_once_the_screen_is_turned_back(
    screen: TestClient,
) -> None:
    assert turned(screen, "/customers?q=a") == "/customers?q=a"
    answer = screen.get("/customers?q=a")
    assert answer.status_code == 403
    assert "The screen faces the customer" in answer.text
    assert 'name="next" value="/customers?q=a"' in answer.text
    assert turned(screen, "/customers?q=a", to="shop") == "/customers?q=a"
    assert screen.get("/customers?q=a").status_code == 200


def test_what_leads_away_from_the_app_is_not_gone_back_to(screen: TestClient) -> None:
    assert turned(screen, "//elsewhere.example") == "/"


def test_a_program_is_told_so_in_the_one_shape_of_errors(screen: TestClient) -> None:
    turned(screen)
    answer = screen.post("/api/price", json={})
    assert answer.status_code == 403
    assert answer.json()["error"]["code"] == "facing-customer"


def test_the_head_is_the_name_of_the_shop_and_the_way_back(screen: TestClient) -> None:
    turned(screen)
    page = screen.get("/quotes/new").text
    head = re.search(r'<header class="head">.*?</header>', page, re.DOTALL)
    assert head
    words = " ".join(re.sub(r"<[^>]*>", " ", head[0]).split())
    assert words == "Quillmoor Framing Turn back"
    assert "<footer" not in page
    assert 'href="/handbook' not in page


def test_a_page_is_told_which_way_the_screen_faces(screen: TestClient) -> None:
    assert screen.get("/turn").text == "shop"
    turned(screen)
    assert screen.get("/turn").text == "customer"


def test_what_was_to_be_said_once_is_not_said_to_the_customer(counter: Counter) -> None:
    counter.client.post("/customers", data={"name": "Rinn Vale"}, follow_redirects=False)
    counter.client.post("/turn", data={"to": "customer"}, follow_redirects=False)
    assert "Customer added." not in counter.client.get("/quotes/new").text


def test_a_phone_of_the_bench_has_no_such_screen(sample: Store) -> None:
    with phone_on(sample) as phone:
        phone.cookies.set(COOKIE, "1")
        assert phone.get("/stock").status_code == 200
        assert "Turn to the customer" not in phone.get("/stock").text


def test_a_phone_of_the_office_may_face_the_customer(sample: Store) -> None:
    visitor = Visitor(role=Role.OFFICE, phone="Counter", turned=Turned())
    with phone_on(sample, visitor) as phone:
        assert phone.get("/stock").status_code == 403
        assert phone.get("/quotes/new").status_code == 200


HALF_TYPED = {
    "customer": "Rinn Vale",
    "customer.phone": "07700 900 123",
    "artwork.title": "Harbour",
    "artwork.place": "Drawer 3",
    "note": "keep the hook",
    "mats.0.material": "m-101",
    "frames.0.material": "lin",
    "glazing.material": "no such glass",
    "borders.left": "9o",
    "discount": "5",
    "new_moulding.name": "Ash lath",
    "new_moulding.cost": "7.70",
}


def typed_of(form: dict[str, str]) -> dict[str, str]:
    return {name: form.get(name, "") for name in HALF_TYPED}


def test_a_form_that_is_half_typed_comes_back_whole(counter: Counter) -> None:
    """Without scripts: the screen is turned by the form itself, gone on with, and turned back."""
    turning = counter.post("/quotes", HALF_TYPED | {"action": "turn"})
    assert turning.status == 303
    assert COOKIE in turning.headers["set-cookie"]
    facing = counter.get(turning.location).form("/quotes")
    assert facing["mats.0.material"] == "Chalk white"
    assert {"note", "artwork.place", "new_moulding.cost", "discount"} & facing.keys() == set()
    gone_on = counter.post("/quotes", facing | {"artwork.title": "Harbour at dawn"})
    back = counter.post("/quotes", gone_on.form("/quotes") | {"action": "turn"})
    assert f'{COOKIE}=""' in back.headers["set-cookie"]
    back = counter.get(back.location)
    assert typed_of(back.form("/quotes")) == HALF_TYPED | {"artwork.title": "Harbour at dawn"}
    assert 'data-faces="shop"' in back.text


def test_a_discount_that_is_set_aside_counts_in_the_price(counter: Counter) -> None:
    """The customer has no field to bargain over; what was granted is in the sums all the same, and in what is worked out anew."""
    worked = TYPED | {"discount": "10", "customer": "Rinn Vale"}
    facing = counter.go("/quotes", worked | {"action": "turn"})
    again = counter.post("/quotes", facing.form("/quotes") | {"action": "recalculate"})
    for page in (facing, again):
        assert "Discount, %" not in page.text
        assert "<span>Discount</span>" in page.text


def test_a_ready_made_frame_is_called_so_to_the_customer(counter: Counter) -> None:
    facing = counter.go("/quotes", HALF_TYPED | {"action": "turn"})
    assert ">ready-made frame</option>" in facing.text
    assert "from the price book" not in facing.text


@pytest.mark.parametrize("name", ["Imke Sand", "Rinn Vale", "Imke"])
def test_a_customer_is_not_told_whether_the_shop_knows_them(counter: Counter, name: str) -> None:
    counter.post("/customers", {"name": "Imke Sand"})
    assert "known customer" in counter.post("/quotes", {"customer": "Imke Sand"}).text
    facing = counter.go("/quotes", {"customer": name, "action": "turn"})
    assert "As it is to stand on the quote." in facing.text
    for said in ("new customer", "known customer", "of this name", "Part of a name"):
        assert said not in facing.text


def test_what_is_quoted_is_not_said_to_be_agreed_and_adds_to_a_total(counter: Counter) -> None:
    counter.post("/quotes", TYPED | {"customer": "Rinn Vale", "action": "save"})
    before = counter.get("/orders/1/pieces/1/change")
    typed = before.form("/orders/1/pieces/1")
    facing = counter.go("/orders/1/pieces/1", typed | {"action": "turn"})
    assert ", as quoted " in facing.words("price-label")
    sums = facing.words("sheet", id="price")
    assert "Total" in sums
    assert "Subtotal" not in sums


def test_no_piece_is_described_for_the_sums_of_an_order(
    counter: Counter, monkeypatch: pytest.MonkeyPatch
) -> None:
    def described(*_given: object) -> None:
        raise AssertionError("a piece was described")

    counter.post("/quotes", TYPED | {"customer": "Rinn Vale", "action": "save"})
    counter.post("/turn", {"to": "customer", "next": "/orders/1"})
    monkeypatch.setattr(details, "details_of", described)
    monkeypatch.setattr(quote, "details_of", described)
    assert ">86.26<" in counter.get("/orders/1").text  # the worked piece


def test_the_switch_of_a_form_belongs_to_the_form(counter: Counter) -> None:
    head = counter.get("/quotes/new").one("head")
    in_head, in_menu = [each for each in head.iter("button") if each.get("value") == "turn"]
    assert in_head.get("form") == in_menu.get("form") == "quote-form"
    assert counter.get("/quotes/new").one(tag="form", id="quote-form") is not None


def test_enter_in_a_quote_means_what_its_page_is_for_though_the_head_has_buttons_of_it(
    counter: Counter,
) -> None:
    """Enter presses the first button of a form in the order of the document. Source: HTML, 4.10.22.2, implicit submission."""
    pages = {
        "save": counter.get("/quotes/new"),
        "mouldings:frames.0.material": counter.post(
            "/quotes", HALF_TYPED | {"action": "mouldings:frames.0.material"}
        ),
    }
    for enter, page in pages.items():
        tree = page.tree
        (form,) = (each for each in tree.iter("form") if each.get("id") == "quote-form")
        within = set(form.iter("button"))
        first = next(
            button
            for button in tree.iter("button")
            if button.get("form") == "quote-form" or button in within
        )
        assert first.get("value") == enter
        assert first.get("type") == "submit"


def test_what_was_changed_in_it_meanwhile_counts(counter: Counter) -> None:
    facing = counter.go("/quotes", HALF_TYPED | {"action": "turn"}).form("/quotes")
    changed = facing | {"mats.0.material": "Slate blue", "frames.0.material": ""}
    back = counter.go("/quotes", changed | {"action": "turn"}).form("/quotes")
    assert back["mats.0.material"] == "M-140"
    assert back["frames.0.material"] == ""


def test_a_paper_that_was_asked_for_facing_stays_ones_own_but_not_the_other_way() -> None:
    shop, facing = Visitor(), Visitor(turned=Turned(id="a", order=1))
    assert is_of(shop, shop)
    assert is_of(shop, facing)
    assert is_of(facing, facing)
    assert not is_of(facing, shop)
    assert not is_of(Visitor(phone="Counter"), facing)
    assert is_of(Visitor(turned=Turned(id="a", order=1, begun=frozenset({7}))), facing)
    assert not is_of(Visitor(turned=Turned(id="b", order=1)), facing)
