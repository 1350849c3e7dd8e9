"""Money received and given back: entries of an order's ledger, which is only added to (M3)."""

from dataclasses import dataclass

from app.errors import Conflict, Invalid
from app.money import Money, show_money
from app.orders import EntryKind, Method, NewEntry, Order, check_refund, correction_of
from app.services.order_transaction import OrderAt, account_now, changing, currency_of, range_now
from app.storage import Stamp, Store, UnitOfWork

LONGEST_NOTE = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Payment:
    """Money that changes hands. amount: above zero, also for a refund."""

    amount: Money
    method: Method = Method.CASH
    kind: EntryKind = EntryKind.PAYMENT
    note: str = ""


def add_payment(store: Store, at: OrderAt, payment: Payment, act: Stamp) -> int:
    """Write a payment or a deposit down. Returns the entry's id.

    Raises: NotFound, Stale, Conflict, Invalid at "amount" for more than is still to pay.
    """
    with changing(store, at, act) as (work, order):
        return receive(work, order, payment, act)


def receive(
    work: UnitOfWork, order: Order, payment: Payment, act: Stamp, *, path: str = "amount"
) -> int:
    """As `add_payment`, within a transaction that does more. path: of the amount's field.

    While a design is still to be chosen, up to the most that the quote may come to (P10).
    """
    if payment.kind not in (EntryKind.PAYMENT, EntryKind.DEPOSIT):
        raise ValueError("only a payment or a deposit is received")
    _check(order, payment, path)
    balance = range_now(order).most.balance
    if balance.minor < 0:
        raise Invalid.at(path, f"Nothing is still to pay; {show_money(-balance)} is to refund.")
    if payment.amount > balance:
        raise Invalid.at(
            path,
            f"{show_money(payment.amount)} is more than is still to pay, {show_money(balance)}; "
            "up to that can be received.",
        )
    return _write(work, order, payment, payment.amount, act)


def refund(store: Store, at: OrderAt, payment: Payment, act: Stamp) -> int:
    """Write down that money was given back. Returns the entry's id.

    Raises: NotFound, Stale, Conflict, Invalid at "amount" for more than was received.
    """
    with changing(store, at, act) as (work, order):
        _check(order, payment, "amount")
        check_refund(payment.amount, account_now(order).received)
        given_back = Payment(
            amount=payment.amount,
            method=payment.method,
            kind=EntryKind.REFUND,
            note=payment.note,
        )
        return _write(work, order, given_back, -payment.amount, act)


def correct_entry(store: Store, at: OrderAt, entry_id: int, act: Stamp) -> int:
    """Undo an entry that was a mistake, by a contrary one. Returns the new entry's id.

    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        correction = correction_of(order.entries, entry_id, at=act.now, by=act.who)
        if (account_now(order).received + correction.amount).minor < 0:
            raise Conflict(
                "Without that entry more was given back than received; correct the refund first."
            )
        return work.orders.add_entry(order.id, correction)


def _check(order: Order, payment: Payment, path: str) -> None:
    ours = currency_of(order)
    if payment.amount.currency != ours:
        raise Conflict(f"{order.number} is in {ours.code}; the amount is not.")
    if payment.amount.minor <= 0:
        raise Invalid.at(path, "The amount is not above zero; type what changed hands.")
    if len(payment.note) > LONGEST_NOTE:
        raise Invalid.at(
            "note", f"The note has {len(payment.note)} characters; at most {LONGEST_NOTE} are kept."
        )


def _write(work: UnitOfWork, order: Order, payment: Payment, amount: Money, act: Stamp) -> int:
    entry = NewEntry(
        kind=payment.kind,
        amount=amount,
        at=act.now,
        by=act.who,
        method=payment.method,
        note=payment.note,
    )
    return work.orders.add_entry(order.id, entry)
