"""Copying the data, checking them, and putting a copy back."""

import errno
import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from app.__main__ import _only_reading
from app.errors import Conflict, NotFound
from app.orders import Customer
from app.services.orders import QuoteHead, save_quote
from app.storage import (
    DATABASE_NAME,
    CannotWrite,
    Damaged,
    DataInUse,
    DiskFull,
    NotOurDatabase,
    Store,
    back_up,
    check_database,
    claimed,
    problems_of,
    restore,
    schema_of,
)
from app.storage.engine import migrate_new
from tests.builders.kept import ACT, NOW, cheap_piece, later
from tests.builders.values import TODAY
from tests.storage.processes import ROOT, ran, serving
from tests.storage.test_log import write_and_die


@pytest.fixture
def kept(store: Store) -> Store:
    """A store with one customer and two quotes."""
    with store.writing() as work:
        customer = work.customers.add(Customer(name="Amber Quill"), now=NOW)
    for _ in range(2):
        save_quote(store, QuoteHead(customer_id=customer, valid_until=TODAY), [cheap_piece()], ACT)
    return store


def _names(path: Path) -> list[str]:
    with Store.open(path) as store, store.reading() as work:
        return [row.name for row in work.customers.listed().rows]


def _rename(store: Store, name: str) -> None:
    with store.writing() as work:
        work.customers.add(Customer(name=name), now=NOW)


def test_a_backup_is_a_whole_database_with_its_date_in_its_name(
    kept: Store, tmp_path: Path
) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    assert copy == tmp_path / "copies" / "bevelbook-2026-11-25-103000.sqlite3"
    assert [file.name for file in copy.parent.iterdir()] == [copy.name]
    with Store.open(copy) as store:
        assert check_database(store) == ()
        with store.reading() as work:
            assert work.order_lists.listed().total == 2


def test_a_backup_never_replaces_another(kept: Store, tmp_path: Path) -> None:
    back_up(kept, tmp_path, now=NOW)
    with pytest.raises(Conflict, match="there already"):
        back_up(kept, tmp_path, now=NOW)


