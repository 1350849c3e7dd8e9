"""Who is meant by what is typed of a customer: asked once where somebody known may be, and a number is no name."""

import pytest

from app.days import show_day
from app.orders import Customer
from app.services import customers, orders
from app.storage import Stamp, Store
from tests.builders.worked import TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)


def asked_who(counter: Counter, **typed: str) -> Shown:
    """Save the worked piece for somebody, as the quote page posts it; a__b stands for a.b."""
    form = {name.replace("__", "."): text for name, text in typed.items()}
    return counter.sent("/quotes", {**TYPED, "action": "save", **form})


def known(stocked: Store, *names: str) -> None:
    for name in names:
        customers.add(stocked, Customer(name=name), ACT)


def test_a_part_of_a_known_name_asks_once_who_it_is(counter: Counter, stocked: Store) -> None:
    known(stocked, "Milo Tarn", "Mila Ash", "Ben Alder")
    refused = asked_who(counter, customer="Mil", customer__phone="0123 456")
    assert refused.status == 422
    said = refused.error("customer")
    assert "“Mil” may be somebody known: Mila Ash #2, Milo Tarn #1." in said
    assert refused.words(id="customer-question") == (
        "Who is it? Mila Ash #2 Milo Tarn #1 A new customer: Mil"
    )
    assert (refused.fields["customer"], refused.fields["customer.phone"]) == ("Mil", "0123 456")
    new = counter.post("/quotes", {**refused.fields, "action": "say:customer.new:Mil"})
    assert new.fields["customer.new"] == "Mil"
    assert asked_who(counter, **{**new.fields, "action": "save"}).status == 303
    assert customers.get(stocked, 4).value.name == "Mil"


def test_another_name_than_the_one_that_was_said_to_be_new_is_asked_about(
    counter: Counter, stocked: Store
) -> None:
    known(stocked, "Milo Tarn")
    assert asked_who(counter, customer="Milo", customer__new="Mil").status == 422
    assert asked_who(counter, customer="Milo", customer__new="Milo").status == 303


def test_a_phone_beside_the_whole_name_of_somebody_whose_phone_is_not_known_is_asked_about(
    counter: Counter, stocked: Store
) -> None:
    known(stocked, "Milo Tarn")
    refused = asked_who(counter, customer="Milo Tarn", customer__phone="0123 456")
    assert "may be somebody known: Milo Tarn #1" in refused.error("customer")
    taken = asked_who(counter, customer="Milo Tarn #1", customer__phone="0123 456")
    assert taken.status == 303
    assert customers.listed(stocked).total == 1
    assert customers.get(stocked, 1).value.phone == "0123 456"


def test_somebody_with_another_phone_is_not_asked_about(counter: Counter, stocked: Store) -> None:
    customers.add(stocked, Customer(name="Milo Tarn", phone="111 222"), ACT)
    assert asked_who(counter, customer="Milo Tarn", customer__phone="333 444").status == 303
    assert customers.listed(stocked).total == 2


@pytest.mark.parametrize("name", ["38", "0123 456 789", "+44 (0) 12", "?"])
def test_a_number_is_no_name(counter: Counter, stocked: Store, name: str) -> None:
    refused = asked_who(counter, customer=name)
    assert refused.status == 422
    assert "is no name, and nobody is known by it" in refused.error("customer")
    assert refused.fields["customer"] == name
    assert customers.listed(stocked).total == 0


def test_a_number_after_a_hash_is_looked_up(counter: Counter, stocked: Store) -> None:
    known(stocked, "Milo Tarn")
    assert asked_who(counter, customer="#1").status == 303
    assert customers.listed(stocked).total == 1
    refused = asked_who(counter, customer="#38")
    assert "There is no customer #38; type the name." in refused.error("customer")


def test_a_sale_over_the_counter_asks_as_well(counter: Counter, stocked: Store) -> None:
    known(stocked, "Milo Tarn")
    form = counter.get("/sell").form("/sell")
    form |= {"customer": "Mil", "what": "Brass plate", "price": "5", "action": "sell"}
    refused = counter.sent("/sell", form)
    assert "may be somebody known: Milo Tarn #1" in refused.error("customer")
    assert "A new customer: Mil" in refused.words(id="customer-question")


