"""Orders are found by number, customer, title, place and note.

The text of an order stands in several tables, so the index keeps its own copy. A number is found as
it is written and without its leading zeros: "2026-0148" and "148".
"""

from alembic import op

revision = "0004"
down_revision = "0003"

TABLE = """
    CREATE VIRTUAL TABLE order_words USING fts5(
        numbers, customer, titles, places, note,
        tokenize='unicode61 remove_diacritics 2', prefix='2 3'
    )
"""


def _renewed(orders: str) -> str:
    """Statements that write the words of some orders anew. orders: a condition on `o`."""
    return f"""
        DELETE FROM order_words WHERE rowid IN (SELECT o.id FROM orders o WHERE {orders});
        INSERT INTO order_words (rowid, numbers, customer, titles, places, note)
        SELECT
            o.id,
            o.quote_number || ' ' || ltrim(substr(o.quote_number, 8), '0')
                || coalesce(' ' || o.order_number, '')
                || coalesce(' ' || ltrim(substr(o.order_number, 6), '0'), ''),
            c.name,
            coalesce((
                SELECT group_concat(p.title, ' ') FROM pieces p
                WHERE p.order_id = o.id AND p.removed_at IS NULL
            ), ''),
            coalesce((
                SELECT group_concat(p.place, ' ') FROM pieces p
                WHERE p.order_id = o.id AND p.removed_at IS NULL
            ), ''),
            o.note
        FROM orders o JOIN customers c ON c.id = o.customer_id
        WHERE {orders};
    """


STEPS = (
    TABLE,
    f"""
    CREATE TRIGGER order_words_order_added AFTER INSERT ON orders BEGIN
        {_renewed("o.id = new.id")}
    END
    """,
    f"""
    CREATE TRIGGER order_words_order_changed
    AFTER UPDATE OF quote_number, order_number, customer_id, note ON orders BEGIN
        {_renewed("o.id = new.id")}
    END
    """,
    f"""
    CREATE TRIGGER order_words_piece_added AFTER INSERT ON pieces BEGIN
        {_renewed("o.id = new.order_id")}
    END
    """,
    f"""
    CREATE TRIGGER order_words_piece_changed
    AFTER UPDATE OF title, place, removed_at ON pieces BEGIN
        {_renewed("o.id = new.order_id")}
    END
    """,
    f"""
    CREATE TRIGGER order_words_customer_changed
    AFTER UPDATE OF name ON customers WHEN old.name <> new.name BEGIN
        {_renewed("o.customer_id = new.id")}
    END
    """,
)


def upgrade() -> None:
    for step in STEPS:
        op.get_bind().exec_driver_sql(step)
