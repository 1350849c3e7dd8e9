"""The shop's files are for their owner alone: new ones, and those that were there before."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.__main__ import main
from app.orders import Customer
from app.storage import DATABASE_NAME, Store, back_up, claimed, migrating, restore
from app.storage.engine import migrate_new
from tests.builders.kept import NOW


@pytest.fixture(autouse=True)
def open_handed() -> Iterator[None]:
    """New files are for all to read and write, unless the program says otherwise."""
    before = os.umask(0)
    yield
    os.umask(before)


@pytest.fixture
def database(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    folder.mkdir(0o755)
    return folder / DATABASE_NAME


def modes(folder: Path) -> dict[str, str]:
    """Folder and everything in it, by name."""
    found = {".": folder, **{str(path.relative_to(folder)): path for path in folder.rglob("*")}}
    return {name: f"{path.stat().st_mode & 0o7777:03o}" for name, path in found.items()}


def write(store: Store) -> None:
    with store.writing() as work:
        work.customers.add(Customer(name="Amber Quill"), now=NOW)


def test_a_new_shop_is_its_owners_alone_with_all_that_is_kept_beside_it(database: Path) -> None:
    with claimed(database), Store.open(database) as store:
        write(store)
        back_up(store, database.parent / "backups", now=NOW)
        assert modes(database.parent) == {
            ".": "700",
            "bevelbook.sqlite3": "600",
            "bevelbook.sqlite3-wal": "600",
            "bevelbook.sqlite3-shm": "600",
            "bevelbook.lock": "600",
            "bevelbook.lock-journal": "600",
            "backups": "700",
            "backups/bevelbook-2026-11-25-103000.sqlite3": "600",
        }


def test_what_all_could_read_before_is_closed_at_the_start(database: Path) -> None:
    folder = database.parent
    with Store.open(database) as store:
        write(store)
        back_up(store, folder / "backups", now=NOW)
        for name in ("bevelbook.schema-0004.sqlite3", "bevelbook.before-restore-1.sqlite3"):
            (folder / name).touch(0o644)
        for path in (*folder.rglob("*"), folder):
            path.chmod(0o755 if path.is_dir() else 0o644)
        assert "600" not in modes(folder).values()
        with Store.open(database):
            assert {mode for name, mode in modes(folder).items() if "." in name[1:]} == {"600"}
            assert modes(folder)["."] == modes(folder)["backups"] == "700"


def test_a_command_that_opens_the_shop_closes_what_was_open(
    database: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Store.open(database) as store:
        write(store)
    database.chmod(0o666)
    database.parent.chmod(0o777)
    assert main(["migrate", "--data", str(database.parent)]) == 0
    assert modes(database.parent)["."] == "700"
    assert modes(database.parent)[DATABASE_NAME] == "600"
    assert capsys.readouterr().err == ""


def test_the_copy_of_an_older_file_is_its_owners_alone(database: Path) -> None:
    migrate_new(database, "0009")
    with Store.open(database):
        assert modes(database.parent)["bevelbook.schema-0009.sqlite3"] == "600"
    assert migrating.SCHEMA > "0009"


def test_what_is_restored_and_what_it_replaces_are_their_owners_alone(
    database: Path, tmp_path: Path
) -> None:
    with Store.open(database) as store:
        copy = back_up(store, tmp_path / "copies", now=NOW)
    copy.chmod(0o644)
    database.chmod(0o644)
    kept = restore(copy, database, now=NOW)
    assert kept is not None
    assert modes(database.parent)[kept.name] == "600"
    assert modes(database.parent)[DATABASE_NAME] == "600"


def test_a_folder_for_copies_that_the_shop_did_not_make_keeps_its_mode(
    database: Path, tmp_path: Path
) -> None:
    (tmp_path / "stick").mkdir(0o755)
    with Store.open(database) as store:
        copy = back_up(store, tmp_path / "stick", now=NOW)
    assert modes(tmp_path / "stick") == {".": "755", copy.name: "600"}


def test_what_is_not_ours_in_the_folder_keeps_its_mode(database: Path) -> None:
    folder = database.parent
    (folder / "readme.txt").touch(0o644)
    (folder / "bevelbook-photos").mkdir(0o755)
    outside = folder.parent / "outside.txt"
    outside.touch(0o644)
    (folder / "bevelbook.link").symlink_to(outside)
    with Store.open(database):
        found = modes(folder)
    assert (found["readme.txt"], found["bevelbook-photos"]) == ("644", "755")
    assert outside.stat().st_mode & 0o777 == 0o644


def test_a_folder_that_many_share_by_design_is_left_to_them(database: Path) -> None:
    database.parent.chmod(0o1777)
    with Store.open(database):
        assert modes(database.parent)["."] == "1777"
        assert modes(database.parent)[DATABASE_NAME] == "600"


def test_a_file_that_its_owner_may_only_read_stays_so(database: Path) -> None:
    with Store.open(database) as store:
        copy = back_up(store, database.parent / "backups", now=NOW)
    copy.chmod(0o444)
    with Store.open(database):
        assert copy.stat().st_mode & 0o777 == 0o400


def test_where_modes_cannot_be_set_nothing_is_said(
    database: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(*_args: object, **_more: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "chmod", refuse)
    with Store.open(database) as store:
        write(store)
    told = capsys.readouterr()
    assert (told.out, told.err) == ("", "")


def test_what_claims_a_database_is_its_owners_alone_wherever_it_is_made(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    with claimed(tmp_path / "shop.sqlite3"):
        assert (tmp_path / "shop.lock").stat().st_mode & 0o777 == 0o600
    with claimed(tmp_path / "shop.sqlite3"):
        assert (tmp_path / "shop.lock").stat().st_mode & 0o777 == 0o600
