"""Invoices on their order's page and by month: issued by an act, corrected by one, read back as PDF.

The worked piece comes to 103.51, of which 17.25 is tax.
"""

import csv
import io
from dataclasses import replace

import pytest

from app.orders import Customer
from app.services import customers, quotes
from app.services import shop as shops
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store, check_database
from tests.builders.worked import SHOP, TYPED
from tests.documents.reading import text_of
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import do, filled

ACT = Stamp(who="Ilse", now=NOW)


def an_order(counter: Counter, store: Store, name: str = "Amber Quill", deposit: str = "") -> str:
    """The address of an order of the worked piece."""
    order = f"/orders/{quotes.save_new(store, CustomerRequest(name=name), TYPED, SHOP, ACT)}"
    do(counter, order, "take", deposit=deposit)
    return order


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    return an_order(counter, stocked, deposit="50")


def issued(page: Shown) -> list[str]:
    """What was issued, each in words with what became of it."""
    part = page.one(id="invoices")
    return [
        words(item).replace(" (PDF)", "")
        for item in part.iter("li")
        if item.find("span") is not None
    ]


def pdf_of(counter: Counter, order: str, number: str) -> str:
    answer = counter.client.get(f"{order}/invoices/{number}.pdf")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    return text_of(answer.content)


def test_a_quote_offers_no_invoice(counter: Counter, stocked: Store) -> None:
    quote = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )
    assert not counter.get(quote).has(id="invoices")
    answer = counter.post(f"{quote}/invoices", {"version": "1"})
    assert answer.status == 409
    assert "is not ordered" in answer.main


@pytest.mark.documents
@pytest.mark.poppler
def test_an_invoice_is_issued_by_an_act_and_never_by_looking(counter: Counter, order: str) -> None:
    assert counter.get(f"{order}/invoices/R-2026-0001.pdf").status == 404
    page = do(counter, order, "invoices", invoice__pay_by="2026-12-09", invoice__note="Thank you.")
    assert "Invoice R-2026-0001 is issued." in page.main
    assert list(page.links("notice-done")) == ["Open it (PDF)"]
    assert page.links("notice-done")["Open it (PDF)"].endswith("/invoices/R-2026-0001.pdf")
    assert issued(page) == ["Invoice R-2026-0001 Wed 25 Nov 2026 103.51"]
    assert page.links()["Invoice R-2026-0001 (PDF)"] == f"{order}/invoices/R-2026-0001.pdf"
    said = pdf_of(counter, order, "R-2026-0001")
    # 103.51 − 50.00 = 53.51
    for term in (
        "Tax 20 % 86.26 17.25 103.51",
        "Amount due 53.51",
        "Pay by Wed 9 Dec 2026",
        "Thank you.",
    ):
        assert term in said
    assert counter.get(f"{order}/invoices/R-2026-0002.pdf").status == 404


@pytest.mark.documents
@pytest.mark.poppler
def test_printed_again_it_says_the_same(
    counter: Counter, stocked: Store, order: str, clock: Clock
) -> None:
    do(counter, order, "invoices")
    before = pdf_of(counter, order, "R-2026-0001")
    kept = shops.get(stocked)
    moved = replace(kept.value, name="Another Name", address="Elsewhere", tax_number="XX 9")
    shops.save(stocked, moved, kept.version, ACT)
    customers.save(stocked, 1, Customer(name="Amber Vole"), 1, ACT)
    do(counter, order, "entries", payment__amount="53.51")
    do(counter, order, "reductions", goodwill__amount="10", goodwill__reason="a scratch")
    clock.time = NOW.replace(year=2027)
    assert pdf_of(counter, order, "R-2026-0001") == before


