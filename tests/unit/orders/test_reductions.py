"""Goodwill: what is taken off, what of it stands, and the taxes of what is left. Sums by hand."""

from datetime import UTC, datetime
from fractions import Fraction

import pytest

from app.errors import Conflict, Invalid
from app.money import Money, TaxPart, TaxRate, currency
from app.orders.reductions import (
    NewReduction,
    Reduction,
    standing,
    taken_off,
    taxes_after,
    undoing,
)

EUR = currency("EUR")
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
FULL = TaxRate("full", "Tax", Fraction(1, 5))
LOW = TaxRate("low", "Reduced", Fraction(1, 20))


def euro(text: str) -> Money:
    return Money(int(Fraction(text) * 100), EUR)


def part(rate: TaxRate, net: str, tax: str) -> TaxPart:
    return TaxPart(rate, euro(net), euro(tax))


def off(id_: int, amount: str, undoes: int | None = None) -> Reduction:
    entry = NewReduction(amount=euro(amount), reason="a scratch", at=NOW, by="Ilse", undoes=undoes)
    return Reduction(id=id_, entry=entry)


BOTH = (part(FULL, "100", "20"), part(LOW, "100", "5"))
"""120.00 and 105.00 with tax, 225.00 in all."""


@pytest.mark.parametrize(
    ("taxes", "gross", "taken", "after"),
    [
        # 103.51 − 10.00 = 93.51, of which 20/120 is 15.585, half up 15.59; net 77.92
        ((part(FULL, "86.26", "17.25"),), "103.51", "10", [("77.92", "15.59")]),
        # a tenth of each: 12.00 of 120.00, 10.50 of 105.00; 108.00 × 20/120, 94.50 × 5/105
        (BOTH, "225", "22.50", [("90.00", "18.00"), ("90.00", "4.50")]),
        # 75.00 more bears no tax and its tenth, 7.50
        (BOTH, "300", "30", [("90.00", "18.00"), ("90.00", "4.50")]),
        # 120/225 of a cent is more than 105/225: the cent is the first rate's; 119.99/6 = 19.998…
        (BOTH, "225", "0.01", [("99.99", "20.00"), ("100.00", "5.00")]),
        (BOTH, "225", "225", [("0.00", "0.00"), ("0.00", "0.00")]),
        (BOTH, "225", "0", [("100.00", "20.00"), ("100.00", "5.00")]),
        ((), "50", "10", []),
    ],
)
def test_each_rate_bears_its_share_by_gross(
    taxes: tuple[TaxPart, ...], gross: str, taken: str, after: list[tuple[str, str]]
) -> None:
    left = taxes_after(taxes, euro(gross), euro(taken))
    assert [(part.net, part.tax) for part in left] == [(euro(n), euro(t)) for n, t in after]


def test_no_more_is_taken_off_than_there_is() -> None:
    with pytest.raises(ValueError, match="no more"):
        taxes_after(BOTH, euro("225"), euro("225.01"))


def test_what_was_undone_counts_no_more() -> None:
    written = (off(1, "10"), off(2, "5"), off(3, "-10", undoes=1))
    assert taken_off(written, euro("0")) == euro("5")
    assert [each.id for each in standing(written)] == [2]


@pytest.mark.parametrize(("id_", "why"), [(9, "not one of"), (1, "already"), (3, "already")])
def test_only_what_stands_is_undone(id_: int, why: str) -> None:
    written = (off(1, "10"), off(2, "5"), off(3, "-10", undoes=1))
    with pytest.raises(Conflict, match=why):
        undoing(written, id_, at=NOW, by="Ilse")
    contrary = undoing(written, 2, at=NOW, by="Ilse")
    assert (contrary.amount, contrary.undoes) == (euro("-5"), 2)


@pytest.mark.parametrize(
    ("amount", "reason", "paths"),
    [
        ("0", "a scratch", ["amount"]),
        ("1", "  ", ["reason"]),
        ("0", "", ["amount", "reason"]),
        ("1", "x" * 121, ["reason"]),
    ],
)
def test_a_reduction_has_an_amount_and_a_reason(amount: str, reason: str, paths: list[str]) -> None:
    with pytest.raises(Invalid) as caught:
        NewReduction(amount=euro(amount), reason=reason, at=NOW, by="")
    assert [fault.path for fault in caught.value.faults] == paths
