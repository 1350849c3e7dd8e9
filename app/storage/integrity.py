"""Checks that a database is whole: the file, the references, the sums and the numbers."""

import re
import sqlite3
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy.exc import DBAPIError

from app.orders import Stage, stage_of_order
from app.storage.damage import damage_of_pages
from app.storage.engine import migrate_new
from app.storage.integrity_records import wrong_records
from app.storage.integrity_seals import wrong_seals
from app.storage.integrity_words import wrong_words
from app.storage.log import to_read
from app.storage.migrating import SCHEMA, schema_of
from app.storage.reasons import reason_of
from app.storage.tables.shop import Series

_SUMS = """
    SELECT o.quote_number, o.paid_minor, coalesce(sum(e.amount_minor), 0) AS entries
    FROM orders o LEFT JOIN ledger_entries e ON e.order_id = o.id
    GROUP BY o.id HAVING o.paid_minor <> entries
"""
_CURRENCIES = """
    SELECT DISTINCT o.quote_number FROM orders o JOIN ledger_entries e ON e.order_id = o.id
    WHERE e.currency <> o.currency
    UNION SELECT DISTINCT o.quote_number FROM orders o JOIN reductions r ON r.order_id = o.id
    WHERE r.currency <> o.currency
"""
_COUNTS = """
    SELECT c.stage, c.orders, (SELECT count(*) FROM orders o WHERE o.stage = c.stage) AS found
    FROM stage_counts c WHERE c.orders <> found
"""
_STAGES = """
    SELECT o.id, o.quote_number, o.stage, p.stage FROM orders o JOIN pieces p ON p.order_id = o.id
    WHERE p.removed_at IS NULL
    UNION ALL SELECT o.id, o.quote_number, o.stage, CASE
        WHEN l.stage <> 'ordered' THEN l.stage
        WHEN (SELECT a.agreed ->> '$.line.minutes' FROM line_agreements a
            WHERE a.line_id = l.id ORDER BY a.id DESC LIMIT 1) = '0' THEN 'framed'
        ELSE 'cut' END
    FROM orders o JOIN order_lines l ON l.order_id = o.id WHERE NOT l.struck
    ORDER BY 1
"""
_WITHOUT_AGREEMENT = """
    SELECT o.quote_number, 'piece ' || p.number FROM pieces p JOIN orders o ON o.id = p.order_id
    WHERE NOT EXISTS (
        SELECT 1 FROM piece_snapshots s WHERE s.piece_id = p.id AND s.design = p.counted_design
    )
    UNION ALL
    SELECT o.quote_number, 'line ' || l.number FROM order_lines l JOIN orders o ON o.id = l.order_id
    WHERE NOT EXISTS (SELECT 1 FROM line_agreements a WHERE a.line_id = l.id)
"""

_OPEN = """
    SELECT quote_number FROM orders WHERE most_minor IS NOT NULL AND stage <> 'quoted'
"""

_ALIKE = """
    SELECT o.quote_number, p.number, p.copies, coalesce((
        SELECT CASE WHEN json_valid(s.agreed) THEN s.agreed ->> '$.agreed.copies' END
        FROM piece_snapshots s
        WHERE s.piece_id = p.id AND s.design = p.counted_design ORDER BY s.id DESC LIMIT 1
    ), 1) AS agreed
    FROM pieces p JOIN orders o ON o.id = p.order_id WHERE p.copies <> agreed
"""

_MATERIALS = """
    SELECT code FROM materials WHERE says ->> '$.material.code' IS NOT code
        OR says ->> '$.material.name' IS NOT name OR says ->> '$.material.kind' IS NOT kind
        OR says ->> '$.material.colour' IS NOT colour OR says ->> '$.material.active' IS NOT active
"""

_ON_HAND = """
    SELECT i.id, i.on_hand, coalesce(sum(m.change), 0) AS moved
    FROM stock_items i LEFT JOIN stock_movements m ON m.item_id = i.id
    GROUP BY i.id HAVING i.on_hand <> moved
"""
_TAKEN_BACK = """
    SELECT m.id FROM stock_movements m JOIN stock_movements t ON t.id = m.takes_back
    WHERE t.item_id <> m.item_id OR t.change <> -m.change
"""

_DELIVERED = """
    SELECT d.id, o.number FROM deliveries d
    JOIN supplier_order_lines l ON l.id = d.line_id JOIN supplier_orders o ON o.id = l.order_id
    JOIN stock_movements m ON m.id = d.movement_id
    LEFT JOIN deliveries t ON t.id = d.takes_back
    WHERE m.change <> d.quantity OR t.line_id <> d.line_id OR t.quantity <> -d.quantity
"""

