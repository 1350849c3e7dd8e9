"""A store that was emptied is as a new one."""

import sqlite3
from contextlib import closing
from pathlib import Path

from app.orders import Customer
from app.storage import DATABASE_NAME, Store, check_database
from app.storage.reset import empty as take_everything_out
from tests.builders.kept import NOW, SHOP


def schema_of(path: Path) -> list[tuple[str, str]]:
    with closing(sqlite3.connect(path)) as connection:
        return connection.execute(
            "SELECT name, sql FROM sqlite_schema ORDER BY type, name"
        ).fetchall()


def test_what_was_kept_is_gone_and_the_file_is_sound(store: Store) -> None:
    with store.writing() as work:
        work.customers.add(Customer(name="Amber Quill", phone="555 0134"), now=NOW)
    take_everything_out(store)
    assert store.current_shop() is None
    with store.reading() as work:
        assert work.materials.all(inactive=True) == ()
        assert work.customers.find("amber") == ()
    assert check_database(store) == ()


def test_its_tables_are_those_of_a_new_file(store: Store, tmp_path: Path) -> None:
    take_everything_out(store)
    fresh = tmp_path / "fresh" / DATABASE_NAME
    fresh.parent.mkdir()
    with Store.open(fresh):
        assert schema_of(store.path) == schema_of(fresh)


def test_a_new_shop_moves_in_afterwards(store: Store) -> None:
    assert store.current_shop() == SHOP
    take_everything_out(store)
    with store.writing() as work:
        work.shop.add(SHOP, now=NOW)
        assert work.customers.add(Customer(name="Linden Fox"), now=NOW) == 1
    assert store.current_shop() == SHOP
