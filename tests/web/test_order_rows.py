"""The page of an order: what is next and its money first, then a row a piece with everything else of it in a fold."""

import pytest

from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.stock.material_states import MaterialState
from app.storage import Stamp, Store
from app.web.orders.materials import materials_of_order, stock_state
from app.web.pieces.material_states import MaterialStand
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words

ACT = Stamp(who="", now=NOW)


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a saved quote of the worked piece, 103.51."""
    return (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )


@pytest.fixture
def order_of_three(counter: Counter, quote: str) -> str:
    """The address of an order of three pieces like the worked one."""
    for _ in range(2):
        form = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
        counter.go(f"{quote}/pieces", form)
    do(counter, quote, "take", deposit="")
    return quote


def do(counter: Counter, order: str, act: str, **typed: str) -> Shown:
    holding = {name: text for name, text in typed.items() if name == "stage"}
    form = counter.get(order).form(f"{order}/{act}", **holding)
    return counter.go(f"{order}/{act}", form | typed)


def next_of(page: Shown) -> str:
    return page.words("next-act")


def test_the_next_act_follows_the_work_to_its_end(counter: Counter, order_of_three: str) -> None:
    page = counter.get(order_of_three)
    assert "cut all 3 pieces." in next_of(page)
    assert "Mark all 3 cut" in next_of(page)
    page = do(counter, order_of_three, "pieces/2/stage", stage="cut")
    assert "Mark 2 cut" in next_of(page), "those that are cut already stay"
    page = do(counter, order_of_three, "stage", stage="cut")
    assert "Next: frame all 3 pieces. Mark all 3 finished" in next_of(page)
    page = do(counter, order_of_three, "stage", stage="framed")
    assert "tell Amber Quill, then hand over; 310.53 is owed." in next_of(page)
    page = do(counter, order_of_three, "hand-over", action="owed")
    assert "everything is collected, and 310.53 is owed. Record payment" in next_of(page)
    page = do(counter, order_of_three, "entries")
    assert "nothing: everything is collected and paid." in next_of(page)


def test_a_single_piece_has_one_button_which_is_the_next_act(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "take", deposit="")
    assert [button for button in page.buttons() if button == "Mark cut"] == ["Mark cut"]
    assert "Mark cut" in next_of(page)


def test_a_declined_quote_says_so_and_can_be_quoted_again(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "stage", stage="declined")
    assert "The customer declined. Quote it again" in next_of(page)
    assert "Next:" not in next_of(page)
    assert "The piece is declined." in page.main
    assert "103.51" in words(counter.get("/quotes").one(tag="table")), "what was offered"
    assert "Order" in do(counter, quote, "pieces/1/stage", stage="quoted").buttons(f"{quote}/take")


def test_declining_asks_once(counter: Counter, quote: str) -> None:
    asks = counter.get(quote).one("asks")
    assert words(asks[0]) == "Declined"
    (button,) = asks.iter("button")
    assert words(button) == "Mark the quote as declined"
    assert button.get("form") == "declined"


def test_two_pieces_are_both(counter: Counter, quote: str) -> None:
    form = {**TYPED, "version": counter.get(quote).fields["version"], "action": "save"}
    counter.go(f"{quote}/pieces", form)
    page = do(counter, quote, "take", deposit="")
    assert "cut both pieces." in next_of(page)
    assert "Mark both cut" in next_of(page)
    assert "The pieces are cut." in do(counter, quote, "stage", stage="cut").main


def test_a_list_of_quotes_has_no_column_of_what_is_owed(counter: Counter, quote: str) -> None:
    assert "Owed" not in words(counter.get("/quotes").one(tag="thead"))
    do(counter, quote, "take", deposit="")
    assert "Owed" in words(counter.get("/orders").one(tag="thead"))


def test_a_refund_is_found_and_says_what_it_does(counter: Counter, quote: str) -> None:
    page = do(counter, quote, "take", deposit="")
    assert "Record payment or refund" not in page.words("totals")
    page = do(counter, quote, "entries")
    assert "Record payment or refund" in page.words("totals")
    assert "A refund makes its sum owed again, unless a discount or goodwill" in page.words(
        "totals"
    )
    assert page.links("totals")["discount or goodwill"] == "#goodwill"
    assert page.one(id="goodwill").get("action") == f"{quote}/reductions"


def test_a_cancelled_order_that_was_paid_asks_for_the_refund(counter: Counter, quote: str) -> None:
    do(counter, quote, "take", deposit="50")
    page = do(counter, quote, "pieces/1/stage", stage="cancelled")
    assert "nothing is made; 50.00 is to refund. Record the refund" in next_of(page)


def test_money_and_the_next_act_come_before_the_pieces(
    counter: Counter, order_of_three: str
) -> None:
    text = counter.get(order_of_three).text
    places = [text.index(f'class="{each}') for each in ("next-act", "totals", "order-pieces")]
    assert places == sorted(places)


def test_a_row_says_what_a_piece_is_and_names_its_buttons(
    counter: Counter, order_of_three: str
) -> None:
    page = counter.get(order_of_three)
    row = words(next(page.each("row-words")))
    assert row.startswith("Harbour at dusk ordered watercolour, 410 × 310 mm")
    assert "Linden, limewashed · 2 mats · Float glass 2 mm" in row
    assert "stored at Drawer 3 · 5 materials to buy" in row
    acts = [words(each) for each in page.each("row-acts")]
    assert len(acts) == 3
    assert acts[0] == "Ticket (PDF) for Harbour at dusk Mark cut Harbour at dusk"


def test_the_fold_keeps_every_act_of_its_piece(counter: Counter, order_of_three: str) -> None:
    page = counter.get(order_of_three)
    fold = words(next(page.each("row-more")))
    for act in ("Change", "Price again", "Undo or cancel", "Undo “ordered”", "Cancel this piece"):
        assert act in fold


def test_the_materials_of_the_order_are_listed_once_with_the_pieces_that_want_them(
    counter: Counter, order_of_three: str
) -> None:
    page = counter.get(order_of_three)
    listed = [words(each) for each in page.one(id="materials").iter("li")]
    assert listed
    assert all("pieces 1, 2, 3" in each or "piece" in each for each in listed)
    assert len({each.split(",")[0] for each in listed}) == len(listed)


def stand(code: str, state: MaterialState, *, keep: str = "") -> MaterialStand:
    return MaterialStand(
        name=code.title(), code=code, words=state.value, shape="quoted", href="/stock", keep=keep
    )


def test_stock_is_said_by_the_worst_that_there_is() -> None:
    buy, come, here = MaterialState.TO_BUY, MaterialState.ON_ORDER, MaterialState.IN_HAND
    said = stock_state([stand("A", buy), stand("B", here), stand("C", buy), stand("D", come)])
    assert said is not None
    assert (said.words, said.to_buy) == ("2 of 4 materials to buy", True)
    said = stock_state([stand("A", come)])
    assert said is not None
    assert (said.words, said.to_buy) == ("1 material on order", False)
    said = stock_state([stand("A", here), stand("B", here)])
    assert said is not None
    assert said.words == "materials in hand"
    assert stock_state([stand("A", here, keep="/stock/offcuts/new")]) is None
    assert stock_state([]) is None


def test_a_material_that_one_piece_has_and_another_lacks_counts_as_to_buy() -> None:
    buy, here = MaterialState.TO_BUY, MaterialState.IN_HAND
    found = materials_of_order(
        {
            1: (stand("OAK", here), stand("GLASS", here)),
            2: (stand("OAK", buy),),
            3: (stand("GLASS", here),),
        }
    )
    rows = [(row.stand.code, row.stand.words, row.pieces) for row in found.rows]
    assert rows == [
        ("OAK", "to buy", (2,)),
        ("GLASS", "in hand", (1, 3)),
        ("OAK", "in hand", (1,)),
    ]
    assert found.summed == "2 materials: 1 to buy, 1 in hand"
    assert materials_of_order({1: ()}).summed == ""
