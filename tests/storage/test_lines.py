"""Lines without a piece on a real file: sold, changed, struck, handed over, and what leaves the rack (P12)."""

import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest

from app.errors import Conflict, Invalid
from app.orders import Customer, Method, Order, Stage
from app.services import (
    customer_export,
    customers,
    lines,
    orders,
    payments,
    price_book,
    shortages,
    stages,
    stock,
)
from app.services.lines import LinePosted
from app.services.order_transaction import account_now
from app.services.orders import QuoteHead
from app.services.stages import Terms
from app.services.stock import Received
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.storage import OrderFilter, OrderSummary, Stale, Store, check_database
from tests.builders.kept import ACT, NOW, SHOP, cheap_piece, later
from tests.builders.lines import CARDS, GOODS, HOOKS, PLATE, VOUCHER, agreed_line
from tests.builders.materials import sold_at
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro

AMBER = CustomerRequest(name="Amber Quill")
TWELVE = {"goods": "CARD", "number": "12"}


@pytest.fixture
def shop(store: Store) -> Store:
    """A shop with goods in its price book, twenty cards of them on the rack."""
    with store.writing() as work:
        work.materials.add_all(GOODS, now=NOW)
    stock.receive(store, arrived(20), ACT)
    return store


def arrived(count: int, batch: str = "") -> Received:
    item = Item(material="CARD", form=StockForm.EACH, unit_cost=euro("1.20"), batch=batch)
    return Received(item=item, count=count)


def sold(store: Store, **typed: str) -> int:
    return lines.save_new(store, AMBER, LinePosted(typed=typed), SHOP, ACT).order_id


def add(store: Store, order_id: int, **typed: str) -> None:
    lines.add_line(
        store, order_at(store, order_id), LinePosted(typed=typed), SHOP, later(minutes=5)
    )


def order(store: Store, order_id: int) -> Order:
    return orders.get(store, order_id)


def cards(store: Store) -> int:
    with store.reading() as work:
        return sum(each.on_hand for each in work.stock.of_material("CARD", gone=True))


def summary(store: Store, order_id: int) -> OrderSummary:
    with store.reading() as work:
        return work.order_lists.summaries([order_id])[0]


@pytest.fixture(autouse=True)
def whole(shop: Store) -> object:
    """Every test leaves a database that is whole."""
    yield
    assert check_database(shop) == ()


def test_a_quote_may_be_of_lines_alone(shop: Store) -> None:
    """12 × 3.50 = 42.00, and the voucher of 50.00."""
    order_id = sold(shop, **TWELVE)
    add(shop, order_id, **VOUCHER)
    found = order(shop, order_id)
    assert (found.quote_number, found.customer_name, found.pieces) == (
        "Q-2026-0001",
        "Amber Quill",
        (),
    )
    assert [(line.number, line.agreed.what) for line in found.lines] == [
        (1, "Greeting card, heron"),
        (2, "Gift voucher"),
    ]
    assert account_now(found).to_pay == euro("92")
    listed = summary(shop, order_id)
    assert (listed.total, listed.pieces) == (euro("92"), 0)
    assert listed.titles == ("Greeting card, heron", "Gift voucher")


