"""Invoices on a real file: numbers without gaps, frozen as issued, corrected by contrary ones (M4).

The sample piece comes to `TOTAL`; what an invoice charges is worked by hand in the tests of orders.
"""

import json
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from app.errors import Conflict, Invalid, NotFound
from app.orders import Customer, Stage
from app.orders.invoices.invoice import Invoice, InvoiceKind
from app.orders.invoices.issue import Dated
from app.services import customer_export, customers, erasing, invoices, orders, payments, reductions
from app.services import shop as shops
from app.services import stages as progress
from app.services.invoices import InvoiceRequest, Next, OrderInvoices
from app.services.orders import OrderAt, QuoteHead
from app.services.payments import Payment
from app.services.reductions import Goodwill
from app.services.stages import Terms
from app.storage import Stale, Store, back_up, check_database
from app.storage.integrity import problems_of
from app.storage.snapshots import INVOICE
from tests.builders.kept import ACT, asked_to_go, cheap_piece, later
from tests.builders.order_now import order_at
from tests.builders.values import TODAY, euro

TOTAL = cheap_piece().agreed.price.to_pay
AMBER = Customer(name="Amber Quill", address="12 Heron Walk\nEastmere")


@pytest.fixture
def amber(store: Store) -> int:
    return customers.add(store, AMBER, ACT)


def an_order(store: Store, customer: int) -> int:
    head = QuoteHead(customer_id=customer, valid_until=TODAY)
    order_id = orders.save_quote(store, head, [cheap_piece()], ACT)
    progress.take_order(store, order_at(store, order_id), Terms(), ACT)
    return order_id


@pytest.fixture
def taken(store: Store, amber: int) -> int:
    """An order of one piece."""
    return an_order(store, amber)


def issue(store: Store, order_id: int, *, days: int = 0) -> str:
    return invoices.issue(store, order_at(store, order_id), InvoiceRequest(), later(days=days))


def stands(store: Store, order_id: int) -> OrderInvoices:
    return invoices.of_order(store, orders.get(store, order_id))


def said(store: Store, order_id: int) -> list[Invoice]:
    return [each.invoice for each in stands(store, order_id).issued]


def take_off(store: Store, order_id: int, amount: str = "10") -> None:
    goodwill = Goodwill(amount=euro(amount), reason="a scratch")
    reductions.reduce(store, order_at(store, order_id), goodwill, ACT)


@pytest.fixture(autouse=True)
def whole(store: Store) -> object:
    """Whatever a test does, the data add up after it."""
    yield
    assert check_database(store) == ()


def test_an_invoice_is_issued_once_and_reads_back_as_issued(store: Store, taken: int) -> None:
    assert stands(store, taken).next is Next.ISSUE
    deposit = Payment(amount=euro("20"))
    payments.add_payment(store, order_at(store, taken), deposit, ACT)
    wanted = InvoiceRequest(pay_by=date(2026, 12, 9), note="Thank you.")
    number = invoices.issue(store, order_at(store, taken), wanted, ACT)
    assert number == "R-2026-0001"
    issued = invoices.get(store, taken, number)
    assert (issued.kind, issued.issued_on, issued.pay_by) == (
        InvoiceKind.INVOICE,
        TODAY,
        date(2026, 12, 9),
    )
    assert (issued.buyer.name, issued.buyer.lines) == ("Amber Quill", ("12 Heron Walk", "Eastmere"))
    assert (issued.seller.name, issued.note) == ("Kesselhof Frames", "Thank you.")
    assert (issued.charged.gross, issued.paid, issued.due) == (
        TOTAL,
        euro("20"),
        TOTAL - euro("20"),
    )
    assert INVOICE.read(INVOICE.write(issued)) == issued
    assert stands(store, taken).next is Next.NOTHING
    with pytest.raises(Conflict, match="has an invoice already, R-2026-0001"):
        issue(store, taken)


def test_an_invoice_says_the_same_whatever_changes_after(
    store: Store, taken: int, amber: int
) -> None:
    number = issue(store, taken)
    before = invoices.get(store, taken, number)
    kept = shops.get(store)
    shop = replace(kept.value, name="Another Name", tax_number="XX 1")
    shops.save(store, shop, kept.version, ACT)
    moved = replace(AMBER, address="1 New Street")
    customers.save(store, amber, moved, customers.get(store, amber).version, ACT)
    take_off(store, taken)
    assert invoices.get(store, taken, number) == before


