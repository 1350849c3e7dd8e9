"""The ledger of an order: what was paid, append-only (M3).

An entry is never changed or removed; a mistake is corrected by a contrary entry that names it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from app.errors import Invalid
from app.journal import Contrary, Refusals, Written, to_take_back
from app.money import Money, show_money


class EntryKind(StrEnum):
    """What an entry is. A correction undoes one other entry whole."""

    DEPOSIT = "deposit"
    PAYMENT = "payment"
    REFUND = "refund"
    CORRECTION = "correction"


class Method(StrEnum):
    """How money changed hands."""

    CASH = "cash"
    CARD = "card"
    TRANSFER = "transfer"
    VOUCHER = "gift voucher"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class NewEntry(Contrary):
    """An entry to be written. amount: signed, positive is money received.

    takes_back: of a correction, and only of one. Raises: Invalid.
    """

    kind: EntryKind
    amount: Money
    method: Method = Method.CASH
    note: str = ""

    def __post_init__(self) -> None:
        if not self.amount:
            raise Invalid.at("amount", "The amount is zero; there is nothing to record.")
        received = self.kind in (EntryKind.DEPOSIT, EntryKind.PAYMENT)
        if received and self.amount.minor < 0:
            raise Invalid.at("amount", "A payment is above zero; choose refund to give back.")
        if self.kind is EntryKind.REFUND and self.amount.minor > 0:
            raise ValueError("a refund is written as a negative amount")
        if (self.kind is EntryKind.CORRECTION) != (self.takes_back is not None):
            raise ValueError("a correction names the entry that it undoes, and only it does")


Entry = Written[NewEntry]
"""An entry as written, with its id."""

_REFUSALS = Refusals(
    unknown="That entry is not in this order's ledger.",
    contrary="A correction cannot be corrected; record the payment again instead.",
    again="That entry was corrected already.",
)


def paid(entries: Sequence[Entry], zero: Money) -> Money:
    """Return what was received in all, refunds and corrections counted."""
    return sum((written.entry.amount for written in entries), zero)


def correction_of(entries: Sequence[Entry], entry_id: int, *, at: datetime, by: str) -> NewEntry:
    """Return the contrary entry of one that was a mistake.

    Raises: Conflict when it is not in this ledger, is itself a correction, or was corrected.
    """
    wrong = to_take_back(entries, entry_id, _REFUSALS)
    return NewEntry(
        kind=EntryKind.CORRECTION,
        amount=-wrong.amount,
        at=at,
        by=by,
        method=wrong.method,
        takes_back=entry_id,
    )


def check_refund(amount: Money, received: Money) -> None:
    """Raises: Invalid when more would be given back than was received."""
    if amount > received:
        raise Invalid.at(
            "amount",
            f"{show_money(amount)} is more than was received, {show_money(received)}; "
            "no more than that can be given back.",
        )
