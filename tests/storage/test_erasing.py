"""What is erased is in no byte of any file: the database, its log and index, copies, logs, however it is written there.

Source: GDPR art. 17. Names, numbers and addresses are invented; 01632 is an area code that Ofcom keeps free for drama.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from shutil import copyfile

import pytest
from sqlalchemy import text as sql

from app.orders import Customer
from app.services import customers, erasing
from app.services.erasing import Copies, OthersCameUp, RemovalRequest
from app.services.who_is_meant import CustomerRequest
from app.storage import (
    DATABASE_NAME,
    ERASED_NAME,
    Stamp,
    Store,
    back_up,
    check_database,
    problems_of,
    schema_of,
)
from app.storage.erased_copies import copies_of
from app.storage.person import Finder, Person, cleared
from app.storage.search_text import folded
from tests.landed import steps

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
ACT = Stamp(who="Tobin", now=NOW)

BEFORE = Customer(name="Zoë Ravensworth", phone="01632 960777", address="7 Eelpie Court\nSedge")
ZOE = Customer(
    name="Zoë O'Fennimore",
    phone="+44 1632 960 733",
    email="Zoe.Fenn@post.example",
    address="12 Ropewalk Yard\nSedge",
    notes="Likes walnut. Rings from 01632 960733.",
)
TWICE = Customer(name="Z. Fennimore-Quell", phone="01632 960744")

NEVER = (
    "Zoë O'Fennimore",
    "O'Fennimore",
    "fennimore",
    "Ravensworth",
    "960 733",
    "960733",
    "960777",
    "960744",
    "1632960733",
    "Zoe.Fenn@post.example",
    "fenn@post",
    "Ropewalk Yard",
    "Eelpie",
    "Quell",
)
"""What must be in no file, nor folded, nor in UTF-16."""

FREE_TEXT = (
    ("orders", "note"),
    ("pieces", "title"),
    ("pieces", "condition"),
    ("pieces", "place"),
    ("ledger_entries", "note"),
    ("reductions", "reason"),
    ("stage_changes", "note"),
    ("step_ticks", "words"),
    ("customer_told", "how"),
    ("part_changes", "note"),
    ("plan_ticks", "note"),
    ("order_lines", "what"),
    ("line_stage_changes", "note"),
    ("supplier_orders", "note"),
    ("supplier_order_lines", "note"),
    ("deliveries", "note"),
    ("stock_items", "note"),
    ("stock_movements", "note"),
    ("stock_levels", "place"),
    ("sent_forms", "led_to"),
)


FROZEN = (("piece_snapshots", "agreed"), ("ticket_prints", "facts"), ("line_agreements", "agreed"))
INSTEAD = (
    ("Lighthouse keeper's log", "Portrait of Zoë O'Fennimore"),
    ("Restringing", "Restringing for zoe o'fennimore"),
)


def test_a_person_is_found_however_they_are_written() -> None:
    finder = Finder(Person.of([ZOE]))
    for text in (
        "for ZOË O’FENNIMORE at four",
        "O'Fennimore, Zoe",
        "(01632) 960-733",
        "0044 1632 960733",
        "zoe.fenn@POST.example",
        "at 12  ropewalk\nyard",
    ):
        spans = finder.found_in(text)
        assert [span.sure for span in spans] == [True], text
    assert (
        cleared(
            "ask Zoë O'Fennimore, 01632 960733",
            finder.found_in("ask Zoë O'Fennimore, 01632 960733"),
        )
        == "ask …, …"
    )


def test_a_number_of_noughts_alone_is_found_where_it_stands_alone() -> None:
    finder = Finder(Person.of([Customer(name="Rose Tarn", phone="0000-00-00")]))
    found = "call 0000 0000, not 100000000 or 4000-0000"
    assert cleared(found, finder.found_in(found)) == "call …, not 100000000 or 4000-0000"
    assert finder.found_in("paid on 2026-11-25, no. 00000001") == ()


def test_what_may_be_something_else_is_not_sure_and_others_are_not_meant() -> None:
    finder = Finder(Person.of([Customer(name="Rose Tarn", phone="01632 960733")]))
    assert [span.sure for span in finder.found_in("a rose in a vase")] == [False]
    assert finder.found_in("rosewood, 01999 960734, 2026-11-25, tarnished") == ()
    assert [span.sure for span in finder.found_in("Rose Tarn's rose")] == [True, False]
    assert [span.sure for span in Finder(Person.of([Customer(name="Rose")])).found_in("Rose")] == [
        False
    ]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A data folder with the shop of a step, in which every table has rows."""
    folder = tmp_path / "data"
    folder.mkdir()
    steps.put("0024", folder)
    return folder


