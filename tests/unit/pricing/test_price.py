"""From lines to a total: markups, floors, adjustments, tax, currencies (P4, P6, M1, M2)."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from app.errors import Invalid
from app.lengths import mm
from app.money import CURRENCIES, Money, TaxPolicy, TaxRate, TaxRounding
from app.pricing import (
    NO_ADJUSTMENTS,
    Adjustments,
    Charge,
    ChargeBy,
    Chosen,
    ChosenCount,
    CostPer,
    Kind,
    Material,
    PiecePrice,
    PriceRules,
    Selling,
    price_piece,
)
from app.pricing.adjusting import shared_out
from tests.builders.values import euro
from tests.builders.watercolour import (
    STANDARD,
    bare,
    chosen,
    extra,
    glazing,
    mat,
    moulding,
    ring,
    rules,
    watercolour,
)

WITH_TAX = TaxPolicy(included=True, rounding=TaxRounding.BY_DOCUMENT)
BY_LINE = TaxPolicy(included=False, rounding=TaxRounding.BY_LINE)


def priced(
    *materials: Material, by: PriceRules | None = None, adjustments: Adjustments = NO_ADJUSTMENTS
) -> PiecePrice:
    """The price of extras alone, without labour."""
    taken = tuple(ChosenCount(material=material) for material in materials)
    plain = by or rules(operations=())
    return price_piece(bare(300, 200), Chosen(extras=taken), plain, adjustments)


def costing(price: str, **changes: Any) -> Material:
    return extra(selling=Selling(price=euro(price)), cost=euro("0.01"), **changes)


@pytest.mark.parametrize(
    ("cost", "unit", "boards"),
    [
        # cost of a sheet, its price by the table, what half a sheet comes to
        ("9.00", "3600", "18.00"),  # × 4
        ("10.00", "4000", "20.00"),  # × 4, the step's end belongs to it
        ("10.01", "3003", "15.02"),  # × 3: 15.015
        ("20.00", "6000", "30.00"),  # × 3
        ("20.01", "4002", "20.01"),  # × 2
    ],
)
def test_a_sliding_table_gives_the_markup_of_its_step(cost: str, unit: str, boards: str) -> None:
    top = mat(cost=euro(cost))
    price = price_piece(watercolour(), chosen(mats=(top, top)), rules())
    (first, second) = (line for line in price.lines if line.code == "M1")
    assert first.unit_price == Fraction(unit)
    assert first.amount == second.amount == euro(boards)
    assert "markup of boards" in first.why_shop[0]


def test_a_price_given_outright_is_taken_as_it_is() -> None:
    frame = moulding(selling=Selling(price=euro("10.00")))
    line = price_piece(watercolour(), chosen(frames=(frame,)), rules()).lines[0]
    assert line.amount == euro("22.20")  # 2.22 m
    assert line.why[-1] == "2.22 m × 10.00 a metre = 22.20."
    assert line.why_shop[0] == "Fixed selling price; cost 5.00 a metre."


def test_a_line_below_its_cost_is_flagged_and_one_at_cost_is_not() -> None:
    def flagged(price: str) -> bool:
        return priced(extra(selling=Selling(price=euro(price)))).lines[0].below_cost

    assert flagged("1.99")
    assert not flagged("2.00")


def test_a_price_with_tax_is_below_cost_when_its_net_is() -> None:
    with_tax = rules(operations=(), tax_policy=WITH_TAX)

    def flagged(price: str) -> bool:
        return priced(extra(selling=Selling(price=euro(price))), by=with_tax).lines[0].below_cost

    assert flagged("2.39")  # 1.99 1/6 without tax
    assert not flagged("2.40")


def test_a_minimum_charge_holds_however_small_the_piece() -> None:
    frame = moulding(charge=Charge(by=ChargeBy.LENGTH, minimum_length=mm(3000)))
    price = price_piece(watercolour(), chosen(frames=(frame,)), rules())
    assert price.lines[0].amount == euro("42.60")  # 3 m × 14.20


def test_discount_of_all_leaves_nothing_to_pay_and_no_tax() -> None:
    everything = Adjustments(discount=Fraction(1))
    for policy in (BY_LINE, WITH_TAX):
        price = price_piece(
            watercolour(), chosen(), rules(tax_policy=policy, rounding_step=euro("1")), everything
        )
        assert price.discount == -price.subtotal
        assert price.total == price.to_pay == price.tax.tax == euro("0")
        assert {line.settled for line in price.lines} == {euro("0")}
        assert price.below_cost
        assert price.margin == -price.cost


def test_rush_is_on_what_the_discount_leaves() -> None:
    price = priced(
        costing("100"), adjustments=Adjustments(discount=Fraction(1, 5), rush=Fraction(1, 2))
    )
    assert (price.discount, price.rush) == (-euro("20"), euro("40"))
    assert price.total == euro("120")


@pytest.mark.parametrize(
    ("price", "step", "total"),
    [
        ("100.24", "0.50", "100.00"),
        ("100.25", "0.50", "100.50"),  # half-way goes up
        ("100.49", "1", "100"),
        ("100.50", "1", "101"),
        ("102.50", "5", "105"),
        ("100.01", "0", "100.01"),
    ],
)
def test_the_total_goes_to_the_shops_step_before_tax(price: str, step: str, total: str) -> None:
    found = priced(costing(price), by=rules(operations=(), rounding_step=euro(step)))
    assert found.total == euro(total)
    assert found.rounding == euro(total) - euro(price)
    assert found.tax.net == euro(total)


def test_prices_with_tax_are_split_and_a_tax_free_customer_pays_the_net() -> None:
    with_tax = rules(operations=(), tax_policy=WITH_TAX)
    price = priced(costing("120"), by=with_tax)
    assert (price.total, price.tax.net, price.tax.tax) == (euro("120"), euro("100"), euro("20"))
    free = priced(costing("120"), by=with_tax, adjustments=Adjustments(tax_free=True))
    assert free.total == euro("120")
    assert (free.to_pay, free.tax.tax) == (euro("100"), euro("0"))


def test_a_tax_free_customer_pays_prices_without_tax_as_they_are() -> None:
    price = priced(costing("100"), adjustments=Adjustments(tax_free=True))
    assert price.to_pay == price.total == euro("100")


def test_a_discount_is_shared_out_over_the_tax_rates() -> None:
    price = priced(
        costing("10.00"),
        costing("5.00", tax="reduced"),
        adjustments=Adjustments(discount=Fraction(1, 10)),
    )
    assert [line.settled for line in price.lines] == [euro("9.00"), euro("4.50")]
    standard, reduced = price.tax.taxes
    assert (standard.net, standard.tax) == (euro("9.00"), euro("1.80"))
    assert (reduced.net, reduced.tax) == (euro("4.50"), euro("0.23"))  # 0.225
    assert price.to_pay == euro("15.53")


@pytest.mark.parametrize(
    ("whole", "weights", "parts"),
    [
        (100, (1, 1, 1), (34, 33, 33)),
        (10, (3, 3, 1), (4, 4, 2)),  # 4.29 4.29 1.43: the third has the largest remainder
        (0, (5, 7), (0, 0)),
        (7, (0, 0), (4, 3)),
        (5, (0, 9), (0, 5)),
        (-1, (1, 1), (0, -1)),
        (3, (), ()),
    ],
)
def test_odd_units_go_to_the_largest_remainders(
    whole: int, weights: tuple[int, ...], parts: tuple[int, ...]
) -> None:
    assert shared_out(whole, weights) == parts


def in_currency(code: str, rate: int) -> PriceRules:
    currency = CURRENCIES[code]
    return rules(
        currency=currency,
        hourly_rate=Money(rate, currency),
        rounding_step=Money(0, currency),
        operations=(),
        markup_tables=(),
    )


def sold_at(code: str, minor: int) -> dict[str, Any]:
    currency = CURRENCIES[code]
    return {"cost": Money(1, currency), "selling": Selling(price=Money(minor, currency))}


def test_a_currency_without_decimals_rounds_to_whole_units() -> None:
    # 2.22 m × 1450 = 3219; 0.2775718 m² × 5400 = 1498.88772; tax 20 % of 4718 = 943.6
    choice = chosen(
        frames=(moulding(**sold_at("JPY", 1450)),),
        mats=(mat(**sold_at("JPY", 0)),) * 2,
        glazing=glazing(**sold_at("JPY", 5400)),
        backing=replace(mat(**sold_at("JPY", 0)), kind=Kind.BOARD),
        hardware=(),
    )
    price = price_piece(watercolour(), choice, in_currency("JPY", 4000))
    assert [line.amount.minor for line in price.lines] == [3219, 0, 0, 1499, 0]
    assert price.tax.tax.minor == 944
    assert price.to_pay.minor == 5662
    assert price.lines[0].why[-1] == "2.22 m × 1,450 a metre = 3,219."


def test_a_currency_of_three_decimals_keeps_all_of_them() -> None:
    # 2.22 m × 3.215 = 7.1373
    choice = chosen(
        frames=(moulding(**sold_at("KWD", 3215)),),
        mats=(mat(**sold_at("KWD", 0)),) * 2,
        glazing=glazing(**sold_at("KWD", 0)),
        backing=replace(mat(**sold_at("KWD", 0)), kind=Kind.BOARD),
        hardware=(),
    )
    price = price_piece(watercolour(), choice, in_currency("KWD", 9500))
    assert price.total == Money(7137, CURRENCIES["KWD"])
    assert price.lines[0].why[-1] == "2.22 m × 3.215 a metre = 7.137."


def test_a_unit_price_finer_than_the_minor_unit_is_shown_with_two_more_decimals() -> None:
    # 10.00 over a stick of 3 m is 3.33 1/3 a metre, × 2 = 6.66 2/3; × 2.22 = 14.80
    frame = moulding(cost=euro("10.00"), selling=Selling(markup=Fraction(2)))
    line = price_piece(watercolour(), chosen(frames=(frame,)), rules()).lines[0]
    assert line.amount == euro("14.80")
    assert line.why[-1] == "2.22 m × 6.6667 a metre = 14.80."


def test_labour_bears_its_own_tax_rate() -> None:
    price = price_piece(watercolour(), chosen(), rules(labour_tax="reduced"))
    assert [part.rate.code for part in price.tax.taxes] == ["standard", "reduced"]
    assert price.tax.taxes[1].net == euro("39.47")


def test_a_piece_with_nothing_chosen_costs_nothing() -> None:
    price = priced()
    assert price.lines == ()
    assert price.to_pay == euro("0")
    assert price.earnings_per_hour is None


def test_wire_reaches_across_the_frame_and_is_paid_by_the_metre() -> None:
    wire = ring(
        code="WIRE",
        per=CostPer.METRE,
        charge=Charge(by=ChargeBy.LENGTH, waste=Fraction(1, 3)),
        selling=Selling(price=euro("1.50")),
    )
    choice = chosen(hardware=(ChosenCount(material=wire),))
    line = next(x for x in price_piece(watercolour(), choice, rules()).lines if x.code == "WIRE")
    assert line.quantity == Fraction("0.804")  # 603 mm and a third
    assert line.amount == euro("1.21")  # 1.206


def test_all_that_does_not_fit_the_piece_is_said_at_once() -> None:
    yen = Money(100, CURRENCIES["JPY"])
    wrong = Chosen(
        mats=(mat(tax="luxury"),),
        glazing=glazing(selling=Selling(table="glass")),
        spacer=extra(per=CostPer.METRE, charge=Charge(by=ChargeBy.LENGTH)),
        extras=(ChosenCount(material=extra(cost=yen, selling=Selling(markup=Fraction(2)))),),
    )
    with pytest.raises(Invalid) as caught:
        price_piece(watercolour(), wrong, rules())
    faults = {fault.path: fault.message for fault in caught.value.faults}
    assert list(faults) == ["frames", "mats", "backing", "spacer", "mats.0", "glazing", "extras.0"]
    assert faults["frames"] == "The piece has 1 frame, but none chosen."
    assert faults["mats"] == "The piece has 2 mats, but 1 chosen."
    assert (
        faults["backing"]
        == "The piece has backing, but none is chosen; choose one from the price book."
    )
    assert faults["spacer"] == "X1 is chosen, but the piece has no spacer."
    assert "no tax rate “luxury”; the shop's rates are: standard, reduced." in faults["mats.0"]
    assert "no markup table “glass”; the shop's tables are: boards." in faults["glazing"]
    assert faults["extras.0"] == "X1 is priced in JPY, but the shop's currency is EUR."


def test_rates_of_any_size_are_borne() -> None:
    free = TaxRate("zero", "Zero", Fraction(0))
    price = priced(
        costing("10", tax="zero"),
        costing("10"),
        by=rules(operations=(), tax_rates=(free, STANDARD)),
    )
    assert price.tax.tax == euro("2")
