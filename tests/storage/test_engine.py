"""Opening, reading and writing the file."""

import sqlite3
import threading
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import OperationalError

from app.orders import Customer
from app.storage import (
    CannotWrite,
    DiskFull,
    NewerDatabase,
    NotOurDatabase,
    Series,
    Store,
    UnitOfWork,
    migrating,
)
from app.storage.migrating import APPLICATION_ID, SCHEMA
from tests.builders.kept import MOULDING, NOW, SHOP

FIRST = Customer(name="Amber Quill")


def _pragma(store: Store, name: str, *, writing: bool = False) -> object:
    with store.writing() if writing else store.reading() as work:
        return work.session.execute(text(f"PRAGMA {name}")).scalar_one()


@pytest.mark.parametrize("writing", [False, True])
def test_every_connection_is_durable_and_holds_foreign_keys(empty: Store, writing: bool) -> None:
    # Source: sqlite.org/pragma.html; synchronous 2 is FULL.
    assert _pragma(empty, "journal_mode", writing=writing) == "wal"
    assert _pragma(empty, "synchronous", writing=writing) == 2
    assert _pragma(empty, "foreign_keys", writing=writing) == 1
    assert _pragma(empty, "busy_timeout", writing=writing) == 5000


def test_the_file_says_that_it_is_ours(empty: Store) -> None:
    assert _pragma(empty, "application_id") == APPLICATION_ID


def test_a_new_file_is_at_the_newest_schema(empty: Store, path: Path) -> None:
    assert migrating.schema_of(path) == SCHEMA


def test_what_is_written_is_there_after_opening_again(path: Path) -> None:
    with Store.open(path) as store, store.writing() as work:
        number = work.customers.add(FIRST, now=NOW)
    with Store.open(path) as store, store.reading() as work:
        assert work.customers.get(number).value == FIRST


def test_an_error_within_a_write_leaves_nothing_behind(empty: Store) -> None:
    def add_and_fail(work: UnitOfWork) -> None:
        work.customers.add(FIRST, now=NOW)
        raise LookupError

    with pytest.raises(LookupError), empty.writing() as work:
        add_and_fail(work)
    with empty.reading() as work:
        assert work.customers.listed().total == 0


def test_a_reader_cannot_write(empty: Store) -> None:
    with pytest.raises(OperationalError, match="readonly"), empty.reading() as work:
        work.numbers.take(Series.QUOTE, 2026)


def test_a_reader_sees_one_moment(empty: Store) -> None:
    with empty.reading() as reader:
        assert reader.customers.listed().total == 0
        with empty.writing() as writer:
            writer.customers.add(FIRST, now=NOW)
        assert reader.customers.listed().total == 0
    with empty.reading() as reader:
        assert reader.customers.listed().total == 1


def test_writers_wait_for_each_other_and_all_succeed(empty: Store) -> None:
    failures: list[BaseException] = []

    def add_ten() -> None:
        try:
            for _ in range(10):
                with empty.writing() as work:
                    before = work.customers.listed().total
                    work.customers.add(Customer(name=f"Customer {before}"), now=NOW)
        except BaseException as error:  # else it is lost with its thread
            failures.append(error)

    threads = [threading.Thread(target=add_ten) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    with empty.reading() as work:
        assert work.customers.listed().total == 40


def test_a_write_within_a_write_is_a_bug_and_not_a_dead_end(empty: Store) -> None:
    with empty.writing(), pytest.raises(RuntimeError, match="inside a write"), empty.writing():
        pass
    with empty.writing() as work:
        assert work.customers.add(FIRST, now=NOW) == 1


def test_a_newer_database_is_refused_and_left_alone(path: Path) -> None:
    Store.open(path).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9001'")
        connection.commit()
    before = path.read_bytes()
    with pytest.raises(NewerDatabase, match=r"newer version .* 9001"):
        Store.open(path)
    assert path.read_bytes() == before


def test_somebody_elses_database_is_refused_and_left_alone(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
        connection.commit()
    before = path.read_bytes()
    with pytest.raises(NotOurDatabase, match="not a database of Bevelbook"):
        Store.open(path)
    assert path.read_bytes() == before


def test_a_file_that_is_no_database_is_refused_and_left_alone(path: Path) -> None:
    path.write_text("Dear diary, today I cut forty mats.\n" * 200)
    before = path.read_bytes()
    with pytest.raises(NotOurDatabase):
        Store.open(path)
    assert path.read_bytes() == before


def test_a_folder_in_the_place_of_the_file_is_refused(path: Path) -> None:
    path.mkdir()
    with pytest.raises(CannotWrite, match="cannot be written"):
        Store.open(path)


def test_a_missing_folder_is_said_plainly(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="cannot be opened"):
        Store.open(tmp_path / "gone" / "shop.sqlite3")


def test_a_full_disk_is_said_plainly_and_nothing_is_lost(empty: Store) -> None:
    with empty.writing() as work:
        work.customers.add(FIRST, now=NOW)
        pages = work.session.execute(text("PRAGMA page_count")).scalar_one()
    with empty.writing() as work:
        work.session.execute(text(f"PRAGMA max_page_count = {pages}"))
    many = [replace(MOULDING, code=f"L-{number}", notes="x" * 1000) for number in range(500)]
    with pytest.raises(DiskFull, match=r"disk that holds .* is full"), empty.writing() as work:
        work.materials.add_all(many, now=NOW)
    with empty.reading() as work:
        assert [row.name for row in work.customers.listed().rows] == [FIRST.name]
        assert work.materials.all() == ()


def test_the_current_shop_is_none_before_the_first_run(empty: Store) -> None:
    assert empty.current_shop() is None


def test_the_current_shop_follows_every_change(store: Store) -> None:
    assert store.current_shop() == SHOP
    with store.reading() as work:
        kept = work.shop.kept()
    renamed = replace(SHOP, name="Lindenhof Frames")
    with store.writing() as work:
        work.shop.save(renamed, kept.version, now=NOW)
    assert store.current_shop() == renamed


def test_what_is_remembered_is_made_anew_after_a_write_and_only_then(store: Store) -> None:
    made: list[int] = []

    def make() -> int:
        made.append(1)
        return len(made)

    assert [store.remembered("key", make) for _ in range(3)] == [1, 1, 1]
    assert store.remembered("other", lambda: "else") == "else"
    with store.writing():
        pass
    assert store.remembered("key", make) == 2