def test_a_backup_into_a_place_that_cannot_be_written_is_said_plainly(
    kept: Store, tmp_path: Path
) -> None:
    (tmp_path / "a file").write_text("")
    with pytest.raises(CannotWrite):
        back_up(kept, tmp_path / "a file" / "copies", now=NOW)


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT])
def test_a_backup_on_a_full_disk_says_so_and_leaves_nothing_half_written(
    kept: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def refuse(_file: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(DiskFull, match=r"disk that holds .*copies.* is full. Make room"):
        back_up(kept, tmp_path / "copies", now=NOW)
    assert list((tmp_path / "copies").iterdir()) == []


def test_a_disk_that_fails_is_not_called_full(
    kept: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_file: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(CannotWrite, match="Input/output error") as caught:
        back_up(kept, tmp_path / "copies", now=NOW)
    assert not isinstance(caught.value, DiskFull)


def test_a_restore_on_a_full_disk_leaves_the_database_as_it_was(
    kept: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    _rename(kept, "Boris Fennel")
    kept.close()
    before = sorted(path.name for path in kept.path.parent.iterdir())

    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("app.storage.copying.onto_the_disk", refuse)
    with pytest.raises(DiskFull):
        restore(copy, kept.path, now=NOW)
    assert _names(kept.path) == ["Amber Quill", "Boris Fennel"]
    after = {path.name for path in kept.path.parent.iterdir()} - set(before)
    assert after <= {"bevelbook.lock", "bevelbook.sqlite3-wal", "bevelbook.sqlite3-shm"}


def test_a_backup_of_damaged_data_is_refused(kept: Store, tmp_path: Path) -> None:
    with closing(sqlite3.connect(kept.path)) as connection:
        connection.execute("UPDATE orders SET paid_minor = 5 WHERE id = 1")
        connection.commit()
    with pytest.raises(Damaged, match="Q-2026-0001: 5 is noted as paid"):
        back_up(kept, tmp_path / "copies", now=NOW)
    assert list((tmp_path / "copies").iterdir()) == []


def test_restoring_puts_the_copy_back_and_keeps_the_old_file(kept: Store, tmp_path: Path) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    _rename(kept, "Boris Fennel")
    kept.close()
    aside = restore(copy, kept.path, now=later(days=1).now)
    assert _names(kept.path) == ["Amber Quill"]
    assert aside == kept.path.with_name("bevelbook.before-restore-2026-11-26-103000.sqlite3")
    assert aside is not None
    assert _names(aside) == ["Amber Quill", "Boris Fennel"]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("how", "cleanly"),
    [("restore", True), ("restore", False), ("restore_into", False)],
    ids=["closed", "killed", "within the app"],
)
def test_a_restoring_that_is_killed_leaves_the_old_shop_or_the_new_one(
    kept: Store, tmp_path: Path, cleanly: bool, how: str
) -> None:
    """Killed before each of its steps. cleanly: how the old shop was left."""
    made, out = tmp_path / "made", tmp_path / "out"
    made.mkdir()
    back_up(kept, tmp_path, now=NOW).rename(made / "backup.sqlite3")
    kept.close()
    old = ["Amber Quill", "Boris Fennel"]
    if cleanly:
        with Store.open(kept.path) as store:
            _rename(store, "Boris Fennel")
    else:
        write_and_die(kept.path, "Boris Fennel")
    for file in tmp_path.glob(f"{DATABASE_NAME}*"):
        file.rename(made / file.name)
    subprocess.run(
        (sys.executable, "-m", "tests.storage.killing", how, str(made), str(out)),
        cwd=ROOT,
        check=True,
    )
    cases = sorted(out.iterdir(), key=lambda case: int(case.name))
    seen: dict[frozenset[tuple[str, bytes]], list[str]] = {}
    found = []
    for case in cases:
        # The journal of the claim begins with a lot that SQLite draws.
        left = frozenset(
            (name, b"" if name.endswith(".lock-journal") else inside)
            for name, inside in _all_in(case).items()
        )
        if left not in seen:  # many steps only read, so what they leave is looked at once
            seen[left] = _shop_after(case, old)
        found.append(seen[left])
    assert found[0] == old
    assert found[-1] == ["Amber Quill"]
    assert found == sorted(found, reverse=True), "it changes over once"
    assert len(seen) > 10


def _shop_after(case: Path, old: list[str]) -> list[str]:
    """Who is in the shop that starts; what was kept of the old one has all of it."""
    names = _names(case / DATABASE_NAME)
    kept = list(case.glob("*.before-restore-*.sqlite3"))
    assert [_names(each) for each in kept] == [old] * len(kept)
    assert kept or names == old
    restore(case / "backup.sqlite3", case / DATABASE_NAME)
    assert _names(case / DATABASE_NAME) == ["Amber Quill"]
    assert list(case.glob("*.part")) == []
    return names


def test_two_restorings_in_one_second_keep_both_old_files(kept: Store, tmp_path: Path) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    kept.close()
    first, second = (restore(copy, kept.path, now=NOW) for _ in range(2))
    assert first is not None
    assert second is not None
    assert [first.name, second.name] == [
        "bevelbook.before-restore-2026-11-25-103000.sqlite3",
        "bevelbook.before-restore-2026-11-25-103000-2.sqlite3",
    ]


def test_an_old_file_that_cannot_be_read_is_kept_as_it_lay_there(
    kept: Store, tmp_path: Path
) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    kept.close()
    spoiled = b"Dear diary, today I cut forty mats.\n" * 500
    kept.path.write_bytes(spoiled)
    aside = restore(copy, kept.path, now=NOW)
    assert aside is not None
    assert aside.read_bytes() == spoiled
    assert _names(kept.path) == ["Amber Quill"]


def test_a_backup_with_a_log_beside_it_is_restored_with_all_of_it(
    kept: Store, tmp_path: Path
) -> None:
    other = tmp_path / "other" / DATABASE_NAME
    other.parent.mkdir()
    back_up(kept, tmp_path, now=NOW).rename(other)
    kept.close()
    write_and_die(other, "Boris Fennel")
    restore(other, kept.path, now=NOW)
    assert _names(kept.path) == ["Amber Quill", "Boris Fennel"]


def test_what_was_not_yet_written_back_into_the_old_file_is_kept_with_it(
    kept: Store, tmp_path: Path
) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    adding = (
        "import sys, os; from datetime import datetime, UTC; from pathlib import Path\n"
        "from app.storage import Store; from app.orders import Customer\n"
        "with Store.open(Path(sys.argv[1])).writing() as work:\n"
        "    work.customers.add(Customer(name='Boris Fennel'), now=datetime.now(UTC))\n"
        "os._exit(9)\n"  # as if killed: the write stands in the -wal file alone
    )
    kept.close()
    ended = subprocess.run([sys.executable, "-c", adding, str(kept.path)], check=False)
    assert ended.returncode == 9
    aside = restore(copy, kept.path, now=NOW)
    assert aside is not None
    assert _names(aside) == ["Amber Quill", "Boris Fennel"]
    assert _names(kept.path) == ["Amber Quill"]


def test_restoring_where_there_was_nothing_keeps_nothing(kept: Store, tmp_path: Path) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    new = tmp_path / "elsewhere.sqlite3"
    assert restore(copy, new, now=NOW) is None
    assert _names(new) == ["Amber Quill"]


def test_a_damaged_backup_is_refused_and_the_data_stay(kept: Store, tmp_path: Path) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    kept.close()
    whole = bytearray(copy.read_bytes())
    whole[4096 * 3 : 4096 * 6] = b"\xff" * (4096 * 3)
    copy.write_bytes(whole)
    with pytest.raises(Damaged, match="did not pass its check"):
        restore(copy, kept.path, now=NOW)
    assert _names(kept.path) == ["Amber Quill"]


def _with_a_trigger(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute(
            "CREATE TRIGGER gift AFTER INSERT ON ledger_entries BEGIN "
            "UPDATE orders SET owed_minor = 0; END"
        )
        connection.commit()


def _cut_short(copy: Path) -> None:
    copy.write_bytes(copy.read_bytes()[:-5000])


def _cut_to_a_page(copy: Path) -> None:
    copy.write_bytes(copy.read_bytes()[:4096])


def _cut_to_its_head(copy: Path) -> None:
    copy.write_bytes(copy.read_bytes()[:100])


def _somebody_elses(copy: Path) -> None:
    copy.unlink()
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")


def _as_a_text(copy: Path) -> None:
    copy.write_text("not a database\n" * 500)


def _emptied(copy: Path) -> None:
    copy.write_bytes(b"")


@pytest.mark.parametrize(
    ("spoil", "error"),
    [
        (_with_a_trigger, Damaged),
        (_as_a_text, NotOurDatabase),
        (_emptied, NotOurDatabase),
        (_somebody_elses, NotOurDatabase),
        (_cut_short, Damaged),
        (_cut_to_a_page, Damaged),
        (_cut_to_its_head, Damaged),
    ],
)
def test_what_is_no_backup_of_ours_is_refused(
    kept: Store, tmp_path: Path, spoil: Callable[[Path], None], error: type[Exception]
) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    kept.close()
    spoil(copy)
    before = {file: file.read_bytes() for file in (kept.path, copy)}
    with pytest.raises(error, match=copy.name):
        restore(copy, kept.path, now=NOW)
    assert {file: file.read_bytes() for file in before} == before
    left = {file.name for file in tmp_path.iterdir() if file.is_file()}
    assert left - {"bevelbook.lock"} == {DATABASE_NAME}
    if error is NotOurDatabase:
        assert left == {DATABASE_NAME}, "nothing is claimed for what is no copy at all"


def test_a_backup_that_is_not_there_is_said_so(path: Path, tmp_path: Path) -> None:
    with pytest.raises(NotFound):
        restore(tmp_path / "gone.sqlite3", path, now=NOW)


def test_restoring_under_a_running_program_is_refused(kept: Store, tmp_path: Path) -> None:
    copy = back_up(kept, tmp_path / "copies", now=NOW)
    with claimed(kept.path), pytest.raises(DataInUse, match="Another Bevelbook is running"):
        restore(copy, kept.path, now=NOW)


def test_a_claim_ends_with_its_program(path: Path) -> None:
    claiming = (
        "import sys, os; from pathlib import Path; from app.storage import claimed\n"
        "with claimed(Path(sys.argv[1])):\n"
        "    print('claimed', flush=True)\n"
        "    sys.stdin.read()\n"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", claiming, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    with other:
        assert other.stdout is not None
        assert other.stdout.readline() == "claimed\n"
        with pytest.raises(DataInUse), claimed(path):
            pass
        other.kill()
    with claimed(path):
        assert path.with_suffix(".lock").exists()


def test_whole_data_have_no_problems(kept: Store) -> None:
    assert check_database(kept) == ()


@pytest.mark.parametrize(
    ("spoiling", "problem"),
    [
        ("UPDATE orders SET paid_minor = 700 WHERE id = 1", "Q-2026-0001: 700 is noted as paid"),
        ("UPDATE counters SET last = 5", "The number Q-2026-0003 was given, but no quote has it."),
        ("UPDATE counters SET last = 1", "A quote has the number Q-2026-0002, which was never"),
        ("UPDATE stage_counts SET orders = 9 WHERE stage = 'cut'", "9 orders are counted at “cut”"),
        ("UPDATE pieces SET stage = 'cut' WHERE id = 1", "but its pieces at “cut”"),
        ("UPDATE orders SET customer_id = 77 WHERE id = 1", "refers to a row of customers"),
        (
            "INSERT INTO pieces (id, order_id, number, title, kind, condition, place, stage) "
            "SELECT 99, order_id, 7, '', kind, '', '', stage FROM pieces WHERE id = 1",
            "Q-2026-0001: nothing was ever agreed for piece 7.",
        ),
    ],
)
def test_the_check_finds_what_does_not_add_up(kept: Store, spoiling: str, problem: str) -> None:
    with closing(sqlite3.connect(kept.path)) as connection:
        connection.execute(spoiling)
        connection.commit()
    assert any(problem in found for found in check_database(kept))


def _left_by_an_older_version(folder: Path) -> Path:
    path = folder / DATABASE_NAME
    migrate_new(path, "0009")
    return path


def _all_in(folder: Path) -> dict[str, bytes]:
    """Every file but the claim's own."""
    files = (file for file in folder.iterdir() if file.is_file() and file.suffix != ".lock")
    return {file.name: file.read_bytes() for file in files}


def test_to_check_or_to_copy_older_data_changes_nothing_and_says_so(tmp_path: Path) -> None:
    _left_by_an_older_version(tmp_path)
    before = _all_in(tmp_path)
    for command in ("check", "backup"):
        done = ran("--data", str(tmp_path), command)
        assert done.returncode == 0, done.stderr
        assert "are of an older version of Bevelbook: their form is 0009" in done.stdout
        assert _all_in(tmp_path) == before
    (copy,) = (tmp_path / "backups").iterdir()
    assert schema_of(copy) == "0009"


def test_to_check_or_to_copy_what_a_crash_left_changes_nothing_and_sees_all(
    kept: Store, tmp_path: Path
) -> None:
    kept.close()
    write_and_die(kept.path, "Boris Fennel")
    kept.path.with_name(f"{DATABASE_NAME}-shm").unlink()
    before = _all_in(tmp_path)
    for command in ("check", "backup"):
        done = ran("--data", str(tmp_path), command)
        assert done.returncode == 0, done.stdout
        after = _all_in(tmp_path)
        after.pop(f"{DATABASE_NAME}-shm", None)  # an index that SQLite makes anew
        assert after == before
    (copy,) = (tmp_path / "backups").iterdir()
    assert _names(copy) == ["Amber Quill", "Boris Fennel"]


def test_a_shop_that_is_open_is_copied_and_checked_beside_it(tmp_path: Path) -> None:
    with serving("--data", str(tmp_path)) as program:
        program.set_up("Amber Quill")
        assert ran("--data", str(tmp_path), "check").stdout == "The database is whole.\n"
        assert ran("--data", str(tmp_path), "backup").returncode == 0
        program.add("Boris Fennel")
        (copy,) = (copy for copy in (tmp_path / "backups").iterdir() if "start" not in copy.name)
        assert _names(copy) == ["Amber Quill"]
    assert _names(tmp_path / DATABASE_NAME) == ["Amber Quill", "Boris Fennel"]


def test_no_shop_is_opened_while_one_is_checked(kept: Store) -> None:
    with _only_reading(kept.path), pytest.raises(DataInUse), claimed(kept.path):
        pass
    with claimed(kept.path), _only_reading(kept.path):
        assert problems_of(kept.path) == ()


@pytest.mark.parametrize("command", ["check", "backup"])
def test_what_is_no_shop_is_told_in_a_sentence(tmp_path: Path, command: str) -> None:
    (tmp_path / DATABASE_NAME).write_text("Dear diary\n" * 400)
    done = ran("--data", str(tmp_path), command)
    assert done.returncode == 2
    assert "is not a database of Bevelbook" in done.stderr
    assert "Traceback" not in done.stderr
