"""The invented sample shop: moved into at the first run, removed in one act."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from app.errors import Conflict
from app.services import backups
from app.storage import Machine, OrderFilter, Stamp, Store, empty


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """How much is in the shop."""

    materials: int
    customers: int
    orders: int


def move_in(store: Store, build: Callable[[Store], object], act: Stamp) -> None:
    """Fill an empty store with the sample and mark it as one. Raises: Conflict where a shop is."""
    if store.current_shop() is not None:
        raise Conflict("There is a shop already; the sample needs an empty one.")
    build(store)
    with store.writing() as work:
        kept = work.shop.kept()
        work.shop.save(replace(kept.value, sample=True), kept.version, now=act.now)


def contents(store: Store) -> Contents:
    """Tell how much would go."""
    with store.reading() as work:
        return Contents(
            materials=sum(work.materials.counts().values()),
            customers=work.customers.listed().total,
            orders=work.order_lists.count(OrderFilter()),
        )


def remove(store: Store, act: Stamp) -> Path:
    """Take the sample out with everything that was added to it. Returns the copy that is kept.

    Raises: Conflict where the shop is no sample, CannotWrite, Damaged.
    """
    shop = store.current_shop()
    if shop is None or not shop.sample:
        raise Conflict("This shop is no sample, so it cannot be deleted.")
    copy = backups.before_removal(store, act)
    Machine(store.path).begin_life()
    empty(store)
    return copy
