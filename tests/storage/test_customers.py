"""Customers as they are kept."""

import sqlite3
from contextlib import closing

import pytest
from sqlalchemy import text

from app.errors import Conflict, NotFound
from app.orders import Customer
from app.storage import PageRequest, Stale, Store
from tests.builders.kept import NOW
from tests.builders.values import TODAY

AMBER = Customer(
    name="Amber Quill",
    phone="(01632) 960-011",  # a number kept free for stories: Ofcom, numbers for drama use
    email="amber.quill@post.example",
    address="4 Ropewalk",
    notes="prefers walnut",
)
JOERG = Customer(name="Jörg Straßer", phone="+44 1632 960 999", notes="collects on Fridays")
ZOE = Customer(name="Zoë O'Fennel", email="zoe@fennel.example", tax_free=True)


@pytest.fixture
def three(empty: Store) -> Store:
    with empty.writing() as work:
        for customer in (AMBER, JOERG, ZOE):
            work.customers.add(customer, now=NOW)
    return empty


@pytest.mark.parametrize(("number", "customer"), [(1, AMBER), (2, JOERG), (3, ZOE)])
def test_a_customer_reads_back_equal(three: Store, number: int, customer: Customer) -> None:
    with three.reading() as work:
        kept = work.customers.get(number)
    assert (kept.id, kept.version, kept.value) == (number, 1, customer)


def test_an_unknown_customer_is_not_found(three: Store) -> None:
    with three.reading() as work, pytest.raises(NotFound):
        work.customers.get(4)


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("amb", ["Amber Quill"]),
        ("quill amber", ["Amber Quill"]),
        ("uil", ["Amber Quill"]),  # the middle of a name
        ("walnut", ["Amber Quill"]),
        ("ropew", ["Amber Quill"]),
        ("quill@post", ["Amber Quill"]),
        ("post.exam", ["Amber Quill"]),
        ("60011", ["Amber Quill"]),  # the middle and end of a phone number
        ("960-01", ["Amber Quill"]),
        ("(01632) 96", ["Amber Quill"]),
        ("1632", ["Amber Quill", "Jörg Straßer"]),
        ("jorg", ["Jörg Straßer"]),
        ("JÖRG", ["Jörg Straßer"]),
        ("strasser", ["Jörg Straßer"]),
        ("straß", ["Jörg Straßer"]),
        ("zoe", ["Zoë O'Fennel"]),
        ("o'fen", ["Zoë O'Fennel"]),
        ("example", ["Amber Quill", "Zoë O'Fennel"]),
        ("amber friday", []),
        ("", []),
        ("   ", []),
        ("😀", []),
        ('"', []),
        ("*", []),
        ("amber OR zoe", []),
        ("NOT amber", []),
        ("name: amber", []),
        ("NEAR(amber quill)", []),
        ("amber\x00quill", ["Amber Quill"]),
        ("amber " * 2000, ["Amber Quill"]),
        ("x" * 10_000, []),
        ("Zoe\u0308", ["Zoë O'Fennel"]),  # the accent as a character of its own
    ],
)
def test_a_customer_is_found_by_a_part_of_anything(
    three: Store, typed: str, found: list[str]
) -> None:
    with three.reading() as work:
        assert [row.name for row in work.customers.find(typed)] == found


def test_names_that_begin_with_what_was_typed_come_first(three: Store) -> None:
    with three.writing() as work:
        work.customers.add(Customer(name="Aaron Fallow", notes="brother of Zoe"), now=NOW)
        assert [row.name for row in work.customers.find("zoe")] == ["Zoë O'Fennel", "Aaron Fallow"]


def test_a_changed_customer_is_found_by_the_new_and_not_by_the_old(three: Store) -> None:
    with three.writing() as work:
        work.customers.save(1, Customer(name="Amber Reed", phone="01632 960 555"), 1, now=NOW)
    with three.reading() as work:
        assert [row.name for row in work.customers.find("reed")] == ["Amber Reed"]
        assert [row.name for row in work.customers.find("60555")] == ["Amber Reed"]
        for old in ("quill", "walnut", "60011"):
            assert work.customers.find(old) == ()