_DONE = """
    SELECT p.number FROM cutting_plans p WHERE p.stage = 'done' AND EXISTS (
        SELECT 1 FROM plan_parts q WHERE q.plan_id = p.id AND NOT EXISTS (
            SELECT 1 FROM plan_bookings b
            WHERE b.plan_id = p.id AND b.section = q.section AND b.bin = q.bin
            AND b.takes_back IS NULL
            AND NOT EXISTS (SELECT 1 FROM plan_bookings t WHERE t.takes_back = b.id)
        )
    )
"""
_BOOKED = """
    SELECT p.number FROM plan_bookings b JOIN cutting_plans p ON p.id = b.plan_id,
        json_each(b.moved) moved
    LEFT JOIN stock_movements m ON m.id = moved.value ->> 1
    WHERE m.item_id IS NOT moved.value ->> 0 OR m.plan_id IS NOT b.plan_id
"""

_INVOICED = """
    SELECT i.number FROM invoices i JOIN orders o ON o.id = i.order_id
    LEFT JOIN invoices t ON t.id = i.corrects
    WHERE i.currency <> o.currency OR i.says ->> '$.invoice.number' <> i.number
        OR i.says ->> '$.invoice.kind' <> i.kind OR i.says ->> '$.invoice.issued_on' <> i.issued_on
        OR i.says ->> '$.invoice.corrects.number' IS NOT t.number
        OR t.gross_minor <> -i.gross_minor OR t.order_id <> i.order_id OR t.kind = 'credit-note'
"""
_INVOICED_TWICE = """
    SELECT o.order_number FROM invoices i JOIN orders o ON o.id = i.order_id
    WHERE i.kind = 'invoice' AND NOT EXISTS (SELECT 1 FROM invoices c WHERE c.corrects = i.id)
    GROUP BY o.id HAVING count(*) > 1
"""

_NUMBERED = (
    (Series.QUOTE, "orders", "quote_number"),
    (Series.ORDER, "orders", "order_number"),
    (Series.INVOICE, "invoices", "number"),
    (Series.OFFCUT, "stock_items", "label"),
    (Series.PLAN, "cutting_plans", "number"),
    (Series.SUPPLIER_ORDER, "supplier_orders", "number"),
)


_LABEL = re.compile(rf"{Series.OFFCUT.prefix}\d{{4}}-\d{{4,}}")
"""A label that was given by its series."""


def problems_of(path: Path, *, every_record: bool = False) -> tuple[str, ...]:
    """Return everything that is wrong with a database file, a sentence each; empty when it is whole.

    The pages, the references, the seals and the sums that the database can add up are always looked at; with every_record each
    record is read as pages read it, and every total is worked out anew, which takes long for a large shop. Of a file
    that an older version left, only what does not depend on its tables is checked.
    Raises: NotOurDatabase, NewerDatabase.
    """
    schema = schema_of(path)
    if schema is None:
        return ("The file is empty.",)
    looks: list[Callable[[sqlite3.Connection], Iterator[str]]] = [
        _in_the_file,
        lambda connection: _in_the_schema(connection, schema),
        wrong_seals,
    ]
    if schema == SCHEMA:
        looks += [_in_the_shop, *((wrong_records, wrong_words) if every_record else ())]
    # A page that was damaged once is no reason to make no copies from then on.
    found = list(damage_of_pages(path, written_over=every_record))
    with closing(to_read(path)) as connection:
        try:
            connection.execute("PRAGMA temp_store = MEMORY")  # no names of customers elsewhere
            connection.execute("BEGIN")  # all is seen as it stood at one moment
        except sqlite3.DatabaseError as error:
            return (*found, f"The file cannot be read. {reason_of(error)}")
        for look in looks:
            found += _seen(connection, look)
    return tuple(dict.fromkeys(found))


def _seen(
    connection: sqlite3.Connection, look: Callable[[sqlite3.Connection], Iterator[str]]
) -> Iterator[str]:
    """What can be told before the file cannot be read any further."""
    try:
        yield from look(connection)
    except (sqlite3.DatabaseError, DBAPIError) as error:
        yield f"The file cannot be read any further. {reason_of(error)}"


def _in_the_file(connection: sqlite3.Connection) -> Iterator[str]:
    for (line,) in connection.execute("PRAGMA integrity_check"):
        if line != "ok":
            yield f"The file is damaged: {line}."
    for table, row, parent, _ in connection.execute("PRAGMA foreign_key_check"):
        yield f"Row {row} of {table} refers to a row of {parent} that is not there."


