"""Published worked examples, through the pricing of a piece."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.framing import Dimensions, Frame, Presentation, Spec, work_out
from app.lengths import ZERO, Length, Size, Unit, inches, parse_length
from app.money import CURRENCIES, TaxPolicy, TaxRate, TaxRounding, parse_money, parse_percent
from app.pricing import Chosen, ChosenCount, CostPer, Selling, handbook_length, price_piece
from tests.builders.values import euro
from tests.builders.watercolour import PROFILE, bare, extra, moulding, rules
from tests.cases import case


def inch(text: str) -> Length:
    return parse_length(text, unit=Unit.IN)


def test_the_suppliers_rule_of_thumb_for_the_length_to_buy() -> None:
    """Source: a moulding supplier's public how-to: 2 (w + h) + 8 × face + 1/4 in."""
    rail = case("rail-1")
    width, height = map(inch, rail.inputs["package"])
    length = handbook_length(Size(width, height), inch(rail.inputs["face"]))
    length += inch(rail.inputs["extra"])
    assert length == inch(rail.expected["length_in"])
    # published to three decimals of a foot
    assert round(length / inches(12), 3) == Fraction(rail.expected["feet"])


def framed_by_the_mill() -> Dimensions:
    rail = case("rail-2")
    width, height = map(inch, rail.inputs["package"])
    frame = Frame(
        face=inch(rail.inputs["face"]),
        lip=inch(rail.inputs["lip"]),
        allowance=inch(rail.inputs["allowance"]),
        rebate_depth=inches("5/8"),
    )
    return work_out(
        Spec(
            unit=Unit.IN,
            artwork=Size(width, height),
            presentation=Presentation.CLOSE,
            overlap=ZERO,
            gap=ZERO,
            frames=(frame,),
        )
    )


def test_the_length_charged_without_loss_is_the_mills_total_of_long_points() -> None:
    """Source: a moulding mill's public formula; 19 5/8 and 23 5/8 in, 86 1/2 in of all four."""
    rail = case("rail-2")
    profile = replace(PROFILE, face=inch(rail.inputs["face"]), lip=inch(rail.inputs["lip"]))
    by_the_foot = moulding(per=CostPer.FOOT, profile=profile, selling=Selling(price=euro("12.00")))
    price = price_piece(
        framed_by_the_mill(),
        Chosen(frames=(by_the_foot,)),
        rules(saw_loss=ZERO, length_unit=Unit.IN, operations=()),
    )
    (line,) = price.lines
    assert line.quantity == inch(rail.expected["total"]) / inches(12)
    assert line.amount == euro("86.50")  # at 1.00 an inch
    # 2 × 36 + 8 × 2 = 88 in is 8 × 1/4 − 4 × 1/8 = 1 1/2 in more
    assert 'it would be 88", 1 1/2" more' in line.why_shop[-1]


@pytest.mark.parametrize("place", [0, 1, 2])
def test_tax_on_a_price_is_rounded_half_up(place: int) -> None:
    """Source: HMRC internal manual VATREC12030, below half down, half and more up."""
    tax = case("tax-1")
    amount, rate = tax.inputs["amount_rate"][place]
    price = price_piece(
        bare(300, 200),
        Chosen(extras=(ChosenCount(material=extra(selling=Selling(price=euro(amount)))),)),
        rules(
            operations=(),
            tax_rates=(TaxRate("standard", "Tax", parse_percent(rate)),),
        ),
    )
    assert price.tax.tax == parse_money(tax.expected["tax"][place], CURRENCIES["EUR"])


@pytest.mark.parametrize(
    ("rounding", "expected"),
    [(TaxRounding.BY_LINE, "by_line"), (TaxRounding.BY_DOCUMENT, "by_document")],
)
def test_tax_by_line_and_by_document_differ(rounding: TaxRounding, expected: str) -> None:
    """Source: by document, EN 16931 / Peppol BIS Billing 3.0: once per tax category."""
    tax = case("tax-2")
    lines = tuple(
        ChosenCount(material=extra(selling=Selling(price=euro(amount))))
        for amount in tax.inputs["lines"]
    )
    price = price_piece(
        bare(300, 200),
        Chosen(extras=lines),
        rules(
            operations=(),
            tax_policy=TaxPolicy(included=False, rounding=rounding),
            tax_rates=(TaxRate("standard", "Tax", parse_percent(tax.inputs["rate"])),),
        ),
    )
    assert price.tax.tax == euro(tax.expected[expected])
