"""What stands in the HTML of every page and part while the screen faces the customer: nothing of the shop's own.

The shop is the worked one with marks in all that is the shop's own: codes, suppliers, remarks and places begin with an X
that nothing else has, as do other customers and whoever works here; what materials cost is no round figure. All that the app
answers is looked through: every route, the live parts of the quote page, finders, refusals and errors.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from html import unescape
from pathlib import Path

import pytest
from fastapi.routing import iter_route_contexts
from starlette.testclient import TestClient

from app.lengths import mm
from app.money import show_money
from app.orders import Agreed, Order, Stage
from app.pricing import Material
from app.services import orders, quotes, stock
from app.services import shop as shops
from app.services.material_offers import KIND_AT
from app.services.price_book import by_code
from app.services.stock import Received
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.stock.offcuts import Offcut
from app.storage import DATABASE_NAME, DiskFull, NotInPlace, PageRequest, Stamp, Store
from app.web.app import create_app
from app.web.kit import log_file
from app.web.orders import designs_routes
from app.web.quotes import routes as quotes_routes
from seed_demo.build import build_demo
from tests.builders.hasty import new_store
from tests.builders.values import euro
from tests.builders.worked import BOOK, SHOP, TOP_MAT, TYPED
from tests.web.conftest import NOW, OWN_ADDRESS
from tests.web.shown import Counter
from tests.web.test_every_route import filled

pytestmark = pytest.mark.slow

ACT = Stamp(who="Xstaff", now=NOW)
COSTS = ("4.37", "10.91", "10.93", "20.83", "40.87", "8.59", "20.71", "2.39", "10.97")
OURS, OTHERS = "Amber Quill", "Xavier Otherman"
NEW_MOULDING = {
    "new_moulding.name": "Xlath",
    "new_moulding.face": "20",
    "new_moulding.rebate_depth": "15",
    "new_moulding.cost": "77.77",
}


def code(plain: str) -> str:
    return f"XQ{plain}"


def marked(material: Material, cost: str) -> Material:
    """A material with a mark on everything of it that no customer is to see."""
    return replace(
        material,
        code=code(material.code),
        cost=euro(cost),
        supplier="Xsupplies & Sons",
        notes="Xremark",
        tags=("xword",),
    )


ALIKE = replace(TOP_MAT, code="M-102", colour="#efe8d8")
"""A mat that is called as the top mat is."""

MARKED = tuple(marked(material, cost) for material, cost in zip((*BOOK, ALIKE), COSTS, strict=True))

PIECE = {path: code(text) if path in KIND_AT else text for path, text in TYPED.items()} | {
    "note": "Xnote for the bench",
    "artwork.place": "Xshelf 3",
}


@dataclass(frozen=True)
class Screen:
    """A shop whose screen faces the customer, with two designs of a quote and an order of somebody else's."""

    counter: Counter
    store: Store
    quote: str
    other: str

    @property
    def agreed(self) -> Iterator[Agreed]:
        for number in (1, 2):
            for piece in orders.get(self.store, number).pieces:
                yield from (design.agreed for design in piece.designs)


def fill(store: Store) -> None:
    shops.set_up(store, replace(SHOP, people=("Xstaff",)), ACT)
    with store.writing() as work:
        work.materials.add_all(MARKED, now=NOW)
    for name in (OURS, OTHERS):
        who = CustomerRequest(name=name, phone="07700 900 1" + str(len(name)))
        quotes.save_new(store, who, PIECE, shops.get(store).value, ACT)
    stick = Item(
        material=code("LIN-20"),
        form=StockForm.STICK,
        unit_cost=euro("13.11"),
        length=mm(3000),
        place="Xbay",
    )
    stock.receive(store, Received(item=stick, count=3), ACT)
    rest = Offcut(
        material=code("LIN-20"), unit_cost=euro("4.37"), length=mm(900), size=None, place="Xbay"
    )
    stock.keep_offcut(store, rest, ACT)


@pytest.fixture(scope="module")
def screen(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Screen]:
    with (
        new_store(tmp_path_factory.mktemp("faces") / DATABASE_NAME) as store,
        TestClient(
            create_app(store, now=lambda: NOW),
            base_url=OWN_ADDRESS,
            headers={"sec-fetch-site": "same-origin"},
            raise_server_exceptions=False,
        ) as client,
    ):
        fill(store)
        counter = Counter(client)
        at = "/orders/1/pieces/1/designs"
        form = counter.get(f"{at}/new?like=1").form(at)
        counter.go(at, form | {"glazing.material": code("A-3"), "action": "save"})
        shown = counter.get("/orders/1").text + counter.get("/orders/1/pieces/1/change").text
        assert {"XQLIN-20", "Xstaff", "notice-word", "margin"} <= set(re.findall(r"[\w-]+", shown))
        client.post("/turn", data={"to": "customer", "next": "/orders/1"})
        yield Screen(counter, store, "/orders/1", "/orders/2")


