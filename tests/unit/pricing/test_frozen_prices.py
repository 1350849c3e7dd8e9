"""What is kept, shown and compared: orders, customers' views, re-pricing, stored prices."""

from dataclasses import fields, replace
from fractions import Fraction

import pytest
from pydantic import TypeAdapter

from app.lengths import mm
from app.money import TaxPolicy, TaxRounding
from app.pricing import (
    Adjustments,
    Chosen,
    ChosenCount,
    CustomerLine,
    CustomerPrice,
    CustomerTotals,
    PiecePrice,
    PriceRules,
    Selling,
    compare,
    price_order,
    price_piece,
)
from tests.builders.values import euro
from tests.builders.watercolour import bare, chosen, extra, glazing, moulding, rules, watercolour


def sold(price: str, by: PriceRules, *, tax_free: bool = False) -> PiecePrice:
    taken = ChosenCount(material=extra(selling=Selling(price=euro(price)), cost=euro("0.05")))
    adjustments = Adjustments(tax_free=tax_free)
    return price_piece(bare(300, 200), Chosen(extras=(taken,)), by, adjustments)


@pytest.mark.parametrize(
    ("rounding", "tax"), [(TaxRounding.BY_DOCUMENT, "0.07"), (TaxRounding.BY_LINE, "0.06")]
)
def test_the_tax_of_an_order_is_that_of_one_document(rounding: TaxRounding, tax: str) -> None:
    """Source: EN 16931 / Peppol BIS Billing 3.0, three lines of 0.12 at 20 %."""
    by = rules(operations=(), tax_policy=TaxPolicy(included=False, rounding=rounding))
    pieces = [sold("0.12", by) for _ in range(3)]
    totals = price_order(pieces, by.tax_terms)
    assert totals.total == euro("0.36")
    assert totals.tax.tax == euro(tax)
    assert totals.to_pay == euro("0.36") + euro(tax)
    assert totals.cost == euro("0.15")
    assert totals.margin == euro("0.21")
    assert totals.earnings_per_hour is None


def test_an_order_may_hold_pieces_with_and_without_tax() -> None:
    by = rules(operations=())
    totals = price_order([sold("10", by), sold("20", by, tax_free=True)], by.tax_terms)
    assert totals.tax.net == euro("30")
    assert totals.tax.tax == euro("2")
    assert totals.to_pay == euro("32")


def test_an_order_earns_by_the_hour_what_its_pieces_earn_together() -> None:
    piece = price_piece(watercolour(), chosen(), rules())
    totals = price_order([piece, piece], rules().tax_terms)
    assert totals.minutes == 2 * piece.minutes
    assert totals.earnings_per_hour == piece.earnings_per_hour


def test_an_order_of_nothing_comes_to_nothing() -> None:
    assert price_order([], rules().tax_terms).to_pay == euro("0")


def test_a_price_with_a_tax_rate_that_is_gone_cannot_be_summed_silently() -> None:
    piece = price_piece(watercolour(), chosen(), rules())
    gone = rules(tax_rates=rules().tax_rates[1:], labour_tax="reduced")
    with pytest.raises(ValueError, match="standard"):
        price_order([piece], gone.tax_terms)


def test_the_customers_types_have_no_place_for_cost_or_margin() -> None:
    names = {
        field.name
        for view in (CustomerLine, CustomerPrice, CustomerTotals)
        for field in fields(view)
    }
    secret = ("cost", "margin", "earn", "markup", "shop", "notice", "minutes")
    assert [name for name in names if any(word in name for word in secret)] == []


def test_the_customers_sentences_say_nothing_of_cost_or_markup() -> None:
    table = chosen(frames=(moulding(selling=Selling(price=euro("14.20"))),))
    for choice in (chosen(), table):
        price = price_piece(watercolour(), choice, rules())
        said = TypeAdapter(CustomerPrice).dump_json(price.customer_view()).decode().casefold()
        assert "markup" not in said
        assert "cost" not in said
        assert "14.20 a metre" in said
        assert "5.00 a metre" not in said