@pytest.fixture
def store(folder: Path) -> Iterator[Store]:
    """That shop, open."""
    with Store.open(folder / DATABASE_NAME) as store:
        _without_copies(folder)
        yield store


@pytest.fixture
def named(folder: Path) -> Iterator[Store]:
    """The same with somebody in every free text, who is its first customer, was called otherwise before, and had a second
    record.
    """
    _name_everywhere(folder / DATABASE_NAME)
    with Store.open(folder / DATABASE_NAME) as store:
        _without_copies(folder)
        with store.writing() as work:
            version = work.customers.get(1).version
            work.customers.save(1, BEFORE, version, now=NOW)
        back_up(store, folder / "backups", now=NOW)
        with store.writing() as work:
            work.customers.save(1, ZOE, version + 1, now=NOW)
            other = work.customers.add(TWICE, now=NOW)
        asked = CustomerRequest(name=f"{TWICE.name} #{other}")
        customers.join(store, 1, version + 2, asked, ACT)
        yield store


def _without_copies(folder: Path) -> None:
    """Take away what bringing the shop up to date left beside it, so that a test begins without copies."""
    for copy in folder.glob("*.schema-*"):
        copy.unlink()


def _name_everywhere(database: Path) -> None:
    """Name somebody in a file that nobody has open, in every free text and in the JSON of what is frozen."""
    with closing(sqlite3.connect(database, isolation_level=None)) as file:
        guards = file.execute(
            "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' AND sql LIKE '%BEFORE UPDATE%'"
        ).fetchall()
        file.execute("BEGIN IMMEDIATE")
        for name, _ in guards:
            file.execute(f"DROP TRIGGER {name}")
        for place, (table, column) in enumerate(FREE_TEXT):
            said = f"Zoë O’Fennimore, 12 Ropewalk Yard, {place}; 01632-960733"
            changed = file.execute(f"UPDATE {table} SET {column} = ?", (said,)).rowcount
            assert changed, f"{table} has rows"
        for table, column in FROZEN:
            for before, after in INSTEAD:
                file.execute(
                    f"UPDATE {table} SET {column} = replace({column}, ?, ?)", (before, after)
                )
        for _, sql in guards:
            file.execute(sql)
        file.execute("COMMIT")


def _all_ticked(store: Store, customer_id: int, copies: Copies = Copies.ANEW) -> RemovalRequest:
    keys = erasing.asked(store, customer_id).keys
    return RemovalRequest(shown=keys, ticked=keys, copies=copies, logs=True)


def _found_in_files(folder: Path, never: tuple[str, ...] = NEVER) -> list[str]:
    """Every file in which something stands that must not, in UTF-8 or UTF-16, as it is, small, or folded."""
    found = []
    for path in sorted(each for each in folder.rglob("*") if each.is_file()):
        content = path.read_bytes()
        small = content.lower()
        for text in never:
            forms = {text, text.lower(), folded(text), text.replace("'", "’")}
            found += [
                f"{path.name}: {text}"
                for encoding in ("utf-8", "utf-16-le", "utf-16-be")
                if any(
                    form.encode(encoding) in content or form.lower().encode(encoding) in small
                    for form in forms
                )
            ]
    return found


def _terms(database: Path) -> set[str]:
    """Every term in the word indexes, which stand there packed. Source: sqlite.org/fts5.html, 7, the fts5vocab module."""
    found: set[str] = set()
    with closing(sqlite3.connect(database)) as file:
        for index in ("customer_words", "customer_parts", "order_words"):
            file.execute(f"CREATE VIRTUAL TABLE temp.v_{index} USING fts5vocab(main, {index}, row)")
            found |= {term for (term,) in file.execute(f"SELECT term FROM v_{index}")}
    return found


