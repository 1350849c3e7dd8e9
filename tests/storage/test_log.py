"""The write-ahead log: folded into the one file, and never taken from another one."""

import asyncio
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from shutil import copyfile

import pytest

from app.orders import Customer
from app.storage import Store, back_up, check_database, log, problems_of
from app.web.rest import fold_at_rest
from tests.apart import run_apart
from tests.builders.kept import NOW

AMBER, BORIS = Customer(name="Amber Quill"), Customer(name="Boris Fennel")


def add(store: Store, *customers: Customer) -> None:
    for customer in customers:
        with store.writing() as work:
            work.customers.add(customer, now=NOW)


def names(path: Path) -> list[str]:
    with Store.open(path) as store, store.reading() as work:
        assert check_database(store) == ()
        return [row.name for row in work.customers.listed().rows]


def names_in_a_copy(path: Path) -> list[str]:
    """What a copy of the one file alone holds, read without our own code."""
    copy = path.with_name("copy of one file")
    copyfile(path, copy)
    with closing(sqlite3.connect(copy)) as connection:
        return [name for (name,) in connection.execute("SELECT name FROM customers ORDER BY id")]


def write_and_die(path: Path, *customers: str, with_marks: bool = True) -> None:
    """In a process of its own that is killed after its last commit: the log stays as it is.

    with_marks: False for what a version wrote that knew of no marks.
    """
    program = (
        "import os, sys; from datetime import datetime, UTC; from pathlib import Path\n"
        "from app.orders import Customer; from app.storage import Store, log\n"
        "if sys.argv[2] == 'False':\n"
        "    log.keep_mark = log.mark_anew = lambda connection: None\n"
        "store = Store.open(Path(sys.argv[1]))\n"
        "for name in sys.argv[3:]:\n"
        "    with store.writing() as work:\n"
        "        work.customers.add(Customer(name=name), now=datetime.now(UTC))\n"
        "os._exit(9)\n"
    )
    arguments = (sys.executable, "-c", program, str(path), str(with_marks), *customers)
    assert subprocess.run(arguments, check=False).returncode == 9
    assert log.size_of(log.beside(path, log.LOG)) > 0


def test_a_store_that_is_closed_leaves_one_whole_file(empty: Store, path: Path) -> None:
    add(empty, AMBER)
    empty.close()
    assert names_in_a_copy(path) == ["Amber Quill"]
    assert not log.beside(path, log.LOG).exists()