def test_the_customer_sees_the_same_sums() -> None:
    price = price_piece(watercolour(), chosen(), rules(), Adjustments(discount=Fraction(1, 10)))
    view = price.customer_view()
    assert (view.total, view.tax, view.discount) == (price.total, price.tax, price.discount)
    assert [line.amount for line in view.lines] == [line.amount for line in price.lines]
    totals = price_order([price], rules().tax_terms)
    assert totals.customer_view() == CustomerTotals(total=totals.total, tax=totals.tax)


def test_a_frozen_price_comes_back_as_it_was() -> None:
    price = price_piece(
        watercolour(), chosen(), rules(), Adjustments(discount=Fraction(1, 3), rush=Fraction(1, 7))
    )
    adapter = TypeAdapter(PiecePrice)
    assert adapter.validate_json(adapter.dump_json(price)) == price


def test_a_frozen_choice_and_its_rules_come_back_as_they_were() -> None:
    choices, shop = TypeAdapter(Chosen), TypeAdapter(PriceRules)
    assert choices.validate_json(choices.dump_json(chosen())) == chosen()
    assert shop.validate_json(shop.dump_json(rules())) == rules()


def test_repricing_shows_old_and_new_side_by_side() -> None:
    old = price_piece(watercolour(), chosen(), rules())
    dearer = chosen(
        frames=(moulding(cost=euro("18.00")),),  # 6.00 × 2.84 × 2.22 = 37.8288
        hardware=(),
        extras=(ChosenCount(material=extra()),),
    )
    new = price_piece(watercolour(), dearer, rules())
    found = compare(old, new)
    changed = [
        (line.label, line.old and line.old.amount, line.new and line.new.amount, line.difference)
        for line in found.lines
        if line.changed
    ]
    assert changed == [
        ("Walnut hollow", euro("31.52"), euro("37.83"), 631),
        ("Label of brass", None, euro("5.00"), 500),
        # three minutes for the hanging parts: 58.669704 × 0.64 = 37.54861
        ("Work", euro("39.47"), euro("37.55"), -192),
        ("Hanging ring", euro("1.00"), None, -100),
    ]
    # 8.39 more, and 20 % tax: 128.98 + 25.80 = 154.78 (25.796), 137.37 + 27.47 = 164.84 (27.474)
    assert (found.old_total, found.new_total) == (euro("128.98"), euro("137.37"))
    assert (found.old_to_pay, found.new_to_pay) == (euro("154.78"), euro("164.84"))
    assert found.difference == euro("10.06")
    assert found.changed


def test_repricing_with_the_same_book_changes_nothing() -> None:
    price = price_piece(watercolour(), chosen(), rules())
    found = compare(price, price)
    assert not found.changed
    assert [line.difference for line in found.lines] == [0] * len(price.lines)


def test_a_mat_chosen_twice_meets_itself_layer_by_layer() -> None:
    twice = chosen(mats=(chosen().mats[0],) * 2)
    price = price_piece(watercolour(), twice, rules())
    pairs = [(line.old, line.new) for line in compare(price, price).lines]
    assert pairs == [(line, line) for line in price.lines]


def test_a_change_of_tax_alone_is_a_change() -> None:
    old = price_piece(watercolour(), chosen(), rules())
    new = price_piece(watercolour(), chosen(glazing=glazing(tax="reduced")), rules())
    found = compare(old, new)
    assert found.old_total == found.new_total
    assert found.changed
    assert [line.label for line in found.lines if line.changed] == ["Clear 2 mm"]


def test_a_price_does_not_move_with_the_book() -> None:
    """A later change makes new values; the price holds none of the book's."""
    material = moulding()
    price = price_piece(watercolour(), chosen(frames=(material,)), rules())
    before = TypeAdapter(PiecePrice).dump_json(price)
    profile = material.profile
    assert profile is not None
    moved = replace(material, cost=euro("99"), profile=replace(profile, stick=mm(2000)))
    assert price_piece(watercolour(), chosen(frames=(moved,)), rules()) != price
    assert TypeAdapter(PiecePrice).dump_json(price) == before