@pytest.fixture(scope="module")
def routes(screen: Screen) -> frozenset[tuple[str, str]]:
    return frozenset(
        (method, route.path)
        for route in iter_route_contexts(screen.counter.client.app.routes)  # type: ignore[attr-defined]
        for method in (route.methods or ())
        if route.path and method != "HEAD"
    )


SHOPS_OWN = re.compile(
    r"\bX(?:Q|supp|remark|staff|note|bay|shelf|lath|word)\w*|\bnotice-(?:risk|look|note|word)\b|below cost|shop-only"
    r"|(?<!Float )\bmargin\b|\b(?:markup|supplier|on the rack|offcut|earned per hour)\b|href=./handbook|(?<![\d.])77\.77",
    re.IGNORECASE,
)
FIGURE = re.compile(r"(?<![\d.,])\d[\d,]*\.\d\d(?![\d])")
DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
KEY = re.compile(r'name="once" value="[^"]+"')
TAG = re.compile(r"<[^>]*>")


def amounts_of(agreed: Agreed) -> Iterator[str]:
    """What a piece costs the shop and what it earns by it."""
    price = agreed.price
    found = [
        price.cost,
        price.margin,
        price.earnings_per_hour,
        *(each.cost for each in price.lines),
    ]
    costs = (material.cost for _, material in agreed.chosen.materials())
    # Below one a figure may as well be a price that is rounded.
    yield from (show_money(amount) for amount in (*found, *costs) if amount and amount.minor >= 100)


def given_away(text: str, screen: Screen) -> set[str]:
    """What of the shop's own a text holds. Of a drawing its words are looked at."""
    seen = read_as_text(text)
    secret = {amount for agreed in screen.agreed for amount in amounts_of(agreed)}
    return set(SHOPS_OWN.findall(seen)) | (set(FIGURE.findall(seen)) & secret)


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Counter, Store]]:
    """The sample shop facing the customer: quotes and orders at every stage, with designs, lines, payments and papers."""
    with new_store(tmp_path_factory.mktemp("sample") / DATABASE_NAME) as store:
        build_demo(store, orders=40)
        with TestClient(
            create_app(store), base_url=OWN_ADDRESS, headers={"sec-fetch-site": "same-origin"}
        ) as client:
            yield Counter(client), store


def read_as_text(html: str) -> str:
    """A page with all that stands in it but the coordinates of its drawings."""
    return unescape(KEY.sub("", DRAWING.sub(lambda svg: TAG.sub(" ", svg[0]), html)))


def names_of_the_shop(store: Store) -> set[str]:
    """The suppliers, and the codes that are neither a number nor a word nor a part of a material's name."""
    book = [kept.value for kept in by_code(store).values()]
    called = "\n".join(material.name for material in book).casefold()
    found = {code for each in book if (code := each.code.casefold()) not in called}
    suppliers = {each.supplier for each in book} - {"", shops.get(store).value.name}
    codes = {each for each in found if not each.isdigit() and not each.isalpha()}
    return codes | {each.casefold() for each in suppliers}


def secrets_of(order: Order, customers: set[str]) -> set[str]:
    """Notes, places and other customers."""
    notes = {design.agreed.note for piece in order.pieces for design in piece.designs}
    places = {piece.artwork.place for piece in order.pieces}
    return (notes | places | customers) - {"", order.customer_name}


def pages_of(order: Order) -> Iterator[str]:
    yield from (f"/orders/{order.id}{page}" for page in ("", "/wall", "/pieces/new"))
    for piece in order.pieces[:3]:
        for page in ("/change", "/show", "/designs", "/designs/new"):
            yield f"/orders/{order.id}/pieces/{piece.number}{page}"


