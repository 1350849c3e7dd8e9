"""Whole orders as the last write left them: read once after it, and found again by the next one, which begins with what stands.

A long order is read by its page, by every key that is typed for a further piece of it, and by the form that adds the piece. A
transaction that writes begins where the last one ended, for one writes at a time; what it finds here is what it would read, as
long as it has written nothing itself.
"""

import sqlite3
from collections.abc import Callable
from typing import cast

from sqlalchemy.orm import Session

from app.orders import Order
from app.storage.memo import Memo

ORDER = "order"
"""The kind of answer, under the number of writes and the id of the order (`Store.remembered`)."""

MOST_ORDERS = 8
"""Orders that are remembered so. Source: ours; one of 300 pieces is about 6 MB, and most of it is shared with the next."""


def orders_before(session: Session, memory: Memo, writes: int) -> Callable[[int], Order | None]:
    """Return what answers with an order as it stood when a transaction began, by its id.

    None where it was not read since the last write, and once the transaction has written anything. session: of one that
    writes, and has written nothing of orders yet. writes: how many there were before it.
    """
    session.flush()
    driver = cast(sqlite3.Connection, session.connection().connection.driver_connection)
    begun = driver.total_changes

    def before(order_id: int) -> Order | None:
        if driver.total_changes != begun:
            return None
        return cast(Order | None, memory.known(ORDER, (writes, order_id)))

    return before
