"""Tax by line and by document, added and included (M1, M2)."""

from fractions import Fraction

import pytest

from app.money import (
    Money,
    TaxPart,
    TaxPolicy,
    TaxRate,
    TaxRounding,
    currency,
    parse_money,
    parse_percent,
    work_out_tax,
)
from tests.cases import case

GBP = currency("GBP")
FULL = TaxRate("S", "Standard", Fraction(1, 5))
REDUCED = TaxRate("R", "Reduced", Fraction(1, 20))
NONE = TaxRate("Z", "Zero", Fraction(0))
BY_LINE, BY_DOCUMENT = TaxRounding.BY_LINE, TaxRounding.BY_DOCUMENT


def pounds(text: str) -> Money:
    return parse_money(text, GBP, negative_ok=True)


def policy(rounding: TaxRounding, *, included: bool = False) -> TaxPolicy:
    return TaxPolicy(included=included, rounding=rounding)


@pytest.mark.parametrize("rounding", TaxRounding)
@pytest.mark.parametrize(
    ("amount", "rate", "tax"),
    # Source: HMRC internal manual VATREC12030, below half down, half and more up.
    [
        (*amount_rate, tax)
        for amount_rate, tax in zip(
            case("tax-1").inputs["amount_rate"], case("tax-1").expected["tax"], strict=True
        )
    ],
)
def test_tax_is_rounded_half_up(amount: str, rate: str, tax: str, rounding: TaxRounding) -> None:
    lines = [(pounds(amount), TaxRate("T", "Tax", parse_percent(rate)))]
    summary = work_out_tax(lines, policy(rounding), GBP)
    assert summary.tax == pounds(tax)
    assert summary.net == pounds(amount)
    assert summary.gross == pounds(amount) + pounds(tax)


@pytest.mark.parametrize(("rounding", "key"), [(BY_LINE, "by_line"), (BY_DOCUMENT, "by_document")])
def test_tax_by_line_and_by_document_may_differ(rounding: TaxRounding, key: str) -> None:
    # Source: EN 16931 / Peppol BIS Billing 3.0, by document tax is rounded once per category.
    published = case("tax-2")
    rate = TaxRate("T", "Tax", parse_percent(published.inputs["rate"]))
    lines = [(pounds(text), rate) for text in published.inputs["lines"]]
    assert work_out_tax(lines, policy(rounding), GBP).tax == pounds(published.expected[key])


@pytest.mark.parametrize("rounding", TaxRounding)
def test_included_tax_is_taken_out_of_the_price(rounding: TaxRounding) -> None:
    # By hand: 12.00 at 20 % holds 12 / 6 = 2.00; 10.50 at 5 % holds 10.50 / 21 = 0.50.
    lines = [(pounds("12.00"), FULL), (pounds("10.50"), REDUCED), (pounds("3.00"), NONE)]
    summary = work_out_tax(lines, policy(rounding, included=True), GBP)
    assert summary.taxes == (
        TaxPart(FULL, pounds("10.00"), pounds("2.00")),
        TaxPart(REDUCED, pounds("10.00"), pounds("0.50")),
        TaxPart(NONE, pounds("3.00"), pounds("0")),
    )
    assert summary.net == pounds("23.00")
    assert summary.tax == pounds("2.50")
    assert summary.gross == pounds("25.50")


@pytest.mark.parametrize(("rounding", "tax"), [(BY_LINE, "0.06"), (BY_DOCUMENT, "0.05")])
def test_included_tax_leaves_the_gross_as_stated(rounding: TaxRounding, tax: str) -> None:
    # By hand: 0.10 at 20 % holds 0.01667, by line 3 x 0.02; 0.30 holds 0.05.
    lines = [(pounds("0.10"), FULL)] * 3
    summary = work_out_tax(lines, policy(rounding, included=True), GBP)
    assert summary.tax == pounds(tax)
    assert summary.gross == pounds("0.30")
    assert summary.net == pounds("0.30") - pounds(tax)


def test_lines_of_one_rate_make_one_part_in_the_order_rates_come_up() -> None:
    lines = [(pounds("1.00"), REDUCED), (pounds("2.00"), FULL), (pounds("3.00"), REDUCED)]
    summary = work_out_tax(lines, policy(BY_DOCUMENT), GBP)
    assert [(part.rate, part.net, part.tax, part.gross) for part in summary.taxes] == [
        (REDUCED, pounds("4.00"), pounds("0.20"), pounds("4.20")),
        (FULL, pounds("2.00"), pounds("0.40"), pounds("2.40")),
    ]


@pytest.mark.parametrize(("included", "net"), [(False, "12.00"), (True, "10.00")])
def test_a_tax_free_customer_pays_the_net(included: bool, net: str) -> None:
    lines = [(pounds("12.00"), FULL)]
    summary = work_out_tax(lines, policy(BY_LINE, included=included), GBP, tax_free=True)
    assert summary.net == summary.gross == pounds(net)
    assert summary.tax == pounds("0")
    assert summary.taxes == ()


@pytest.mark.parametrize("included", [False, True])
@pytest.mark.parametrize("rounding", TaxRounding)
def test_a_discount_line_mirrors_its_charge(rounding: TaxRounding, included: bool) -> None:
    lines = [(pounds("0.37"), FULL), (pounds("-0.37"), FULL)]
    summary = work_out_tax(lines, policy(rounding, included=included), GBP)
    assert summary.net == summary.tax == summary.gross == pounds("0")


def test_nothing_sold_is_nothing_taxed() -> None:
    summary = work_out_tax([], policy(BY_DOCUMENT), GBP)
    assert summary.gross == summary.net == summary.tax == Money.zero(GBP)
    assert summary.taxes == ()


def test_a_line_in_another_currency_is_refused() -> None:
    lines = [(Money(100, currency("EUR")), FULL)]
    with pytest.raises(ValueError, match="GBP and EUR"):
        work_out_tax(lines, policy(BY_DOCUMENT), GBP)


@pytest.mark.parametrize("percent", [Fraction(-1, 100), Fraction(101, 100), Fraction(20)])
def test_a_rate_is_a_share_from_zero_to_one(percent: Fraction) -> None:
    with pytest.raises(ValueError, match="from 0 to 1"):
        TaxRate("T", "Tax", percent)


def test_a_rate_is_never_a_float() -> None:
    with pytest.raises(TypeError, match="Fraction"):
        TaxRate("T", "Tax", 0.2)  # type: ignore[arg-type]
