"""What follows from rows that are written once is kept in memory, and never told of anything else."""

from collections.abc import Sequence
from datetime import date

import pytest

from app.lengths import Size, mm
from app.orders import Agreed, Customer
from app.services import orders
from app.services.open_work import open_work, pieces_in_work
from app.services.orders import OrderAt, QuoteHead, add_quote
from app.services.shortages import states_of_pieces, what_to_buy
from app.stock.material_states import MaterialState
from app.storage import Store, UnitOfWork
from app.storage.memo import Memo
from app.storage.snapshots import AGREED
from tests.builders.kept import ACT, piece
from tests.storage.plan_work import MONTH, ordered, piece_ids
from tests.storage.test_services_stock import receive


def test_what_was_made_is_not_made_again() -> None:
    lasting, made = Memo(), iter(range(9))
    assert [lasting.of("a", 1, lambda: next(made)) for _ in range(3)] == [0, 0, 0]
    assert lasting.of("b", 1, lambda: next(made)) == 1


def test_what_was_not_asked_for_longest_goes_first() -> None:
    lasting, made = Memo(most=2), iter(range(9))
    asked = [lasting.of("a", key, lambda: next(made)) for key in (1, 2, 1, 3, 1, 2)]
    assert asked == [0, 1, 0, 2, 0, 3]


def test_a_kind_may_keep_fewer() -> None:
    lasting, made = Memo(), iter(range(9))
    assert [lasting.of("a", key, lambda: next(made), most=1) for key in (1, 2, 1)] == [0, 1, 2]


def test_what_fails_is_tried_again() -> None:
    lasting = Memo()

    def fail() -> int:
        raise LookupError("not yet")

    with pytest.raises(LookupError):
        lasting.of("a", 1, fail)
    assert lasting.of("a", 1, lambda: 5) == 5


def test_a_writer_finds_what_is_remembered_of_rows_that_are_written_once_alone() -> None:
    lasting = Memo()
    lasting.of("agreed", 1, lambda: "agreed by 1")
    lasting.of("material", (1, 1), lambda: "as it was")
    writer = lasting.of_writer()
    assert writer.of("agreed", 1, lambda: "read again") == "agreed by 1"
    assert writer.of("material", (1, 1), lambda: "as it is written") == "as it is written"


def test_what_a_writer_made_is_told_to_nobody_until_it_is_committed() -> None:
    lasting = Memo()
    writer = lasting.of_writer()
    assert writer.several("agreed", [2, 3], lambda keys: {key: -key for key in keys}) == {
        2: -2,
        3: -3,
    }
    writer.of("in work", 1, lambda: "only now")
    assert (lasting.size("agreed"), lasting.size("in work")) == (0, 0)
    writer.hand_over()
    assert (lasting.size("agreed"), lasting.size("in work")) == (2, 0)
    assert lasting.of("agreed", 2, lambda: "read again") == -2


def test_of_several_only_those_are_made_that_are_not_known() -> None:
    lasting, asked = Memo(), list[list[int]]()

    def make(keys: Sequence[int]) -> dict[int, int]:
        asked.append(list(keys))
        return {key: key * 10 for key in keys}

    assert lasting.several("agreed", [1, 3], make) == {1: 10, 3: 30}
    assert list(lasting.several("agreed", [4, 3, 2], make).items()) == [(4, 40), (3, 30), (2, 20)]
    assert asked == [[1, 3], [4, 2]]


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every text of what was agreed that is decoded from now on."""
    texts: list[str] = []
    really = AGREED.read

    def counted(text: str) -> Agreed:
        texts.append(text)
        return really(text)

    monkeypatch.setattr(AGREED, "read", counted)
    return texts


def test_a_piece_that_is_added_is_the_only_one_that_is_read_however_many_there_are(
    store: Store, read: list[str]
) -> None:
    order, counts = ordered(store), list[int]()
    for _ in range(12):
        read.clear()
        at = OrderAt(id=order, version=orders.get(store, order).version)
        orders.add_piece(store, at, piece(), ACT)
        counts.append(len(read))
    assert counts == [1] * 12, "its own, when the order is settled"
    read.clear()
    assert len(orders.get(store, order).pieces) == 13
    assert read == [], "what a writer read is known once it is committed"


def test_a_write_that_was_taken_back_leaves_nothing_that_it_read(store: Store) -> None:
    def write(work: UnitOfWork) -> None:
        work.orders.add_piece(order, piece(artwork__size="620 x 397"), ACT)
        assert len(work.orders.get(order).pieces) == 2
        raise LookupError("the power went")

    order = ordered(store)
    with pytest.raises(LookupError), store.writing() as work:
        write(work)
    at = OrderAt(id=order, version=orders.get(store, order).version)
    orders.add_piece(store, at, piece(artwork__title="The one that was kept"), ACT)
    kept = orders.get(store, order).pieces[1]
    assert kept.artwork.title == "The one that was kept"
    assert kept.agreed.typed["artwork.size"] == "420 x 297"


def mats(store: Store) -> list[Size | None]:
    return [part.size for part in open_work(store).parts if part.key == "mat-1"]


SMALL, LARGE = Size(mm(542), mm(429)), Size(mm(742), mm(529))
"""The package of 420 × 297 (`plan_work`), and of 620 × 397: each side larger by as much as the artwork."""


def test_what_a_write_made_and_took_back_is_not_remembered_under_its_id(store: Store) -> None:
    def write(work: UnitOfWork) -> None:
        id = work.customers.add(Customer(name="Amber Quill"), now=ACT.now)
        head = QuoteHead(customer_id=id, valid_until=MONTH)
        order = work.orders.get(add_quote(work, head, (piece(),), ACT))
        found, _ = pieces_in_work(work, work.open_pieces.get(each.id for each in order.pieces))
        assert [part.part.size for part in found[0].parts if part.part.key == "mat-1"] == [SMALL]
        raise LookupError("the power went")

    with pytest.raises(LookupError), store.writing() as work:
        write(work)
    ordered(store, piece(artwork__size="620 x 397"))
    assert mats(store) == [LARGE]


def test_a_piece_that_is_agreed_anew_has_its_new_parts(store: Store) -> None:
    order = ordered(store)
    assert mats(store) == [SMALL]
    at = OrderAt(id=order, version=orders.get(store, order).version)
    orders.replace_piece(store, at, 1, piece(artwork__size="620 x 397"), ACT)
    assert mats(store) == [LARGE]


def test_another_due_date_and_number_are_seen_at_once(store: Store) -> None:
    order = ordered(store, due=None)
    assert open_work(store).parts[0].piece.due is None
    at = OrderAt(id=order, version=orders.get(store, order).version)
    orders.set_due(store, at, date(2026, 12, 24), ACT)
    assert open_work(store).parts[0].piece.due == date(2026, 12, 24)


def test_what_comes_to_the_rack_is_seen_at_once_though_the_question_was_answered(
    store: Store,
) -> None:
    (piece_id,) = piece_ids(store, ordered(store))

    def now() -> tuple[MaterialState, list[str]]:
        state = states_of_pieces(store, [piece_id])[piece_id]["LIN-20"]
        groups = what_to_buy(store).suppliers
        return state, [each.material.code for group in groups for each in group.purchases]

    state, short = now()
    assert (state, "LIN-20" in short) == (MaterialState.TO_BUY, True)
    receive(store, 1)
    state, short = now()
    assert (state, "LIN-20" in short) == (MaterialState.IN_HAND, False)
