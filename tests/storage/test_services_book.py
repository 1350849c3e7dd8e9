"""The price book, customers and the shop through their services."""

import json
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from app.errors import Conflict, Invalid, NotFound
from app.orders import Customer
from app.pricing import Kind, Raised
from app.services import (
    customer_export,
    customers,
    erasing,
    orders,
    payments,
    price_book,
    shop,
    who_is_meant,
)
from app.services import stages as progress
from app.services.orders import OrderAt, QuoteHead
from app.services.payments import Payment
from app.services.price_book import Raise, Selection
from app.services.stages import Terms
from app.services.who_is_meant import CustomerRequest
from app.storage import Stale, Store
from tests.builders.kept import ACT, BANDED, GLASS, MOULDING, SHOP, WIRE, asked_to_go, cheap_piece
from tests.builders.values import TODAY, euro

AMBER = Customer(name="Amber Quill", phone="01632 960 011", email="amber@quill.example")


# The price book


def _raise(store: Store, selection: Selection, share: str, what: Raised = Raised.BOTH) -> int:
    """Raise as a person does: look first, then carry out what was seen."""
    asked = Raise(selection=selection, share=Fraction(share), what=what)
    seen = {each.new.code: each.old.version for each in price_book.preview_raise(store, asked)}
    return price_book.raise_prices(store, asked, seen, ACT)


def test_prices_are_raised_by_a_percentage_and_rounded_half_up(store: Store) -> None:
    assert _raise(store, Selection(), "0.05") == 7
    # By hand: 9.40 × 1.05 = 9.87; 2.50 × 1.05 = 2.625, half up 2.63; 85 × 1.05 = 89.25;
    # 9.00 × 1.05 = 9.45; 21.00 × 1.05 = 22.05; 2.10 × 1.05 = 2.205, half up 2.21.
    moulding = price_book.get(store, "LIN-20").value
    assert (moulding.cost, moulding.selling) == (euro("9.87"), MOULDING.selling)
    wire = price_book.get(store, "W-1").value
    assert (wire.cost, wire.selling.price) == (euro("89.25"), euro("2.63"))
    banded = price_book.get(store, "DRY").value
    assert banded.cost == euro("2.21")
    assert [band.price for band in banded.charge.bands] == [euro("9.45"), euro("22.05")]


@pytest.mark.parametrize(
    ("selection", "changed"),
    [
        (Selection(kind=Kind.MAT), {"M-101", "M-140"}),
        (Selection(supplier="papierhaus"), {"M-101", "M-140", "G-2", "B-3"}),
        (Selection(kind=Kind.MAT, text="green"), {"M-140"}),
        (Selection(supplier="Papierhaus", text="board"), {"B-3"}),
        (Selection(text="marble"), set()),
    ],
)
def test_only_what_is_meant_is_raised(
    store: Store, selection: Selection, changed: set[str]
) -> None:
    before = {material.code: material for material in price_book.listed(store)}
    assert _raise(store, selection, "1/10") == len(changed)
    after = price_book.listed(store)
    assert {each.code for each in after if each != before[each.code]} == changed


def test_a_raise_that_was_previewed_before_a_change_is_refused_whole(store: Store) -> None:
    asked = Raise(selection=Selection(kind=Kind.MAT), share=Fraction(1, 10), what=Raised.COST)
    seen = {each.new.code: each.old.version for each in price_book.preview_raise(store, asked)}
    price_book.retire(store, "M-140", 1, ACT)
    before = price_book.listed(store, inactive=True)
    with pytest.raises(Conflict, match="Nothing was raised"):
        price_book.raise_prices(store, asked, seen, ACT)
    assert price_book.listed(store, inactive=True) == before


@pytest.mark.parametrize("share", ["0", "-1", "-2", "6"])
def test_a_raise_has_bounds(store: Store, share: str) -> None:
    with pytest.raises(Invalid) as caught:
        Raise(selection=Selection(), share=Fraction(share), what=Raised.BOTH)
    assert [fault.path for fault in caught.value.faults] == ["percent"]


