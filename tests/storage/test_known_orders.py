"""A writer begins with an order as the last write left it, and reads of it only what it wrote itself."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace

import pytest

from app.orders import Customer, DesignAct, Order, Stage, StageChange
from app.services import customers, orders
from app.storage import SENT, SentForm, Store, UnitOfWork
from app.storage.tables.orders import Orders
from tests.builders.kept import ACT, TODAY, piece
from tests.storage.plan_work import ordered

type Write = Callable[[UnitOfWork, Order], object]

LARGER = piece(artwork__size="620 x 397", copies="2")


def _changed(order: Order) -> StageChange:
    return StageChange(old=order.stage, new=Stage.CUT, at=ACT.now, by=ACT.who)


WRITES: dict[str, Write] = {
    "nothing": lambda _, order: order,
    "a piece is added": lambda work, order: work.orders.add_piece(order.id, LARGER, ACT),
    "a piece is agreed anew": lambda work, order: work.orders.agree_design(
        order.pieces[1].id, replace(order.pieces[1].counted, agreed=LARGER.agreed), ACT
    ),
    "a design is added": lambda work, order: work.orders.add_design(
        order.pieces[0].id, LARGER.agreed, ACT
    ),
    "a design is taken": lambda work, order: work.orders.note_design(
        order.pieces[0].id, 1, DesignAct.TAKEN, ACT
    ),
    "an artwork is called otherwise": lambda work, order: work.orders.write_artwork(
        order.pieces[1].id, replace(order.pieces[1].artwork, title="Estuary")
    ),
    "the second of three is removed": lambda work, order: work.orders.remove_piece(
        order.pieces[1].id, now=ACT.now
    ),
    "the last one is cut": lambda work, order: work.orders.add_change(
        order.pieces[2].id, _changed(order)
    ),
    "it is due another day": lambda work, order: work.orders.write_head(
        replace(order, due=TODAY, note="Ring first")
    ),
    "it is given to another customer": lambda work, order: work.orders.give(
        order.customer_id,
        work.customers.add(Customer(name="Ilse Quill"), now=ACT.now),
        now=ACT.now,
    ),
}


@pytest.mark.parametrize("what", WRITES)
@pytest.mark.parametrize("looked_at", [True, False])
def test_a_claimed_order_stands_as_it_would_be_read_anew(
    store: Store, what: str, looked_at: bool
) -> None:
    order_id = ordered(store, piece(), piece(), piece())
    version = orders.get(store, order_id).version
    if not looked_at:
        customers.add(store, Customer(name="Somebody else"), ACT)
    with store.writing() as work:
        order = work.orders.claim(order_id, version)
        WRITES[what](work, order)
        now = work.orders.get(order_id)
        assert now == Orders(work.session).get(order_id)
        assert now.version > version
        assert (now != order) == (what != "nothing")


def test_what_was_read_since_the_last_write_is_not_read_by_the_next(store: Store) -> None:
    order_id = ordered(store, piece(), piece())
    known = orders.get(store, order_id)
    assert orders.get(store, order_id) is known
    with store.writing() as work:
        claimed = work.orders.claim(order_id, known.version)
        assert claimed == replace(known, version=known.version + 1)
        assert claimed.pieces is known.pieces
    assert orders.get(store, order_id) is not known, "another version of it is kept now"


def test_the_form_that_asks_for_a_write_is_kept_before_it_and_is_no_write_of_an_order(
    store: Store,
) -> None:
    order_id = ordered(store)
    known = orders.get(store, order_id)
    form = SentForm.of(
        "key", f"/orders/{order_id}/pieces", {"artwork.title": "Estuary"}, at=ACT.now
    )
    before = SENT.set(form)
    try:
        with store.writing() as work:
            assert work.orders.claim(order_id, known.version).pieces is known.pieces
    finally:
        SENT.reset(before)


def test_who_has_written_already_reads_it_anew(store: Store) -> None:
    order_id = ordered(store)
    known = orders.get(store, order_id)
    customer = customers.get(store, known.customer_id)
    with store.writing() as work:
        renamed = replace(customer.value, name="Ilse Quill")
        work.customers.save(known.customer_id, renamed, customer.version, now=ACT.now)
        claimed = work.orders.claim(order_id, known.version)
    assert (known.customer_name, claimed.customer_name) == ("Amber Quill", "Ilse Quill")


def test_what_another_program_wrote_meanwhile_is_read(store: Store) -> None:
    order_id = ordered(store)
    known = orders.get(store, order_id)
    theirs = "import sqlite3, sys; file = sqlite3.connect(sys.argv[1]); file.execute(sys.argv[2]); file.commit()"
    act = f"UPDATE orders SET version = version + 1, note = 'Ring first' WHERE id = {order_id}"
    subprocess.run((sys.executable, "-c", theirs, str(store.path), act), check=True)
    with store.writing() as work:
        assert work.orders.claim(order_id, known.version + 1).note == "Ring first"


def test_what_was_taken_back_is_known_to_nobody(store: Store) -> None:
    order_id = ordered(store)
    version = orders.get(store, order_id).version

    def write(work: UnitOfWork) -> None:
        work.orders.claim(order_id, version)
        work.orders.add_piece(order_id, piece(), ACT)
        assert len(work.orders.get(order_id).pieces) == 2
        raise LookupError("the power went")

    with pytest.raises(LookupError), store.writing() as work:
        write(work)
    assert len(orders.get(store, order_id).pieces) == 1
    with store.writing() as work:
        assert len(work.orders.claim(order_id, version).pieces) == 1
