"""Printed is known (M7): what a ticket, its order, its bench and the desk say of the paper in the shop."""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from sqlalchemy import text

from app.bench import usual_cutter
from app.lengths import Unit, mm
from app.services import orders, quotes
from app.services import shop as shops
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.storage.errors import CannotWrite
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown
from tests.web.test_orders import do
from tests.web.test_papers import text_of

ACT = Stamp(who="Ilse", now=NOW)

pytestmark = pytest.mark.documents


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    """The address of the worked piece, ordered: package 600 × 500, rails 630 and 530."""
    asked = CustomerRequest(name="Amber Quill")
    address = f"/orders/{quotes.save_new(stocked, asked, TYPED, SHOP, ACT)}"
    do(counter, address, "take", deposit="")
    return address


@pytest.fixture
def ticket(order: str) -> str:
    return f"{order}/pieces/1/ticket.pdf"


def change(counter: Counter, order: str, **typed: str) -> Shown:
    """Agree the piece anew, with some fields typed otherwise."""
    page = counter.get(f"{order}/pieces/1/change")
    fields = {name.replace("__", "."): value for name, value in typed.items()}
    action = f"{order}/pieces/1"
    return counter.change(action, page.form(action) | fields | {"action": "save"})


def widen(counter: Counter, order: str) -> Shown:
    """14 more at left and right: package 628 × 500, rails 658 and 530."""
    return change(counter, order, borders__left="104", borders__right="104")


def noted(store: Store) -> int:
    with store.reading() as work:
        return int(work.session.execute(text("SELECT count(*) FROM ticket_prints")).scalar_one())


def test_before_any_print_no_page_speaks_of_one(counter: Counter, order: str) -> None:
    widen(counter, order)
    for path in (order, f"{order}/pieces/1", "/"):
        shown = counter.get(path).main
        assert not [
            said for said in ("icket printed", "before this change", "print again") if said in shown
        ]


def test_a_ticket_carries_its_version_and_a_copy_says_that_it_is_one(
    counter: Counter, clock: Clock, ticket: str, stocked: Store
) -> None:
    clock.time = NOW.replace(hour=7, minute=2)
    assert "Version 1, printed 07:02" in text_of(counter, ticket)
    clock.time = NOW.replace(hour=9, minute=10)
    copy = text_of(counter, ticket)
    assert "Copy of version 1, printed 07:02" in copy
    assert "replaces" not in copy
    assert noted(stocked) == 1


def test_a_copy_on_another_day_says_the_day(counter: Counter, clock: Clock, ticket: str) -> None:
    text_of(counter, ticket)
    clock.time = NOW.replace(day=27)
    assert "Copy of version 1, printed Wed 25 Nov 2026, 10:30" in text_of(counter, ticket)


def test_a_change_after_printing_is_said_until_the_new_ticket_is_printed(
    counter: Counter, clock: Clock, order: str, ticket: str
) -> None:
    clock.time = NOW.replace(hour=7, minute=2)
    text_of(counter, ticket)
    assert "Ticket printed 07:02, version 1." in counter.get(order).main
    clock.time = NOW.replace(hour=8)
    widen(counter, order)
    for path in (order, f"{order}/pieces/1"):
        page = counter.get(path)
        assert "Printed 07:02, before this change:" in page.words("printed-old")
        assert "rails: 630 / 530 are now 658 / 530" in page.words("printed-old")
        assert "mat 1, glazing, backing: 600 × 500 are now 628 × 500" in page.main
        assert page.links()["Print the new ticket (PDF)"] == ticket
    desk = counter.get("/")
    assert "Printed and changed since: print again" in desk.main
    assert "Harbour at dusk, Amber Quill" in desk.main

    clock.time = NOW.replace(hour=9, minute=10)
    paper = text_of(counter, ticket)
    assert "Version 2, printed 09:10" in paper
    assert "replaces the one printed 07:02" in paper
    assert "rails: 630 / 530 are now 658 / 530" in paper
    for path in (order, f"{order}/pieces/1"):
        assert not counter.get(path).has("printed-old")
    assert "print again" not in counter.get("/").main
    assert "Copy of version 2, printed 09:10" in text_of(counter, ticket)


def test_a_corrected_scale_is_said_as_settings_that_changed(
    counter: Counter, order: str, ticket: str, stocked: Store
) -> None:
    text_of(counter, ticket)
    kept = shops.get(stocked)
    corrected = replace(usual_cutter(Unit.MM), guide_correction=mm("-0.5"))
    shops.save(stocked, replace(kept.value, cutters=(corrected,)), kept.version, ACT)
    said = counter.get(f"{order}/pieces/1").words("printed-old")
    assert "Printed 10:30, settings changed since:" in said
    # By hand: mat 1 has 90 left and right, 80 at the top, 100 at the bottom.
    assert "guide for mat 1 top: 80 is now 79.5" in said
    assert "rails" not in said


def test_another_place_of_the_artwork_is_told_on_the_pages_of_order_and_piece(
    counter: Counter, order: str, ticket: str
) -> None:
    change(counter, order, artwork__place="Rack B2")
    text_of(counter, ticket)
    assert not list(counter.get(order).each("printed-old"))
    change(counter, order, artwork__place="Rack C1")
    for path in (order, f"{order}/pieces/1"):
        said = counter.get(path).words("printed-old")
        assert "before this change: place: Rack B2 is now Rack C1" in said