def test_what_is_erased_is_in_no_byte_of_any_file(named: Store) -> None:
    folder = named.path.parent
    back_up(named, folder / "backups", now=NOW.replace(hour=11))
    old = folder / f"{named.path.stem}.schema-0010.sqlite3"
    old.write_bytes(steps.put("0010", folder.parent).read_bytes())
    with closing(sqlite3.connect(old)) as file:
        file.execute("PRAGMA trusted_schema = ON")
        file.execute("UPDATE customers SET name = ?, phone = ? WHERE id = 1", (ZOE.name, ZOE.phone))
        file.execute("UPDATE orders SET note = 'Ring Zoe O''Fennimore' WHERE customer_id = 1")
        file.commit()
    kept = folder / f"{named.path.stem}.before-restore-2026-11-20-101500.sqlite3"
    copyfile(next((folder / "backups").iterdir()), kept)
    aside = folder / f"{DATABASE_NAME}-wal.of-another-file-2026-11-20-101500"
    aside.write_bytes(b"pages with Ravensworth in them")
    log = folder / "bevelbook.log"
    log.write_text("10:30 saved the order of Zoë O'Fennimore\n10:31 stopped\n", encoding="utf-8")
    assert len(_found_in_files(folder)) > 20

    done = erasing.erase(named, 1, _all_ticked(named, 1), ACT)

    assert done.left == ()
    # Made by hand, before the records were joined, before the restore, of schema 0010; and the log put aside.
    assert (done.anew, done.deleted) == (5, 1)
    assert check_database(named) == ()
    assert _found_in_files(folder) == []  # while it is open, with its log and index
    named.close()
    assert _found_in_files(folder) == []
    terms = _terms(named.path)
    assert not {"zoe", "ofennimore", "fennimore", "ravensworth", "ropewalk", "960733"} & terms
    assert log.read_text(encoding="utf-8") == "10:30 saved the order of …\n10:31 stopped\n"
    for copy in (*(folder / "backups").iterdir(), old, kept):
        assert problems_of(copy) == ()
    assert schema_of(old) == "0010"  # it stays what it is kept for
    assert not aside.exists()


def test_only_the_invoice_keeps_the_name(store: Store) -> None:
    marsh = "Ottoline Marsh"
    with store.writing() as work:
        invoice = work.invoices.of_order(2)[0].invoice
        assert marsh in invoice.buyer.name
    asked = erasing.asked(store, 2)
    assert asked.invoices == (invoice.number,)
    request = RemovalRequest(shown=asked.keys, ticked=asked.keys, copies=Copies.DELETED)
    erasing.erase(store, 2, request, ACT)
    with store.reading() as work:
        assert work.invoices.of_order(2)[0].invoice == invoice
        assert work.customers.get(2).value.name == ERASED_NAME
    assert check_database(store) == ()
    store.close()
    with closing(sqlite3.connect(store.path, isolation_level=None)) as file:
        file.execute("PRAGMA secure_delete = ON")
        file.execute("DROP TRIGGER invoices_unchanged")
        file.execute("UPDATE invoices SET says = ''")
        file.execute("VACUUM")
        file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    assert _found_in_files(store.path.parent, (marsh, "marsh", "ottoline@marsh.example")) == []


def test_what_names_the_customer_is_shown_and_only_what_is_ticked_is_cleared(named: Store) -> None:
    asked = erasing.asked(named, 1)
    assert {"Zoë O'Fennimore", "Zoë Ravensworth", "Z. Fennimore-Quell"} <= set(asked.known_by)
    where = " ".join(place for text in asked.texts for place in text.where)
    for what in (
        "note of the order",
        "title of a piece",
        "payment",
        "goodwill",
        "spoiled part",
        "order to a supplier",
    ):
        assert what in where
    title = next(text for text in asked.texts if "title of a piece" in " ".join(text.where))
    assert "".join(part.text for part in title.parts if part.named).startswith("Zoë O’Fennimore")
    request = RemovalRequest(shown=asked.keys, ticked=asked.keys - {title.key})
    erasing.erase(named, 1, request, ACT)
    with named.reading() as work:
        order = work.orders.get(1)
        assert "Zoë O’Fennimore" in order.pieces[0].artwork.title
        assert order.note == "…, …, 0; …"
        assert order.pieces[0].artwork.condition == "…, …, 2; …"
        assert order.pieces[0].agreed.typed["artwork.title"] == "Portrait of …"


