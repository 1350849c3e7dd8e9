"""Goodwill: what is taken off, and what of it stands. How taxes follow is tested with `app.money`."""

from datetime import UTC, datetime

import pytest

from app.errors import Conflict, Invalid
from app.journal import standing
from app.money import currency
from app.orders.reductions import (
    NewReduction,
    Reduction,
    undoing,
)
from tests.builders.values import euro

EUR = currency("EUR")
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)


def off(id_: int, amount: str, takes_back: int | None = None) -> Reduction:
    entry = NewReduction(
        amount=euro(amount), reason="a scratch", at=NOW, by="Ilse", takes_back=takes_back
    )
    return Reduction(id=id_, entry=entry)


def test_what_was_undone_counts_no_more() -> None:
    written = (off(1, "10"), off(2, "5"), off(3, "-10", takes_back=1))
    assert [each.id for each in standing(written)] == [2]


@pytest.mark.parametrize(("id_", "why"), [(9, "not one of"), (1, "already"), (3, "already")])
def test_only_what_stands_is_undone(id_: int, why: str) -> None:
    written = (off(1, "10"), off(2, "5"), off(3, "-10", takes_back=1))
    with pytest.raises(Conflict, match=why):
        undoing(written, id_, at=NOW, by="Ilse")
    contrary = undoing(written, 2, at=NOW, by="Ilse")
    assert (contrary.amount, contrary.takes_back, contrary.with_tax) == (euro("-5"), 2, True)


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
