"""Quotes and orders from the first quote to the last correction, on a real file."""

import sqlite3
import subprocess
import sys
from contextlib import closing, suppress
from dataclasses import replace
from datetime import date, timedelta

import pytest

from app.errors import Conflict, Invalid, NotFound
from app.money import currency
from app.orders import Customer, EntryKind, Method, Order, Stage, usual_shop
from app.services import customer_export, customers, orders, payments, price_book, reductions
from app.services import stages as progress
from app.services.order_transaction import account_now
from app.services.orders import QuoteHead
from app.services.payments import Payment
from app.services.reductions import Goodwill
from app.services.stages import Terms
from app.storage import NewPiece, OrderSummary, Series, Stale, Store, check_database
from tests.builders.kept import ACT, NOW, SHOP, TYPED, agreed, cheap_piece, later, piece
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro

MONTH = TODAY + timedelta(days=30)
TOTAL = piece().agreed.price.to_pay


@pytest.fixture
def amber(store: Store) -> int:
    return customers.add(store, Customer(name="Amber Quill"), ACT)


@pytest.fixture
def quote(store: Store, amber: int) -> int:
    """A quote with two pieces."""
    pieces = [cheap_piece("Harbour at dusk", "Drawer 3"), cheap_piece("Two herons", "Rack B")]
    return orders.save_quote(store, QuoteHead(customer_id=amber, valid_until=MONTH), pieces, ACT)


def order(store: Store, order_id: int) -> Order:
    return orders.get(store, order_id)


def summary(store: Store, order_id: int) -> OrderSummary:
    with store.reading() as work:
        return work.order_lists.summaries([order_id])[0]


def stages(store: Store, order_id: int) -> list[Stage]:
    return [each.stage for each in order(store, order_id).pieces]


@pytest.fixture(autouse=True)
def whole(store: Store) -> object:
    """Whatever a test does, the data add up after it."""
    yield
    assert check_database(store) == ()


def test_a_quote_reads_back_as_it_was_agreed(store: Store, amber: int) -> None:
    artwork, frozen = agreed()
    head = QuoteHead(customer_id=amber, valid_until=MONTH, note="by the window")
    kept = NewPiece(artwork=artwork, agreed=frozen)
    loaded = order(store, orders.save_quote(store, head, [kept], ACT))
    (only,) = loaded.pieces
    assert (only.number, only.artwork, only.agreed, only.stage) == (
        1,
        artwork,
        frozen,
        Stage.QUOTED,
    )
    assert only.agreed.typed == TYPED
    assert (loaded.quote_number, loaded.order_number) == ("Q-2026-0001", None)
    assert (loaded.customer_name, loaded.note) == ("Amber Quill", "by the window")
    assert (loaded.quoted_on, loaded.valid_until, loaded.due) == (TODAY, MONTH, None)
    assert loaded.version == 1


def test_a_quote_has_at_least_one_piece(store: Store, amber: int) -> None:
    with pytest.raises(Invalid) as caught:
        orders.save_quote(store, QuoteHead(customer_id=amber, valid_until=MONTH), [], ACT)
    assert [fault.path for fault in caught.value.faults] == ["pieces"]


def test_a_quote_needs_a_known_customer(store: Store) -> None:
    with pytest.raises(NotFound, match="no customer number 99"):
        orders.save_quote(store, QuoteHead(customer_id=99, valid_until=MONTH), [cheap_piece()], ACT)


def test_numbers_have_no_gaps_where_saving_failed(store: Store, amber: int) -> None:
    # Source: handbook M4.
    for valid in (True, False, True, False, True):
        customer = amber if valid else 99
        head = QuoteHead(customer_id=customer, valid_until=MONTH)
        try:
            orders.save_quote(store, head, [cheap_piece()], ACT)
        except NotFound:
            assert not valid
    numbers = [order(store, order_id).quote_number for order_id in (1, 2, 3)]
    assert numbers == ["Q-2026-0001", "Q-2026-0002", "Q-2026-0003"]