def test_a_part_of_the_name_is_taken_for_the_customer_at_orders_of_their_own_alone(
    store: Store,
) -> None:
    with store.writing() as work:
        version = work.customers.get(1).version
        work.customers.save(1, ZOE, version, now=NOW)
        other = work.customers.add(Customer(name="Hollis Fane", notes="Sent by Zoë"), now=NOW)
        to = work.session.connection()
        (others,) = to.execute(sql("SELECT max(id) FROM orders")).one()
        to.execute(sql(f"UPDATE orders SET customer_id = {other} WHERE id = {others}"))
        for statement in (
            "UPDATE orders SET note = 'Zoë calls on Friday' WHERE customer_id = 1",
            "UPDATE pieces SET title = 'Zoë at sea' WHERE order_id IN (SELECT id FROM orders WHERE customer_id = 1)",
            "UPDATE pieces SET place = 'Shelf of Zoë'",
        ):
            assert to.execute(sql(statement)).rowcount
        to.execute(sql(f"UPDATE orders SET note = 'For Zoë and him' WHERE id = {others}"))
    meant = {
        "".join(part.text for part in each.parts): each.is_meant
        for each in erasing.asked(store, 1).texts
        if not each.sure
    }
    assert meant == {
        "Zoë calls on Friday": True,
        "Zoë at sea": True,
        "Shelf of Zoë": False,  # another customer's pieces stand there too
        "For Zoë and him": False,
        "Sent by Zoë": False,
    }


def test_what_came_up_since_is_shown_first(named: Store) -> None:
    with pytest.raises(OthersCameUp):
        erasing.erase(named, 1, RemovalRequest(), ACT)
    with named.reading() as work:
        assert work.customers.get(1).value.name == ZOE.name


def test_copies_can_be_deleted_or_left(store: Store) -> None:
    back_up(store, store.path.parent / "backups", now=NOW)
    (copy,) = copies_of(store.path)
    assert (copy.what, copy.at.astimezone(UTC).date()) == ("copy", NOW.date())
    left = erasing.erase(store, 1, _all_ticked(store, 1, Copies.KEPT), ACT)
    assert (left.anew, left.deleted) == (0, 0)
    assert b"Aldous" in copy.path.read_bytes()
    done = erasing.erase(store, 1, _all_ticked(store, 1, Copies.DELETED), ACT)
    assert done.deleted == 2  # and the one that was made before, while they stayed
    assert copies_of(store.path) == ()


def test_a_copy_that_is_not_whole_is_left_and_named(store: Store) -> None:
    copy = back_up(store, store.path.parent / "backups", now=NOW)
    whole = copy.read_bytes()
    spoilt = whole[:8192] + b"\xff" * 4096 + whole[12288:]
    copy.write_bytes(spoilt)
    done = erasing.erase(store, 1, _all_ticked(store, 1), ACT)
    assert len(done.left) == 1
    assert copy.name in done.left[0]
    assert copy.read_bytes() == spoilt


def test_a_copy_of_another_shop_keeps_its_own_customers(store: Store) -> None:
    folder = store.path.parent / "backups"
    folder.mkdir()
    other = folder / f"{store.path.stem}-2026-11-01-101010.sqlite3"
    with (
        Store.open(store.path.parent.parent / "other.sqlite3") as another,
        another.writing() as work,
    ):
        work.customers.add(Customer(name="Hollis Wren", phone="01632 960555"), now=NOW)
    copyfile(store.path.parent.parent / "other.sqlite3", other)
    erasing.erase(store, 1, _all_ticked(store, 1), ACT)
    with closing(sqlite3.connect(other)) as file:
        assert file.execute("SELECT name, phone FROM customers").fetchall() == [
            ("Hollis Wren", "01632 960555")
        ]


def test_what_is_shared_is_the_other_ones(store: Store) -> None:
    with store.writing() as work:
        work.customers.add(
            Customer(name="Ida Aldous", phone="01632 960001", notes="Sister of Wren Aldous."),
            now=NOW,
        )
    asked = erasing.asked(store, 1)
    assert asked.sharing == ("Ida Aldous has the same phone",)
    erasing.erase(store, 1, RemovalRequest(shown=asked.keys, ticked=asked.keys), ACT)
    with store.reading() as work:
        (ida,) = work.customers.named("Ida Aldous")
    assert ida.value == Customer(name="Ida Aldous", phone="01632 960001", notes="Sister of ….")


def test_a_form_that_is_still_open_does_not_write_it_back(named: Store) -> None:
    with named.reading() as work:
        order = work.orders.get(1)
    erasing.erase(named, 1, _all_ticked(named, 1), ACT)
    with named.reading() as work:
        assert work.orders.get(1).version > order.version
