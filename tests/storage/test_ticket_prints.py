"""The prints of tickets: noted once for each version, in a record that only grows, and told of after a change (M7)."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from app.bench import usual_cutter
from app.errors import Conflict, NotFound
from app.lengths import Unit, mm
from app.orders import Stage
from app.orders.printed import TicketPrint, in_words
from app.services import orders, quotes
from app.services import shop as shops
from app.services import stages as progress
from app.services import ticket_prints as prints
from app.services.bench import PieceAt, tick
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.storage.engine import migrate_new
from tests.builders.kept import ACT, SHOP, TYPED, later, piece
from tests.builders.order_now import order_at

LATER = later(hours=2)
GLAZING = "glazing-cut"


@pytest.fixture
def order(store: Store) -> int:
    """An ordered piece: two mats, glazing, backing, one frame.

    By hand: 420 × 297 less 5 at each edge is 410 × 287; reveal 6: 422 × 299; borders 60, 60, 60, 70: package
    542 × 429; rebate 545 × 432; face 20, lip 6: rails 545 + 28 = 573 and 460.
    """
    order_id = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    progress.take_order(store, order_at(store, order_id), progress.Terms(), ACT)
    return order_id


def print_ticket(store: Store, order: int, act: Stamp = ACT) -> prints.PrintRun:
    run = prints.prepare(store, order, None, act)
    assert prints.note(store, run)
    return run


def kept(store: Store, order: int) -> tuple[TicketPrint, ...]:
    ids = [each.id for each in orders.get(store, order).pieces]
    with store.reading() as work:
        return tuple(each for of in work.ticket_prints.of_pieces(ids).values() for each in of)


def change(store: Store, order: int, **typed: str) -> None:
    orders.replace_piece(store, order_at(store, order), 1, piece(**typed), LATER)


def told(store: Store, order: int) -> prints.Printed | None:
    shop = shops.get(store).value
    kept = orders.get(store, order)
    return prints.printed_tickets(store, kept, kept.pieces, shop).get(1)


def said(store: Store, order: int) -> tuple[str, ...]:
    printed = told(store, order)
    assert printed is not None
    return in_words(printed.changes)


def correct_the_scale(store: Store) -> None:
    """By half a millimetre: what was set at 60 is set at 59.5."""
    corrected = replace(usual_cutter(Unit.MM), guide_correction=mm("-0.5"))
    old = shops.get(store)
    shops.save(store, replace(old.value, cutters=(corrected,)), old.version, ACT)


def test_what_was_never_printed_is_not_spoken_of(store: Store, order: int) -> None:
    change(store, order, borders__left="80")
    assert told(store, order) is None
    assert prints.changed_since_printed(store, shops.get(store).value) == ()


def test_a_print_says_when_by_whom_and_of_what(store: Store, order: int) -> None:
    run = print_ticket(store, order)
    (noted,) = kept(store, order)
    assert (noted.at, noted.by, noted.version) == (ACT.now, "Ilse", 1)
    assert "Mat cutter" in noted.cutter
    with store.reading() as work:
        assert [noted.snapshot_id] == list(
            work.ticket_prints.last_snapshots([run.order.pieces[0].id]).values()
        )
    says = {fact.part: fact.says for fact in noted.facts.facts}
    assert (says["frame-1"], says["glazing"]) == ("573 / 460", "542 × 429")
    assert run.versions[1].copy is False


def test_to_prepare_alone_notes_nothing(store: Store, order: int) -> None:
    prints.prepare(store, order, None, ACT)
    assert kept(store, order) == ()


def test_another_due_day_or_note_of_the_order_is_told_and_known_on_the_next_print(
    store: Store, order: int
) -> None:
    orders.set_due(store, order_at(store, order), date(2026, 12, 10), ACT)
    print_ticket(store, order)
    orders.set_due_and_note(store, order_at(store, order), date(2026, 12, 17), "Ring the bell", ACT)
    differs = (
        "due day: Thu 10 Dec 2026 is now Thu 17 Dec 2026",
        "notes to the order: Ring the bell are new",
    )
    assert said(store, order) == differs
    shop = shops.get(store).value
    assert [each.number for each in prints.changed_since_printed(store, shop)] == [1]
    second = print_ticket(store, order, LATER).versions[1]
    assert (second.version, second.copy, second.replaces) == (2, False, ACT.now)
    assert in_words(second.changes) == differs
    assert said(store, order) == ()
    assert prints.changed_since_printed(store, shop) == ()
    assert print_ticket(store, order, LATER).versions[1].copy


def test_the_same_again_is_a_copy_and_is_not_noted(store: Store, order: int) -> None:
    print_ticket(store, order)
    again = print_ticket(store, order, LATER)
    assert (again.versions[1].copy, again.versions[1].at) == (True, ACT.now)
    assert len(kept(store, order)) == 1
    assert said(store, order) == ()


def test_a_change_is_told_of_until_it_is_printed(store: Store, order: int) -> None:
    """With 28 more at left and right: package 542 + 56, rails 573 + 56; heights as they were."""
    print_ticket(store, order)
    change(store, order, borders__left="88", borders__right="88")
    assert "rails: 573 / 460 are now 629 / 460" in said(store, order)
    assert "mat 1, glazing, backing: 542 × 429 are now 598 × 429" in said(store, order)
    printed = told(store, order)
    assert printed is not None
    assert printed.of_piece
    assert [
        each.order_id for each in prints.changed_since_printed(store, shops.get(store).value)
    ] == [order]

    version = print_ticket(store, order, LATER).versions[1]
    assert (version.version, version.replaces) == (2, ACT.now)
    assert "rails: 573 / 460 are now 629 / 460" in in_words(version.changes)
    assert said(store, order) == ()
    assert prints.changed_since_printed(store, shops.get(store).value) == ()
    assert [each.version for each in kept(store, order)] == [1, 2]


def test_a_corrected_scale_is_told_of_as_a_setting(store: Store, order: int) -> None:
    print_ticket(store, order)
    correct_the_scale(store)
    printed = told(store, order)
    assert printed is not None
    assert not printed.of_piece
    assert "guide for mat 1 right and top and left: 60 is now 59.5" in said(store, order)
    assert [
        each.order_id for each in prints.changed_since_printed(store, shops.get(store).value)
    ] == [order]
    assert print_ticket(store, order, LATER).versions[1].version == 2


def test_other_settings_of_the_shop_make_no_paper_old(store: Store, order: int) -> None:
    print_ticket(store, order)
    old = shops.get(store)
    shops.save(store, replace(old.value, name="Kesselhof & Daughter"), old.version, ACT)
    assert said(store, order) == ()
    assert prints.changed_since_printed(store, shops.get(store).value) == ()
    assert print_ticket(store, order, LATER).versions[1].copy


def test_once_all_is_cut_a_corrected_scale_is_no_matter(store: Store, order: int) -> None:
    print_ticket(store, order)
    correct_the_scale(store)
    progress.move_piece(store, order_at(store, order), 1, Stage.CUT, ACT)
    assert said(store, order) == ()
    assert prints.changed_since_printed(store, shops.get(store).value) == ()


def test_what_is_framed_has_no_paper_to_tell_of(store: Store, order: int) -> None:
    print_ticket(store, order)
    for stage in (Stage.CUT, Stage.FRAMED):
        progress.move_piece(store, order_at(store, order), 1, stage, ACT)
    assert told(store, order) is None


def test_a_change_that_is_taken_back_leaves_the_paper_as_good(store: Store, order: int) -> None:
    print_ticket(store, order)
    change(store, order, borders__left="80")
    change(store, order)
    assert said(store, order) == ()
    assert print_ticket(store, order, LATER).versions[1].copy


def test_two_tabs_that_print_at_once_note_one_print(store: Store, order: int) -> None:
    one, other = (prints.prepare(store, order, None, act) for act in (ACT, LATER))
    assert prints.note(store, one)
    assert not prints.note(store, other)
    again = prints.prepare(store, order, None, LATER)
    assert (again.versions[1].copy, again.versions[1].at) == (True, ACT.now)
    assert len(kept(store, order)) == 1


def test_a_print_of_what_was_changed_meanwhile_is_noted_as_what_it_says(
    store: Store, order: int
) -> None:
    """One tab prints while the other saves: the paper has the old figures, and is old at once."""
    run = prints.prepare(store, order, None, ACT)
    change(store, order, borders__left="88", borders__right="88")
    assert prints.note(store, run)
    assert "rails: 573 / 460 are now 629 / 460" in said(store, order)


def test_all_pieces_of_an_order_are_noted_each(store: Store) -> None:
    quote = quotes.save_new(store, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    orders.add_piece(store, order_at(store, quote), piece(artwork__title="Dunes"), ACT)
    progress.take_order(store, order_at(store, quote), progress.Terms(), ACT)
    run = prints.prepare(store, quote, 2, ACT)
    assert prints.note(store, run)
    both = print_ticket(store, quote, LATER)
    assert {number: version.copy for number, version in both.versions.items()} == {
        1: False,
        2: True,
    }
    assert len(kept(store, quote)) == 2


def test_what_was_ticked_by_the_old_ticket_is_said_on_the_new_one(store: Store, order: int) -> None:
    print_ticket(store, order)
    for step in (GLAZING, "fit"):
        tick(store, PieceAt(order_id=order, number=1), step, ACT, ticked=True)
    change(store, order, borders__left="88", borders__right="88")
    (done,) = prints.prepare(store, order, None, LATER).versions[1].done
    assert done.startswith("cut the glazing 542 × 429")
    assert " × glazing" not in done


def test_nothing_is_printed_of_what_is_not_there(store: Store, order: int) -> None:
    with pytest.raises(NotFound):
        prints.prepare(store, order, 7, ACT)
    with pytest.raises(NotFound):
        prints.prepare(store, 999, None, ACT)
    progress.move_piece(store, order_at(store, order), 1, Stage.CANCELLED, ACT)
    with pytest.raises(Conflict, match="no piece that is still to be made"):
        prints.prepare(store, order, None, ACT)


@pytest.mark.parametrize(
    "statement", ["UPDATE ticket_prints SET facts = ''", "DELETE FROM ticket_prints"]
)
def test_the_record_of_prints_only_grows(
    store: Store, order: int, path: Path, statement: str
) -> None:
    print_ticket(store, order)
    with (
        closing(sqlite3.connect(path)) as connection,
        pytest.raises(sqlite3.IntegrityError, match="append-only"),
    ):
        connection.execute(statement)


def test_data_from_before_prints_were_noted_say_nothing_of_any(path: Path) -> None:
    migrate_new(path, "0015")
    with Store.open(path) as store, store.reading() as work:
        assert work.ticket_prints.of_pieces([1]) == {}
        assert work.ticket_prints.printed_before("") == {}
