"""Sums of pages: a bit that flips anywhere is noticed, whatever was cut short, and what is whole is never called damaged."""

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from shutil import copyfile

import pytest

from app.orders import Customer
from app.storage import Store, back_up, has_sums, log, page_sums, problems_of
from app.storage.damage import damage_of_pages
from app.storage.errors import Damaged
from app.storage.log_file import free_pages, head_of
from app.storage.page_sums import SUMS
from tests.builders.kept import NOW
from tests.storage.altering import asked


def add(store: Store, *names: str) -> None:
    for name in names:
        with store.writing() as work:
            work.customers.add(Customer(name=name, notes=name * 50), now=NOW)


def flip(path: Path, at: int, bit: int = 0) -> None:
    with path.open("r+b") as file:
        file.seek(at)
        was = file.read(1)[0]
        file.seek(at)
        file.write(bytes([was ^ 1 << bit]))


def whole(path: Path) -> bool:
    """Whether there are sums, and every page is as they say."""
    return has_sums(path) and damage_of_pages(path) == ()


def test_every_single_bit_that_flips_in_a_used_page_is_noticed(shop: Path) -> None:
    head, chance = head_of(shop), random.Random(2026)
    assert head is not None
    used = sorted(set(range(1, head.pages + 1)) - free_pages(shop))
    assert whole(shop)
    for _ in range(60):
        page, bit = chance.choice(used), chance.randrange(8)
        at = (page - 1) * head.page_size + chance.randrange(head.page_size)
        flip(shop, at, bit)
        (sentence,) = damage_of_pages(shop)
        assert sentence.startswith(f"Page {page} of the file is damaged, or another program wrote")
        flip(shop, at, bit)
    assert whole(shop)


@pytest.mark.parametrize("at", [18, 19, 24, 27, 60, 63, 92, 95])
def test_so_is_one_in_what_sqlite_counts_in_the_head(shop: Path, at: int) -> None:
    """Of the mark itself no sums go with the file any more; a check says so."""
    flip(shop, at)
    assert not whole(shop)


def test_it_is_said_which_record_stands_there(shop: Path) -> None:
    """The page is found without our own code: by a text that stands in one record only."""
    (row,) = asked(shop, "SELECT id, number FROM invoices ORDER BY id DESC LIMIT 1")
    record, number = row
    at = shop.read_bytes().rindex(f'"number":"{number}"'.encode())
    flip(shop, at + 12)
    told = problems_of(shop)
    assert any("in invoices" in each and f"{number}: the invoice" in each for each in told)
    assert any(f"(record {record}) is not as it was written" in each for each in told)


def test_the_sums_follow_what_is_folded_in_and_lie_in_the_one_file_at_rest(shop: Path) -> None:
    with Store.open(shop) as store:
        for name in ("Amber", "Boris", "Clem"):
            add(store, name)
            assert whole(shop)
            assert store.fold()
            assert whole(shop)
            assert not log.beside(shop, SUMS).exists()
    assert whole(shop)
    copy = shop.with_name("copied by hand")
    copyfile(shop, copy)
    assert whole(copy)
    flip(copy, 4096 * 3 + 5)
    assert not whole(copy)


def test_of_a_large_log_too(shop: Path) -> None:
    with Store.open(shop) as store:
        for number in range(120):
            add(store, f"Customer {number} of many")
        assert whole(shop)
        store.fold()
        assert whole(shop)
    assert whole(shop)


def _moments(shop: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, Path]:
    """The files as they lie at each step of a folding."""
    kept: dict[str, Path] = {}

    def keep(moment: str) -> None:
        folder = shop.parent / moment
        folder.mkdir()
        for file in shop.parent.glob(f"{shop.name}*"):
            copyfile(file, folder / file.name)
        kept[moment] = folder / shop.name

    def around(name: str, step: Callable[[Path], None]) -> None:
        def watched(database: Path) -> None:
            keep(f"before {name}")
            step(database)
            keep(f"after {name}")

        monkeypatch.setattr(page_sums, f"{name}_folding", watched)

    with Store.open(shop) as store:
        add(store, *(f"Customer {number}" for number in range(40)))
        around("before", page_sums.before_folding)
        around("after", page_sums.after_folding)
        assert store.fold()
        monkeypatch.undo()
    return kept