def test_a_store_that_is_closed_while_somebody_reads_leaves_a_whole_file_too(
    empty: Store, path: Path
) -> None:
    add(empty, AMBER)
    with closing(sqlite3.connect(path, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        assert reader.execute("SELECT count(*) FROM customers").fetchone() == (1,)
        empty.close()
        assert names_in_a_copy(path) == ["Amber Quill"]


def test_a_reader_of_an_older_moment_costs_nothing(empty: Store, path: Path) -> None:
    with empty.reading() as reader:
        assert reader.customers.listed().total == 0
        add(empty, AMBER)
        assert not empty.fold()
        assert empty.resting is not None
    assert empty.fold()
    assert empty.resting is None
    assert names_in_a_copy(path) == ["Amber Quill"]


def test_at_rest_the_log_is_folded_in(empty: Store, path: Path) -> None:
    async def rest() -> None:
        resting = asyncio.create_task(fold_at_rest(empty, rest=0, look=0.01))
        async with asyncio.timeout(60):
            while log.size_of(log.beside(path, log.LOG)):
                await asyncio.sleep(0.01)
        resting.cancel()

    add(empty, AMBER)
    assert log.size_of(log.beside(path, log.LOG)) > 0
    run_apart(rest())
    assert names_in_a_copy(path) == ["Amber Quill"]
    add(empty, BORIS)
    assert names(path) == ["Amber Quill", "Boris Fennel"]


def test_it_is_not_folded_in_while_the_shop_is_at_work(empty: Store, path: Path) -> None:
    async def look() -> None:
        looking = asyncio.create_task(fold_at_rest(empty, rest=3600, look=0.001))
        await asyncio.sleep(0.05)
        looking.cancel()

    add(empty, AMBER)
    before = log.size_of(log.beside(path, log.LOG))
    run_apart(look())
    assert log.size_of(log.beside(path, log.LOG)) == before > 0


def test_a_long_log_is_folded_in_at_once(empty: Store, path: Path) -> None:
    sizes = []
    for number in range(250):
        add(empty, Customer(name=f"Customer {number}", notes=f"{number} " * 400))
        sizes.append(log.size_of(log.beside(path, log.LOG)))
    assert max(sizes) < 5_000_000
    assert 0 in sizes
    add(empty, AMBER)
    with empty.reading() as work:
        assert work.customers.listed().total == 251


def test_after_a_crash_the_log_is_read_and_folded_in(empty: Store, path: Path) -> None:
    empty.close()
    write_and_die(path, "Amber Quill", "Boris Fennel")
    with Store.open(path):
        assert names_in_a_copy(path) == ["Amber Quill", "Boris Fennel"]


def _ours(backup: Path, path: Path) -> None:
    copyfile(backup, path)


def _moved_there(backup: Path, path: Path) -> None:
    copyfile(backup, path.with_suffix(".new"))
    path.with_suffix(".new").replace(path)


@pytest.mark.parametrize("put", [_ours, _moved_there])
@pytest.mark.parametrize("cleanly", [True, False])
def test_a_backup_that_is_put_back_by_hand_starts(
    empty: Store, path: Path, tmp_path: Path, put: Callable[[Path, Path], None], cleanly: bool
) -> None:
    """Uncleanly: over a file whose log is still there, which SQLite would replay upon the backup."""
    add(empty, AMBER)
    backup = back_up(empty, tmp_path / "copies", now=NOW)
    many = [f"Customer {number}" for number in range(60)]
    add(empty, *(Customer(name=name, notes=name * 80) for name in many))
    empty.close()
    if not cleanly:
        write_and_die(path, *(f"Late {number}" for number in range(40)))
    put(backup, path)
    assert problems_of(path) == ()
    assert names(path) == ["Amber Quill"]
    kept = list(tmp_path.glob("*-wal.of-another-file-*"))
    assert len(kept) == (0 if cleanly else 1)


def test_a_copy_of_the_one_file_that_is_put_back_by_hand_starts(empty: Store, path: Path) -> None:
    """The file as it lay there at rest, before more was written and folded in."""
    add(empty, AMBER)
    assert empty.fold()
    copy = path.with_name("copied")
    copyfile(path, copy)
    add(empty, BORIS)
    empty.close()
    write_and_die(path, "Late")
    copyfile(copy, path)
    assert names(path) == ["Amber Quill"]


def test_of_a_version_without_marks_a_log_goes_with_its_file(empty: Store, path: Path) -> None:
    empty.close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 0")
    write_and_die(path, "Amber Quill", with_marks=False)
    assert names(path) == ["Amber Quill"]


def test_of_a_version_without_marks_a_log_that_would_spoil_a_file_is_put_aside(
    empty: Store, path: Path, tmp_path: Path
) -> None:
    add(empty, AMBER)
    backup = back_up(empty, tmp_path / "copies", now=NOW)
    add(empty, *(Customer(name=f"Customer {n}", notes=f"{n} " * 600) for n in range(60)))
    empty.close()
    for file in (path, backup):
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("PRAGMA user_version = 0")
    write_and_die(path, *(f"Late {number}" for number in range(40)), with_marks=False)
    copyfile(backup, path)
    assert names(path) == ["Amber Quill"]


def test_a_log_without_its_file_is_kept_and_not_taken_for_a_new_shop(
    empty: Store, path: Path, tmp_path: Path
) -> None:
    empty.close()
    write_and_die(path, "Amber Quill")
    path.unlink()
    assert names(path) == []
    assert len(list(tmp_path.glob("*-wal.of-another-file-*"))) == 1


def test_who_only_reads_leaves_nothing_behind(empty: Store, path: Path) -> None:
    add(empty, AMBER)
    empty.close()
    before = {file.name: file.read_bytes() for file in path.parent.iterdir()}
    assert problems_of(path) == ()
    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == before
