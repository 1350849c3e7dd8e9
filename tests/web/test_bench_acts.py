"""What a phone of the bench does: it moves pieces to cut and framed, ticks, spoils, books, counts and keeps offcuts."""

from collections.abc import Iterator

import pytest
from httpx2 import Response
from starlette.testclient import TestClient

from app.lengths import mm
from app.money import Money
from app.money.currency import CURRENCIES
from app.orders import Stage
from app.services import orders, stages, stock
from app.services.order_transaction import OrderAt
from app.services.stock import Received
from app.stock.items import Item, StockForm
from app.storage import Stamp, Store
from tests.builders.kept import ACT
from tests.builders.values import euro
from tests.storage.plan_work import ordered
from tests.web.at_bench import phone_on
from tests.web.conftest import browser_on

PIECE = "/orders/1/pieces/1"


@pytest.fixture
def shop(stocked: Store) -> Store:
    """A shop with one piece ordered."""
    ordered(stocked)
    return stocked


@pytest.fixture
def phone(shop: Store) -> Iterator[TestClient]:
    with phone_on(shop) as client:
        client.follow_redirects = False
        yield client


def version(store: Store) -> int:
    return orders.get(store, 1).version


def stage_of(store: Store) -> Stage:
    return orders.get(store, 1).pieces[0].stage


def move(phone: TestClient, store: Store, stage: str) -> Response:
    return phone.post(f"{PIECE}/stage", data={"version": version(store), "stage": stage})


def test_it_marks_a_piece_cut_and_finished_and_stays_with_it(
    phone: TestClient, shop: Store
) -> None:
    for stage in (Stage.CUT, Stage.FRAMED):
        answer = move(phone, shop, stage)
        assert (answer.status_code, answer.headers["location"]) == (303, PIECE)
        assert stage_of(shop) is stage
    assert phone.get(PIECE).status_code == 200


@pytest.mark.parametrize(
    "stage", ["collected", "cancelled", "declined", "quoted", "ordered", "", "x"]
)
def test_it_brings_a_piece_to_no_other_stage(phone: TestClient, shop: Store, stage: str) -> None:
    move(phone, shop, "cut")
    answer = move(phone, shop, stage)
    assert answer.status_code == 403
    assert "paired for the bench" in answer.text
    assert stage_of(shop) is Stage.CUT


def test_the_page_of_a_piece_offers_what_the_bench_does_alone(
    phone: TestClient, shop: Store
) -> None:
    move(phone, shop, "cut")
    move(phone, shop, "framed")
    page = phone.get(PIECE).text
    assert "Hand over" not in page
    assert "Cancel this piece" not in page
    assert "Undo “framed”" in page


def test_it_undoes_what_the_bench_did_and_not_what_the_office_did(
    phone: TestClient, shop: Store
) -> None:
    def undo() -> int:
        return phone.post(f"{PIECE}/take-back", data={"version": version(shop)}).status_code

    assert undo() == 403
    move(phone, shop, "cut")
    assert undo() == 303
    assert stage_of(shop) is Stage.ORDERED
    at = OrderAt(id=1, version=version(shop))
    stages.move_order(shop, at, Stage.CANCELLED, ACT)
    assert undo() == 403
    assert stage_of(shop) is Stage.CANCELLED


def test_what_cannot_be_done_is_said_with_the_way_back_to_the_piece(
    phone: TestClient, shop: Store
) -> None:
    stale = phone.post(f"{PIECE}/stage", data={"version": "1", "stage": "cut"})
    assert stale.status_code == 409
    assert f'href="{PIECE}">Back to the piece' in stale.text
    unread = phone.post(
        f"{PIECE}/stage", data={"version": version(shop), "stage": "cut", "count": "x"}
    )
    assert unread.status_code == 422
    assert "How many is “x”" in unread.text


def test_it_ticks_a_step_and_notes_a_part_as_spoiled(phone: TestClient, shop: Store) -> None:
    page = phone.get(PIECE).text
    step = page.split('name="step" value="')[1].split('"')[0]
    ticked = phone.post(f"{PIECE}/steps", data={"step": step, "ticked": "1"})
    assert ticked.headers["location"] == f"{PIECE}#step-{step}"
    move(phone, shop, "cut")
    spoiled = phone.post(f"{PIECE}/spoiled", data={"spoiled.part": "mat-1"})
    assert (spoiled.status_code, spoiled.headers["location"]) == (303, PIECE)


def on_rack(store: Store) -> int:
    sticks = Item(material="LIN-20", form=StockForm.STICK, unit_cost=euro("12.34"), length=mm(3000))
    return stock.receive(store, Received(item=sticks, count=5), Stamp(who="", now=ACT.now))


def test_an_offcut_that_it_keeps_is_worth_its_share_whatever_is_posted(
    phone: TestClient, shop: Store
) -> None:
    item = on_rack(shop)
    form = phone.get(f"/stock/offcuts/new?item={item}").text
    assert "unit_cost" not in form
    typed = {"material": "LIN-20", "size": "1500", "item": str(item), "unit_cost": "999"}
    kept = phone.post("/stock/offcuts/new", data=typed)
    assert kept.status_code == 303
    offcut = stock.look(shop, int(kept.headers["location"].rsplit("/", 1)[1])).kept.item
    # Half of a stick of 3000 that cost 12.34.
    assert offcut.unit_cost == Money(617, CURRENCIES["EUR"])


def test_it_counts_without_being_told_what_is_missing_at_cost(
    phone: TestClient, shop: Store
) -> None:
    item = on_rack(shop)
    typed = {"items": str(item), f"count.{item}": "3", "action": "preview"}
    seen = phone.post("/stock/count", data=typed).text
    assert "1 difference" in seen
    assert "24.68" not in seen
    assert "at cost" not in seen
    saved = phone.post("/stock/count", data=typed | {"action": "save", "seen": f"{item}:5"})
    assert saved.status_code in (303, 409)
    assert "24.68" not in saved.text


def test_what_costs_stand_on_for_the_office_stays(shop: Store) -> None:
    item = on_rack(shop)
    with browser_on(shop) as office:
        page = office.get(f"/stock/items/{item}").text
        assert "12.34" in page
        assert "61.70" in page
        assert "61.70" in office.get("/stock").text
        assert "61.70" in office.get("/stock/items").text