def test_numbers_begin_anew_each_year_and_grow_past_four_digits(store: Store) -> None:
    with suppress(LookupError), store.writing() as work:
        taken = [work.numbers.take(Series.INVOICE, year) for year in (2026, 2026, 2027)]
        assert taken == ["R-2026-0001", "R-2026-0002", "R-2027-0001"]
        raise LookupError  # numbers that nothing bears go back
    assert Series.ORDER.number(2026, 148) == "2026-0148"
    assert Series.QUOTE.number(2026, 12_345) == "Q-2026-12345"


def test_taking_an_order_gives_it_number_due_date_and_deposit(store: Store, quote: int) -> None:
    due = TODAY + timedelta(days=14)
    terms = Terms(due=due, deposit=euro("100.00"), method=Method.CARD)
    assert progress.take_order(store, order_at(store, quote), terms, later(days=1)) == "2026-0001"
    taken = order(store, quote)
    assert (taken.order_number, taken.number, taken.ordered_on, taken.due) == (
        "2026-0001",
        "2026-0001",
        date(2026, 11, 26),
        due,
    )
    assert (taken.stage, taken.version) == (Stage.ORDERED, 2)
    (entry,) = taken.entries
    assert (entry.entry.kind, entry.entry.amount, entry.entry.method, entry.entry.by) == (
        EntryKind.DEPOSIT,
        euro("100.00"),
        Method.CARD,
        "Ilse",
    )
    shown = summary(store, quote)
    assert (shown.total, shown.paid) == (TOTAL * 2, euro("100.00"))
    assert shown.owed == TOTAL * 2 - euro("100.00")


def test_a_deposit_that_is_too_large_takes_no_order_and_no_number(store: Store, quote: int) -> None:
    terms = Terms(deposit=TOTAL * 2 + euro("0.01"))
    with pytest.raises(Invalid, match="more than is still to pay") as caught:
        progress.take_order(store, order_at(store, quote), terms, ACT)
    assert [fault.path for fault in caught.value.faults] == ["deposit"]
    assert (order(store, quote).stage, order(store, quote).entries) == (Stage.QUOTED, ())
    assert progress.take_order(store, order_at(store, quote), Terms(), ACT) == "2026-0001"


def test_a_quote_owes_nothing_until_it_is_ordered(store: Store, quote: int) -> None:
    assert (summary(store, quote).total, summary(store, quote).owed) == (TOTAL * 2, euro("0"))


def test_the_second_of_two_tabs_is_told_what_is_kept_now(store: Store, quote: int) -> None:
    first = second = order_at(store, quote)
    orders.set_note(store, first, "call before noon", ACT)
    with pytest.raises(Stale, match=r"Q-2026-0001 changed in the meantime") as caught:
        orders.set_note(store, second, "call in the evening", ACT)
    stored = caught.value.stored
    assert isinstance(stored, Order)
    assert (stored.note, stored.version) == ("call before noon", 2)
    assert order(store, quote).note == "call before noon"


