"""Every amount that is typed says whether it is with or without tax, and what it is the other way (M5).

The shop's standard rate is 20 %; the worked piece comes to 103.51, of which 17.25 is tax, or to 103.51 and
20.70 of tax where prices are without it.
"""

from dataclasses import replace

import pytest
from starlette.testclient import TestClient

from app.money import currency
from app.orders import Customer, Shop
from app.services import customers, orders, quotes
from app.services import shop as shops
from app.services.order_transaction import account_now
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.pieces.price import price_view
from tests.builders.values import euro
from tests.builders.worked import TYPED
from tests.web.conftest import NOW, SHOP
from tests.web.shown import Counter, Shown, words

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)


def label(page: Shown, path: str) -> str:
    id_ = path.replace(".", "-").replace("_", "-")
    (found,) = [each for each in page.each(tag="label") if each.get("for") == id_]
    return words(found).removesuffix(" · needed").removesuffix(" needed")


def said(page: Shown, path: str) -> str:
    """What stands beside a field."""
    return page.words(id=path.replace(".", "-").replace("_", "-") + "-said")


def stating(counter: Counter, store: Store, *, included: bool) -> Counter:
    """The counter of the shop whose prices are with tax or without."""
    kept = shops.get(store)
    policy = replace(kept.value.tax_policy, included=included)
    shops.save(store, replace(kept.value, tax_policy=policy), kept.version, ACT)
    return counter


def shop_of(store: Store) -> Shop:
    return shops.get(store).value


BOTH_WAYS = pytest.mark.parametrize(
    ("included", "mode", "other"),
    # 30.00 with tax in it, of which a sixth is 5.00; 30.00 and 6.00 of tax on top.
    [(True, "with tax", "25.00 without tax"), (False, "without tax", "36.00 with tax")],
)


@BOTH_WAYS
def test_the_hourly_rate(
    counter: Counter, stocked: Store, included: bool, mode: str, other: str
) -> None:
    stating(counter, stocked, included=included)
    page = counter.get("/settings/work")
    assert label(page, "hourly_rate") == f"Hourly rate you charge, {mode}"
    form = page.form("/settings/work") | {"hourly_rate": "30"}
    counter.go("/settings/work", form | {"action": "save"})
    assert said(counter.get("/settings/work"), "hourly_rate") == other
    again = counter.post(
        "/settings/work?live=1", form | {"hourly_rate": "60", "labour_tax": "none"}
    )
    assert again.status == 200
    assert said(again, "hourly_rate").startswith("60.00 ")
    assert shop_of(stocked).labour.hourly_rate.minor == 3000
    recalculated = counter.post("/settings/work", form | {"action": "recalculate"})
    assert said(recalculated, "hourly_rate") == other
    assert "Work it out" in recalculated.buttons("/settings/work")


@BOTH_WAYS
def test_prices_and_costs_of_a_material(
    counter: Counter, stocked: Store, included: bool, mode: str, other: str
) -> None:
    stating(counter, stocked, included=included)
    address = "/materials/R-1/edit"
    typed = {"cost": "10", "selling": "price", "selling.price": "30", "action": "recalculate"}
    form = counter.get(address).form(address) | typed
    page = counter.post(address, form)
    assert label(page, "cost") == "Cost, without tax"
    assert said(page, "cost") == "12.00 with tax"
    assert label(page, "selling.price") == f"Sell price, {mode}"
    assert said(page, "selling.price") == other
    assert f"which gives the price {mode}." in page.main
    live = counter.post(f"{address}?live=1", form | {"selling.price": "much"})
    assert said(live, "selling.price") == ""
    assert "“much”" in live.error("selling.price")
    untaxed = counter.post(f"{address}?live=1", form | {"tax": "none"})
    assert said(untaxed, "selling.price").startswith("30.00 ")


@BOTH_WAYS
def test_prices_by_size(
    counter: Counter, stocked: Store, included: bool, mode: str, other: str
) -> None:
    stating(counter, stocked, included=included)
    address = "/materials/B-3/edit"
    rows = {"charge.by": "size-band", "charge.bands.0.up_to": "800", "charge.bands.0.price": "30"}
    page = counter.post(f"{address}?live=1", counter.get(address).form(address) | rows)
    assert label(page, "charge.bands.0.price") == f"Price, {mode}"
    assert said(page, "charge.bands.0.price") == other
    assert label(page, "charge.bands.__row__.price") == f"Price, {mode}"


def test_costs_that_steps_begin_at_and_the_step_of_prices(counter: Counter, stocked: Store) -> None:
    page = stating(counter, stocked, included=False).get("/settings/prices")
    assert label(page, "rounding_step") == "Round the price of a piece to steps of, without tax"
    assert label(page, "tables.__row__.steps.0.up_to") == "Unit cost up to, without tax"
    assert label(page, "tables.__row__.steps.0.factor") == "Cost × = price without tax"