def test_what_is_wrong_with_the_form_stands_beside_it_and_takes_no_number(
    counter: Counter, stocked: Store, order: str
) -> None:
    form = filled(counter, order, "invoices", invoice__pay_by="2026-11-24", invoice__note="hi")
    answer = counter.post(f"{order}/invoices", form)
    assert answer.status == 422
    assert "is before the day of issue" in answer.error("invoice.pay_by")
    assert answer.fields["invoice.note"] == "hi"
    answer = counter.post(f"{order}/invoices", form | {"invoice.pay_by": "25/13"})
    assert "has a month 13" in answer.error("invoice.pay_by")
    answer = counter.post(f"{order}/invoices", form | {"invoice.note": "x" * 401})
    assert "at most 400" in answer.error("invoice.note")
    page = do(counter, order, "invoices")
    assert "Invoice R-2026-0001 is issued." in page.main
    assert check_database(stocked) == ()


def test_two_tabs_issue_one_invoice(counter: Counter, order: str) -> None:
    first, second = (filled(counter, order, "invoices") for _ in range(2))
    counter.go(f"{order}/invoices", first)
    answer = counter.post(f"{order}/invoices", second)
    assert answer.status == 409
    assert issued(counter.get(order)) == ["Invoice R-2026-0001 Wed 25 Nov 2026 103.51"]


def test_what_the_settings_lack_is_said_before_it_is_issued(
    counter: Counter, stocked: Store, order: str
) -> None:
    assert "The settings have no address and no tax number" in counter.get(order).main
    kept = shops.get(stocked)
    whole = replace(kept.value, address="1 Rush Bank", tax_number="XX 1")
    shops.save(stocked, whole, kept.version, ACT)
    assert "The settings have" not in counter.get(order).main


def test_why_no_tax_is_charged_is_asked_of_a_tax_free_customers_invoice(
    counter: Counter, stocked: Store
) -> None:
    customers.add(stocked, Customer(name="Reed Archive", tax_free=True), ACT)
    page = counter.get(an_order(counter, stocked, "Reed Archive"))
    assert "Say why no tax is charged, as local law asks." in page.main


# 103.51 − 10.00 = 93.51
def test_a_changed_order_says_what_differs_and_is_corrected_in_one_act(
    counter: Counter, stocked: Store, order: str
) -> None:
    do(counter, order, "invoices")
    do(counter, order, "entries", payment__amount="53.51")
    assert "is not what invoice" not in counter.get(order).main
    page = do(counter, order, "reductions", goodwill__amount="10", goodwill__reason="a scratch")
    assert "The order is not what invoice R-2026-0001 says." in page.main
    assert "Taken off: 0.00 on the invoice, 10.00 now." in page.main
    page = do(counter, order, "invoices/correct")
    assert "Credit note R-2026-0002 and invoice R-2026-0003 are issued." in page.main
    assert issued(page) == [
        "Invoice R-2026-0001 – cancelled by R-2026-0002 Wed 25 Nov 2026 103.51",
        "Credit note R-2026-0002 – cancels R-2026-0001 Wed 25 Nov 2026 −103.51",
        "Invoice R-2026-0003 Wed 25 Nov 2026 93.51",
    ]
    assert "is not what invoice" not in page.main
    assert check_database(stocked) == ()


def test_a_new_address_is_mentioned_and_not_pressed(
    counter: Counter, stocked: Store, order: str
) -> None:
    do(counter, order, "invoices")
    customers.save(stocked, 1, Customer(name="Amber Quill", address="1 New Street"), 1, ACT)
    page = counter.get(order)
    assert "The customer's name or address is another now" in page.main
    assert "is not what invoice" not in page.main


def test_a_cancelled_order_offers_a_credit_note(counter: Counter, order: str) -> None:
    do(counter, order, "invoices")
    page = do(counter, order, "pieces/1/stage", stage="cancelled")
    assert "No piece of 2026-0001 is left to charge." in page.main
    assert page.buttons(f"{order}/invoices/correct") == []
    page = do(counter, order, "invoices/credit")
    assert "Credit note R-2026-0002 is issued." in page.main
    assert page.buttons(f"{order}/invoices/credit") == []


