"""Copies that are made by themselves, kept in two places, and put back while the shop is open."""

import errno
import json
import shutil
import sqlite3
import stat
import threading
from contextlib import closing
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app.errors import Invalid, NotFound
from app.orders import Customer
from app.services import backups, erasing, sample
from app.services import shop as shops
from app.services.orders import QuoteHead, save_quote
from app.storage import (
    FIRST_LIFE,
    Copies,
    Damaged,
    Machine,
    OnlyLookedAt,
    Place,
    Stamp,
    StillRead,
    Store,
    Why,
    back_up,
    check_database,
    engine,
    restore,
    restore_into,
)
from app.storage.erased_copies import copies_of
from tests.builders.kept import ACT, NOW, SHOP, asked_to_go, cheap_piece
from tests.builders.values import TODAY
from tests.storage.processes import ran


def at(**after: float) -> datetime:
    return NOW + timedelta(**after)


def add(store: Store, name: str) -> int:
    with store.writing() as work:
        return work.customers.add(Customer(name=name), now=NOW)


def quote(store: Store, customer: int) -> None:
    save_quote(store, QuoteHead(customer_id=customer, valid_until=TODAY), [cheap_piece()], ACT)


def names_in(path: Path) -> list[str]:
    with closing(sqlite3.connect(f"{path.as_uri()}?immutable=1", uri=True)) as connection:
        return [name for (name,) in connection.execute("SELECT name FROM customers ORDER BY id")]


def names(store: Store) -> list[str]:
    with store.reading() as work:
        return [row.name for row in work.customers.listed().rows]


def here(store: Store) -> list[str]:
    return sorted(path.name for path in Copies(store.path).folder.glob("*"))


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    folder = tmp_path / "stick"
    folder.mkdir()
    return folder


@pytest.fixture
def path(tmp_path: Path) -> Path:
    folder = tmp_path / "data"
    folder.mkdir()
    return folder / "bevelbook.sqlite3"


def test_a_shop_is_copied_at_start_and_once_a_day_where_anything_changed(store: Store) -> None:
    keeper = backups.Keeper(store)
    keeper.look(at())
    assert here(store) == ["bevelbook-2026-11-25-103000-start.sqlite3"]
    add(store, "Amber Quill")
    keeper.look(at(hours=3))
    assert len(here(store)) == 1, "once a day"
    keeper.look(at(days=1))
    assert here(store)[1:] == ["bevelbook-2026-11-26-103000-daily.sqlite3"]
    assert names_in(Copies(store.path).folder / here(store)[1]) == ["Amber Quill"]


def test_where_nothing_changed_the_newest_copy_is_checked_again(store: Store) -> None:
    keeper = backups.Keeper(store)
    keeper.look(at())
    state = keeper.look(at(days=1))
    assert len(here(store)) == 1
    assert state.checked_at == at(days=1)
    again = backups.Keeper(store)
    assert again.look(at(days=1, hours=2)).checked_at == at(days=1, hours=2)
    assert len(here(store)) == 1, "at the next start as well"
    add(store, "Amber Quill")
    backups.Keeper(store).look(at(days=1, hours=3))
    assert len(here(store)) == 2


def test_a_copy_that_was_spoiled_does_not_count(store: Store) -> None:
    keeper = backups.Keeper(store)
    keeper.look(at())
    (only,) = backups.listed(store)
    spoiled = bytearray(only.best.path.read_bytes())
    spoiled[4096 * 2 : 4096 * 9] = b"\xff" * 4096 * 7
    only.best.path.write_bytes(spoiled)
    state = keeper.look(at(hours=1))
    assert [kept.best.whole for kept in backups.listed(store)] == [True, False]
    assert state.checked_at == at(hours=1), "another one was made at once"


