"""Noting that a customer was told that the work is ready, and taking that back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from app.days import show_day
from app.errors import Conflict, Invalid
from app.orders.handing_over import waiting
from app.orders.told import NewTold, Told, last_told, taking_back
from app.services.order_transaction import OrderAt, changing
from app.storage import Stamp, Store


@dataclass(frozen=True, slots=True, kw_only=True)
class Telling:
    """On which day a customer was told, and how."""

    day: date
    how: str


def tell(store: Store, at: OrderAt, telling: Telling, act: Stamp) -> int:
    """Note that the customer was told. Returns the id of the entry.

    Raises: NotFound, Stale, Conflict where nothing is framed, Invalid at "day" or "note".
    """
    with changing(store, at, act) as (work, order):
        if not waiting(order):
            raise Conflict(
                f"Nothing of {order.number} is framed; the customer is told when something is."
            )
        if telling.day > act.today:
            raise Invalid.at("day", "That day is still to come; type the day of telling.")
        since = order.ordered_on or order.quoted_on
        if telling.day < since:
            raise Invalid.at("day", f"That is before the order was taken, on {show_day(since)}.")
        entry = NewTold(day=telling.day, how=telling.how.strip(), at=act.now, by=act.who)
        return work.told.add(order.id, entry)


def take_back(store: Store, at: OrderAt, told_id: int, act: Stamp) -> int:
    """Take back that the customer was told. Returns the id of the contrary entry.

    Raises: NotFound, Stale, Conflict.
    """
    with changing(store, at, act) as (work, order):
        contrary = taking_back(work.told.of(order.id), told_id, at=act.now, by=act.who)
        return work.told.add(order.id, contrary)


def of_order(store: Store, order_id: int) -> tuple[Told, ...]:
    """Return everything that was noted with an order, the oldest first."""
    with store.reading() as work:
        return work.told.of(order_id)


def last_days(store: Store, order_ids: Iterable[int]) -> Mapping[int, date]:
    """Return the day on which the customers of some orders were told last; of whom nobody told there is none."""
    with store.reading() as work:
        found = work.told.by_owner(order_ids)
        days = {order_id: last_told(told) for order_id, told in found.items()}
    return {order_id: day for order_id, day in days.items() if day is not None}