@pytest.mark.parametrize("stage", Stage)
def test_no_quote_or_order_at_any_stage_gives_anything_away(
    sample: tuple[Counter, Store], stage: Stage
) -> None:
    counter, store = sample
    every = orders.listed(store, page=PageRequest(size=100)).rows
    here = [orders.get(store, row.id) for row in every if row.stage is stage][:3]
    assert here
    words = re.compile("|".join(rf"\b{re.escape(each)}\b" for each in names_of_the_shop(store)))
    for order in here:
        counter.post("/turn", {"to": "shop"})
        counter.post("/turn", {"to": "customer", "next": f"/orders/{order.id}"})
        secrets = secrets_of(order, {row.customer_name for row in every})
        for address in pages_of(order):
            answer = counter.client.get(address)
            assert answer.status_code != 403, address
            text = read_as_text(answer.text)
            given = {*words.findall(text.casefold()), *SHOPS_OWN.findall(text)}
            assert given | {each for each in secrets if each in text} == set(), address


def test_the_marks_are_found_where_they_stand(screen: Screen) -> None:
    said = "<p>XQlin-20</p> <b class=notice-risk> 23.64 Xstaff costs 4.37, margin"
    assert {"XQlin", "Xstaff", "notice-risk", "4.37", "margin"} <= given_away(said, screen)


def test_no_route_gives_anything_away(screen: Screen, routes: frozenset[tuple[str, str]]) -> None:
    answers: dict[str, str] = {}
    for method, path in sorted(routes):
        for number in ("1", "2", "77"):
            for named in ({"order_id": number}, {"number": number}, {"design": number}):
                address = filled(path, slug="shop", **named)
                if f"{method} {address}" in answers:
                    continue
                if not address.endswith((".pdf", ".png", ".css", "/turn")):
                    answer = screen.counter.client.request(method, address)
                    assert answer.status_code < 500, address
                    answers[f"{method} {address}"] = answer.text
    assert len(answers) > 250
    found = {address: said for address in answers if (said := given_away(answers[address], screen))}
    assert found == {}
    # Another customer stands on no page at all, and the one whose order is open on some.
    assert any(OURS in text for text in answers.values())
    assert {address for address, text in answers.items() if OTHERS in text} == set()


EDITS: tuple[tuple[str, dict[str, str]], ...] = (
    ("whole", {}),
    ("nothing typed", dict.fromkeys(PIECE, "")),
    ("a name that two have", {"mats.0.material": "Chalk"}),
    ("no such name", {"mats.0.material": "Umber"}),
    ("a part of codes", {"mats.0.material": "xqm"}),
    ("a code and a half", {"frames.0.material": "xqlin-2"}),
    ("a supplier", {"frames.0.material": "xsupplies"}),
    ("two words, one of them a code", {"mats.0.material": "xqm chalk"}),
    ("a code of another kind", {"glazing.material": code("M-101")}),
    ("a size that cannot be", {"artwork.size": "wide"}),
    ("a doubtful size", {"artwork.size": "40x30"}),
    ("too deep", {"artwork.thickness": "60"}),
    ("a moulding of one's own", {"frames.0.material": "", **NEW_MOULDING}),
    ("one that lacks something", {**NEW_MOULDING, "new_moulding.face": ""}),
    ("no mats", {"presentation": "canvas"}),
    ("several alike", {"copies": "3"}),
    ("somebody else begun", {"customer": "Xav"}),
    ("somebody else's name", {"customer": "Xavier"}),
    ("somebody new", {"customer": "Rinn Vale"}),
    ("a colour of one’s own", {"match": "own", "match.own": "#51627a"}),
)


@pytest.mark.parametrize(
    "where", ["/quotes", "/orders/1/pieces", "/orders/1/pieces/1", "/orders/1/pieces/1/designs"]
)
@pytest.mark.parametrize("edit", EDITS, ids=[name for name, _ in EDITS])
def test_no_form_that_was_typed_before_the_screen_was_turned_gives_anything_away(
    screen: Screen, where: str, edit: tuple[str, dict[str, str]]
) -> None:
    """Turned with the form, gone on in it, its parts, its choices of mouldings, and what is refused when it is kept."""
    typed = {**PIECE, **edit[1], "version": "1", "usual": "{}"}
    begun = screen.counter.post(where, {**typed, "action": "recalculate"})
    form = begun.form(where)
    texts = [begun.text]
    actions = ("recalculate", "mouldings:frames.0.material", "view")
    texts += [screen.counter.post(where, form | {"action": action}).text for action in actions]
    live = screen.counter.post(f"{where}?live=1", form, **{"x-partial": "1"})
    texts.append(live.text)
    if edit[0] not in (
        "whole",
        "a colour of one’s own",
        "several alike",
        "somebody new",
        "no mats",
    ):
        texts.append(screen.counter.post(where, form | {"action": "save"}).text)
    assert "aside" in form
    assert [said for text in texts if (said := given_away(text, screen) - {"Xav", "Xavier"})] == []
    assert all(OTHERS not in text and "Otherman" not in text for text in texts)


