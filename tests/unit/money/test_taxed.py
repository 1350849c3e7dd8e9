"""What is taken off a document, and its taxes after that. Sums by hand."""

from fractions import Fraction

import pytest

from app.money import (
    Money,
    Taxed,
    TaxPart,
    TaxPolicy,
    TaxRate,
    TaxRounding,
    currency,
    shared,
    shared_steadily,
    taxed_parts,
)
from tests.builders.values import euro

EUR = currency("EUR")
FULL = TaxRate("full", "Tax", Fraction(1, 5))
LOW = TaxRate("low", "Reduced", Fraction(1, 20))
NONE = TaxRate("none", "No tax", Fraction(0))


def policy(included: bool, rounding: TaxRounding = TaxRounding.BY_DOCUMENT) -> TaxPolicy:
    return TaxPolicy(included=included, rounding=rounding)


WITH, WITHOUT = policy(included=True), policy(included=False)
WITH_BY_LINE = policy(included=True, rounding=TaxRounding.BY_LINE)
WITHOUT_BY_LINE = policy(included=False, rounding=TaxRounding.BY_LINE)


def document(policy: TaxPolicy, *lines: tuple[str, TaxRate], untaxed: str = "0") -> Taxed:
    rated = [(euro(amount), rate) for amount, rate in lines]
    return Taxed(rounded=taxed_parts(rated, policy), untaxed=euro(untaxed))


def sums_of(taxed: Taxed) -> tuple[Money, Money, Money]:
    return taxed.net, taxed.tax, taxed.gross


def sums(net: str, tax: str, gross: str) -> tuple[Money, Money, Money]:
    return euro(net), euro(tax), euro(gross)


# Source: EN 16931 BR-CO-17, the tax of a rate is its taxable amount times the rate, rounded to two decimals.
# 109.97 − 10.00 = 99.97, × 20 % = 19.994.
def test_tax_is_worked_out_on_the_taxable_amount_that_is_left() -> None:
    left = document(WITHOUT, ("109.97", FULL)).less(euro("10"), with_tax=False)
    assert sums_of(left) == sums("99.97", "19.99", "119.96")


THREE = (("0.12", FULL),) * 3


@pytest.mark.parametrize(
    ("policy", "with_tax", "before", "after"),
    [
        # By line 0.024 three times; then 0.022, 0.024, 0.024: 0.02 each time.
        (WITHOUT_BY_LINE, False, ("0.36", "0.06", "0.42"), ("0.35", "0.06", "0.41")),
        # 0.14 with tax three times; then 0.13, of which a sixth is 0.0216…, twice 0.14 with 0.02 in it.
        (WITHOUT_BY_LINE, True, ("0.36", "0.06", "0.42"), ("0.35", "0.06", "0.41")),
        # Together 0.072; then 0.07.
        (WITHOUT, False, ("0.36", "0.07", "0.43"), ("0.35", "0.07", "0.42")),
        # A sixth of 0.12 is 0.02, of 0.11 it is 0.0183…
        (WITH_BY_LINE, True, ("0.30", "0.06", "0.36"), ("0.29", "0.06", "0.35")),
        # A sixth of 0.36 is 0.06, of 0.35 it is 0.0583…
        (WITH, True, ("0.30", "0.06", "0.36"), ("0.29", "0.06", "0.35")),
    ],
)
def test_the_first_cent_off_does_not_raise_the_tax(
    policy: TaxPolicy,
    with_tax: bool,
    before: tuple[str, str, str],
    after: tuple[str, str, str],
) -> None:
    whole = document(policy, *THREE)
    assert sums_of(whole) == sums(*before)
    assert sums_of(whole.less(euro("0.01"), with_tax=with_tax)) == sums(*after)


BOTH = (TaxPart(FULL, euro("100"), euro("20")), TaxPart(LOW, euro("100"), euro("5")))
"""120.00 and 105.00 with tax, 225.00 in all."""