def test_a_material_is_added_changed_retired_taken_up_again_and_removed(store: Store) -> None:
    price_book.add(store, replace(GLASS, code="G-3", name="Float glass 3 mm"), ACT)
    price_book.save(store, "G-3", replace(GLASS, code="G-3", name="Thick glass"), 1, ACT)
    price_book.retire(store, "G-3", 2, ACT)
    assert [each.code for each in price_book.find(store, "glass")] == ["G-2"]
    price_book.reactivate(store, "G-3", 3, ACT)
    assert [each.code for each in price_book.find(store, "glass")] == ["G-2", "G-3"]
    with pytest.raises(Stale):
        price_book.remove(store, "G-3", 1)
    price_book.remove(store, "G-3", 4)
    with pytest.raises(NotFound):
        price_book.get(store, "G-3")


def test_the_book_counts_its_kinds(store: Store) -> None:
    counts = price_book.counts(store)
    assert (counts[Kind.MAT], counts[Kind.MOULDING], counts[Kind.EXTRA]) == (2, 1, 1)
    assert {BANDED.kind, WIRE.kind} <= set(counts)


# Customers


@pytest.fixture
def amber(store: Store) -> int:
    return customers.add(store, AMBER, ACT)


def _meant(store: Store, asked: CustomerRequest) -> int:
    with store.writing() as work:
        return who_is_meant.known_or_new(work, asked, ACT)


def _count(store: Store) -> int:
    return customers.listed(store).total


@pytest.mark.parametrize(
    "asked",
    [
        CustomerRequest(name="Amber Quill #1"),
        CustomerRequest(name="amber quill"),
        CustomerRequest(name="Amber Quill", phone="(01632) 960-011"),
        CustomerRequest(name="AMBER QUILL", email="Amber@Quill.example"),
    ],
)
def test_somebody_known_is_not_added_again(
    store: Store, amber: int, asked: CustomerRequest
) -> None:
    assert _meant(store, asked) == amber
    assert _count(store) == 1


@pytest.mark.parametrize(
    "asked",
    [
        CustomerRequest(name="Amber"),
        CustomerRequest(name="Amber Quill", phone="01632 960 222"),
        CustomerRequest(name="Amber Quill", email="other@quill.example"),
    ],
)
def test_somebody_else_is_added(store: Store, amber: int, asked: CustomerRequest) -> None:
    new = _meant(store, asked)
    assert new != amber
    assert customers.get(store, new).value == Customer(
        name=asked.name, phone=asked.phone, email=asked.email
    )


@pytest.mark.parametrize(
    "typed",
    ["01632 960", "960-011", "amber@", "amber@quill.example"],
)
def test_a_part_of_one_phone_or_email_means_that_customer(
    store: Store, amber: int, typed: str
) -> None:
    """Nobody is called so, and nobody new either."""
    assert who_is_meant.fitting(store, CustomerRequest(name=typed)) == (AMBER,)
    assert _meant(store, CustomerRequest(name=typed)) == amber


@pytest.mark.parametrize(
    "asked",
    [
        CustomerRequest(name="amb"),  # of a name: it may be that of somebody new
        CustomerRequest(name="Amber Qui"),
        CustomerRequest(name="Amber Quill Jones"),
        CustomerRequest(name="Ropewalk"),  # of the address
        CustomerRequest(name="walnut"),  # of the notes
        CustomerRequest(name="22"),  # a number this short is no part of a phone
    ],
)
def test_what_may_be_a_name_is_somebody_new(
    store: Store, amber: int, asked: CustomerRequest
) -> None:
    assert who_is_meant.fitting(store, asked) == ()
    assert _meant(store, asked) != amber


def test_a_part_of_several_phones_means_none_of_them(store: Store, amber: int) -> None:
    customers.add(store, replace(AMBER, name="Ada Vane", email=""), ACT)
    assert who_is_meant.fitting(store, CustomerRequest(name="01632 960")) == ()
    assert who_is_meant.fitting(store, CustomerRequest(name="amber@quill")) == (AMBER,)


@pytest.mark.parametrize(
    ("typed", "alike"),
    [
        ("amb", "Amber Quill"),
        ("Quill", "Amber Quill"),
        ("Amber Qui", "Amber Quill"),
        ("Amber Quill", ""),  # meant already
        ("Amber Quill #1", ""),
        ("01632 960", ""),
        ("Zoë", ""),
        ("a", ""),  # two begin so
        ("Ropewalk", ""),
        ("", ""),
    ],
)
def test_the_only_customer_whose_name_is_like_what_was_typed_is_offered(
    store: Store, amber: int, typed: str, alike: str
) -> None:
    customers.add(store, Customer(name="Ada Vane"), ACT)
    offered = who_is_meant.alike(store, CustomerRequest(name=typed))
    assert offered == (f"{alike} #{amber}" if alike else None)


