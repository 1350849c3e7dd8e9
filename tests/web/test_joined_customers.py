"""Two records of one person become one, a quote may turn out to be somebody else's, and a number is noted."""

import pytest

from app.orders import Customer
from app.services import customers, orders, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)
ADAEZE = Customer(name="Adaeze Holt", phone="01632 960411", notes="Likes oak.")
A_HOLT = Customer(name="A. Holt", phone="07700 900158", email="a@holt.example", notes="By post.")


def two(stocked: Store) -> None:
    """Adaeze Holt, number 1, and A. Holt, number 2, with a quote."""
    for customer in (ADAEZE, A_HOLT):
        customers.add(stocked, customer, ACT)
    quotes.save_new(stocked, CustomerRequest(name="A. Holt"), TYPED, SHOP, ACT)


def test_two_records_are_joined_after_a_look(counter: Counter, stocked: Store) -> None:
    two(stocked)
    form = counter.get("/customers/1/join").form("/customers/1/join")
    looked = counter.post("/customers/1/join", form | {"customer": "A. Holt #2"})
    assert "A. Holt #2 goes into Adaeze Holt #1, with 1 quote or order" in looked.main
    assert customers.get(stocked, 1).value == ADAEZE
    done = counter.go("/customers/1/join", looked.form("/customers/1/join") | {"action": "join"})
    assert customers.get(stocked, 1).value == Customer(
        name="Adaeze Holt",
        phone="01632 960411",
        email="a@holt.example",
        notes="Likes oak.\nAlso name: A. Holt; phone: 07700 900158\nBy post.",
    )
    assert orders.get(stocked, 1).customer_id == 1
    assert "Record #2 was joined with this one on Wed 25 Nov 2026" in done.main
    assert "1 quote or order came over" in done.main
    assert counter.get("/customers/2").location == "/customers/1"
    assert [row.name for row in customers.listed(stocked).rows] == ["Adaeze Holt"]
    assert [row.id for row in customers.find(stocked, "900158")] == [1]


@pytest.mark.parametrize(
    ("other", "sentence"),
    [
        ("Adaeze Holt #1", "This is the same record"),
        ("Bram", "“Bram” is nobody who is known"),
        ("", "Nobody was chosen"),
        ("A. Holt #9", "“A. Holt #9” is nobody who is known"),
    ],
)
def test_who_cannot_be_joined_is_said(
    counter: Counter, stocked: Store, other: str, sentence: str
) -> None:
    two(stocked)
    page = counter.post("/customers/1/join", {"customer": other, "version": "1"})
    assert page.status == 422
    assert sentence in page.error("customer")
    assert page.one(id="customer").get("value") == other


def test_with_and_without_tax_are_not_joined(counter: Counter, stocked: Store) -> None:
    customers.add(stocked, ADAEZE, ACT)
    customers.add(stocked, Customer(name="Holt Gallery", tax_free=True), ACT)
    page = counter.post("/customers/1/join", {"customer": "Holt Gallery #2", "version": "1"})
    assert "One of the two is priced without tax" in page.error("customer")


def test_a_record_that_changed_meanwhile_is_not_overwritten(
    counter: Counter, stocked: Store
) -> None:
    two(stocked)
    form = {"customer": "A. Holt #2", "version": "7", "action": "join"}
    assert "changed in the meantime" in counter.post("/customers/1/join", form).error("customer")
    assert customers.get(stocked, 2).value == A_HOLT


def test_a_quote_is_given_to_another_customer(counter: Counter, stocked: Store) -> None:
    two(stocked)
    form = counter.get("/orders/1/customer").form("/orders/1/customer")
    page = counter.go("/orders/1/customer", form | {"customer": "Adaeze Holt #1"})
    assert "It is for Adaeze Holt now." in page.main
    assert orders.get(stocked, 1).customer_name == "Adaeze Holt"
    again = counter.post("/orders/1/customer", form | {"customer": "A. Holt #2"})
    assert "changed in the meantime" in again.error("customer")


def test_an_order_with_an_invoice_stays_with_whom_it_names(
    counter: Counter, stocked: Store
) -> None:
    two(stocked)
    do(counter, "/orders/1", "take", deposit="", due="2026-12-10")
    do(counter, "/orders/1", "invoices")
    form = counter.get("/orders/1/customer").form("/orders/1/customer")
    page = counter.post("/orders/1/customer", form | {"customer": "Adaeze Holt #1"})
    assert "R-2026-0001 was issued to A. Holt" in page.error("customer")


def test_a_number_typed_beside_a_chosen_customer_is_noted(stocked: Store) -> None:
    customers.add(stocked, Customer(name="Bram Holt"), ACT)
    asked = CustomerRequest(name="Bram Holt #1", phone="01632 960500", email="bram@holt.example")
    quotes.save_new(stocked, asked, TYPED, SHOP, ACT)
    assert customers.listed(stocked).total == 1
    assert customers.get(stocked, 1).value == Customer(
        name="Bram Holt", phone="01632 960500", email="bram@holt.example"
    )


def test_another_number_than_the_known_one_is_asked_about(counter: Counter, stocked: Store) -> None:
    customers.add(stocked, ADAEZE, ACT)
    form = TYPED | {"customer": "Adaeze Holt #1", "customer.phone": "01632 960999"}
    page = counter.post("/quotes", form | {"action": "save"})
    assert page.status == 422
    assert "has the phone number “01632 960411”" in page.error("customer.phone")
    assert customers.listed(stocked).total == 1
    assert orders.listed(stocked).total == 0
