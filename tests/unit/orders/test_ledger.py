"""The ledger: what may be written, what was received, and how a mistake is corrected (M3)."""

from datetime import UTC, datetime

import pytest

from app.errors import Conflict, Invalid
from app.journal import standing
from app.money import Money, currency
from app.orders import Entry, EntryKind, Method, NewEntry, check_refund, correction_of, paid

EUR = currency("EUR")
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
LATER = datetime(2026, 11, 26, 9, 0, tzinfo=UTC)


def cents(minor: int) -> Money:
    return Money(minor, EUR)


def new(kind: EntryKind, minor: int, corrects: int | None = None) -> NewEntry:
    return NewEntry(
        kind=kind, amount=cents(minor), at=NOW, by="Ilse", method=Method.CARD, takes_back=corrects
    )


# 50.00 deposit, 30.00 by mistake and its correction, 60.00 paid, 5.00 given back.
LEDGER = (
    Entry(id=1, entry=new(EntryKind.DEPOSIT, 5000)),
    Entry(id=2, entry=new(EntryKind.PAYMENT, 3000)),
    Entry(id=3, entry=new(EntryKind.CORRECTION, -3000, 2)),
    Entry(id=4, entry=new(EntryKind.PAYMENT, 6000)),
    Entry(id=5, entry=new(EntryKind.REFUND, -500)),
)


def test_what_was_received_counts_refunds_and_corrections():
    # 50.00 + 30.00 − 30.00 + 60.00 − 5.00 = 105.00
    assert paid(LEDGER, cents(0)) == cents(10500)
    assert paid((), cents(0)) == cents(0)


def test_what_changed_hands_is_neither_a_mistake_nor_its_correction():
    assert [each.id for each in standing(LEDGER)] == [1, 4, 5]


def test_a_correction_is_the_contrary_of_the_whole_entry_and_names_it():
    assert correction_of(LEDGER, 4, at=LATER, by="Jun") == NewEntry(
        kind=EntryKind.CORRECTION,
        amount=cents(-6000),
        at=LATER,
        by="Jun",
        method=Method.CARD,
        takes_back=4,
    )
    assert correction_of(LEDGER, 5, at=LATER, by="Jun").amount == cents(500)


@pytest.mark.parametrize(
    ("entry_id", "why"),
    [
        (9, "That entry is not in this order's ledger."),
        (3, "A correction cannot be corrected; record the payment again instead."),
        (2, "That entry was corrected already."),
    ],
)
def test_what_cannot_be_corrected_is_said(entry_id, why):
    with pytest.raises(Conflict) as raised:
        correction_of(LEDGER, entry_id, at=LATER, by="Jun")
    assert raised.value.message == why


@pytest.mark.parametrize("kind", [EntryKind.DEPOSIT, EntryKind.PAYMENT, EntryKind.REFUND])
def test_an_entry_of_nothing_is_refused(kind):
    with pytest.raises(Invalid) as raised:
        new(kind, 0)
    assert [fault.path for fault in raised.value.faults] == ["amount"]


@pytest.mark.parametrize("kind", [EntryKind.DEPOSIT, EntryKind.PAYMENT])
def test_what_is_received_is_above_zero(kind):
    assert new(kind, 1).amount == cents(1)
    with pytest.raises(Invalid, match="choose refund to give back"):
        new(kind, -1)


def test_a_refund_is_below_zero():
    assert new(EntryKind.REFUND, -1).amount == cents(-1)
    with pytest.raises(ValueError, match="negative"):
        new(EntryKind.REFUND, 1)


@pytest.mark.parametrize(
    ("kind", "corrects"), [(EntryKind.CORRECTION, None), (EntryKind.PAYMENT, 1)]
)
def test_only_a_correction_names_another_entry_and_every_one_does(kind, corrects):
    with pytest.raises(ValueError, match="names the entry"):
        new(kind, 100, corrects)


def test_no_more_is_given_back_than_was_received():
    check_refund(cents(10500), cents(10500))
    with pytest.raises(Invalid) as raised:
        check_refund(cents(10501), cents(10500))
    assert [fault.path for fault in raised.value.faults] == ["amount"]
    assert "105.01 is more than was received, 105.00;" in raised.value.message
