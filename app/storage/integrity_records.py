"""Reads every record there is, as pages and papers read them, and works out anew every total that is kept."""

import sqlite3
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from sqlalchemy import create_engine
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.orm import Session
from sqlalchemy.pool import StaticPool

from app.codec import Codec
from app.errors import AppError
from app.money import CURRENCIES, Money, show_money
from app.orders.totals import owed, range_of
from app.storage.called import named
from app.storage.mapping import Columns
from app.storage.reasons import reason_of
from app.storage.snapshots import AGREED, INVOICE, LINE, MATERIAL, SECTIONS, SHOP, TICKET_FACTS
from app.storage.tables.invoices import columns_of_invoice
from app.storage.tables.materials import columns_of_material
from app.storage.tables.orders import Orders
from app.storage.tables.pictures import picture_id
from app.storage.tables.plans import part_rows
from app.storage.tables.supplier_orders import SupplierOrders

_UNREADABLE = (
    AppError,
    ValueError,
    LookupError,
    TypeError,
    ArithmeticError,
    AttributeError,
    SQLAlchemyError,
)
"""What reading a record that does not hold together may raise."""


class _Document(NamedTuple):
    """Where records stand as JSON. repeated: what other columns repeat of it, by their names."""

    table: str
    column: str
    codec: Codec[Any]
    repeated: Callable[[Any], Columns] | None = None


_DOCUMENTS = (
    _Document("shop", "settings", SHOP),
    _Document("materials", "says", MATERIAL, columns_of_material),
    _Document("piece_snapshots", "agreed", AGREED, lambda agreed: {"priced_on": agreed.priced_on}),
    _Document("line_agreements", "agreed", LINE),
    _Document("invoices", "says", INVOICE, columns_of_invoice),
    _Document("ticket_prints", "facts", TICKET_FACTS),
    _Document("cutting_plans", "sections", SECTIONS),
)


def wrong_records(connection: sqlite3.Connection) -> Iterator[str]:
    """Yield what is wrong, a sentence each. The connection sees one moment meanwhile, and only reads."""
    for document in _DOCUMENTS:
        yield from _wrong_documents(connection, document)
    yield from _wrong_pictures(connection)
    engine = create_engine("sqlite://", creator=lambda: connection, poolclass=StaticPool)
    with Session(engine) as session:
        yield from _wrong_orders(connection, session)
        yield from _wrong_supplier_orders(connection, session)


def _wrong_pictures(connection: sqlite3.Connection) -> Iterator[str]:
    """A picture is kept under a digest of itself; a piece names one that is kept."""
    for (id_,) in connection.execute("SELECT id FROM pictures ORDER BY id").fetchall():
        (content,) = connection.execute(
            "SELECT content FROM pictures WHERE id = ?", (id_,)
        ).fetchone()
        if picture_id(content) != id_:
            yield f"The picture {id_} is not as it was kept."
    for number, piece in connection.execute(
        "SELECT coalesce(o.order_number, o.quote_number), p.number FROM pieces p JOIN orders o ON o.id = p.order_id "
        "WHERE p.photo <> '' AND p.photo NOT IN (SELECT id FROM pictures) ORDER BY p.id"
    ):
        yield f"{number}: the photo of piece {piece} is not kept."


def _wrong_documents(connection: sqlite3.Connection, document: _Document) -> Iterator[str]:
    table, column, codec, repeated = document
    ids = [row for (row,) in connection.execute(f'SELECT id FROM "{table}" ORDER BY id')]
    for row in ids:
        try:
            (text,) = connection.execute(
                f'SELECT "{column}" FROM "{table}" WHERE id = ?', (row,)
            ).fetchone()
            value = codec.read(text)
        except (*_UNREADABLE, sqlite3.DatabaseError) as error:
            yield f"{named(connection, table, row)} cannot be read. {reason_of(error)}"
            continue
        if repeated is not None:
            yield from _wrong_repeated(connection, document, row, repeated(value))
        if codec is SECTIONS:
            yield from _wrong_parts(connection, row, value)


def _wrong_repeated(
    connection: sqlite3.Connection, document: _Document, row: int, says: Columns
) -> Iterator[str]:
    """Columns that lists ask for, and that repeat what a record says."""
    repeated = {name: value for name, value in says.items() if name != document.column}
    stands = connection.execute(
        f'SELECT {", ".join(repeated)} FROM "{document.table}" WHERE id = ?', (row,)
    ).fetchone()
    for (name, value), found in zip(repeated.items(), stands, strict=True):
        wanted = _stored(value)
        if found != wanted:
            yield (
                f"{named(connection, document.table, row)} says {wanted} of itself, "
                f"but {found} is noted as its {name}."
            )


def _stored(value: object) -> object:
    match value:
        case bool():
            return int(value)
        case None | int():
            return value
    return str(value)


def _wrong_parts(connection: sqlite3.Connection, plan: int, sections: Any) -> Iterator[str]:
    """The parts that a plan holds are kept a second time, for whoever asks what became of a piece."""
    names = ("part", "piece_id", "what", "material", "section", "bin", "to_buy")
    wanted = {tuple(getattr(row, name) for name in names) for row in part_rows(plan, sections)}
    found = set(
        connection.execute(f"SELECT {', '.join(names)} FROM plan_parts WHERE plan_id = ?", (plan,))
    )
    if found != wanted:
        yield f"{named(connection, 'cutting_plans', plan)} does not hold the parts that are noted of it."


def _wrong_orders(connection: sqlite3.Connection, session: Session) -> Iterator[str]:
    orders = Orders(session)
    kept = connection.execute(
        "SELECT id, coalesce(order_number, quote_number), currency, total_minor, most_minor, "
        "paid_minor, owed_minor, stage = 'quoted' FROM orders ORDER BY id"
    ).fetchall()
    for order_id, number, *sums, open_ in kept:
        try:
            found = _sums(orders, order_id)
        except _UNREADABLE as error:
            yield f"{number} cannot be read. {reason_of(error)}"
        else:
            for word, wanted, stands in zip(_SUMMED, found, sums, strict=True):
                # That an order which is no quote any more says a most is told by what the database adds up.
                if stands != wanted and (open_ or word != _MOST):
                    noted, comes_to = (_said(sum_, found[0]) for sum_ in (stands, wanted))
                    yield f"{number}: {noted} is noted as {word}, but it comes to {comes_to}."
        session.expunge_all()


_MOST = "the most that it may come to"
_SUMMED = (
    "the currency",
    "the total",
    _MOST,
    "what was paid",
    "what is owed",
)


def _said(sum_: Any, currency: str) -> str:
    """An amount in minor units as it is read, a currency as its code."""
    if isinstance(sum_, int):
        return show_money(Money(sum_, CURRENCIES[currency]), code=True)
    return "nothing" if sum_ is None else str(sum_)


def _sums(orders: Orders, order_id: int) -> tuple[Any, ...]:
    order = orders.get(order_id)
    found = range_of(order, Money.zero(order.currency))
    least = found.least
    return (
        least.to_pay.currency.code,
        least.to_pay.minor,
        found.most.to_pay.minor if found.is_open else None,
        least.received.minor,
        owed(order, least).minor,
    )


def _wrong_supplier_orders(connection: sqlite3.Connection, session: Session) -> Iterator[str]:
    suppliers = SupplierOrders(session)
    for order_id, number in connection.execute(
        "SELECT id, number FROM supplier_orders ORDER BY id"
    ).fetchall():
        try:
            suppliers.get(order_id)
        except _UNREADABLE as error:
            yield f"{number} cannot be read. {reason_of(error)}"
        session.expunge_all()