@pytest.mark.parametrize("path", KIND_AT)
def test_no_list_of_materials_gives_anything_away(screen: Screen, path: str) -> None:
    for q in ("", "a", "xq", "chalk"):
        answer = screen.counter.post(f"/quotes/materials?at={path}&q={q}", PIECE)
        assert answer.status == 200
        assert given_away(answer.text, screen) == set()


def test_the_lists_are_of_names_with_their_prices(screen: Screen) -> None:
    listed = screen.counter.post("/quotes/materials?at=mats.0.material&q=chalk", PIECE)
    assert 'data-value="Chalk white"' in listed.text
    assert 'data-value="Chalk white (2)"' in listed.text
    assert listed.text.count('class="amount"') == 2


def refused(screen: Screen) -> dict[str, Callable[[], str]]:
    counter = screen.counter
    take = "/orders/1/pieces/1/designs/2/take"
    return {
        "404": lambda: counter.get("/orders/999").text,
        "404 of a part": lambda: counter.get("/orders/1/pieces/1/show?design=9").text,
        "409": lambda: counter.post(take, {"version": "0"}).text,
        "422": lambda: counter.get("/orders/1/pieces/1/show?design=none").text,
        "405": lambda: counter.client.put("/quotes").text,
        "closed": lambda: counter.get("/stock").text,
        "json": lambda: counter.post("/api/price").text,
    }


@pytest.mark.parametrize("which", ["404", "404 of a part", "409", "422", "405", "closed", "json"])
def test_no_refusal_gives_anything_away(screen: Screen, which: str) -> None:
    text = refused(screen)[which]()
    assert len(text) > 40
    assert given_away(text, screen) == set()


def test_no_bug_gives_anything_away(screen: Screen, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_given: object, **_named: object) -> None:
        raise RuntimeError("XQLIN-20 of Xsupplies & Sons at 4.37")

    monkeypatch.setattr(designs_routes, "show_page", broken)
    monkeypatch.setattr(log_file, "kept_at", lambda: FILE)
    answer = screen.counter.get("/orders/1/pieces/1/show")
    assert answer.status == 500
    assert "is in its log." in answer.text
    assert given_away(answer.text, screen) == set()


FILE = Path("/home/xstaff/shop/bevelbook.log")


@pytest.mark.parametrize(
    ("error", "status"),
    [(RuntimeError("XQLIN-20"), 500), (DiskFull(FILE), 507), (NotInPlace(FILE), 410)],
    ids=["a bug", "a full disk", "a file that was taken away"],
)
def test_a_form_is_sent_again_only_where_a_customer_saw_it(
    screen: Screen, monkeypatch: pytest.MonkeyPatch, error: Exception, status: int
) -> None:
    """One of before the screen was turned holds codes and the note; what stands in the way is a file of the shop's computer."""

    def broken(*_given: object, **_named: object) -> None:
        raise error

    form = screen.counter.post("/quotes", PIECE).form("/quotes")
    monkeypatch.setattr(quotes_routes, "show_asked", broken)
    before, seen = (screen.counter.post("/quotes", typed) for typed in (PIECE, form))
    for answer in (before, seen):
        assert answer.status == status
        assert given_away(answer.text, screen) == set()
        assert str(FILE.parent) not in answer.text
    assert "Chalk white" not in before.text
    assert "Chalk white" in seen.text


def test_what_is_kept_beside_the_customer_is_what_was_typed(screen: Screen) -> None:
    """Codes in place of the names that the page had, the note that it did not show, and a mat by the name that two have."""
    typed = {**PIECE, "customer": "Rinn Vale", "version": "1"}
    form = screen.counter.post("/quotes", typed).form("/quotes")
    assert form["mats.0.material"] == "Chalk white"
    assert {"note", "artwork.place"} & form.keys() == set()
    kept = screen.counter.post(
        "/quotes", form | {"mats.1.material": "Chalk white (2)", "action": "save"}
    )
    assert kept.status == 303
    number = int(kept.address.rpartition("/")[2])
    (piece,) = orders.get(screen.store, number).pieces
    assert [mat.code for mat in piece.agreed.chosen.mats] == [code("M-101"), code("M-102")]
    assert piece.agreed.typed["mats.0.material"] == code("M-101")
    assert piece.agreed.typed["note"] == PIECE["note"]
    assert piece.artwork.place == "Xshelf 3"