def test_the_end_waits_for_the_copy_being_made_and_no_other_is_begun(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder of a sample shop is removed after it: nothing may be written there any more."""
    keeper, begun, go_on, order = backups.Keeper(store), threading.Event(), threading.Event(), []

    def slow(*arguments: Any, **further: Any) -> Path:
        begun.set()
        assert go_on.wait(20)
        copy = back_up(*arguments, **further)
        order.append("copied")
        return copy

    def look() -> None:
        with pytest.raises(backups.Ended):
            keeper.look(at())

    def end() -> None:
        keeper.end()
        order.append("ended")

    monkeypatch.setattr(backups, "back_up", slow)
    looking, ending = threading.Thread(target=look), threading.Thread(target=end)
    looking.start()
    assert begun.wait(20)
    ending.start()
    ending.join(0.1)
    assert order == []
    go_on.set()
    ending.join(20)
    looking.join(20)
    assert order == ["copied", "ended"]
    add(store, "Amber Quill")
    with pytest.raises(backups.Ended):
        keeper.look(at(days=1))
    assert here(store) == ["bevelbook-2026-11-25-103000-start.sqlite3"]


def test_before_a_shop_there_is_nothing_to_copy(empty: Store) -> None:
    keeper = backups.Keeper(empty)
    assert keeper.look(at()).checked_at is None
    assert backups.to_say(keeper.state, at()) == ""
    assert not Copies(empty.path).folder.exists()


def test_what_a_killed_program_left_half_written_is_taken_away(store: Store, stick: Path) -> None:
    Copies(store.path).use_second(str(stick))
    folder = Copies(store.path).folder
    folder.mkdir()
    for part in (
        folder / "bevelbook-2026-11-24-103000-daily.part",
        folder / "bevelbook-2026-11-24-103000-daily.part-journal",
        stick / "bevelbook-2026-11-24-103000-daily.sqlite3.part",
    ):
        part.write_text("half")
    backups.Keeper(store).look(at())
    assert here(store) == [path.name for path in stick.iterdir()]
    assert here(store) == ["bevelbook-2026-11-25-103000-start.sqlite3"]


def test_what_has_had_its_time_is_deleted(store: Store) -> None:
    for hour in range(5):
        backups.make(store, Stamp(who="", now=at(hours=hour)), why=Why.DAILY)
    backups.Keeper(store).look(at(hours=5))
    assert here(store) == [
        "bevelbook-2026-11-25-103000-daily.sqlite3",
        "bevelbook-2026-11-25-123000-daily.sqlite3",
        "bevelbook-2026-11-25-133000-daily.sqlite3",
        "bevelbook-2026-11-25-143000-daily.sqlite3",
    ]


def test_before_a_removal_a_copy_is_made(store: Store) -> None:
    customer = add(store, "Amber Quill")
    erasing.erase(store, customer, asked_to_go(store, customer), ACT)
    (copy,) = backups.listed(store)
    assert copy.name == "bevelbook-2026-11-25-103000-before-removal.sqlite3"
    assert copy.best.why is Why.REMOVAL
    assert names_in(copy.best.path) == ["Amber Quill"]


def test_the_sample_is_copied_before_it_is_removed(store: Store) -> None:
    kept = shops.get(store)
    shops.save(store, replace(kept.value, sample=True), kept.version, ACT)
    copy = sample.remove(store, ACT)
    assert copy.name == "bevelbook-2026-11-25-103000-before-removal.sqlite3"


def test_a_copy_of_an_older_form_is_found_and_checked(store: Store) -> None:
    older = store.path.with_name("bevelbook.schema-0009.sqlite3")
    engine.migrate_new(older, "0009")
    aside = store.path.with_name("bevelbook.before-restore-2026-11-20-103000.sqlite3")
    store.copy_into(aside)
    store.path.with_name("bevelbook-2026-13-40-103000.sqlite3").write_text("no date")
    store.path.with_name("recipes.sqlite3").write_text("not ours")
    backups.Keeper(store).look(at())
    found = {kept.name: kept.best for kept in backups.listed(store)}
    assert set(found) == {older.name, aside.name, "bevelbook-2026-11-25-103000-start.sqlite3"}
    assert found[older.name].why is Why.UPDATE
    assert found[aside.name].why is Why.RESTORE
    assert found[aside.name].made_at == datetime.fromisoformat("2026-11-20T10:30")
    assert all(copy.whole for copy in found.values())


def test_copies_are_for_their_owner_alone(store: Store, stick: Path) -> None:
    Copies(store.path).use_second(str(stick))
    backups.Keeper(store).look(at())
    folder = store.path.parent
    files = [path for path in (*folder.rglob("*"), *stick.iterdir()) if path.is_file()]
    assert len(files) > 5
    for path in files:
        if path.suffix != ".lock":
            assert stat.S_IMODE(path.stat().st_mode) == 0o600, path
    assert stat.S_IMODE((folder / "backups").stat().st_mode) == 0o700


def test_notes_that_are_lost_are_made_anew(store: Store) -> None:
    keeper = backups.Keeper(store)
    keeper.look(at())
    notes = store.path.with_name("bevelbook.copies.json")
    for text in ("", "[", '{"a": 1}', '[{"name": 7}]', '[["x"]]', "[null]"):
        notes.write_text(text)
        keeper.look(at(hours=1))
        assert [kept.best.whole for kept in backups.listed(store)] == [True]


# The second folder


@pytest.mark.parametrize(
    ("typed", "word"),
    [
        ("copies", "does not say where the folder is"),
        ("/nowhere/at/all", "There is no folder"),
        ("{data}", "in the folder of the data themselves"),
        ("{data}/backups", "in the folder of the data themselves"),
        ("{data}/../data/backups", "in the folder of the data themselves"),
        ("{data}/bevelbook.sqlite3", "in the folder of the data themselves"),
        ("{stick}/a file", "There is no folder"),
        ("/proc", "belongs to the system of this machine"),
        ("/a\0b", "cannot be written"),
    ],
)
def test_a_second_folder_that_cannot_be_used_is_refused_in_words(
    store: Store, stick: Path, typed: str, word: str
) -> None:
    (stick / "a file").write_text("")
    (store.path.parent / "backups").mkdir()
    copies = Copies(store.path)
    copies.use_second(str(stick))
    with pytest.raises(Invalid, match=word) as caught:
        copies.use_second(typed.format(data=store.path.parent, stick=stick))
    assert [fault.path for fault in caught.value.faults] == ["second_folder"]
    assert copies.second == stick


def test_a_link_into_the_data_folder_is_seen_through(store: Store, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(store.path.parent)
    with pytest.raises(Invalid, match="in the folder of the data"):
        Copies(store.path).use_second(str(tmp_path / "link"))


def test_copies_are_put_into_the_second_folder_and_checked_there(store: Store, stick: Path) -> None:
    Copies(store.path).use_second(f"  {stick} ")
    state = backups.Keeper(store).look(at())
    (kept,) = backups.listed(store)
    assert [copy.place for copy in kept.at] == [Place.HERE, Place.SECOND]
    assert all(copy.whole for copy in kept.at)
    assert [path.name for path in stick.iterdir()] == [kept.name]
    assert state.away is None
    assert state.troubles == ()


def test_a_second_folder_that_is_away_is_caught_up_with(
    store: Store, stick: Path, caplog: pytest.LogCaptureFixture
) -> None:
    Copies(store.path).use_second(str(stick))
    keeper = backups.Keeper(store)
    keeper.look(at())
    elsewhere = stick.rename(stick.with_name("in a pocket"))
    for day in (1, 2):
        add(store, f"Customer {day}")
        assert keeper.look(at(days=day)).away == stick
    assert [record.message for record in caplog.records if "away" in record.message] == [
        f"The second folder {stick} is away; it is filled when it is back."
    ]
    assert len(here(store)) == 3
    elsewhere.rename(stick)
    assert keeper.look(at(days=2, hours=1)).away is None
    assert sorted(path.name for path in stick.iterdir()) == here(store)


def test_what_others_left_in_the_second_folder_stays(store: Store, stick: Path) -> None:
    Copies(store.path).use_second(str(stick))
    (stick / "holiday.jpg").write_text("a picture")
    for day in range(1, 4):
        for hour in (10, 12):
            other = stick / f"bevelbook-2026-10-0{day}-{hour}0000.sqlite3"
            store.copy_into(other)
    before = sorted(path.name for path in stick.iterdir())
    backups.Keeper(store).look(at())
    assert set(before) < {path.name for path in stick.iterdir()}


def test_the_second_folder_outlasts_the_shop(store: Store, stick: Path) -> None:
    Copies(store.path).use_second(str(stick))
    kept = shops.get(store)
    shops.save(store, replace(kept.value, sample=True), kept.version, ACT)
    sample.remove(store, ACT)
    assert Copies(store.path).second == stick
    Copies(store.path).use_second("")
    assert Copies(store.path).second is None


def test_a_full_disk_stops_nothing_and_is_said(
    store: Store, stick: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    keeper = backups.Keeper(store)
    with monkeypatch.context() as patched:
        patched.setattr("app.storage.copying.onto_the_disk", refuse)
        state = keeper.look(at())
        add(store, "Amber Quill")
    (trouble,) = state.troubles
    assert "No copy could be made" in trouble
    assert "is full" in trouble
    assert here(store) == []
    assert trouble in caplog.messages
    assert keeper.look(at(minutes=11)).troubles == ()
    assert len(here(store)) == 1

    Copies(store.path).use_second(str(stick))
    with monkeypatch.context() as patched:
        patched.setattr(shutil, "copyfile", refuse)
        (trouble,) = keeper.look(at(minutes=12)).troubles
    assert str(stick) in trouble
    assert list(stick.iterdir()) == []
    assert keeper.look(at(minutes=13)).troubles == ()


# Putting one back


def test_a_copy_is_put_back_while_the_shop_is_open(store: Store) -> None:
    add(store, "Amber Quill")
    backups.make(store, ACT)
    customer = add(store, "Boris Fennel")
    quote(store, customer)
    assert store.remembered("who", lambda: names(store)) == ["Amber Quill", "Boris Fennel"]
    (copy,) = backups.listed(store)
    lost = backups.would_be_lost(store, copy)
    assert (lost.quotes, lost.orders, lost.customers) == (("Q-2026-0001",), (), 1)
    before = backups.restore(store, copy, Stamp(who="", now=at(hours=1)))
    assert names(store) == store.remembered("who", lambda: names(store)) == ["Amber Quill"]
    assert check_database(store) == ()
    assert before is not None
    back = backups.named(store, before.name)
    assert back.best.whole
    assert backups.listed(store)[0] == back
    backups.restore(store, back, Stamp(who="", now=at(hours=2)))
    assert names(store) == ["Amber Quill", "Boris Fennel"]
    add(store, "Clara Dill")
    assert len(names(store)) == 3


def test_a_copy_is_found_by_its_name_alone(store: Store, tmp_path: Path) -> None:
    backups.make(store, ACT)
    for name in ("", ".", "..", "../bevelbook.sqlite3", "bevelbook.sqlite3", str(store.path), "\0"):
        with pytest.raises(NotFound, match="no copy called"):
            backups.named(store, name)


def test_a_damaged_copy_is_not_put_back_and_the_shop_goes_on(store: Store) -> None:
    add(store, "Amber Quill")
    copy = backups.make(store, ACT)
    spoiled = bytearray(copy.read_bytes())
    spoiled[4096 * 2 : 4096 * 9] = b"\xff" * 4096 * 7
    copy.write_bytes(spoiled)
    add(store, "Boris Fennel")
    with pytest.raises(Damaged):
        backups.restore(store, backups.named(store, copy.name), ACT)
    assert names(store) == ["Amber Quill", "Boris Fennel"]
    add(store, "Clara Dill")


def test_where_what_was_put_back_cannot_be_opened_the_old_shop_is_there(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    add(store, "Amber Quill")
    copy = backups.make(store, ACT)
    add(store, "Boris Fennel")
    tried = []

    def refuse_once(*_: object) -> None:
        tried.append(1)
        if len(tried) == 1:
            raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr("app.storage.engine.bring_up_to_date", refuse_once)
    with pytest.raises(OSError, match="Input/output"):
        restore_into(store, copy, now=at(hours=1))
    assert names(store) == ["Amber Quill", "Boris Fennel"]
    add(store, "Clara Dill")
    assert check_database(store) == ()


def test_who_reads_is_waited_for_and_reads_one_shop(store: Store) -> None:
    add(store, "Amber Quill")
    copy = backups.make(store, ACT)
    add(store, "Boris Fennel")
    inside, may_end, found = threading.Event(), threading.Event(), []

    def read() -> None:
        with store.reading() as work:
            inside.set()
            may_end.wait(10)
            found.append([row.name for row in work.customers.listed().rows])

    reader = threading.Thread(target=read)
    reader.start()
    inside.wait(10)
    putting = threading.Thread(target=lambda: restore_into(store, copy, now=at(hours=1)))
    putting.start()
    late = threading.Thread(target=lambda: found.append(names(store)))
    may_end.set()
    putting.join()
    late.start()
    late.join()
    reader.join()
    assert found == [["Amber Quill", "Boris Fennel"], ["Amber Quill"]]


def test_who_never_stops_reading_lets_nothing_be_exchanged(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "_TO_LEAVE", 0.05)
    copy = backups.make(store, ACT)
    add(store, "Amber Quill")
    with store.reading(), pytest.raises(StillRead, match="still reads"):
        restore_into(store, copy, now=at(hours=1))
    assert names(store) == ["Amber Quill"]
    add(store, "Boris Fennel")


def test_a_store_that_is_only_looked_at_takes_no_write(store: Store) -> None:
    store.only_look("You look at a copy; nothing can be changed here.")
    with pytest.raises(OnlyLookedAt, match="nothing can be changed"):
        add(store, "Amber Quill")
    assert names(store) == []


def test_an_older_file_that_is_damaged_is_left_as_it_was(path: Path) -> None:
    engine.migrate_new(path, "0009")
    spoiled = bytearray(path.read_bytes())
    spoiled[-4096:] = b"\xff" * 4096
    path.write_bytes(spoiled)
    path.chmod(0o600)
    with pytest.raises((Damaged, sqlite3.DatabaseError)):
        Store.open(path)
    assert path.read_bytes() == bytes(spoiled)


def test_the_notes_are_plain_json(store: Store) -> None:
    backups.make(store, ACT)
    (note,) = json.loads(store.path.with_name("bevelbook.copies.json").read_text())
    assert note["name"] == "bevelbook-2026-11-25-103000.sqlite3"
    assert note["problems"] == []


def test_restores_of_one_day_leave_every_order_in_some_copy(store: Store) -> None:
    """Back and forth five times within a day, with a customer added before each restore: each is in a copy still."""
    keeper = backups.Keeper(store)
    keeper.look(at())
    by_hand = backups.make(store, Stamp(who="", now=at(seconds=30)))
    added = [f"Customer {number}" for number in range(5)]
    for number, name in enumerate(added, 1):
        add(store, name)
        kept = backups.named(store, by_hand.name)
        backups.restore(store, kept, Stamp(who="", now=at(minutes=10 * number)))
        keeper.look(at(minutes=10 * number + 1))
    for number in range(5):  # and copies by themselves that would push out whatever is older
        add(store, f"Later {number}")
        backups.make(store, Stamp(who="", now=at(hours=3 + number)), why=Why.START)
        keeper.look(at(hours=3 + number, minutes=1))
    copies = Copies(store.path).all()
    assert by_hand in [copy.path for copy in copies]
    held = {name for copy in copies for name in names_in(copy.path)}
    assert held >= set(added)


def test_a_damaged_file_kept_aside_takes_the_place_of_no_whole_copy(store: Store) -> None:
    keeper = backups.Keeper(store)
    whole = backups.make(store, ACT)
    aside = [
        store.path.with_name(f"bevelbook.before-restore-2026-11-25-1{hour}0000.sqlite3")
        for hour in range(1, 6)
    ]
    for path in aside:
        path.write_bytes(whole.read_bytes()[:5000])
    keeper.look(at(hours=7))
    assert whole.exists()
    assert all(path.exists() for path in aside)


def test_a_life_of_the_data_ends_with_each_restore_and_leaves_the_second_folder(
    store: Store, stick: Path
) -> None:
    Copies(store.path).use_second(str(stick))
    file = store.path.with_name("bevelbook.machine.json")
    first = Machine(store.path).life
    copy = backups.make(store, ACT)
    backups.restore(store, backups.named(store, copy.name), ACT)
    second = Machine(store.path).life
    assert json.loads(file.read_text()) == {"second_folder": str(stick), "life": second}
    assert first != second
    Copies(store.path).use_second("")
    assert json.loads(file.read_text()) == {"second_folder": "", "life": second}


def test_a_life_ends_where_the_command_restores_and_where_the_sample_is_removed(path: Path) -> None:
    with Store.open(path) as store:
        sample.move_in(store, lambda empty: shops.set_up(empty, SHOP, ACT), ACT)
        copy = backups.make(store, ACT)
        sample.remove(store, Stamp(who="", now=at(minutes=1)))
        removed = Machine(path).life
        assert removed != FIRST_LIFE
    restore(copy, path, now=at(minutes=2))
    assert Machine(path).life not in (FIRST_LIFE, removed)


@pytest.mark.parametrize("folder", ["/", "/etc", "/usr/share", "/proc", "/proc/self", "/home"])
def test_a_folder_of_the_system_is_refused_as_the_second_one(store: Store, folder: str) -> None:
    with pytest.raises(Invalid) as refused:
        Copies(store.path).use_second(folder)
    (fault,) = refused.value.faults
    assert fault.path == "second_folder"
    assert f"“{folder}” belongs to the system of this machine" in fault.message
    assert Copies(store.path).second is None


def test_nothing_of_the_apps_own_is_a_copy_that_can_be_deleted(store: Store) -> None:
    """Keys, lock, log, notes and sums lie beside the data; a damaged file that was kept aside is called so."""
    copy = backups.make(store, ACT)
    for end in (
        ".keys",
        ".lock",
        ".log",
        ".log.1",
        ".machine.json",
        ".copies.json",
        ".sqlite3-sums",
    ):
        store.path.with_name(f"bevelbook{end}").write_text("ours")
    copy.with_name(f"{copy.name}-sums").write_text("of the copy")
    store.path.with_name("looked-at-1").mkdir()
    assert [each.path for each in copies_of(store.path)] == [copy]
    aside = store.path.with_name("bevelbook.before-restore-2026-11-25-090000.sqlite3")
    aside.write_bytes(copy.read_bytes()[:5000])
    backups.Keeper(store).look(at())
    assert {each.path: each.what for each in copies_of(store.path)}[aside] == (
        "damaged file that was kept aside"
    )


def test_restoring_what_is_no_copy_says_so_and_leaves_nothing_behind(tmp_path: Path) -> None:
    diary, data = tmp_path / "diary.txt", tmp_path / "new" / "data"
    diary.write_text("Dear diary\n" * 400)
    done = ran("--data", str(data), "restore", str(diary))
    assert done.returncode == 2
    assert f"{diary} is not a copy of Bevelbook’s data" in done.stderr
    assert "Move that file away" not in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["diary.txt"]
