"""What a check finds of records that were altered past the program, and that it is silent about those that were not."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from app.storage import Stamp, Store, problems_of
from app.storage.integrity_seals import wrong_seals
from app.storage.seals import SealRow, hash_of, reseal, sealed_tables
from app.storage.tables.invoices import InvoiceRow
from app.storage.tables.order_pieces import StageChangeRow
from app.storage.tables.orders import LedgerEntryRow
from tests.landed.shops import IMPERIAL, METRIC, OLD, LandedShop
from tests.storage.altering import alter, asked

ACT = Stamp(who="Ada", now=datetime(2026, 11, 25, 10, 30, tzinfo=UTC))


def found(path: Path) -> tuple[str, ...]:
    return problems_of(path, every_record=True)


@pytest.mark.parametrize("shop", [METRIC, IMPERIAL, OLD], ids=lambda shop: shop.name)
def test_what_old_versions_left_is_sealed_and_whole(shop: LandedShop, tmp_path: Path) -> None:
    with shop.opened(tmp_path) as (store, _):
        assert found(store.path) == ()
        for table in sealed_tables():
            ids = {row for (row,) in asked(store.path, f'SELECT id FROM "{table.name}"')}
            sealed = {
                row
                for (row,) in asked(
                    store.path, f"""SELECT "row" FROM seals WHERE "of" = '{table.name}'"""
                )
            }
            assert sealed == ids, table.name


def test_every_table_that_refuses_any_change_is_sealed(shop: Path) -> None:
    """But the parts of a plan, which are held to its sections, and the seals themselves."""
    refusing = {
        str(name)
        for name, sql in asked(
            shop, "SELECT tbl_name, sql FROM sqlite_master WHERE type = 'trigger'"
        )
        if "is append-only" in str(sql)
    }
    sealed = {table.name for table in sealed_tables()}
    assert refusing - sealed == {"plan_parts", "seals"}
    assert sealed - refusing == {"customer_joins", "cutting_plans", "stock_items"}
    assert {table.name for table in sealed_tables() if table.sealing.chained} == {
        "invoices",
        "ledger_entries",
    }


MIDDLE = "(SELECT id FROM ledger_entries ORDER BY id LIMIT 1 OFFSET 2)"
OF_ORDER = f"(SELECT order_id FROM ledger_entries WHERE id = {MIDDLE})"
LAST_AGREED = "(SELECT max(id) FROM piece_snapshots)"


@pytest.mark.parametrize(
    ("statements", "words"),
    [
        (
            ["UPDATE invoices SET says = replace(says, 'a', 'e') WHERE id = 1"],
            ["the invoice or credit note (record 1) is not as it was written"],
        ),
        (
            [
                "UPDATE piece_snapshots SET agreed = json_set(agreed, '$.agreed.price.lines[0].amount.minor', 1) "
                f"WHERE id = {LAST_AGREED}"
            ],
            ["what was agreed (record", "is not as it was written"],
        ),
        (
            [f"UPDATE ledger_entries SET at = '2026-01-02T09:00:00.000000Z' WHERE id = {MIDDLE}"],
            ["an entry of the ledger (record 3) is not as it was written"],
        ),
        (
            [
                f"UPDATE ledger_entries SET amount_minor = amount_minor + 100 WHERE id = {MIDDLE}",
                f"UPDATE orders SET paid_minor = paid_minor + 100, owed_minor = owed_minor - 100 WHERE id = {OF_ORDER}",
            ],
            ["an entry of the ledger (record 3) is not as it was written"],
        ),
        (
            ["UPDATE orders SET total_minor = total_minor + 1 WHERE id = 2"],
            ["is noted as the total, but it comes to"],
        ),
        (
            ["UPDATE orders SET owed_minor = owed_minor + 1 WHERE id = 2"],
            ["is noted as what is owed, but it comes to"],
        ),
        (
            [
                "UPDATE orders SET most_minor = 99999999 WHERE id = (SELECT max(id) FROM orders WHERE stage = 'quoted')"
            ],
            ["is noted as the most that it may come to, but it comes to nothing"],
        ),
        (
            [f"UPDATE piece_snapshots SET agreed = '{{\"agreed\":}}' WHERE id = {LAST_AGREED}"],
            ["what was agreed (record", "cannot be read."],
        ),
        (
            ["UPDATE materials SET says = '{}' WHERE id = 1"],
            ["a material (record 1) cannot be read."],
        ),
        (
            ["DELETE FROM order_words WHERE rowid = 2"],
            ["the order itself (record 2) is not found by all of its words."],
        ),
        (
            [
                "INSERT INTO order_words (rowid, numbers, customer) VALUES (9000, 'Q-2026-9', 'Nobody')"
            ],
            ["The order itself (record 9000) is found by words that do not stand there."],
        ),
        (
            [
                "INSERT INTO customer_words (customer_words, rowid, name, phone, email, address, notes) "
                "SELECT 'delete', id, name, phone, email, address, notes FROM customers WHERE id = 1"
            ],
            ["Customer 1: a customer (record 1) is not found by all of its words."],
        ),
        (
            [f"DELETE FROM ledger_entries WHERE id = {MIDDLE}"],
            ["An entry of the ledger (record 3) was written and is gone.", "is noted as paid"],
        ),
        (
            [
                f"UPDATE orders SET paid_minor = paid_minor - (SELECT amount_minor FROM ledger_entries WHERE id = {MIDDLE}) "
                f"WHERE id = {OF_ORDER}",
                'DELETE FROM seals WHERE "of" = \'ledger_entries\' AND "row" = 3',
                "DELETE FROM ledger_entries WHERE id = 3",
            ],
            ["(record 4) does not go on from the record before it"],
        ),
        (
            [
                "UPDATE ledger_entries SET id = -1 WHERE id = 3",
                "UPDATE ledger_entries SET id = 3 WHERE id = 4",
                "UPDATE ledger_entries SET id = 4 WHERE id = -1",
            ],
            ["(record 3) is not as it was written", "(record 4) is not as it was written"],
        ),
        (
            ["UPDATE stage_changes SET at = '2026-01-02T09:00:00.000000Z' WHERE id = 5"],
            ["a change of stage (record 5) is not as it was written"],
        ),
        (
            [
                "INSERT INTO stage_changes (piece_id, old, new, at, by, takes_back, note) "
                "SELECT piece_id, old, new, at, by, takes_back, note FROM stage_changes WHERE id = 5"
            ],
            ["was not written by Bevelbook: it has no seal."],
        ),
        (
            ["UPDATE stock_items SET length = length + 1 WHERE form = 'stick'"],
            ["an item of the stock (record", "is not as it was written"],
        ),
        (
            ["UPDATE cutting_plans SET sections = replace(sections, '1', '2') WHERE id = 1"],
            ["the cutting plan (record 1)"],
        ),
        (
            ["UPDATE plan_parts SET bin = bin + 1 WHERE plan_id = 1"],
            ["the cutting plan (record 1) does not hold the parts that are noted of it."],
        ),
        (
            ["UPDATE counters SET last = last - 1 WHERE series = 'offcut'"],
            ["An offcut has the number", "which was never given"],
        ),
        (
            ["UPDATE stage_counts SET orders = orders + 1 WHERE stage = 'quoted'"],
            ["orders are counted at “quoted”"],
        ),
    ],
)
def test_what_was_altered_past_the_program_is_found(
    shop: Path, statements: list[str], words: list[str]
) -> None:
    alter(shop, *statements)
    told = " | ".join(found(shop))
    for each in words:
        assert each in told


def test_an_offcut_number_that_was_given_twice_is_found(shop: Path) -> None:
    (labels,) = asked(shop, "SELECT min(label), max(label) FROM stock_items WHERE label LIKE 'K-%'")
    first, last = labels
    assert first != last
    (index,) = asked(shop, "SELECT sql FROM sqlite_master WHERE name = 'stock_items_by_label'")
    alter(
        shop,
        "DROP INDEX stock_items_by_label",
        f"UPDATE stock_items SET label = '{first}' WHERE label = '{last}'",
        str(index[0]).replace("UNIQUE ", ""),
    )
    told = found(shop)
    assert f"The number {first} was given 2 times; each offcut has one of its own." in told
    assert f"The number {last} was given, but no offcut has it." in told


@pytest.mark.parametrize("kind", [LedgerEntryRow, InvoiceRow, StageChangeRow])
def test_any_altered_column_of_a_record_is_found(shop: Path, kind: type[LedgerEntryRow]) -> None:
    """The seal alone, since other looks find some of these too."""
    table = kind.__tablename__
    with closing(sqlite3.connect(shop, isolation_level=None)) as connection:
        columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
        connection.execute("PRAGMA ignore_check_constraints = ON")
        for trigger in ("unchanged", "stay"):
            connection.execute(f"DROP TRIGGER {table}_{trigger}")
        assert list(wrong_seals(connection)) == []
        for column in columns[1:]:
            (was,) = connection.execute(f'SELECT "{column}" FROM {table} WHERE id = 2').fetchone()
            other = was + 7 if isinstance(was, int) else f"{was} "
            if was is None:
                other = 77 if column in ("takes_back", "corrects", "count") else "something"
            connection.execute(f'UPDATE {table} SET "{column}" = ? WHERE id = 2', (other,))
            (sentence,) = wrong_seals(connection)
            assert "(record 2) is not as it was written: it was changed since." in sentence, column
            connection.execute(f'UPDATE {table} SET "{column}" = ? WHERE id = 2', (was,))
        assert list(wrong_seals(connection)) == []


def test_a_record_that_was_sealed_anew_is_whole_and_any_other_change_of_it_is_found(
    shop: Path,
) -> None:
    """As an erasure does: what was rewritten is sealed again in the same transaction, with the reason."""
    (sql,) = asked(shop, "SELECT sql FROM sqlite_master WHERE name = 'ledger_entries_unchanged'")
    with Store.open(shop) as store, store.writing() as work:
        connection = work.session.connection()
        connection.exec_driver_sql("DROP TRIGGER ledger_entries_unchanged")
        connection.exec_driver_sql("UPDATE ledger_entries SET note = 'erased' WHERE id IN (3, 4)")
        connection.exec_driver_sql(str(sql[0]))
        reseal(work.session, LedgerEntryRow, [3, 4], why="A customer was erased.", act=ACT)
    assert found(shop) == ()
    assert asked(shop, 'SELECT "of", "row", why, by FROM reseals') == [
        ("ledger_entries", 3, "A customer was erased.", "Ada"),
        ("ledger_entries", 4, "A customer was erased.", "Ada"),
    ]
    alter(shop, "UPDATE ledger_entries SET note = 'erased ' WHERE id = 4")
    sentence = " | ".join(found(shop))
    assert "ledger (record 3)" not in sentence
    assert "an entry of the ledger (record 4) is not as it was written" in sentence
    alter(
        shop,
        "UPDATE ledger_entries SET note = 'erased' WHERE id = 4",
        "UPDATE reseals SET why = 'no reason' WHERE id = 1",
    )
    sentence = " | ".join(found(shop))
    assert "ledger (record" not in sentence.replace("(record 1) to", "")
    assert "sealed anew (record 1) is not as it was written" in sentence


def test_a_record_is_not_sealed_anew_without_a_reason(shop: Path) -> None:
    with (
        Store.open(shop) as store,
        store.writing() as work,
        pytest.raises(ValueError, match="for a reason"),
    ):
        reseal(work.session, LedgerEntryRow, [3], why=" ", act=ACT)


def test_the_hash_is_that_of_the_values_as_they_are_stored() -> None:
    """By hand: printf 'id:i1:7note:t5:caf\\xc3\\xa9by:n0:' | sha256sum, from coreutils."""
    hand = "57436e51f2b71496"
    assert hash_of(("id", "note", "by"), (7, "café", None)).hex().startswith(hand)
    assert hash_of(("note",), ("é",)) == hash_of(("note",), ("é".encode(),))
    assert hash_of(("a", "b"), ("x", "")) != hash_of(("a", "b"), ("", "x"))
    assert hash_of(("a",), ("1",)) != hash_of(("a",), (1,))


def test_a_column_that_came_later_does_not_break_a_seal(shop: Path) -> None:
    with closing(sqlite3.connect(shop, isolation_level=None)) as connection:
        connection.execute("ALTER TABLE ledger_entries ADD COLUMN later TEXT")
        assert list(wrong_seals(connection)) == []


def test_who_checks_writes_nothing(shop: Path) -> None:
    before = {file.name: file.read_bytes() for file in shop.parent.iterdir()}
    assert found(shop) == ()
    assert {file.name: file.read_bytes() for file in shop.parent.iterdir()} == before


def test_what_is_written_in_bulk_is_sealed_too(shop: Path) -> None:
    from sqlalchemy import insert  # noqa: PLC0415

    with Store.open(shop) as store:
        with store.writing() as work:
            work.session.execute(
                insert(StageChangeRow),
                [
                    {
                        "piece_id": 1,
                        "old": "ordered",
                        "new": "cut",
                        "at": ACT.now,
                        "by": "Ada",
                        "takes_back": False,
                        "note": note,
                        "count": None,
                    }
                    for note in ("one", "two")
                ],
            )
        with closing(sqlite3.connect(shop)) as connection:
            assert list(wrong_seals(connection)) == []


def test_what_is_rolled_back_leaves_no_seal(shop: Path) -> None:
    before = asked(shop, "SELECT count(*) FROM seals")

    def write(store: Store) -> None:
        with store.writing() as work:
            work.session.add(
                LedgerEntryRow(
                    order_id=1,
                    kind="payment",
                    amount_minor=1,
                    currency="EUR",
                    method="",
                    note="",
                    at=ACT.now,
                    by="Ada",
                )
            )
            work.session.flush()
            raise KeyError

    with Store.open(shop) as store, pytest.raises(KeyError):
        write(store)
    assert asked(shop, "SELECT count(*) FROM seals") == before


def test_seals_themselves_refuse_any_change(shop: Path) -> None:
    with closing(sqlite3.connect(shop)) as connection:
        for statement in (f"UPDATE {SealRow.__tablename__} SET width = 1", "DELETE FROM seals"):
            with pytest.raises(sqlite3.IntegrityError, match="append-only"):
                connection.execute(statement)