def test_numbers_have_no_gaps_where_issuing_failed(
    store: Store, amber: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Source: handbook M4.
    def fail(*_: object) -> None:
        raise LookupError("the power went")

    ids = [an_order(store, amber) for _ in range(3)]
    assert issue(store, ids[0]) == "R-2026-0001"
    with pytest.raises(Invalid):  # found after the number is taken
        invoices.issue(store, order_at(store, ids[1]), InvoiceRequest(note="x" * 401), ACT)
    with pytest.raises(Stale):
        invoices.issue(store, OrderAt(id=ids[1], version=1), InvoiceRequest(), ACT)
    with monkeypatch.context() as patched:
        patched.setattr("app.services.order_transaction.settle", fail)
        with pytest.raises(LookupError, match="the power went"):
            issue(store, ids[1])
    assert [each.number for each in said(store, ids[1])] == []
    assert issue(store, ids[1]) == "R-2026-0002"
    assert issue(store, ids[2], days=40) == "R-2027-0001"


def test_the_days_of_invoices_run_with_their_numbers(store: Store, amber: int) -> None:
    first, second = an_order(store, amber), an_order(store, amber)
    issue(store, first, days=2)
    with pytest.raises(Invalid, match="set its clock right") as asked:
        issue(store, second)
    assert [fault.path for fault in asked.value.faults] == ["dated"]
    assert issue(store, second, days=2) == "R-2026-0002"


def dated(store: Store, order_id: int, how: Dated) -> str:
    return invoices.issue(store, order_at(store, order_id), InvoiceRequest(dated=how), ACT)


def test_where_the_clock_was_ahead_an_invoice_is_dated_as_the_last_one(
    store: Store, amber: int
) -> None:
    first, second = an_order(store, amber), an_order(store, amber)
    issue(store, first, days=20)
    assert dated(store, second, Dated.LAST) == "R-2026-0002"
    assert [each.issued_on for each in said(store, second)] == [TODAY + timedelta(days=20)]


def test_or_it_is_dated_today_and_nothing_more_is_asked(store: Store, amber: int) -> None:
    first, second, third = (an_order(store, amber) for _ in range(3))
    issue(store, first, days=20)
    assert dated(store, second, Dated.TODAY) == "R-2026-0002"
    assert [each.issued_on for each in said(store, second)] == [TODAY]
    assert issue(store, third) == "R-2026-0003"


def test_an_invoice_of_next_year_does_not_hold_up_the_series_of_this_one(
    store: Store, amber: int
) -> None:
    """The clock said March 2027 when the first was issued, and is right again."""
    # Source: Council Directive 2006/112/EC, Article 226 (2): a number is of one or more series.
    ahead, second = an_order(store, amber), an_order(store, amber)
    assert issue(store, ahead, days=98) == "R-2027-0001"
    assert invoices.later_day(store, orders.get(store, second), TODAY) is None
    assert issue(store, second) == "R-2026-0001"


def test_the_invoice_of_next_year_is_taken_back_today_or_on_its_own_day(
    store: Store, amber: int
) -> None:
    ids = [an_order(store, amber) for _ in range(2)]
    for order_id in ids:
        issue(store, order_id, days=98)
        progress.move_order(store, order_at(store, order_id), Stage.CANCELLED, ACT)
    with pytest.raises(Invalid, match="R-2027-0002 is dated") as asked:
        invoices.credit(store, order_at(store, ids[0]), ACT)
    assert [fault.path for fault in asked.value.faults] == ["dated"]
    assert invoices.credit(store, order_at(store, ids[0]), ACT, Dated.TODAY) == "R-2026-0001"
    assert invoices.credit(store, order_at(store, ids[1]), ACT, Dated.LAST) == "R-2027-0003"
    days = [said(store, each)[-1].issued_on for each in ids]
    assert days == [TODAY, TODAY + timedelta(days=98)]


def test_a_corrected_invoice_of_next_year_goes_on_in_one_series(store: Store, taken: int) -> None:
    issue(store, taken, days=98)
    take_off(store, taken)
    wanted = InvoiceRequest(dated=Dated.TODAY)
    numbers = invoices.correct(store, order_at(store, taken), wanted, ACT)
    assert numbers == ("R-2026-0001", "R-2026-0002")


def test_a_quote_has_no_invoice(store: Store, amber: int) -> None:
    head = QuoteHead(customer_id=amber, valid_until=TODAY)
    quote = orders.save_quote(store, head, [cheap_piece()], ACT)
    assert stands(store, quote).next is Next.NOTHING
    with pytest.raises(Conflict, match="is not ordered"):
        issue(store, quote)


def test_a_changed_order_is_corrected_by_a_credit_note_and_a_new_invoice(
    store: Store, taken: int
) -> None:
    payments.add_payment(store, order_at(store, taken), Payment(amount=euro("20")), ACT)
    issue(store, taken)
    with pytest.raises(Conflict, match="does not differ"):
        invoices.correct(store, order_at(store, taken), InvoiceRequest(), ACT)
    take_off(store, taken)
    assert stands(store, taken).next is Next.CORRECT
    assert len(stands(store, taken).differs) == 2
    numbers = invoices.correct(store, order_at(store, taken), InvoiceRequest(), later(days=1))
    assert numbers == ("R-2026-0002", "R-2026-0003")
    old, note, new = said(store, taken)
    assert note.corrects is not None
    assert (note.kind, note.corrects.number) == (InvoiceKind.CREDIT_NOTE, old.number)
    assert (note.charged.gross, new.charged.gross) == (-TOTAL, TOTAL - euro("10"))
    assert (note.due, new.due) == (euro("0"), TOTAL - euro("30"))
    after = stands(store, taken)
    assert after.standing is not None
    assert (after.standing.invoice.number, after.next) == ("R-2026-0003", Next.NOTHING)


def test_a_correction_that_fails_takes_nothing_back(store: Store, taken: int) -> None:
    issue(store, taken)
    take_off(store, taken)
    with pytest.raises(Invalid):
        invoices.correct(store, order_at(store, taken), InvoiceRequest(note="x" * 401), ACT)
    assert [each.number for each in said(store, taken)] == ["R-2026-0001"]
    assert (
        invoices.correct(store, order_at(store, taken), InvoiceRequest(), ACT)[0] == "R-2026-0002"
    )


def test_a_wrong_address_can_be_put_right(store: Store, taken: int, amber: int) -> None:
    issue(store, taken)
    moved = replace(AMBER, address="13 Heron Walk")
    customers.save(store, amber, moved, customers.get(store, amber).version, ACT)
    found = stands(store, taken)
    assert (found.differs, found.readdressed, found.next) == ((), True, Next.CORRECT)
    invoices.correct(store, order_at(store, taken), InvoiceRequest(), ACT)
    _, note, new = said(store, taken)
    assert (note.buyer.lines, new.buyer.lines) == (
        ("12 Heron Walk", "Eastmere"),
        ("13 Heron Walk",),
    )


def test_a_cancelled_order_gets_a_credit_note_alone(store: Store, taken: int) -> None:
    payments.add_payment(store, order_at(store, taken), Payment(amount=euro("20")), ACT)
    issue(store, taken)
    with pytest.raises(Conflict, match="is corrected, not only taken back"):
        invoices.credit(store, order_at(store, taken), ACT)
    progress.move_order(store, order_at(store, taken), Stage.CANCELLED, ACT)
    assert stands(store, taken).next is Next.CREDIT
    with pytest.raises(Conflict, match="No piece of"):
        invoices.correct(store, order_at(store, taken), InvoiceRequest(), ACT)
    assert invoices.credit(store, order_at(store, taken), ACT) == "R-2026-0002"
    note = said(store, taken)[1]
    assert (note.charged.gross, note.due) == (-TOTAL, euro("-20"))
    assert stands(store, taken).next is Next.NOTHING
    with pytest.raises(Conflict, match="no invoice that stands"):
        invoices.credit(store, order_at(store, taken), ACT)


def test_an_order_that_goes_on_after_all_is_invoiced_anew(store: Store, taken: int) -> None:
    issue(store, taken)
    progress.move_order(store, order_at(store, taken), Stage.CANCELLED, ACT)
    invoices.credit(store, order_at(store, taken), ACT)
    progress.take_back(store, order_at(store, taken), ACT)
    assert stands(store, taken).next is Next.ISSUE
    assert issue(store, taken) == "R-2026-0003"


def test_an_order_that_is_a_quote_again_needs_its_invoice_taken_back(
    store: Store, taken: int
) -> None:
    issue(store, taken)
    progress.take_back(store, order_at(store, taken), ACT)
    found = stands(store, taken)
    assert (found.next, found.differs) == (Next.CREDIT, ("2026-0001 is not ordered any more.",))
    invoices.credit(store, order_at(store, taken), ACT)


def test_invoices_stay_when_a_customer_is_removed_and_are_given_out(
    store: Store, taken: int, amber: int
) -> None:
    # Source: GDPR art. 17 and 20; handbook section 10.
    issue(store, taken)
    (given,) = json.loads(customer_export.export(store, amber))["invoices"]
    assert (given["number"], given["order"]) == ("R-2026-0001", "2026-0001")
    assert given["buyer"] == ["Amber Quill", "12 Heron Walk", "Eastmere"]
    assert len(given["lines"]) == 1
    erasing.erase(store, amber, asked_to_go(store, amber), ACT)
    assert said(store, taken)[0].buyer.name == "Amber Quill"
    assert not stands(store, taken).readdressed
    take_off(store, taken)
    invoices.correct(store, order_at(store, taken), InvoiceRequest(), ACT)
    assert said(store, taken)[2].buyer.name == "Amber Quill"


def test_a_removed_customer_gets_no_first_invoice(store: Store, taken: int, amber: int) -> None:
    erasing.erase(store, amber, asked_to_go(store, amber), ACT)
    with pytest.raises(Conflict, match="names its customer"):
        issue(store, taken)


def test_months_list_what_was_issued_in_the_order_of_the_numbers(store: Store, amber: int) -> None:
    for days in (0, 3, 10):
        issue(store, an_order(store, amber), days=days)
    found = invoices.months(store)
    assert [(month.first, month.count) for month in found] == [
        (date(2026, 12, 1), 1),
        (date(2026, 11, 1), 2),
    ]
    november = invoices.listed(store, TODAY)
    assert [each.invoice.number for each in november] == ["R-2026-0001", "R-2026-0002"]
    december = invoices.listed(store, TODAY + timedelta(days=20))
    assert [each.invoice.number for each in december] == ["R-2026-0003"]
    assert invoices.listed(store, date(2027, 1, 1)) == ()


def test_an_invoice_is_found_only_at_its_own_order(store: Store, amber: int) -> None:
    first, second = an_order(store, amber), an_order(store, amber)
    issue(store, first)
    with pytest.raises(NotFound, match="no invoice with the number R-2026-0001"):
        invoices.get(store, second, "R-2026-0001")


ROW = (
    "INSERT INTO invoices (number, kind, order_id, issued_on, currency, gross_minor, corrects, says, "
    "at, by) VALUES ('R-2026-0009', ?, 1, '2026-11-25', 'EUR', ?, ?, '{}', '', '')"
)


def test_the_database_holds_what_was_issued(store: Store, taken: int) -> None:
    issue(store, taken)
    with closing(sqlite3.connect(store.path)) as connection:
        for statement in ("UPDATE invoices SET number = 'R-2026-0002'", "DELETE FROM invoices"):
            with pytest.raises(sqlite3.IntegrityError, match="append-only"):
                connection.execute(statement)
        with pytest.raises(sqlite3.IntegrityError, match="has an invoice that stands"):
            connection.execute(ROW, ("invoice", TOTAL.minor, None))
        with pytest.raises(
            sqlite3.IntegrityError, match="takes back an invoice of its order whole"
        ):
            connection.execute(ROW, ("credit-note", -TOTAL.minor + 1, 1))
        connection.execute(ROW, ("credit-note", -TOTAL.minor, 1))
        with pytest.raises(sqlite3.IntegrityError, match="CHECK constraint"):
            connection.execute(ROW, ("invoice", TOTAL.minor, 1))


@pytest.mark.parametrize(
    ("damage", "problem"),
    [
        ("UPDATE invoices SET says = replace(says, 'R-2026-0001', 'R-2026-0007')", "does not say"),
        ("UPDATE invoices SET gross_minor = 5 WHERE id = 2", "R-2026-0002 does not say"),
        ("UPDATE invoices SET number = 'R-2026-0005' WHERE id = 3", "was given, but no invoice"),
        ("DELETE FROM invoices WHERE id = 2", "has more than one invoice that stands"),
    ],
)
def test_damaged_invoices_are_found(
    store: Store, taken: int, tmp_path: Path, damage: str, problem: str
) -> None:
    issue(store, taken)
    take_off(store, taken)
    invoices.correct(store, order_at(store, taken), InvoiceRequest(), ACT)
    copy = back_up(store, tmp_path / "copies", now=ACT.now)
    assert problems_of(copy) == ()
    rules = ("invoices_unchanged", "invoices_stay")
    asked = "SELECT sql FROM sqlite_master WHERE name = ?"
    with closing(sqlite3.connect(copy)) as connection:
        made = [connection.execute(asked, (rule,)).fetchone()[0] for rule in rules]
        for statement in (*(f"DROP TRIGGER {rule}" for rule in rules), damage, *made):
            connection.execute(statement)
        connection.commit()
    assert any(problem in sentence for sentence in problems_of(copy))