def test_pieces_move_one_by_one_and_the_order_stands_at_the_least(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    progress.move_piece(store, order_at(store, quote), 2, Stage.CUT, later(minutes=5))
    assert stages(store, quote) == [Stage.ORDERED, Stage.CUT]
    assert summary(store, quote).stage is Stage.ORDERED
    progress.move_order(store, order_at(store, quote), Stage.CUT, later(minutes=9))
    assert stages(store, quote) == [Stage.CUT, Stage.CUT]
    changes = order(store, quote).pieces[0].changes
    assert [(change.old, change.new, change.by) for change in changes] == [
        (Stage.QUOTED, Stage.ORDERED, "Ilse"),
        (Stage.ORDERED, Stage.CUT, "Ilse"),
    ]
    assert changes[1].at == NOW + timedelta(minutes=9)


def test_a_step_cannot_be_skipped(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    with pytest.raises(Conflict, match="cannot become “framed”"):
        progress.move_piece(store, order_at(store, quote), 1, Stage.FRAMED, ACT)
    with pytest.raises(Conflict, match="cannot become “collected”"):
        progress.move_order(store, order_at(store, quote), Stage.COLLECTED, ACT)


def test_a_quote_becomes_an_order_only_by_being_taken(store: Store, quote: int) -> None:
    with pytest.raises(Conflict, match="take it as an order first"):
        progress.move_piece(store, order_at(store, quote), 1, Stage.ORDERED, ACT)
    with pytest.raises(Conflict, match="take it as an order first"):
        progress.move_order(store, order_at(store, quote), Stage.ORDERED, ACT)


def test_the_last_act_is_taken_back_with_every_piece_it_moved(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    progress.move_piece(store, order_at(store, quote), 1, Stage.CUT, later(minutes=1))
    progress.move_order(store, order_at(store, quote), Stage.CUT, later(minutes=2))
    progress.take_back(store, order_at(store, quote), later(minutes=3))
    assert stages(store, quote) == [Stage.CUT, Stage.ORDERED]
    progress.take_back(store, order_at(store, quote), later(minutes=4))
    assert stages(store, quote) == [Stage.ORDERED, Stage.ORDERED]
    progress.take_back(store, order_at(store, quote), later(minutes=5))
    assert stages(store, quote) == [Stage.QUOTED, Stage.QUOTED]
    with pytest.raises(Conflict, match="nothing to undo"):
        progress.take_back(store, order_at(store, quote), later(minutes=6))
    record = order(store, quote).pieces[0].changes
    assert [(change.new, change.takes_back) for change in record] == [
        (Stage.ORDERED, False),
        (Stage.CUT, False),
        (Stage.ORDERED, True),
        (Stage.QUOTED, True),
    ]


def test_a_change_of_one_piece_is_taken_back_alone(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    progress.move_order(store, order_at(store, quote), Stage.CUT, later(minutes=1))
    progress.take_back(store, order_at(store, quote), later(minutes=2), number=2)
    assert stages(store, quote) == [Stage.CUT, Stage.ORDERED]


def test_an_order_that_was_taken_back_keeps_its_number_when_taken_again(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("50")), ACT)
    progress.take_back(store, order_at(store, quote), later(minutes=1))
    assert (summary(store, quote).stage, summary(store, quote).owed) == (
        Stage.QUOTED,
        euro("-50"),
    )
    assert (
        progress.take_order(store, order_at(store, quote), Terms(), later(minutes=2)) == "2026-0001"
    )
    assert summary(store, quote).paid == euro("50")


def test_the_customer_takes_one_design_and_leaves_the_other(store: Store, quote: int) -> None:
    progress.move_piece(store, order_at(store, quote), 2, Stage.DECLINED, ACT)
    progress.take_order(store, order_at(store, quote), Terms(), later(minutes=1))
    assert stages(store, quote) == [Stage.ORDERED, Stage.DECLINED]
    assert summary(store, quote).total == TOTAL


def test_a_declined_quote_can_be_quoted_again(store: Store, quote: int) -> None:
    progress.move_order(store, order_at(store, quote), Stage.DECLINED, ACT)
    assert summary(store, quote).stage is Stage.DECLINED
    progress.move_order(store, order_at(store, quote), Stage.QUOTED, later(minutes=1))
    assert stages(store, quote) == [Stage.QUOTED, Stage.QUOTED]


def test_a_cancelled_order_owes_the_deposit_to_the_customer(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("80")), ACT)
    progress.move_order(store, order_at(store, quote), Stage.CANCELLED, later(minutes=1))
    shown = summary(store, quote)
    assert (shown.stage, shown.total, shown.owed) == (Stage.CANCELLED, euro("0"), euro("-80"))
    payments.refund(store, order_at(store, quote), Payment(amount=euro("80")), later(minutes=2))
    assert summary(store, quote).owed == euro("0")


def test_payments_refunds_and_corrections_add_up(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("100")), ACT)
    wrong = payments.add_payment(store, order_at(store, quote), Payment(amount=euro("70")), ACT)
    payments.correct_entry(store, order_at(store, quote), wrong, later(minutes=1))
    payments.add_payment(
        store, order_at(store, quote), Payment(amount=euro("7"), method=Method.TRANSFER), ACT
    )
    payments.refund(store, order_at(store, quote), Payment(amount=euro("5"), note="scratch"), ACT)
    kept = order(store, quote)
    assert [(each.entry.kind, each.entry.amount) for each in kept.entries] == [
        (EntryKind.DEPOSIT, euro("100")),
        (EntryKind.PAYMENT, euro("70")),
        (EntryKind.CORRECTION, euro("-70")),
        (EntryKind.PAYMENT, euro("7")),
        (EntryKind.REFUND, euro("-5")),
    ]
    assert account_now(kept).received == euro("102")  # 100 + 70 - 70 + 7 - 5
    assert summary(store, quote).owed == TOTAL * 2 - euro("102")


@pytest.mark.parametrize("amount", ["0", "-5"])
def test_an_amount_is_above_zero(store: Store, quote: int, amount: str) -> None:
    payment = Payment(amount=euro(amount))
    with pytest.raises(Invalid, match="not above zero"):
        payments.add_payment(store, order_at(store, quote), payment, ACT)
    with pytest.raises(Invalid, match="not above zero"):
        payments.refund(store, order_at(store, quote), payment, ACT)


def test_no_more_is_received_than_is_owed_nor_given_back_than_received(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("10")), ACT)
    too_much = Payment(amount=TOTAL * 2)
    with pytest.raises(Invalid, match="more than is still to pay"):
        payments.add_payment(store, order_at(store, quote), too_much, ACT)
    with pytest.raises(Invalid, match="more than was received"):
        payments.refund(store, order_at(store, quote), Payment(amount=euro("10.01")), ACT)