def test_another_due_day_is_told_on_the_pages_of_order_and_piece(
    counter: Counter, clock: Clock, order: str, ticket: str
) -> None:
    do(counter, order, "terms", terms__due="2026-12-10")
    clock.time = NOW.replace(hour=7, minute=2)
    text_of(counter, ticket)
    clock.time = NOW.replace(hour=8)
    do(counter, order, "terms", terms__due="2026-12-14")
    for path in (order, f"{order}/pieces/1"):
        said = counter.get(path).words("printed-old")
        assert "Printed 07:02, before this change:" in said
        assert "due day: Thu 10 Dec 2026 is now Mon 14 Dec 2026" in said
    assert "Printed and changed since: print again" in counter.get("/").main
    text_of(counter, ticket)
    assert not counter.get(order).has("printed-old")


def test_what_was_done_before_the_change_stays_in_view(
    counter: Counter, order: str, ticket: str
) -> None:
    text_of(counter, ticket)
    bench = f"{order}/pieces/1"
    counter.post(f"{bench}/steps", {"step": "glazing-cut", "ticked": "1"})
    assert not counter.get(bench).has("done-before")
    change(counter, order, glazing__material="")
    page = counter.get(bench)
    assert "Cut the glazing 600 × 500" in page.words("done-before")
    assert "Done before the change: cut the glazing 600 × 500" in text_of(counter, ticket)


def test_all_tickets_of_an_order_note_each_piece(
    counter: Counter, stocked: Store, order: str
) -> None:
    second = {**TYPED, "artwork.title": "Dunes", "version": counter.get(order).fields["version"]}
    counter.go(f"{order}/pieces", second | {"action": "save"})
    text_of(counter, f"{order}/pieces/2/ticket.pdf")
    both = text_of(counter, f"{order}/tickets.pdf")
    assert both.count("Version 1, printed 10:30") == 1
    assert both.count("Copy of version 1, printed 10:30") == 1
    assert noted(stocked) == 2


# Sources: RFC 9110, 9.3.2 (HEAD); WHATWG Fetch (Sec-Purpose); W3C Fetch Metadata Request Headers (Sec-Fetch-Site).
@pytest.mark.parametrize(
    "headers",
    [
        {"sec-purpose": "prefetch"},
        {"sec-purpose": "prefetch;prerender"},
        {"purpose": "prefetch"},
        {"sec-fetch-site": "cross-site"},
    ],
    ids=lambda headers: " ".join((*headers, *headers.values())),
)
def test_what_nobody_asked_to_print_is_not_noted(
    counter: Counter, stocked: Store, ticket: str, headers: Mapping[str, str]
) -> None:
    answer = counter.client.get(ticket, headers=headers)
    assert answer.status_code == 200
    assert noted(stocked) == 0
    assert "Version 1" in text_of(counter, ticket)


def test_the_head_alone_is_no_print(counter: Counter, stocked: Store, ticket: str) -> None:
    assert counter.client.head(ticket).status_code == 200
    assert noted(stocked) == 0


@pytest.mark.usefixtures("made_here")
def test_what_could_not_be_made_was_not_printed(
    counter: Counter, stocked: Store, ticket: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_args: object, **_more: object) -> bytes:
        raise CannotWrite(stocked.path, "no room")

    with monkeypatch.context() as patch:
        patch.setattr("app.web.papers.ticket_printing.ticket_pdf", refuse)
        assert counter.get(ticket).status == 503
    assert noted(stocked) == 0


def test_where_nothing_can_be_written_the_paper_is_given_and_says_so(
    counter: Counter, stocked: Store, order: str, ticket: str
) -> None:
    with stocked.writing() as work:
        work.session.execute(text("PRAGMA query_only = ON"))
    try:
        paper = text_of(counter, ticket)
    finally:
        with stocked.reading():
            stocked._writers.dispose()  # the next connection may write again
    assert "This print is not on record" in paper
    assert "Version" not in paper
    assert noted(stocked) == 0
    assert "Version 1" in text_of(counter, ticket)


def test_who_printed_is_said(counter: Counter, order: str, ticket: str, stocked: Store) -> None:
    kept = shops.get(stocked)
    shops.save(stocked, replace(kept.value, people=("Ilse", "Bo")), kept.version, ACT)
    counter.client.cookies.set("bevelbook_who", "Bo")
    text_of(counter, ticket)
    assert "Ticket printed 10:30 by Bo, version 1." in counter.get(order).main


def test_a_framed_piece_says_nothing_of_its_paper(
    counter: Counter, order: str, ticket: str, stocked: Store
) -> None:
    text_of(counter, ticket)
    for stage in ("cut", "framed"):
        counter.post(
            f"{order}/pieces/1/stage",
            {"version": counter.get(order).fields["version"], "stage": stage},
        )
    assert orders.get(stocked, int(order.rpartition("/")[2])).pieces[0].stage == "framed"
    assert "Ticket printed" not in counter.get(order).main
