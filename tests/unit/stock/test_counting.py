"""A stock count and the taking back of movements. Figures by hand."""

import pytest

from app.errors import Conflict, Invalid
from app.lengths import mm
from app.stock.counting import compare
from app.stock.movements import Movement, MovementKind, NewMovement, contrary
from tests.builders.rack import NOW, offcut, sticks
from tests.builders.values import EUR, euro

ITEMS = (sticks(1, 5), sticks(2, 2, cost="30.00"), offcut(3, mm(740), "6.96"))


def test_a_count_says_what_is_more_and_what_is_less_and_its_worth() -> None:
    count = compare(ITEMS, {1: 3, 2: 3, 3: 1}, EUR)
    # 2 sticks of 28.20 are missing, 1 of 30.00 was found.
    assert [(each.kept.id, each.change, each.value) for each in count.changed] == [
        (1, -2, euro("-56.40")),
        (2, 1, euro("30.00")),
    ]
    assert (count.found, count.missing, count.value) == (
        euro("30.00"),
        euro("56.40"),
        euro("-26.40"),
    )
    assert len(count.items) == 3


def test_what_was_not_counted_is_left_alone() -> None:
    count = compare(ITEMS, {2: 2}, EUR)
    assert [each.kept.id for each in count.items] == [2]
    assert (count.changed, count.value) == ((), euro("0"))


def test_a_count_is_written_down_even_where_nothing_changed() -> None:
    (agreed,) = compare(ITEMS, {2: 2}, EUR).items
    movement = agreed.movement(at=NOW, by="Ilse", note="yearly")
    assert (movement.kind, movement.change, movement.note) == (MovementKind.COUNTED, 0, "yearly")


@pytest.mark.parametrize("count", [-1, 100_001])
def test_a_count_that_no_rack_holds_is_refused_at_its_item(count: int) -> None:
    with pytest.raises(Invalid) as caught:
        compare(ITEMS, {1: count, 2: 2}, EUR)
    assert [fault.path for fault in caught.value.faults] == ["count.1"]


def written(
    movement_id: int, kind: MovementKind, change: int, undoes: int | None = None
) -> Movement:
    entry = NewMovement(
        kind=kind, change=change, at=NOW, by="Ilse", plan_id=8, line_id=9, takes_back=undoes
    )
    return Movement(id=movement_id, item_id=1, entry=entry)


RECORD = (
    written(1, MovementKind.BOUGHT, 5),
    written(2, MovementKind.SPOILED, -2),
    written(3, MovementKind.TAKEN_BACK, 2, undoes=2),
    written(4, MovementKind.COUNTED, 0),
)


def test_a_mistake_is_undone_by_its_contrary_which_stays_with_the_same_work() -> None:
    undo = contrary(RECORD, 1, at=NOW, by="Bo")
    assert (undo.kind, undo.change, undo.takes_back, undo.by) == (
        MovementKind.TAKEN_BACK,
        -5,
        1,
        "Bo",
    )
    assert (undo.plan_id, undo.line_id) == (8, 9)


@pytest.mark.parametrize(
    ("movement_id", "said"),
    [
        (7, "not one of this item"),
        (2, "undone already"),
        (3, "stays so"),
        (4, "nothing to undo"),
    ],
)
def test_what_cannot_be_taken_back_says_why(movement_id: int, said: str) -> None:
    with pytest.raises(Conflict, match=said):
        contrary(RECORD, movement_id, at=NOW, by="Bo")