@pytest.mark.parametrize(
    ("kept", "typed"),
    [
        ("01632 960 101", "+44 1632 960101"),
        ("01632 960 101", "+44 (0) 1632 960101"),
        ("01632 960 101", "0044 1632 960 101"),
        ("+44 1632 960101", "01632 960 101"),
        ("+44 1632 960101", "(01632) 960-101"),
    ],
)
def test_a_phone_number_is_known_with_its_country_code_and_without(
    counter: Counter, stocked: Store, kept: str, typed: str
) -> None:
    customers.add(stocked, Customer(name="Milo Tarn", phone=kept), ACT)
    assert asked_who(counter, customer=typed).status == 303
    assert asked_who(counter, customer="Milo Tarn", customer__phone=typed).status == 303
    assert customers.listed(stocked).total == 1
    assert "Milo Tarn" in counter.client.get("/customers", params={"q": typed}).text


def test_the_number_of_another_country_is_another(counter: Counter, stocked: Store) -> None:
    customers.add(stocked, Customer(name="Milo Tarn", phone="+44 1632 960101"), ACT)
    assert asked_who(counter, customer="+49 1632 960101").status == 422
    assert asked_who(counter, customer="01632 960 102").status == 422


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("milo@tarn.example", "an e-mail address has a field of its own"),
        ("Q-2026-0304", "is the number of a quote, an order or another paper, no name"),
        ("2026-0304", "is the number of a quote, an order or another paper, no name"),
    ],
)
def test_an_address_and_the_number_of_a_paper_are_no_name(
    counter: Counter, stocked: Store, name: str, said: str
) -> None:
    refused = asked_who(counter, customer=name)
    assert refused.status == 422
    assert said in refused.error("customer")
    assert customers.listed(stocked).total == 0


def test_an_address_that_is_known_is_whose_it_is(counter: Counter, stocked: Store) -> None:
    customers.add(stocked, Customer(name="Milo Tarn", email="milo@tarn.example"), ACT)
    assert asked_who(counter, customer="milo@tarn.example").status == 303
    assert customers.listed(stocked).total == 1


def begun(counter: Counter, **typed: str) -> dict[str, str]:
    """What a browser without scripts sends of a new quote, typed and saved at once."""
    form = {name.replace("__", "."): text for name, text in typed.items()}
    return {**counter.get("/quotes/new").form("/quotes"), **TYPED, "action": "save", **form}


def test_a_whole_name_of_somebody_known_is_told_before_it_is_kept(
    counter: Counter, stocked: Store
) -> None:
    """The first quote of theirs is of the day of the shop's clock."""
    assert asked_who(counter, customer="Milo Tarn").status == 303
    asks = counter.post("/quotes", begun(counter, customer="milo tarn", artwork__title="Weir"))
    assert asks.status == 422
    day = show_day(NOW.date())
    assert f"This is for Milo Tarn, in your records since {day}." in asks.error("customer")
    assert asks.words(id="customer-question") == (
        "Who is it? Milo Tarn #1 A new customer: milo tarn"
    )
    assert asks.fields["artwork.title"] == "Weir"
    assert counter.post("/quotes", {**asks.form("/quotes"), "action": "save"}).status == 303
    assert customers.listed(stocked).total == 1
    assert orders.get(stocked, 2).customer_name == "Milo Tarn"


def test_somebody_new_may_be_called_as_somebody_known(counter: Counter, stocked: Store) -> None:
    known(stocked, "Milo Tarn")
    asks = counter.post("/quotes", begun(counter, customer="Milo Tarn", artwork__title="Weir"))
    assert "This is for Milo Tarn, in your records. Save it again" in asks.error("customer")
    anew = counter.post("/quotes", {**asks.form("/quotes"), "action": "say:customer.new:Milo Tarn"})
    assert anew.words(id="customer-said") == "new customer"
    assert anew.fields["artwork.title"] == "Weir"
    assert anew.words("subheading") == "for whom, and what"
    assert counter.post("/quotes", {**anew.form("/quotes"), "action": "save"}).status == 303
    assert [orders.get(stocked, 1).customer_id, customers.listed(stocked).total] == [2, 2]


def test_who_saw_that_somebody_is_known_is_not_asked(counter: Counter, stocked: Store) -> None:
    """While one types, the page says it beside the name, and the form says that it did."""
    known(stocked, "Milo Tarn")
    form = begun(counter, customer="Milo Tarn")
    told = counter.post("/quotes?live=1", form).one(id="customer-told")
    assert (told.get("name"), told.get("value")) == ("customer.told", "Milo Tarn #1")
    other = counter.post("/quotes", {**form, "customer.told": "Mila Ash #9"})
    assert other.status == 422
    assert other.fields["customer.told"] == "Milo Tarn #1"
    form = begun(counter, customer="Milo Tarn", customer__told="Milo Tarn #1")
    assert counter.post("/quotes", form).status == 303