def test_an_entry_is_corrected_once_and_not_below_what_was_given_back(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("60")), ACT)
    (deposit,) = order(store, quote).entries
    refund = payments.refund(store, order_at(store, quote), Payment(amount=euro("40")), ACT)
    with pytest.raises(Conflict, match="correct the refund first"):
        payments.correct_entry(store, order_at(store, quote), deposit.id, ACT)
    payments.correct_entry(store, order_at(store, quote), refund, ACT)
    payments.correct_entry(store, order_at(store, quote), deposit.id, ACT)
    with pytest.raises(Conflict, match="corrected already"):
        payments.correct_entry(store, order_at(store, quote), deposit.id, ACT)
    assert summary(store, quote).paid == euro("0")


@pytest.mark.parametrize(
    "table", ["ledger_entries", "stage_changes", "piece_snapshots", "reductions"]
)
@pytest.mark.parametrize("statement", ["UPDATE {} SET by = 'nobody'", "DELETE FROM {}"])
def test_records_are_append_only_for_everybody(
    store: Store, quote: int, table: str, statement: str
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("60")), ACT)
    late = Goodwill(amount=euro("5"), reason="late")
    reductions.reduce(store, order_at(store, quote), late, ACT)
    refused = pytest.raises(sqlite3.IntegrityError, match=f"{table} is append-only")
    with closing(sqlite3.connect(store.path)) as connection, refused:
        connection.execute(statement.format(table))


def test_goodwill_lowers_total_and_owed_and_is_given_out_with_the_customer(
    store: Store, quote: int
) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=euro("60")), ACT)
    late = Goodwill(amount=euro("5"), reason=" late ")
    written = reductions.reduce(store, order_at(store, quote), late, ACT)
    listed = summary(store, quote)
    assert (listed.total, listed.owed) == (TOTAL * 2 - euro("5"), TOTAL * 2 - euro("65"))
    (kept,) = order(store, quote).reductions
    assert (kept.id, kept.entry.amount, kept.entry.reason) == (written, euro("5"), "late")
    assert (kept.entry.at, kept.entry.by, kept.entry.takes_back) == (ACT.now, ACT.who, None)
    given = customer_export.export(store, order(store, quote).customer_id)
    assert '"amount": "5.00"' in given
    assert check_database(store) == ()
    kronor = Goodwill(amount=replace(euro("5"), currency=currency("SEK")), reason="late")
    with pytest.raises(Conflict, match="is in EUR"):
        reductions.reduce(store, order_at(store, quote), kronor, ACT)