@pytest.mark.parametrize(
    ("taxes", "untaxed", "taken", "after"),
    [
        # 103.51 − 10.00 = 93.51, of which 20/120 is 15.585, half up 15.59; net 77.92
        (
            (TaxPart(FULL, euro("86.26"), euro("17.25")),),
            "0",
            "10",
            [("77.92", "15.59")],
        ),
        # a tenth of each: 12.00 of 120.00, 10.50 of 105.00; 108.00 × 20/120, 94.50 × 5/105
        (BOTH, "0", "22.50", [("90.00", "18.00"), ("90.00", "4.50")]),
        # 75.00 more bears no tax and its tenth, 7.50
        (BOTH, "75", "30", [("90.00", "18.00"), ("90.00", "4.50")]),
        # 120/225 of a cent is more than 105/225: the cent is the first rate's; 119.99/6 = 19.998…
        (BOTH, "0", "0.01", [("99.99", "20.00"), ("100.00", "5.00")]),
        (BOTH, "0", "225", [("0.00", "0.00"), ("0.00", "0.00")]),
        (BOTH, "0", "0", [("100.00", "20.00"), ("100.00", "5.00")]),
        ((), "50", "10", []),
    ],
)
def test_with_tax_each_rate_bears_its_share_by_what_it_comes_to_with_tax(
    taxes: tuple[TaxPart, ...], untaxed: str, taken: str, after: list[tuple[str, str]]
) -> None:
    left = Taxed(rounded=taxes, untaxed=euro(untaxed)).less(euro(taken), with_tax=True)
    assert [(part.net, part.tax) for part in left.taxes] == [(euro(n), euro(t)) for n, t in after]


# 200.00 at 20 % and 100.00 at 5 %: of 20.00 two thirds are 13.333…, one third 6.666…; the cent that is
# left over goes to the larger remainder. 186.67 × 20 % = 37.334; 93.33 × 5 % = 4.6665.
def test_without_tax_each_rate_bears_its_share_by_its_taxable_amount() -> None:
    left = document(WITHOUT, ("200", FULL), ("100", LOW)).less(euro("20"), with_tax=False)
    assert [(part.net, part.tax) for part in left.taxes] == [
        (euro("186.67"), euro("37.33")),
        (euro("93.33"), euro("4.67")),
    ]


def test_no_more_is_taken_off_than_there_is() -> None:
    whole = document(WITHOUT, ("100", FULL), untaxed="50")
    assert sums_of(whole.less(euro("150"), with_tax=False)) == sums("0", "0", "0")
    for off, with_tax in (("150.01", False), ("170.01", True)):
        with pytest.raises(ValueError, match="no more"):
            whole.less(euro(off), with_tax=with_tax)


# 0.05 at 20 %, 0.07 at 5 % and 0.11 at none, 0.11 and then 0.12 taken off. By largest remainder the first
# bears 0.03 and then 0.02: 0.03 × 20 % = 0.006 rounds to a cent of tax where there was none. Steadily: 2.39,
# 3.35 and 5.26 are 2, 3 and 5, and one more is borne alike by all (5/5, 7/7, 11/11), so by the first; 2.61, 3.65
# and 5.74 are 3, 4 and 6, and the one too many is taken from the last (again alike).
def test_of_three_rates_none_is_taxed_more_as_more_is_taken_off() -> None:
    assert (shared(11, (5, 7, 11)), shared(12, (5, 7, 11))) == ([3, 3, 5], [2, 4, 6])
    assert (shared_steadily(11, (5, 7, 11)), shared_steadily(12, (5, 7, 11))) == (
        [3, 3, 5],
        [3, 4, 5],
    )
    whole = document(WITHOUT, ("0.05", FULL), ("0.07", LOW), ("0.11", NONE))
    taxes = [whole.less(Money(off, EUR), with_tax=False).tax.minor for off in range(24)]
    assert taxes == sorted(taxes, reverse=True)


@pytest.mark.parametrize(
    ("whole", "weights", "parts"),
    [
        (10, (1, 1), [5, 5]),
        (1, (1, 1), [1, 0]),
        (0, (3, 4), [0, 0]),
        (1, (1, 2, 3), [0, 0, 1]),
        # 0.5 each, all rounded up: two go back, the last ones first
        (2, (1, 1, 1, 1), [1, 1, 0, 0]),
        (7, (0, 7), [0, 7]),
    ],
)
def test_what_is_shared_steadily_adds_up(
    whole: int, weights: tuple[int, ...], parts: list[int]
) -> None:
    assert shared_steadily(whole, weights) == parts


def test_what_has_no_weight_shares_nothing() -> None:
    assert shared(0, (0, 0)) == [0, 0]
    assert shared_steadily(0, (0, 0)) == [0, 0]
    for share in (shared, shared_steadily):
        with pytest.raises(ValueError, match="some weight"):
            share(1, (0,))