def test_what_stock_cost(counter: Counter) -> None:
    page = counter.post("/stock/receive", {"material": "R-1", "count": "x", "unit_cost": "10"})
    assert label(page, "unit_cost") == "Cost of one, without tax"
    assert said(page, "unit_cost") == "12.00 with tax"


def test_the_first_run_tells_by_what_is_chosen_there(first_page: TestClient) -> None:
    counter = Counter(first_page)
    form = counter.get("/welcome").form("/welcome")
    form |= {"name": "Fen", "currency": "GBP", "tax": "20", "hourly_rate": "30"}
    for stated, other in (("with", "25.00 without tax"), ("without", "36.00 with tax")):
        page = counter.post("/welcome?live=1", form | {"stated": stated})
        assert label(page, "hourly_rate") == "Hourly rate you charge, stated as your prices are"
        assert said(page, "hourly_rate") == other
    assert said(counter.post("/welcome?live=1", form | {"tax": ""}), "hourly_rate") == ""
    assert counter.get("/").location == "/welcome"


def test_a_shop_without_any_tax_is_told_nothing_of_it(counter: Counter, stocked: Store) -> None:
    kept = shops.get(stocked)
    rates = tuple(replace(rate, percent=rate.percent * 0) for rate in kept.value.tax_rates)
    shops.save(stocked, replace(kept.value, tax_rates=rates), kept.version, ACT)
    assert label(counter.get("/settings/work"), "hourly_rate") == "Hourly rate you charge"
    page = counter.get("/materials/R-1/edit")
    assert label(page, "cost") == "Cost"
    assert said(page, "cost") == ""
    quote = saved(stocked)
    assert label(counter.get(quote), "deposit") == "Deposit received"


def saved(store: Store) -> str:
    """The address of a quote of the worked piece, priced as the shop prices now."""
    number = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, shop_of(store), ACT)
    return f"/orders/{number}"


def posted(counter: Counter, order: str, act: str, **typed: str) -> dict[str, str]:
    values = {name.replace("__", "."): value for name, value in typed.items()}
    return counter.get(order).form(f"{order}/{act}") | values


# 50.00 is what was handed over. With tax in the prices it is in proportion 50 × 86.26/103.51 = 41.667… without tax; with
# tax on top 50 × 103.51/124.21 = 41.667… Half of 103.51 is 51.755, half up 51.76; half of 124.21 is 62.105, half up 62.11.
@pytest.mark.parametrize(("included", "usual"), [(True, "51.76"), (False, "62.11")])
def test_a_deposit_is_booked_as_it_was_handed_over(
    counter: Counter, stocked: Store, included: bool, usual: str
) -> None:
    quote = saved(stating(counter, stocked, included=included) and stocked)
    page = counter.get(quote)
    assert label(page, "deposit") == "Deposit received, as paid, with tax"
    assert f"usual is {usual}." in page.main
    form = posted(counter, quote, "take", deposit="50")
    live = counter.post(f"{quote}/take?live=1", form)
    assert said(live, "deposit") == "41.67 without tax"
    assert "Amber Quill" not in live.text  # only the parts that change
    stated = counter.post(f"{quote}/take", form | {"action": "recalculate"})
    assert said(stated, "deposit") == "41.67 without tax"
    assert counter.get(quote).heading.startswith("Quote")
    taken = counter.go(f"{quote}/take", form)
    assert "Received 50.00" in taken.words("totals")
    assert "is received, with tax." not in taken.main


def test_all_of_an_order_paid_as_deposit_is_all_of_it(counter: Counter, stocked: Store) -> None:
    quote = saved(stating(counter, stocked, included=False) and stocked)
    taken = counter.go(f"{quote}/take", posted(counter, quote, "take", deposit="124.21"))
    assert "Still to pay 0.00" in taken.words("totals")
    refused = saved(stocked)
    form = posted(counter, refused, "take", deposit="124.22")
    assert "more than is still to pay" in counter.post(f"{refused}/take", form).error("deposit")


@pytest.mark.parametrize(
    ("included", "other"), [(True, "41.67 without tax"), (False, "41.67 without tax")]
)
def test_what_was_paid_is_with_tax_in_either_mode(
    counter: Counter, stocked: Store, included: bool, other: str
) -> None:
    quote = saved(stating(counter, stocked, included=included) and stocked)
    assert label(counter.get(quote), "payment.amount") == "Amount, as paid, with tax"
    counter.go(f"{quote}/take", posted(counter, quote, "take"))
    form = posted(counter, quote, "entries", payment__amount="50")
    assert said(counter.post(f"{quote}/entries?live=1", form), "payment.amount") == other
    assert "Received 50.00" in counter.go(f"{quote}/entries", form).words("totals")