def test_saving_an_old_version_tells_what_is_kept_now(three: Store) -> None:
    mine, theirs = Customer(name="Amber Mine"), Customer(name="Amber Theirs")
    with three.writing() as work:
        work.customers.save(1, theirs, 1, now=NOW)
    with pytest.raises(Stale) as caught, three.writing() as work:
        work.customers.save(1, mine, 1, now=NOW)
    assert getattr(caught.value.stored, "value", None) == theirs
    with three.reading() as work:
        assert work.customers.get(1).value == theirs


def test_erasing_leaves_nothing_personal_behind(three: Store) -> None:
    # Source: GDPR art. 17.
    with three.writing() as work:
        work.customers.erase(1, now=NOW)
        work.customers.erase(1, now=NOW)
    with three.reading() as work:
        assert work.customers.get(1).value == Customer(name="removed customer")
        assert work.customers.erased_on(1) == TODAY
        assert [row.name for row in work.customers.listed().rows] == [
            "Jörg Straßer",
            "Zoë O'Fennel",
        ]
        for part in ("amber", "quill", "60011", "walnut", "ropewalk", "removed"):
            assert work.customers.find(part) == ()


def test_nothing_personal_is_left_in_the_file_after_erasing(three: Store) -> None:
    with three.writing() as work:
        work.customers.erase(1, now=NOW)
    three.close()
    for file in three.path.parent.iterdir():
        content = file.read_bytes().lower()
        for word in (b"quill", b"walnut", b"ropewalk", b"60011"):
            assert word not in content, f"{word!r} in {file.name}"


def test_an_erased_customer_cannot_be_changed(three: Store) -> None:
    with three.writing() as work:
        work.customers.erase(1, now=NOW)
    with pytest.raises(Conflict, match="was deleted"), three.writing() as work:
        work.customers.save(1, AMBER, 2, now=NOW)


def test_a_customer_is_never_deleted(three: Store) -> None:
    never = pytest.raises(sqlite3.IntegrityError, match="erased, never deleted")
    with closing(sqlite3.connect(three.path)) as connection, never:
        connection.execute("DELETE FROM customers")


def test_customers_are_listed_by_name_a_page_at_a_time(empty: Store) -> None:
    names = [f"Name {number:02}" for number in range(25)]
    with empty.writing() as work:
        for name in reversed(names):
            work.customers.add(Customer(name=name), now=NOW)
    with empty.reading() as work:
        pages = [work.customers.listed(page=PageRequest(number=n, size=10)) for n in (1, 2, 3, 4)]
    assert [row.name for page in pages for row in page.rows] == names
    assert [len(page.rows) for page in pages] == [10, 10, 5, 0]
    assert {(page.total, page.pages) for page in pages} == {(25, 3)}


def test_a_list_can_be_narrowed_to_what_is_typed(three: Store) -> None:
    with three.reading() as work:
        assert [row.name for row in work.customers.listed("fridays").rows] == ["Jörg Straßer"]
        assert work.customers.listed("fridays").total == 1
        assert work.customers.listed("😀").total == 0
        assert work.customers.listed("  ").total == 3


def test_the_word_indexes_agree_with_the_customers(three: Store) -> None:
    with three.writing() as work:
        work.customers.save(2, Customer(name="Jörg Neu"), 1, now=NOW)
        work.customers.erase(3, now=NOW)
        # Source: sqlite.org/fts5.html, the integrity-check command; it raises on a mismatch.
        for index in ("customer_words", "customer_parts"):
            check = f"INSERT INTO {index} ({index}, rank) VALUES ('integrity-check', 1)"
            work.session.execute(text(check))