def test_two_of_one_name_must_be_told_apart(store: Store, amber: int) -> None:
    other = customers.add(store, replace(AMBER, phone="01632 960 222", email=""), ACT)
    with pytest.raises(Invalid, match="2 customers are called “Amber Quill”") as caught:
        _meant(store, CustomerRequest(name="Amber Quill"))
    assert [fault.path for fault in caught.value.faults] == ["customer"]
    assert _meant(store, CustomerRequest(name=who_is_meant.label(other, "Amber Quill"))) == other
    assert _meant(store, CustomerRequest(name="Amber Quill", phone="01632 960 011")) == amber
    assert len(who_is_meant.fitting(store, CustomerRequest(name="Amber Quill"))) == 2
    assert who_is_meant.fitting(store, CustomerRequest(name="Amber Quill #1")) == (AMBER,)


def test_faults_of_a_new_customer_stand_at_the_fields_of_the_quote(store: Store) -> None:
    with pytest.raises(Invalid) as caught:
        _meant(
            store,
            CustomerRequest.of({"customer": " ", "customer.phone": "x", "customer.email": "y"}),
        )
    paths = {fault.path for fault in caught.value.faults}
    assert paths == {"customer", "customer.phone", "customer.email"}


def test_an_erased_customer_is_not_known_by_the_old_name(store: Store, amber: int) -> None:
    erasing.erase(store, amber, asked_to_go(store, amber), ACT)
    assert who_is_meant.fitting(store, CustomerRequest(name="Amber Quill #1")) == ()
    assert who_is_meant.fitting(store, CustomerRequest(name="removed customer")) == ()


def test_everything_kept_about_a_customer_can_be_given_out(store: Store, amber: int) -> None:
    # Source: GDPR art. 15 and 20.
    head = QuoteHead(customer_id=amber, valid_until=TODAY + timedelta(days=30), note="by hand")
    order_id = orders.save_quote(store, head, [cheap_piece("Two herons", "Drawer 3")], ACT)
    progress.take_order(store, OrderAt(id=order_id, version=1), Terms(deposit=euro("20")), ACT)
    payment = Payment(amount=euro("5"), note="in coins")
    payments.add_payment(store, OrderAt(id=order_id, version=2), payment, ACT)
    given = json.loads(customer_export.export(store, amber))
    assert given["customer"]["name"] == "Amber Quill"
    (order,) = given["orders"]
    assert (order["quote"], order["order"], order["note"]) == (
        "Q-2026-0001",
        "2026-0001",
        "by hand",
    )
    assert [(entry["kind"], entry["note"]) for entry in order["payments"]] == [
        ("deposit", ""),
        ("payment", "in coins"),
    ]
    (piece,) = order["pieces"]
    assert (piece["title"], piece["place"], piece["stage"]) == (
        "Two herons",
        "Drawer 3",
        "ordered",
    )
    for word in ("cost", "margin", "earnings", "markup"):
        assert word not in customer_export.export(store, amber)


# The shop


def test_the_shop_is_set_up_once(store: Store) -> None:
    with pytest.raises(Conflict, match="set up already"):
        shop.set_up(store, SHOP, ACT)


def test_a_new_shop_is_kept(empty: Store) -> None:
    assert not shop.exists(empty)
    with pytest.raises(NotFound, match="not set up yet"):
        shop.get(empty)
    shop.set_up(empty, SHOP, ACT)
    assert shop.exists(empty)
    assert shop.current_shop(empty) == SHOP


def test_the_second_of_two_settings_tabs_is_told_what_is_kept_now(store: Store) -> None:
    mine, theirs = (replace(SHOP, name=name) for name in ("Mine", "Theirs"))
    shop.save(store, theirs, 1, ACT)
    with pytest.raises(Stale, match="settings changed") as caught:
        shop.save(store, mine, 1, ACT)
    assert getattr(caught.value.stored, "value", None) == theirs
    assert shop.get(store).value == theirs
