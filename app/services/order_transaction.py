"""Changing an order: from the version it was read in, in one transaction, with its sums settled."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from app.errors import Conflict, NotFound
from app.money import Currency, Money
from app.orders import Order, OrderLine, Piece
from app.orders.totals import Account, PriceRange, owed, range_of
from app.storage import Stamp, Store, UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderAt:
    """An order at the version in which it was read."""

    id: int
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignAt:
    """A piece of an order and one of its designs, by their numbers; the design that counts for None."""

    piece: int
    design: int | None = None

    def of(self, order: Order) -> Piece:
        """Return the piece as it is with that design taken. Raises: NotFound."""
        return piece_of(order, self.piece).by_design(self.design)


@contextmanager
def changing(
    store: Store, at: OrderAt, act: Stamp, *, brings_back: bool = False
) -> Iterator[tuple[UnitOfWork, Order]]:
    """Give the order as it stands, for changing; at the end it is settled and committed.

    brings_back: whether the act may bring back a quote that was deleted; nothing else is done to one.
    Raises: NotFound, Stale with the Order as it is kept now, Conflict for a deleted quote.
    """
    with store.writing() as work:
        order = work.orders.claim(at.id, at.version)
        if not brings_back:
            check_not_deleted(order)
        yield work, order
        settle(work, at.id, act)


def check_not_deleted(order: Order) -> None:
    """Raises: Conflict for a quote that was deleted."""
    if order.deleted:
        raise Conflict(
            f"{order.number} is deleted. Undo that on its page before anything else is done with it."
        )


def settle(work: UnitOfWork, order_id: int, act: Stamp) -> None:
    """Bring what lists show of an order up to date with its pieces, its lines and its ledger."""
    order = work.orders.get(order_id)
    found = range_now(order)
    least = found.least
    work.orders.settle(
        order,
        total=least.to_pay,
        most=found.most.to_pay if found.is_open else None,
        owed=owed(order, least),
        now=act.now,
    )


def currency_of(order: Order) -> Currency:
    """Return the currency of an order."""
    return order.currency


def account_now(order: Order) -> Account:
    """Return what an order comes to and what was received; the least while a design is still to be chosen (P10)."""
    return range_now(order).least


def range_now(order: Order) -> PriceRange:
    """From what to what an order comes (P10)."""
    return range_of(order, Money.zero(currency_of(order)))


def piece_of(order: Order, number: int) -> Piece:
    """Return the piece of a number. Raises: NotFound."""
    for piece in order.pieces:
        if piece.number == number:
            return piece
    raise NotFound(f"{order.number} has no piece {number}.")


def line_of(order: Order, number: int) -> OrderLine:
    """Return the line of a number. Raises: NotFound."""
    for line in order.lines:
        if line.number == number:
            return line
    raise NotFound(f"{order.number} has no line {number}.")
