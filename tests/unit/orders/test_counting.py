"""Which pieces of an order count, and how a piece is called among them."""

from dataclasses import replace

import pytest

from app.orders import Stage
from tests.builders.printed import SKETCH, an_order, in_stage

THREE = an_order(SKETCH, SKETCH, SKETCH)


def test_pieces_are_called_by_their_numbers_among_all() -> None:
    assert [THREE.called(piece) for piece in THREE.pieces] == [
        "piece 1 of 3",
        "piece 2 of 3",
        "piece 3 of 3",
    ]


@pytest.mark.parametrize("stage", [Stage.DECLINED, Stage.CANCELLED])
def test_what_left_the_way_does_not_count_and_no_number_moves(stage: Stage) -> None:
    order = in_stage(THREE, stage, number=2)
    assert [piece.number for piece in order.counting] == [1, 3]
    assert [order.called(piece) for piece in order.pieces] == [
        "piece 1, 2 in all",
        "piece 2",
        "piece 3, 2 in all",
    ]
    last = in_stage(THREE, stage, number=3)
    assert last.called(last.pieces[0]) == "piece 1 of 2"


def test_a_removed_piece_leaves_its_number_out() -> None:
    order = replace(THREE, pieces=THREE.pieces[1:])
    assert order.called(order.pieces[0]) == "piece 2, 2 in all"
