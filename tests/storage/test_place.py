"""A file that is taken away or replaced under the open program: noticed before anything is acknowledged."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from shutil import copyfile

import pytest

from app.orders import Customer
from app.storage import NotInPlace, Store, back_up, check_database, log
from app.web.kit.errors import status_of
from tests.builders.kept import NOW
from tests.storage.processes import serving
from tests.storage.test_log import add, names

AMBER, BORIS = Customer(name="Amber Quill"), Customer(name="Boris Fennel")


def _deleted(path: Path) -> None:
    path.unlink()


def _moved(path: Path) -> None:
    path.rename(path.with_name("elsewhere"))


def _replaced(path: Path) -> None:
    copyfile(path, path.with_name("other"))
    path.with_name("other").replace(path)


def _written_over(path: Path) -> None:
    copyfile(path, path.with_name("other"))
    copyfile(path.with_name("other"), path)


def _without_its_log(path: Path) -> None:
    log.beside(path, log.LOG).unlink()


TAKEN = [_deleted, _moved, _replaced, _written_over, _without_its_log]


@pytest.mark.parametrize("take", TAKEN)
def test_nothing_is_acknowledged_into_a_file_that_is_not_there(
    empty: Store, path: Path, take: Callable[[Path], None]
) -> None:
    add(empty, AMBER)
    take(path)
    refused = 0
    for _ in range(20):
        with pytest.raises(NotInPlace, match=r"Nothing was saved: .* was deleted, moved or repl"):
            add(empty, BORIS)
        refused += 1
    assert refused == 20


@pytest.mark.parametrize("take", TAKEN)
def test_it_is_noticed_though_it_happens_during_a_write(
    empty: Store, path: Path, take: Callable[[Path], None]
) -> None:
    def add_while_it_is_taken() -> None:
        with empty.writing() as work:
            work.customers.add(BORIS, now=NOW)
            take(path)

    add(empty, AMBER)
    with pytest.raises(NotInPlace):
        add_while_it_is_taken()


def test_a_file_that_is_put_back_goes_on(empty: Store, path: Path) -> None:
    add(empty, AMBER)
    aside = path.with_name("aside")
    path.rename(aside)
    with pytest.raises(NotInPlace):
        add(empty, BORIS)
    aside.rename(path)
    add(empty, BORIS)
    empty.close()
    assert names(path) == ["Amber Quill", "Boris Fennel"]


def test_what_was_saved_before_can_still_be_copied(
    empty: Store, path: Path, tmp_path: Path
) -> None:
    add(empty, AMBER)
    path.unlink()
    copy = back_up(empty, tmp_path / "copies", now=NOW)
    assert names(copy) == ["Amber Quill"]
    assert not path.exists()


def test_a_reader_makes_no_empty_file_in_its_place(store: Store, path: Path) -> None:
    with store.writing() as work:
        work.customers.add(AMBER, now=NOW)
    path.unlink()
    store.close()
    assert not path.exists()


def test_it_is_told_with_a_status_of_its_own(tmp_path: Path) -> None:
    assert status_of(NotInPlace(tmp_path)) == 410  # Source: RFC 9110, 15.5.11, Gone
    with serving("--data", str(tmp_path)) as program:
        program.set_up("Amber Quill")
        (tmp_path / "bevelbook.sqlite3").unlink()
        answers = [program.post("/customers", name="Boris Fennel") for _ in range(20)]
    assert {answer.status for answer in answers} == {410}
    assert "was deleted, moved or replaced" in answers[0].text
    assert "410" in answers[0].text
    assert 'value="Boris Fennel"' in answers[0].text, "what was typed is kept, to be sent again"


_READ = "import sqlite3, sys; print(sqlite3.connect(sys.argv[1]).execute('SELECT count(*) FROM customers').fetchone()[0])"


def test_another_program_that_only_reads_takes_nothing_away(empty: Store, path: Path) -> None:
    """It would fold the log in and delete it, were no lock of ours to be seen: after a folding, at rest, with a log."""
    for number in range(1, 4):
        with empty.writing() as work:
            work.customers.add(Customer(name=f"Somebody {number}"), now=NOW)
        if number == 2:
            assert empty.fold()
        assert empty.state is not None or number != 2
        read = subprocess.run(
            (sys.executable, "-c", _READ, str(path)), capture_output=True, text=True, check=True
        )
        assert int(read.stdout) == number
    with empty.reading() as work:
        assert work.customers.listed().total == 3
    assert check_database(empty) == ()


def test_a_file_that_vanished_is_told_to_who_reads(store: Store, path: Path) -> None:
    path.rename(path.with_name("elsewhere"))
    store._readers.dispose()  # as right after a start, before anybody read
    with pytest.raises(NotInPlace), store.reading() as work:
        work.customers.listed()
