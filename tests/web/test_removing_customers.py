"""The page that asks before a customer is deleted: what names them, with a tick each, the copies, and what stays."""

import re

import pytest

from app.orders import Customer
from app.services import customers
from app.storage import Stamp, Store, back_up
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words

ROSE = Customer(
    name="Rose Tarrowmere",
    phone="01632 960733",
    email="rose@tarrowmere.example",
    address="12 Ropewalk Yard",
)
PATH = "/customers/1/remove"


@pytest.fixture
def rose(store: Store) -> Store:
    """Rose, and what others' notes say: her name, her number, and a flower."""
    act = Stamp(who="", now=NOW)
    customers.add(store, ROSE, act)
    for note in (
        "Cousin of Rose Tarrowmere.",
        "Reach through 01632-960-733",
        "Wants a rose in the mat",
    ):
        customers.add(store, Customer(name="Hollis Fane", notes=note), act)
    return store


def _ticks(page: Shown) -> dict[str, bool]:
    """By the text of each line whether it is ticked."""
    return {
        words(line): box.get("checked") is not None
        for line in page.each(tag="li")
        for box in line.iter("input")
    }


def _sent(page: Shown, **changed: str) -> dict[str, str]:
    return {name: text for name, text in (page.form(PATH) | changed).items() if text}


def test_each_text_is_shown_with_the_name_marked_and_what_is_sure_is_ticked(
    rose: Store, counter: Counter
) -> None:
    page = counter.get(PATH)
    assert _ticks(page) == {
        "Cousin of Rose Tarrowmere . Hollis Fane, notes of another customer": True,
        "Reach through 01632-960-733 Hollis Fane, notes of another customer": True,
        "Wants a rose in the mat Hollis Fane, notes of another customer": False,
    }
    assert [words(mark) for mark in page.each(tag="mark")] == [
        "Rose Tarrowmere",
        "01632-960-733",
        "rose",
    ]
    for known in (ROSE.name, ROSE.phone, ROSE.email, ROSE.address):
        assert known in page.main


def test_only_what_is_ticked_is_cleared(rose: Store, counter: Counter) -> None:
    done = counter.go(PATH, _sent(counter.get(PATH)))
    assert "deleted. 2 other texts are cleared." in done.text
    notes = [counter.get(f"/customers/{number}").main for number in (2, 3, 4)]
    assert "Cousin of …." in notes[0]
    assert "Reach through …" in notes[1]
    assert "Wants a rose in the mat" in notes[2]


def test_other_names_are_looked_for_and_ticks_stay(rose: Store, counter: Counter) -> None:
    customers.add(
        rose,
        Customer(name="Ida Vell", notes="Was at school with Rosie Underhay"),
        Stamp(who="", now=NOW),
    )
    page = counter.get(PATH)
    flower = next(
        name for name in page.fields if name.startswith("text.") and not page.fields[name]
    )
    again = counter.post(PATH, _sent(page, action="look", also="Rosie Underhay\n", **{flower: "1"}))
    assert again.status == 200
    assert again.fields["also"].strip() == "Rosie Underhay"
    assert set(_ticks(again).values()) == {True}
    assert len(_ticks(again)) == 4
    counter.go(PATH, _sent(again))
    assert "Was at school with …" in counter.get("/customers/5").main
    assert "Wants a … in the mat" in counter.get("/customers/4").main


def test_all_parts_of_a_name_are_ticked_and_none_by_a_button(rose: Store, counter: Counter) -> None:
    assert "Tick each part of a name" not in counter.get(PATH).main  # there is but one
    customers.add(rose, Customer(name="Ida Vell", notes="Likes a rose"), Stamp(who="", now=NOW))
    page = counter.get(PATH)
    assert list(_ticks(page).values()) == [True, True, False, False]
    assert "Tick each part of a name" in page.main
    page = counter.post(PATH, _sent(page, action="all"))
    assert page.status == 200
    assert list(_ticks(page).values()) == [True, True, True, True]
    page = counter.post(PATH, _sent(page, action="none"))
    assert list(_ticks(page).values()) == [True, True, False, False]
    assert counter.get("/customers/1").heading == ROSE.name


def test_a_word_that_stands_everywhere_is_not_looked_for(rose: Store, counter: Counter) -> None:
    for action in ("look", "remove"):
        answer = counter.post(PATH, _sent(counter.get(PATH), action=action, also="of"))
        assert answer.status == 422
        assert (
            "“of” has 2 characters and stands nearly everywhere; type 3 or more."
            in answer.error("also")
        )
    assert counter.get("/customers/1").heading == ROSE.name


def test_what_came_up_meanwhile_is_shown_before_anything_is_deleted(
    rose: Store, counter: Counter
) -> None:
    page = counter.get(PATH)
    customers.add(
        rose, Customer(name="Ida Vell", notes="For Rose Tarrowmere"), Stamp(who="", now=NOW)
    )
    answer = counter.post(PATH, _sent(page))
    assert answer.status == 409
    assert "other texts name the customer" in answer.main
    assert "For Rose Tarrowmere" in answer.main
    counter.go(PATH, _sent(answer))
    assert ROSE.name not in counter.get("/customers").main


def test_copies_are_listed_with_their_dates_and_made_anew(rose: Store, counter: Counter) -> None:
    copy = back_up(rose, rose.path.parent / "backups", now=NOW)
    page = counter.get(PATH)
    assert copy.name in page.main
    assert re.search(r"25 Nov 2026, \d\d:30, copy", page.main)
    done = counter.go(PATH, _sent(page))
    assert "1 copy is made anew." in done.text
    assert b"tarrowmere" not in copy.read_bytes().lower()


def test_copies_that_are_left_are_said_to_keep_the_record(rose: Store, counter: Counter) -> None:
    copy = back_up(rose, rose.path.parent / "backups", now=NOW)
    page = counter.get(PATH)
    assert "they keep the record until you delete them" in page.main
    counter.go(PATH, _sent(page, copies="kept"))
    assert b"tarrowmere" in copy.read_bytes().lower()


def test_what_stays_is_said(rose: Store, counter: Counter) -> None:
    page = counter.get(PATH)
    assert "There are no quotes or orders under this name." in page.main
    assert "Invoices that were issued stay as they are" in page.main
    assert "your tax adviser knows" in page.main
    assert "exported, printed or copied elsewhere is not reached" in page.main


def test_deleting_twice_changes_nothing_more(rose: Store, counter: Counter) -> None:
    form = _sent(counter.get(PATH))
    counter.go(PATH, form)
    counter.go(PATH, form)
    assert counter.get(PATH).heading == "Delete removed customer?"