# With tax: 93.51 is left, of which 15.585, half up 15.59, so 77.92 and 8.34 less. Without: 93.51 × 20 % =
# 18.702, so 112.21, which is 12.00 less than 124.21.
@pytest.mark.parametrize(
    ("included", "mode", "other"),
    [(True, "with tax", "8.34 without tax"), (False, "without tax", "12.00 with tax")],
)
def test_goodwill_is_stated_as_the_prices_of_its_order(
    counter: Counter, stocked: Store, included: bool, mode: str, other: str
) -> None:
    quote = saved(stating(counter, stocked, included=included) and stocked)
    counter.go(f"{quote}/take", posted(counter, quote, "take"))
    assert label(counter.get(quote), "goodwill.amount") == f"Taken off, {mode}"
    form = posted(counter, quote, "reductions", goodwill__amount="10", goodwill__reason="late")
    assert said(counter.post(f"{quote}/reductions?live=1", form), "goodwill.amount") == other
    assert not orders.get(stocked, int(quote.rpartition("/")[2])).reductions
    page = counter.go(f"{quote}/reductions", form)
    assert f"Taken off −{'10.00' if included else '12.00'}" in page.words("totals")
    assert f"{mode}, −{other} −10.00" in page.words("totals")
    too_much = posted(counter, quote, "reductions", goodwill__amount="103.52")
    assert said(counter.post(f"{quote}/reductions?live=1", too_much), "goodwill.amount") == ""


def test_nothing_is_said_of_a_tax_that_the_customer_does_not_pay(
    counter: Counter, stocked: Store
) -> None:
    customers.add(stocked, Customer(name="Amber Quill", tax_free=True), ACT)
    quote = saved(stocked)
    assert label(counter.get(quote), "deposit") == "Deposit received, no tax is charged"
    form = posted(counter, quote, "take", deposit="50")
    assert said(counter.post(f"{quote}/take?live=1", form), "deposit") == ""
    assert "with tax" not in counter.get(quote).words("totals")
    price = price_view(orders.get(stocked, int(quote.rpartition("/")[2])).pieces[0].agreed)
    # 103.51 hold 17.25 of tax, which this customer does not pay.
    assert price.adjustments[-1] == ("Tax not charged", euro("-17.25"))
    assert price.total == euro("86.26")
    rows = (*(line.amount for line in price.lines), *(amount for _, amount in price.adjustments))
    assert sum(rows, euro("0")) == price.total


def test_the_facts_of_the_head_of_an_order_stand_apart(counter: Counter, stocked: Store) -> None:
    customers.add(stocked, Customer(name="Amber Quill", tax_free=True), ACT)
    quote = saved(stocked)
    assert " 2026 · priced without tax" in counter.get(quote).words("order-head")
    page = counter.go(f"{quote}/take", posted(counter, quote, "take", due="2026-12-10"))
    assert "due Thu 10 Dec 2026 (in 15 days) · priced without tax" in page.words("order-head")


@pytest.mark.parametrize(
    ("copies", "said", "to_pay"),
    [
        ("2", "2 × 84.76 without tax", "169.52"),
        ("20", "20 × about 83.41 without tax", "1668.17"),
    ],
)
def test_a_tax_free_customer_is_told_what_one_of_several_costs(
    counter: Counter, stocked: Store, copies: str, said: str, to_pay: str
) -> None:
    """Each has 66.00 of materials and 33.91 of work, and 3.60 of it is done once.

    Two: 2 × 99.91 + 3.60 = 203.42, less 33.90 of tax = 169.52, which is 2 × 84.76. Twenty: 20 × 99.91 + 3.60 =
    2001.80, less 333.63 of tax = 1668.17, of which a twentieth is 83.4085.
    """
    customers.add(stocked, Customer(name="Amber Quill", tax_free=True), ACT)
    typed = {**TYPED, "copies": copies}
    number = quotes.save_new(
        stocked, CustomerRequest(name="Amber Quill"), typed, shop_of(stocked), ACT
    )
    price = price_view(orders.get(stocked, number).pieces[0].agreed)
    assert (price.each, price.total) == (said, euro(to_pay))
    assert f"({said})" in counter.get(f"/orders/{number}").words("piece-card")
    assert "that is not charged" not in counter.get(f"/orders/{number}").main
    split = counter.get(f"/orders/{number}/pieces/1/split?count=1")
    assert said in split.main


# What was quoted before stays in its currency; its amounts are read and shown in that.
def test_an_order_in_another_currency_than_the_shops_goes_on_in_its_own(
    counter: Counter, stocked: Store
) -> None:
    quote = saved(stocked)
    kept = shops.get(stocked)
    yen = currency("JPY")
    moved = replace(
        SHOP,
        currency=yen,
        labour=replace(SHOP.labour, hourly_rate=type(SHOP.labour.hourly_rate)(36, yen)),
    )
    shops.save(stocked, moved, kept.version, ACT)
    counter.go(f"{quote}/take", posted(counter, quote, "take", deposit="50.25"))
    order = orders.get(stocked, int(quote.rpartition("/")[2]))
    assert account_now(order).received.minor == 5025
    assert "53.26" in counter.get(quote).words("totals")