# The prices of the pieces are without tax, so 5.00 is too: at 20 % the order comes to 6.00 less with tax.
def test_goodwill_is_stated_as_the_prices_of_the_order_are(store: Store, amber: int) -> None:
    without = replace(SHOP, tax_policy=replace(SHOP.tax_policy, included=False))
    artwork, frozen = agreed(shop=without)
    pieces = [NewPiece(artwork=artwork, agreed=frozen)]
    head = QuoteHead(customer_id=amber, valid_until=MONTH)
    quote = orders.save_quote(store, head, pieces, ACT)
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    before = account_now(order(store, quote))
    late = Goodwill(amount=euro("5"), reason="late")
    reductions.reduce(store, order_at(store, quote), late, ACT)
    after = account_now(order(store, quote))
    assert [each.entry.with_tax for each in order(store, quote).reductions] == [False]
    assert after.charged.net == before.charged.net - euro("5")
    assert abs((before.to_pay - after.to_pay - euro("6")).minor) <= 1
    assert summary(store, quote).total == after.to_pay
    more = Goodwill(amount=after.charged.net + euro("0.01"), reason="a scratch")
    with pytest.raises(Invalid, match=r"is more than the order comes to, .* without tax"):
        reductions.reduce(store, order_at(store, quote), more, ACT)
    all_of_it = Goodwill(amount=after.charged.net, reason="a scratch")
    reductions.reduce(store, order_at(store, quote), all_of_it, ACT)
    assert account_now(order(store, quote)).to_pay == euro("0")


def test_nothing_is_received_while_something_is_to_return(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(deposit=TOTAL * 2), ACT)
    late = Goodwill(amount=euro("5"), reason="late")
    reductions.reduce(store, order_at(store, quote), late, ACT)
    with pytest.raises(Invalid, match=r"Nothing is still to pay; 5\.00 is to refund"):
        payments.add_payment(store, order_at(store, quote), Payment(amount=euro("1")), ACT)


def test_an_order_is_never_deleted(store: Store, quote: int) -> None:
    refused = pytest.raises(sqlite3.IntegrityError, match="never deleted")
    with closing(sqlite3.connect(store.path)) as connection, refused:
        connection.execute("DELETE FROM orders WHERE id = ?", (quote,))


def test_a_removed_material_leaves_old_quotes_as_they_were(store: Store, quote: int) -> None:
    before = order(store, quote)
    price_book.remove(store, "LIN-20", 1)
    price_book.retire(store, "M-101", 1, ACT)
    after = order(store, quote)
    assert after.pieces == before.pieces
    assert after.pieces[0].agreed.chosen.frames[0].code == "LIN-20"


def test_agreeing_anew_keeps_what_was_agreed_before(store: Store, quote: int) -> None:
    old = order(store, quote).pieces[0]
    wider = piece(borders__left="80", borders__right="80")
    orders.replace_piece(store, order_at(store, quote), 1, wider, later(days=2))
    now = order(store, quote).pieces[0]
    assert (now.id, now.agreed) == (old.id, wider.agreed)
    frozen = orders.price_history(store, quote, 1)
    assert [each.agreed for each in frozen] == [old.agreed, wider.agreed]
    assert [each.at for each in frozen] == [NOW, later(days=2).now]
    assert summary(store, quote).total == TOTAL + wider.agreed.price.to_pay


