"""The page of an order of many pieces: one part of them in full, the others in a row each, and every act at hand."""

import pytest

from app.services import orders, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import NewPiece, Stamp, Store
from app.web.orders import piece_rows
from app.web.pieces.place import IN_FULL, on_order, order_with
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words
from tests.web.test_order_rows import do

ACT = Stamp(who="", now=NOW)
MANY = 2 * IN_FULL + 5


@pytest.fixture
def long_order(stocked: Store, counter: Counter) -> str:
    """The address of an order of 85 pieces like the worked one, 103.51 each."""
    first = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    like = orders.get(stocked, first).pieces[0]
    head = orders.QuoteHead(customer_id=1, valid_until=ACT.today)
    piece = NewPiece(artwork=like.artwork, agreed=like.agreed)
    order = f"/orders/{orders.save_quote(stocked, head, [piece] * MANY, ACT)}"
    do(counter, order, "take", deposit="")
    return order


def in_full(page: Shown) -> list[str]:
    return [each.get("id", "") for each in page.each("piece-card")]


def folded(page: Shown) -> list[str]:
    return [each.get("id", "") for each in page.each("row-folded")]


def rows(first: int, last: int) -> list[str]:
    return [f"piece-{number}" for number in range(first, last + 1)]


def test_the_first_pieces_stand_in_full_and_each_other_one_in_a_row(
    counter: Counter, long_order: str
) -> None:
    page = counter.get(long_order)
    assert in_full(page) == rows(1, 40)
    assert folded(page) == rows(41, 85)
    row = words(page.one(id="piece-85"))
    assert "ordered" in row
    assert "103.51" in row
    assert "Linden" in row


def test_the_address_of_a_piece_opens_its_part(counter: Counter, long_order: str) -> None:
    page = counter.get(f"{long_order}?piece=57#piece-57")
    assert in_full(page) == rows(41, 80)
    assert folded(page) == rows(1, 40) + rows(81, 85)
    assert in_full(counter.get(f"{long_order}?piece=85")) == rows(81, 85)
    assert in_full(counter.get(f"{long_order}?handover.piece=41")) == rows(41, 80)
    assert in_full(counter.get(f"{long_order}?piece=999999")) == rows(81, 85), "the last there is"
    assert in_full(counter.get(f"{long_order}?piece=many")) == rows(1, 40)


def test_every_piece_is_one_press_away(counter: Counter, long_order: str) -> None:
    page = counter.get(long_order)
    (opens,) = [
        each.get("href") for each in page.one(id="piece-57").iter("a") if words(each)[:4] == "Open"
    ]
    assert opens == f"{long_order}?piece=57#piece-57"
    parts = page.links("order-parts")
    assert list(parts) == ["1–40", "41–80", "81–85"]
    for number, href in ((1, parts["1–40"]), (41, parts["41–80"]), (81, parts["81–85"])):
        assert f"piece-{number}" in in_full(counter.get(href))


def test_an_act_on_all_means_all(counter: Counter, stocked: Store, long_order: str) -> None:
    page = counter.get(long_order)
    assert "cut all 85 pieces." in page.words("next-act")
    assert f"{long_order}/tickets.pdf" in page.links().values()
    do(counter, long_order, "stage", stage="cut")
    order_id = int(long_order.rpartition("/")[2])
    assert {piece.stage.value for piece in orders.get(stocked, order_id).pieces} == {"cut"}


def test_an_act_on_a_piece_comes_back_to_its_part(counter: Counter, long_order: str) -> None:
    page = counter.get(f"{long_order}?piece=57")
    act = f"{long_order}/pieces/57/stage"
    done = counter.post(act, page.form(act, stage="cut"))
    assert done.location.startswith(f"{long_order}?piece=57")
    assert done.location.endswith("#piece-57")
    assert in_full(counter.get(done.location)) == rows(41, 80)
    refused = counter.post(act, {"version": "1", "stage": "cut"})
    assert refused.status == 409
    assert in_full(refused) == rows(41, 80), "what was refused stands there too"


def test_the_cards_that_are_not_seen_are_not_made(
    counter: Counter, long_order: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[int] = []
    really = piece_rows.findings

    def counted(*asked: object) -> object:
        made.append(1)
        return really(*asked)  # type: ignore[arg-type]

    monkeypatch.setattr(piece_rows, "findings", counted)
    counter.get(long_order)
    assert len(made) == IN_FULL


def test_a_short_order_keeps_its_addresses() -> None:
    assert (order_with(7, 40), on_order(7, 40)) == ("/orders/7", "/orders/7#piece-40")
    assert order_with(7, 41) == on_order(7, 41) == "/orders/7?piece=41#piece-41"


def test_an_order_of_as_many_as_fit_has_no_parts(counter: Counter, stocked: Store) -> None:
    first = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    page = counter.get(f"/orders/{first}")
    assert in_full(page) == ["piece-1"]
    assert "Pieces in full" not in page.main