def test_wherever_a_folding_is_cut_short_the_sums_hold(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    moments = _moments(shop, monkeypatch)
    before, between = moments["after before"], moments["before after"]
    # Half of the pages are in the file: SQLite writes them in their order.
    for many in (1, 3, 200):
        folder = shop.parent / f"half {many}"
        folder.mkdir()
        for file in before.parent.iterdir():
            copyfile(file, folder / file.name)
        half = folder / shop.name
        half.write_bytes(between.read_bytes()[: many * 4096] + before.read_bytes()[many * 4096 :])
        moments[f"half {many}"] = half
    torn = shop.parent / "torn"
    torn.mkdir()
    for file in between.parent.iterdir():
        copyfile(file, torn / file.name)
    with (torn / shop.name).open("ab") as file_at_end:
        file_at_end.write(moments["after after"].read_bytes()[-4096:-3000])
    moments["torn"] = torn / shop.name
    assert len(moments) == 8
    for moment, database in moments.items():
        assert whole(database), moment
        with Store.open(database) as store, store.reading() as work:
            assert store.damaged == (), moment
            assert work.customers.find("Customer 39"), moment
        assert whole(database), moment


def test_damage_is_noticed_wherever_a_folding_was_cut_short(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = 2  # of a table of the price book, which is not written to
    for moment, database in _moments(shop, monkeypatch).items():
        flip(database, (page - 1) * 4096 + 77)
        assert damage_of_pages(database), moment
        with Store.open(database) as store:
            assert store.damaged, moment
        assert damage_of_pages(database), moment


def test_a_damaged_page_that_is_written_over_stays_noted(shop: Path) -> None:
    with Store.open(shop) as store:
        add(store, "Xavier Quince")
    at = shop.read_bytes().rindex(b"Xavier Quince" * 2)
    flip(shop, at)
    with Store.open(shop) as store:
        assert len(store.damaged) == 1
        add(store, "Yolanda")
    (sentence,) = damage_of_pages(shop)
    assert sentence.startswith("These pages of the file were damaged when something was written")
    with Store.open(shop) as store:
        assert store.damaged == (sentence,)


def test_a_copy_of_a_damaged_file_is_not_taken_for_whole(shop: Path, tmp_path: Path) -> None:
    """The copy has every bit of it; its sums are those of what was written."""
    with Store.open(shop) as store:
        add(store, "Xavier Quince")
        copy = back_up(store, tmp_path / "copies", now=NOW)
    assert whole(copy)
    flip(shop, shop.read_bytes().rindex(b"Xavier Quince" * 2))
    with Store.open(shop) as store:
        with pytest.raises(Damaged, match="Page"):
            back_up(store, tmp_path / "others", now=NOW)
        add(store, "Yolanda")
        written_over = back_up(store, tmp_path / "others", now=NOW)
    (sentence,) = damage_of_pages(written_over)
    assert sentence.startswith("These pages of the file were damaged when something was written")
    assert sentence in problems_of(written_over, every_record=True)
    flip(copy, 4096 * 5 + 9)
    assert damage_of_pages(copy)


def test_a_copy_of_an_open_file_has_the_sums_of_what_is_in_its_log(
    shop: Path, tmp_path: Path
) -> None:
    with Store.open(shop) as store:
        add(store, "Amber", "Boris")
        copy = back_up(store, tmp_path / "copies", now=NOW)
    assert whole(copy)
    with Store.open(copy) as store:
        assert store.damaged == ()
        add(store, "Clem")
    assert whole(copy)


def test_where_no_sums_go_with_a_file_it_is_said_and_they_are_made_anew(
    shop: Path, caplog: pytest.LogCaptureFixture
) -> None:
    head = head_of(shop)
    assert head is not None
    with shop.open("r+b") as file:
        file.truncate(head.pages * head.page_size)
    assert not has_sums(shop)
    assert problems_of(shop) == ()
    Store.open(shop).close()
    assert "was damaged cannot be told" in caplog.text
    assert whole(shop)


def test_sums_of_another_file_are_not_taken(shop: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite3"
    copyfile(shop, other)
    with Store.open(other) as store:
        add(store, "Amber")
    with shop.open("r+b") as file, other.open("rb") as theirs:
        there, here = head_of(other), head_of(shop)
        assert there is not None
        assert here is not None
        theirs.seek(there.pages * there.page_size)
        file.seek(here.pages * here.page_size)
        file.write(theirs.read())
    assert not has_sums(shop)


def test_who_closes_without_folding_leaves_no_sums_that_do_not_hold(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store.open(shop)
    add(store, "Amber")
    monkeypatch.setattr(Store, "_try_to_fold", lambda _store: False)
    store.close()
    monkeypatch.undo()
    assert damage_of_pages(shop) == ()
    with closing(sqlite3.connect(shop)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    with Store.open(shop) as again, again.reading() as work:
        assert work.customers.find("Amber")
        assert again.damaged == ()
    assert whole(shop)


def test_sums_that_cannot_be_kept_hold_up_nothing(
    shop: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def full(*_: object) -> None:
        raise OSError("no space left on device")

    with Store.open(shop) as store:
        add(store, "Amber")
        monkeypatch.setattr(page_sums, "_put_beside", full)
        assert store.fold()
        monkeypatch.undo()
    assert "are not kept: no space left on device" in caplog.text
    assert damage_of_pages(shop) == ()