def test_an_order_is_found_by_what_is_on_its_lines_until_it_is_struck(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    add(shop, order_id, **PLATE)
    wanted = OrderFilter(text="engraved")
    assert [each.id for each in orders.listed(shop, wanted).rows] == [order_id]
    lines.strike_line(shop, order_at(shop, order_id), 2, ACT)
    assert orders.listed(shop, wanted).rows == ()


def test_goods_leave_the_rack_when_they_are_handed_over_and_come_back(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    assert (cards(shop), order(shop, order_id).stage) == (20, Stage.FRAMED)
    used = stages.move_order(shop, order_at(shop, order_id), Stage.COLLECTED, later(minutes=1))
    assert [(each.material.code, each.count) for each in used] == [("CARD", 12)]
    assert cards(shop) == 8
    back = stages.take_back(shop, order_at(shop, order_id), later(minutes=2))
    assert [each.count for each in back] == [12]
    assert (cards(shop), order(shop, order_id).stage) == (20, Stage.FRAMED)
    stages.move_line(shop, order_at(shop, order_id), 1, Stage.COLLECTED, later(minutes=3))
    assert cards(shop) == 8


def test_goods_go_below_zero_rather_than_unsold_and_older_stock_goes_first(shop: Store) -> None:
    stock.receive(shop, arrived(2, "B"), ACT)
    order_id = sold(shop, goods="CARD", number="25")
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    used = stages.move_order(shop, order_at(shop, order_id), Stage.COLLECTED, later(minutes=1))
    assert (used[0].count, used[0].on_hand) == (25, -3)
    with shop.reading() as work:
        items = work.stock.of_material("CARD", gone=True)
    assert [each.on_hand for each in items] == [0, -3]


def test_goods_under_another_code_leave_the_same_rack(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    with shop.writing() as work:
        kept = work.materials.get("CARD")
        new = replace(CARDS, code="CARD-H")
        work.materials.save("CARD", new, kept.version, now=NOW)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    stages.move_order(shop, order_at(shop, order_id), Stage.COLLECTED, later(minutes=1))
    assert cards(shop) == 8


def test_a_sale_over_the_counter_is_ordered_paid_and_handed_over(shop: Store) -> None:
    posted = LinePosted(typed=TWELVE, paid_by=Method.VOUCHER)
    done = lines.save_new(shop, AMBER, posted, SHOP, ACT)
    found = order(shop, done.order_id)
    assert (found.order_number, found.stage) == ("2026-0001", Stage.COLLECTED)
    assert [(each.entry.amount, each.entry.method) for each in found.entries] == [
        (euro("42"), Method.VOUCHER)
    ]
    assert account_now(found).balance == euro("0")
    assert (cards(shop), [each.count for each in done.used]) == (8, [12])


def test_work_over_the_counter_is_done_and_handed_over(shop: Store) -> None:
    posted = LinePosted(typed=PLATE, paid_by=Method.CASH)
    found = order(shop, lines.save_new(shop, AMBER, posted, SHOP, ACT).order_id)
    assert [change.new for change in found.lines[0].changes] == [
        Stage.ORDERED,
        Stage.FRAMED,
        Stage.COLLECTED,
    ]


def test_lines_go_along_with_the_pieces_of_an_order(shop: Store) -> None:
    customer = customers.add(shop, Customer(name="Ben Alder"), ACT)
    head = QuoteHead(customer_id=customer, valid_until=TODAY)
    order_id = orders.save_quote(shop, head, [cheap_piece()], ACT)
    add(shop, order_id, **TWELVE)
    add(shop, order_id, **PLATE)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    for minute, stage in enumerate((Stage.CUT, Stage.FRAMED, Stage.COLLECTED), start=1):
        stages.move_order(shop, order_at(shop, order_id), stage, later(minutes=minute))
        assert order(shop, order_id).stage is stage
    found = order(shop, order_id)
    assert [line.stage for line in found.lines] == [Stage.COLLECTED, Stage.COLLECTED]
    assert [change.new for change in found.lines[0].changes] == [Stage.ORDERED, Stage.COLLECTED]


def test_a_line_of_an_order_is_ordered_at_once(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    add(shop, order_id, **PLATE)
    assert order(shop, order_id).lines[1].stage is Stage.ORDERED
    assert order(shop, order_id).stage is Stage.CUT


def test_a_changed_line_keeps_its_history_and_its_price_where_it_may(shop: Store) -> None:
    order_id = sold(shop, **PLATE)
    noted = LinePosted(typed=PLATE | {"note": "Three lines"}, number=1)
    assert lines.change_line(shop, order_at(shop, order_id), noted, SHOP, later(days=1))
    dearer = LinePosted(typed=PLATE | {"price": "30"}, number=1)
    assert not lines.change_line(shop, order_at(shop, order_id), dearer, SHOP, later(days=2))
    line = order(shop, order_id).lines[0]
    assert [entry.agreed.price.to_pay for entry in line.entries] == [
        euro("24.99"),
        euro("24.99"),
        euro("30"),
    ]
    assert summary(shop, order_id).total == euro("30")


def test_a_struck_line_is_not_sold_stays_in_the_record_and_may_come_back(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    add(shop, order_id, **PLATE)
    lines.strike_line(shop, order_at(shop, order_id), 2, later(minutes=6))
    stages.take_order(shop, order_at(shop, order_id), Terms(), later(minutes=7))
    found = order(shop, order_id)
    assert (found.lines[1].struck, found.lines[1].stage) == (True, Stage.QUOTED)
    assert account_now(found).to_pay == euro("42")
    with pytest.raises(Conflict, match="Line 2 is struck; put it back first"):
        stages.move_line(shop, order_at(shop, order_id), 2, Stage.FRAMED, ACT)
    lines.put_back_line(shop, order_at(shop, order_id), 2, later(minutes=8))
    found = order(shop, order_id)
    assert (found.lines[1].struck, found.lines[1].stage) == (False, Stage.ORDERED)
    assert [entry.struck for entry in found.lines[1].entries] == [False, True, False]
    assert account_now(found).to_pay == euro("66.99")


def test_what_is_collected_is_neither_changed_nor_struck_nor_added_to(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    stages.move_order(shop, order_at(shop, order_id), Stage.COLLECTED, later(minutes=1))
    with pytest.raises(Conflict, match="Line 1 of 2026-0001 is collected"):
        lines.strike_line(shop, order_at(shop, order_id), 1, ACT)
    posted = LinePosted(typed=PLATE, number=1)
    with pytest.raises(Conflict, match="Line 1 of 2026-0001 is collected"):
        lines.change_line(shop, order_at(shop, order_id), posted, SHOP, ACT)
    with pytest.raises(Conflict, match="2026-0001 is collected; lines can be added until"):
        add(shop, order_id, **PLATE)


def test_the_last_thing_on_a_quote_is_declined_and_not_struck(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    with pytest.raises(Conflict, match="Line 1 is all there is of Q-2026-0001"):
        lines.strike_line(shop, order_at(shop, order_id), 1, ACT)


def test_two_tabs_do_not_overwrite_each_other(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    old = order_at(shop, order_id)
    add(shop, order_id, **PLATE)
    with pytest.raises(Stale):
        lines.change_line(shop, old, LinePosted(typed=PLATE, number=1), SHOP, ACT)
    with pytest.raises(Stale):
        lines.add_line(shop, old, LinePosted(typed=PLATE), SHOP, ACT)


def test_goods_that_an_open_order_waits_for_stay_in_the_price_book(shop: Store) -> None:
    order_id = sold(shop, goods="HOOK", number="2")
    version = price_book.get(shop, "HOOK").version
    with pytest.raises(Conflict, match="HOOK is on a line of Q-2026-0001 that is not handed over"):
        price_book.remove(shop, "HOOK", version)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    stages.move_order(shop, order_at(shop, order_id), Stage.COLLECTED, later(minutes=1))
    price_book.remove(shop, "HOOK", version)
    assert order(shop, order_id).lines[0].agreed.goods == HOOKS


def test_a_tax_rate_that_is_gone_leaves_what_was_agreed_and_is_said_of_a_change(
    shop: Store,
) -> None:
    order_id = sold(shop, **VOUCHER)
    bare = replace(SHOP, tax_rates=SHOP.tax_rates[:1])
    assert account_now(order(shop, order_id)).to_pay == euro("50")
    posted = LinePosted(typed=VOUCHER | {"number": "2"}, number=1)
    with pytest.raises(Invalid) as refused:
        lines.change_line(shop, order_at(shop, order_id), posted, bare, ACT)
    assert [(fault.path, fault.message) for fault in refused.value.faults] == [
        ("tax", "There is no tax rate “none”; the shop's rates are: standard.")
    ]


def test_goods_that_are_ordered_are_wanted(shop: Store) -> None:
    """25 ordered, 20 on the rack: 5 to buy."""
    order_id = sold(shop, goods="CARD", number="25")
    assert shortages.what_to_buy(shop).suppliers == ()
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    (supplier,) = shortages.what_to_buy(shop).suppliers
    (purchase,) = supplier.purchases
    assert (purchase.material.code, purchase.wanted, purchase.quantity) == ("CARD", 25, 5)
    assert purchase.why == "25 wanted by 1 line, 20 free on the rack: buy 5."


def test_a_customer_is_given_the_lines_too(shop: Store) -> None:
    sold(shop, **TWELVE)
    with shop.reading() as work:
        customer_id = work.orders.get(1).customer_id
    given = customer_export.export(shop, customer_id)
    assert '"what": "Greeting card, heron"' in given
    assert '"quantity": "12 × 3.50 each"' in given


def test_faults_of_customer_and_line_are_told_together(shop: Store) -> None:
    posted = LinePosted(typed={"what": "x"})
    with pytest.raises(Invalid) as refused:
        lines.save_new(shop, CustomerRequest(name=""), posted, SHOP, ACT)
    assert {fault.path for fault in refused.value.faults} == {"customer", "price"}


def test_what_was_agreed_for_a_line_is_append_only(shop: Store) -> None:
    sold(shop, **TWELVE)
    with closing(sqlite3.connect(shop.path)) as raw:
        for act in (
            "UPDATE line_agreements SET by = 'x'",
            "DELETE FROM line_agreements",
        ):
            with pytest.raises(sqlite3.IntegrityError, match="append-only"):
                raw.execute(act)


def test_a_refund_follows_what_was_struck(shop: Store) -> None:
    """66.99 paid, the plate of 24.99 struck: that much is to return."""
    order_id = sold(shop, **TWELVE)
    add(shop, order_id, **PLATE)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    paid = payments.Payment(amount=euro("66.99"))
    payments.add_payment(shop, order_at(shop, order_id), paid, ACT)
    lines.strike_line(shop, order_at(shop, order_id), 2, ACT)
    assert summary(shop, order_id).owed == euro("-24.99")


def test_a_line_reads_back_as_it_was_agreed(shop: Store) -> None:
    order_id = sold(shop, **TWELVE, note="Wrap them")
    assert order(shop, order_id).lines[0].agreed == agreed_line(**TWELVE, note="Wrap them")


def test_a_piece_may_join_an_order_of_lines_and_a_line_outlive_its_piece(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    stages.take_order(shop, order_at(shop, order_id), Terms(), ACT)
    orders.add_piece(shop, order_at(shop, order_id), cheap_piece(), later(minutes=1))
    found = order(shop, order_id)
    assert (found.stage, found.pieces[0].stage) == (Stage.ORDERED, Stage.ORDERED)
    quote = sold(shop, **PLATE)
    orders.add_piece(shop, order_at(shop, quote), cheap_piece(), later(minutes=2))
    orders.remove_piece(shop, order_at(shop, quote), 1, later(minutes=3))
    assert summary(shop, quote).total == euro("24.99")


def test_a_quote_of_lines_is_sold_over_the_counter_as_a_whole(shop: Store) -> None:
    order_id = sold(shop, **TWELVE)
    add(shop, order_id, **PLATE)
    done = lines.sell_quote(shop, order_at(shop, order_id), Method.CARD, later(minutes=9))
    found = order(shop, order_id)
    assert (found.stage, account_now(found).received) == (Stage.COLLECTED, euro("66.99"))
    assert [each.count for each in done.used] == [12]
    assert done.jobs == ("Brass plate, engraved",)
    with pytest.raises(Conflict):
        lines.sell_quote(shop, order_at(shop, order_id), Method.CARD, later(minutes=10))


def test_a_line_is_agreed_at_todays_prices_by_an_act_alone(shop: Store) -> None:
    """3.50 then, 4.00 now: 12 are 42.00 until somebody says otherwise, then 48.00."""
    order_id = sold(shop, **TWELVE)
    with shop.writing() as work:
        kept = work.materials.get("CARD")
        dearer = replace(CARDS, selling=sold_at("4.00"))
        work.materials.save("CARD", dearer, kept.version, now=NOW)
    same = LinePosted(typed=TWELVE, number=1)
    assert lines.change_line(shop, order_at(shop, order_id), same, SHOP, later(days=1))
    assert summary(shop, order_id).total == euro("42")
    anew = replace(same, anew=True)
    assert not lines.change_line(shop, order_at(shop, order_id), anew, SHOP, later(days=2))
    assert summary(shop, order_id).total == euro("48")