def test_a_month_is_listed_and_saved_in_the_order_of_the_numbers(
    counter: Counter, stocked: Store, order: str, clock: Clock
) -> None:
    assert "None yet" in counter.get("/invoices").main
    do(counter, order, "invoices", invoice__pay_by="2026-12-09")
    do(counter, order, "reductions", goodwill__amount="10", goodwill__reason="a scratch")
    do(counter, order, "invoices/correct")
    customers.add(stocked, Customer(name="=1+1", tax_free=True), ACT)
    do(counter, an_order(counter, stocked, "=1+1"), "invoices")
    clock.time = NOW.replace(month=12)
    do(counter, an_order(counter, stocked), "invoices")
    page = counter.get("/invoices?month=2026-11")
    assert page.links("chips") == {
        "December 2026 (1)": "/invoices?month=2026-12",
        "November 2026 (4)": "/invoices?month=2026-11",
    }
    answer = counter.get(page.links()["Save the month for the bookkeeper (CSV)"])
    assert "invoices-2026-11.csv" in answer.headers["content-disposition"]
    rows = list(csv.DictReader(io.StringIO(answer.text.removeprefix("\ufeff"))))
    # 103.51 less 10.00 is 93.51, of which 15.59 is tax; tax-free 86.26.
    wanted = [
        ("R-2026-0001", "invoice", "", "Amber Quill", "20", "86.26", "17.25", "103.51"),
        ("R-2026-0002", "credit-note", "R-2026-0001", "Amber Quill", "20", "-86.26", "-17.25", "-103.51"),
        ("R-2026-0003", "invoice", "", "Amber Quill", "20", "77.92", "15.59", "93.51"),
        ("R-2026-0004", "invoice", "", "'=1+1", "", "86.26", "0.00", "86.26"),
    ]  # fmt: skip
    columns = ("number", "kind", "takes_back", "customer", "percent", "without_tax", "tax_amount", "with_tax")  # fmt: skip
    assert [tuple(row[name] for name in columns) for row in rows] == wanted
    assert (rows[0]["date"], rows[0]["pay_by"], rows[0]["currency"]) == (
        "2026-11-25",
        "2026-12-09",
        "EUR",
    )
    assert "Invoice R-2026-0005" in counter.get("/invoices").main
    assert "None in this month" in counter.get("/invoices?month=2025-01").main


def test_years_apart_are_a_row_of_their_own(counter: Counter, stocked: Store, clock: Clock) -> None:
    do(counter, an_order(counter, stocked), "invoices")
    assert not [
        nav
        for nav in counter.get("/invoices").each("chips")
        if "Years" in nav.get("aria-label", "")
    ]
    clock.time = NOW.replace(year=2028, month=2)
    do(counter, an_order(counter, stocked), "invoices")
    page = counter.get("/invoices")
    assert page.links("chips") == {
        "2028": "/invoices?month=2028-02",
        "2026": "/invoices?month=2026-11",
    }
    assert "Invoice R-2028-0001" in page.main
    assert "November 2026 (1)" in counter.get("/invoices?month=2026-11").main


@pytest.mark.parametrize("month", ["2026-13", "26-1", "x", "9999-01", "2026-11-25", "\N{SNOWMAN}"])
def test_a_month_that_is_none_is_not_found(counter: Counter, month: str) -> None:
    assert counter.get(f"/invoices?month={month}").status == 404
    assert counter.get(f"/invoices/month.csv?month={month}").status == 404


def test_the_lists_and_the_data_lead_to_the_invoices(counter: Counter) -> None:
    assert counter.get("/orders").links()["Invoices"] == "/invoices"
    assert counter.get("/settings/data").links()["Invoices by month"] == "/invoices"


def test_a_customers_page_lists_the_invoices(counter: Counter, order: str) -> None:
    assert "Invoices" not in [words(each) for each in counter.get("/customers/1").each(tag="h2")]
    do(counter, order, "invoices")
    page = counter.get("/customers/1")
    assert page.links()["Invoice R-2026-0001 (PDF)"] == f"{order}/invoices/R-2026-0001.pdf"


def test_removing_a_customer_says_that_invoices_stay(counter: Counter, order: str) -> None:
    do(counter, order, "invoices")
    assert "Invoices that were issued stay as they are" in counter.get("/customers/1/remove").main
    counter.go("/customers/1/remove", {})
    assert "Amber Quill" in counter.get("/invoices").main
