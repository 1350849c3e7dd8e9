"""Number × price of what is sold without a piece, worked by hand (P12)."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.money import TaxPolicy, TaxRounding
from app.pricing.sold import Sale, price_sale
from tests.builders.kept import SHOP
from tests.builders.lines import CARDS, HOOKS
from tests.builders.values import euro

RULES = SHOP.rules


def test_goods_are_sold_at_the_price_of_the_price_book() -> None:
    """12 × 3.50 = 42.00 with tax, of which a sixth is tax: 7.00. Cost 12 × 1.20 = 14.40; 35.00 − 14.40 = 20.60."""
    price = price_sale(Sale(what="Cards", number=12, goods=CARDS), RULES)
    assert (price.total, price.tax.tax, price.tax.net) == (euro("42"), euro("7"), euro("35"))
    assert (price.cost, price.margin) == (euro("14.40"), euro("20.60"))
    assert price.lines[0].in_short == "12 × 3.50 each"


def test_a_price_finer_than_a_cent_is_rounded_once_for_the_whole_line() -> None:
    """0.33 × 2.5 = 0.825 each; seven are 5.775, half up 5.78, where seven rounded ones would be 5.81."""
    price = price_sale(Sale(what="Hooks", number=7, goods=HOOKS), RULES)
    assert price.lines[0].unit_price == Fraction("82.5")
    assert price.total == euro("5.78")


def test_the_step_that_pieces_are_rounded_to_leaves_a_line_as_it_is() -> None:
    rules = replace(RULES, rounding_step=euro("0.50"))
    assert price_sale(Sale(what="x", number=1, each=euro("24.99")), rules).total == euro("24.99")


def test_work_earns_by_the_hour() -> None:
    """24.99 with 20 % tax is 20.83 (24.99 / 6 = 4.165, half up 4.17) − 0; in 45 min: 20.82 × 60 / 45 = 27.76."""
    sale = Sale(what="Brass plate", number=1, each=euro("24.99"), minutes=Fraction(45))
    price = price_sale(sale, RULES)
    assert (price.tax.tax, price.margin) == (euro("4.17"), euro("20.82"))
    assert (price.minutes, price.earnings_per_hour) == (45, euro("27.76"))


def test_a_line_bears_its_own_rate_and_goods_theirs() -> None:
    voucher = Sale(what="Gift voucher", number=1, each=euro("50"), tax="none")
    assert price_sale(voucher, RULES).tax.tax == euro("0")
    other = Sale(what="Cards", number=1, goods=CARDS, tax="none")
    assert price_sale(other, RULES).tax.tax == euro("0")


def test_without_tax_the_tax_comes_on_top() -> None:
    rules = replace(RULES, tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT))
    price = price_sale(Sale(what="Cards", number=12, goods=CARDS), rules)
    assert (price.total, price.to_pay) == (euro("42"), euro("50.40"))


def test_below_cost_is_said() -> None:
    """1.20 with 20 % tax is 1.00 without, less than the cost of 1.20."""
    sale = Sale(what="Cards", number=1, goods=CARDS, each=euro("1.20"))
    assert price_sale(sale, RULES).lines[0].below_cost


@pytest.mark.parametrize(
    ("sale", "path", "words"),
    [
        (Sale(what="x", number=0, each=euro("1")), "number", "1 to 9999"),
        (Sale(what="x", number=10_000, each=euro("1")), "number", "1 to 9999"),
        (Sale(what="x", number=1), "price", "Say what one costs"),
        (Sale(what="x", number=1, each=euro("1"), tax="gone"), "tax", "no tax rate “gone”"),
        (
            Sale(what="x", number=1, goods=replace(CARDS, tax="gone")),
            "goods",
            "CARD: There is no tax rate “gone”",
        ),
    ],
)
def test_what_cannot_be_priced_is_said(sale: Sale, path: str, words: str) -> None:
    with pytest.raises(Invalid) as refused:
        price_sale(sale, RULES)
    assert [fault.path for fault in refused.value.faults] == [path]
    assert words in refused.value.faults[0].message


def test_a_chosen_rate_stands_in_for_one_of_the_goods_that_is_gone() -> None:
    sale = Sale(what="x", number=1, goods=replace(CARDS, tax="gone"), tax="standard")
    assert price_sale(sale, RULES).total == euro("3.50")
