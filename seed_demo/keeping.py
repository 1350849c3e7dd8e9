"""Whole past orders written into an empty store, many at a time.

The app's own services write one act at a time and commit each; a year of acts would take minutes. Here the
finished values go into the same rows through the storage's own mapping. Numbers are
given in the order of the days, so they run without gaps (M4).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime

from sqlalchemy import insert
from sqlalchemy.orm import Session

from app.orders import Stage, StageChange
from app.orders.told import NewTold
from app.storage import Series
from app.storage.mapping import Columns, columns_of
from app.storage.snapshots import AGREED
from app.storage.tables.order_pieces import PieceRow, PieceSnapshotRow, StageChangeRow
from app.storage.tables.orders import LedgerEntryRow, OrderRow
from app.storage.tables.shop import CounterRow
from app.storage.tables.told import CustomerToldRow
from seed_demo.numbering import Numbering
from seed_demo.years import PastOrder


def number_them(session: Session, orders: Sequence[PastOrder]) -> tuple[PastOrder, ...]:
    """The orders with their numbers: quotes by when they were made, orders by when they were taken.

    The counters are left standing at the last ones. Raises: IntegrityError where they had begun.
    """
    numbering = Numbering()
    quotes = {
        order_id: numbering.take(Series.QUOTE, at.year)
        for at, order_id in sorted((past.quoted_at, past.order.id) for past in orders)
    }
    numbers = {
        order_id: numbering.take(Series.ORDER, at.year) for at, order_id in sorted(_taken(orders))
    }
    if counters := numbering.counters():
        session.execute(insert(CounterRow), counters)
    return tuple(
        replace(
            past,
            order=replace(
                past.order,
                quote_number=quotes[past.order.id],
                order_number=numbers.get(past.order.id),
            ),
        )
        for past in orders
    )


def _taken(orders: Iterable[PastOrder]) -> Iterator[tuple[datetime, int]]:
    for past in orders:
        if past.ordered_at is not None:
            yield past.ordered_at, past.order.id


def keep(session: Session, orders: Sequence[PastOrder]) -> None:
    """Write numbered orders. Raises: IntegrityError where one of their ids is taken."""
    for row, columns in (
        (OrderRow, map(_order, orders)),
        (PieceRow, (each for past in orders for each in _pieces(past))),
        (PieceSnapshotRow, (each for past in orders for each in _snapshots(past))),
        (StageChangeRow, (each for past in orders for each in _changes(past))),
        (LedgerEntryRow, (each for past in orders for each in _entries(past))),
        (CustomerToldRow, (each for past in orders for each in _told(past))),
    ):
        if lines := list(columns):
            session.execute(insert(row), lines)


def _order(past: PastOrder) -> Columns:
    order = past.order
    received = sum(written.entry.amount.minor for written in order.entries)
    return {
        "id": order.id,
        "version": order.version,
        "customer_id": order.customer_id,
        "quote_number": order.quote_number,
        "order_number": order.order_number,
        "quoted_on": order.quoted_on,
        "valid_until": order.valid_until,
        "ordered_on": order.ordered_on,
        "due": order.due,
        "note": order.note,
        "stage": order.stage.value,
        "currency": past.total.currency.code,
        "total_minor": past.total.minor,
        "most_minor": None,
        "paid_minor": received,
        "owed_minor": past.owed.minor,
        "updated_at": past.changed_at,
    }


def _pieces(past: PastOrder) -> Iterator[Columns]:
    for piece in past.order.pieces:
        yield {
            "id": piece.id,
            "order_id": past.order.id,
            "number": piece.number,
            "stage": piece.stage.value,
            "removed_at": None,
            "counted_design": piece.counted.number,
            "copies": piece.copies,
            **columns_of(piece.artwork),
        }


def _snapshots(past: PastOrder) -> Iterator[Columns]:
    for piece in past.order.pieces:
        yield {
            "piece_id": piece.id,
            "design": piece.counted.number,
            "priced_on": piece.agreed.priced_on,
            "agreed": AGREED.write(piece.agreed),
            "at": past.quoted_at,
            "by": past.by,
        }


def _changes(past: PastOrder) -> Iterator[Columns]:
    """In time over all pieces, as they would have been written one after the other."""
    changes: list[tuple[datetime, int, StageChange]] = [
        (change.at, piece.id, change) for piece in past.order.pieces for change in piece.changes
    ]
    for _, piece_id, change in sorted(changes, key=lambda each: each[:2]):
        yield {"piece_id": piece_id, **columns_of(change)}


def _entries(past: PastOrder) -> Iterator[Columns]:
    for written in past.order.entries:
        yield {"id": written.id, "order_id": past.order.id, **columns_of(written.entry)}


_WAYS = ("phone", "phone, left a message", "e-mail")


def _told(past: PastOrder) -> Iterator[Columns]:
    """The customer is told when the last piece is framed; one in four of those that wait is not told yet."""
    order = past.order
    waits = order.stage is Stage.FRAMED and order.id % 4 == 0
    if waits or order.stage not in (Stage.FRAMED, Stage.COLLECTED):
        return
    framed = [
        change for piece in order.pieces for change in piece.changes if change.new is Stage.FRAMED
    ]
    if framed:
        last = max(framed, key=lambda change: change.at)
        how = _WAYS[order.id % len(_WAYS)]
        told = NewTold(day=last.at.date(), how=how, at=last.at, by=last.by)
        yield {"order_id": order.id, **columns_of(told)}