def _in_the_schema(connection: sqlite3.Connection, schema: str) -> Iterator[str]:
    """Whatever the steps up to that schema do not make: a writer trusts what stands there."""
    found, ours = _schema(connection), _made_by_steps(schema)
    for name in sorted(found.keys() | ours.keys()):
        if found.get(name) != ours.get(name):
            yield f"The table, index or trigger {name} is not as Bevelbook makes it."


def _schema(connection: sqlite3.Connection) -> dict[str, str | None]:
    return dict(connection.execute("SELECT name, sql FROM sqlite_master"))


@cache
def _made_by_steps(schema: str) -> dict[str, str | None]:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "steps.sqlite3"
        migrate_new(path, schema)
        with closing(sqlite3.connect(path)) as connection:
            return _schema(connection)


def _in_the_shop(connection: sqlite3.Connection) -> Iterator[str]:
    for number, kept, entries in connection.execute(_SUMS):
        yield f"{number}: {kept} is noted as paid, but the ledger adds up to {entries}."
    for (number,) in connection.execute(_CURRENCIES):
        yield f"{number}: the ledger or a reduction is in another currency."
    for stage, kept, found in connection.execute(_COUNTS):
        yield f"{kept} orders are counted at “{stage}”, but there are {found}."
    for number, what in connection.execute(_WITHOUT_AGREEMENT):
        yield f"{number}: nothing was ever agreed for {what}."
    for (number,) in connection.execute(_OPEN):
        yield f"{number} is said to come to more at most, but no design is to be taken any more."
    yield from _wrong_stages(connection)
    for (code,) in connection.execute(_MATERIALS):
        yield f"{code} does not say of itself what the price book has noted of it."
    yield from _wrong_counts(connection)
    for (number,) in connection.execute(_DONE):
        yield f"{number} is said to be done, but not all of it is booked."
    for (number,) in connection.execute(_BOOKED):
        yield f"{number}: a booking names a movement that the stock does not have."
    yield from _wrong_invoices(connection)
    for series, table, column in _NUMBERED:
        yield from _gaps(connection, series, table, column)


def _wrong_counts(connection: sqlite3.Connection) -> Iterator[str]:
    for number, piece, kept, agreed in connection.execute(_ALIKE):
        yield f"{number}: {kept} of piece {piece} are noted as alike, but {agreed} were agreed."
    for item, kept, moved in connection.execute(_ON_HAND):
        yield f"Item {item} of the stock: {kept} on hand are noted, but its movements add up to {moved}."
    for (movement,) in connection.execute(_TAKEN_BACK):
        yield f"Movement {movement} of the stock does not undo what it takes back."
    for delivery, number in connection.execute(_DELIVERED):
        yield f"Delivery {delivery} of {number} is not what the stock has a movement for."


def _wrong_invoices(connection: sqlite3.Connection) -> Iterator[str]:
    for (number,) in connection.execute(_INVOICED):
        yield f"{number} does not say what is noted of it, or does not undo what it takes back."
    for (number,) in connection.execute(_INVOICED_TWICE):
        yield f"{number} has more than one invoice that stands."


def _wrong_stages(connection: sqlite3.Connection) -> Iterator[str]:
    stages: dict[int, list[Stage]] = defaultdict(list)
    orders: dict[int, tuple[str, str]] = {}
    for order_id, number, stage, piece_stage in connection.execute(_STAGES):
        orders[order_id] = (number, stage)
        stages[order_id].append(Stage(piece_stage))
    for order_id, (number, stage) in orders.items():
        least = stage_of_order(stages[order_id])
        if least != stage:
            yield f"{number} stands at “{stage}”, but its pieces at “{least}”."


def _gaps(connection: sqlite3.Connection, series: Series, table: str, column: str) -> Iterator[str]:
    """Numbers that were given without an order, and orders whose number was not given (M4)."""
    found = [
        str(number).upper()
        for (number,) in connection.execute(
            f"SELECT {column} FROM {table} WHERE {column} IS NOT NULL ORDER BY {column}"
        )
    ]
    if series is Series.OFFCUT:  # a label that a shop wrote itself is no number
        found = [label for label in found if _LABEL.fullmatch(label)]
    used = set(found)
    for number, times in Counter(found).items():
        if times > 1:
            yield f"The number {number} was given {times} times; each {series.words} has one of its own."
    given = {
        series.number(year, sequence)
        for year, last in connection.execute(
            "SELECT year, last FROM counters WHERE series = ?", (series.value,)
        )
        for sequence in range(1, last + 1)
    }
    for number in sorted(given - used):
        yield f"The number {number} was given, but no {series.words} has it."
    for number in sorted(used - given):
        yield f"{series.with_article.capitalize()} has the number {number}, which was never given."