def test_a_piece_that_is_cut_is_not_agreed_anew(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    progress.move_order(store, order_at(store, quote), Stage.CUT, ACT)
    with pytest.raises(Conflict, match="Piece 1 is cut"):
        orders.replace_piece(store, order_at(store, quote), 1, cheap_piece(), ACT)
    with pytest.raises(Conflict, match="2026-0001 is cut"):
        orders.add_piece(store, order_at(store, quote), cheap_piece(), ACT)


def test_a_piece_added_to_a_quote_is_quoted_and_to_an_order_ordered(
    store: Store, quote: int
) -> None:
    assert orders.add_piece(store, order_at(store, quote), cheap_piece("Third"), ACT) == 3
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    assert orders.add_piece(store, order_at(store, quote), cheap_piece("Fourth"), ACT) == 4
    assert stages(store, quote) == [Stage.ORDERED] * 4
    assert summary(store, quote).total == TOTAL * 4


def test_the_number_of_a_removed_piece_is_not_used_again(store: Store, quote: int) -> None:
    orders.remove_piece(store, order_at(store, quote), 2, ACT)
    assert summary(store, quote).total == TOTAL
    assert orders.add_piece(store, order_at(store, quote), cheap_piece("Third"), ACT) == 3
    assert [each.number for each in order(store, quote).pieces] == [1, 3]
    with pytest.raises(NotFound, match="has no piece 2"):
        orders.remove_piece(store, order_at(store, quote), 2, ACT)


def test_the_only_piece_of_a_quote_and_an_ordered_piece_stay(store: Store, quote: int) -> None:
    orders.remove_piece(store, order_at(store, quote), 1, ACT)
    with pytest.raises(Conflict, match="only piece"):
        orders.remove_piece(store, order_at(store, quote), 2, ACT)
    orders.add_piece(store, order_at(store, quote), cheap_piece("Third"), ACT)
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    with pytest.raises(Conflict, match="Cancel it instead"):
        orders.remove_piece(store, order_at(store, quote), 2, ACT)


def test_one_order_is_in_one_currency(store: Store, amber: int, quote: int) -> None:
    frozen = cheap_piece()
    price = replace(frozen.agreed.price, currency=currency("SEK"))
    foreign = replace(frozen, agreed=replace(frozen.agreed, price=price))
    with pytest.raises(Conflict, match="priced in EUR and the piece in SEK"):
        orders.add_piece(store, order_at(store, quote), foreign, ACT)
    head = QuoteHead(customer_id=amber, valid_until=MONTH)
    with pytest.raises(Invalid, match="one currency"):
        orders.save_quote(store, head, [cheap_piece(), foreign], ACT)
    kronor = replace(euro("5"), currency=currency("SEK"))
    with pytest.raises(Conflict, match="is in EUR"):
        payments.add_payment(store, order_at(store, quote), Payment(amount=kronor), ACT)


def test_due_date_note_place_and_validity_can_be_set(store: Store, quote: int) -> None:
    orders.set_due(store, order_at(store, quote), MONTH, ACT)
    orders.set_note(store, order_at(store, quote), "no glass", ACT)
    orders.set_place(store, order_at(store, quote), 2, " Rack C ", ACT)
    orders.set_valid_until(store, order_at(store, quote), TODAY, ACT)
    kept = order(store, quote)
    assert (kept.due, kept.note, kept.valid_until) == (MONTH, "no glass", TODAY)
    assert [each.artwork.place for each in kept.pieces] == ["Drawer 3", "Rack C"]
    assert kept.pieces[1].agreed.typed["artwork.place"] == "Rack C"
    orders.set_due(store, order_at(store, quote), None, ACT)
    assert order(store, quote).due is None


def test_too_long_a_note_is_refused(store: Store, quote: int) -> None:
    with pytest.raises(Invalid, match="2001 characters"):
        orders.set_note(store, order_at(store, quote), "x" * 2001, ACT)


def test_an_order_is_found_by_either_of_its_numbers(store: Store, quote: int) -> None:
    progress.take_order(store, order_at(store, quote), Terms(), ACT)
    assert orders.find_by_number(store, " 2026-0001 ") == quote
    assert orders.find_by_number(store, "Q-2026-0001") == quote
    with pytest.raises(NotFound, match="2026-0002"):
        orders.find_by_number(store, "2026-0002")


def test_a_shop_that_changes_its_tax_leaves_an_old_quote_alone(store: Store, quote: int) -> None:
    dearer = usual_shop("Kesselhof Frames", SHOP.unit, "EUR", SHOP.tax_rates[0].percent * 2)
    with store.writing() as work:
        work.shop.save(dearer, 1, now=NOW)
    orders.set_note(store, order_at(store, quote), "still the same", ACT)
    assert summary(store, quote).total == TOTAL * 2


def test_a_program_killed_while_saving_uses_up_no_number(store: Store, amber: int) -> None:
    # Source: handbook M4.
    saving = (
        "import sys, os; from datetime import timedelta; from pathlib import Path\n"
        "from app.services.orders import QuoteHead, add_quote; from app.storage import Store\n"
        "from tests.builders.kept import ACT, cheap_piece\n"
        "from tests.builders.values import TODAY\n"
        "with Store.open(Path(sys.argv[1])).writing() as work:\n"
        "    head = QuoteHead(customer_id=1, valid_until=TODAY + timedelta(days=30))\n"
        "    add_quote(work, head, [cheap_piece()], ACT)\n"
        "    os._exit(9)\n"
    )
    store.close()
    ended = subprocess.run([sys.executable, "-c", saving, str(store.path)], check=False)
    assert ended.returncode == 9
    head = QuoteHead(customer_id=amber, valid_until=MONTH)
    with Store.open(store.path) as after:
        kept = orders.save_quote(after, head, [cheap_piece()], ACT)
        assert order(after, kept).quote_number == "Q-2026-0001"
