"""The way of a piece: what may follow what, and where an order stands."""

from itertools import pairwise

import pytest

from app.errors import Conflict
from app.orders import WAY, Stage, check_move, stage_of_order

ALLOWED = {
    *pairwise(WAY),
    (Stage.QUOTED, Stage.DECLINED),
    (Stage.DECLINED, Stage.QUOTED),
    (Stage.ORDERED, Stage.CANCELLED),
    (Stage.CUT, Stage.CANCELLED),
    (Stage.FRAMED, Stage.CANCELLED),
}


@pytest.mark.parametrize("old", Stage)
@pytest.mark.parametrize("new", Stage)
def test_a_piece_goes_step_by_step_or_leaves_the_way(old, new):
    if (old, new) in ALLOWED:
        check_move(old, new)
    else:
        with pytest.raises(Conflict, match=f"The piece is “{old}” and cannot become “{new}”"):
            check_move(old, new)


@pytest.mark.parametrize(
    ("old", "rest"),
    [
        (Stage.ORDERED, "only “cut” or “cancelled” can follow."),
        (Stage.DECLINED, "only “quoted” can follow."),
        (Stage.COLLECTED, "nothing follows it; undo it instead."),
    ],
)
def test_a_move_that_is_refused_says_what_may_follow(old, rest):
    with pytest.raises(Conflict) as raised:
        check_move(old, Stage.FRAMED)
    assert raised.value.message.endswith(rest)


@pytest.mark.parametrize(
    ("pieces", "order"),
    [
        ((), Stage.QUOTED),
        ((Stage.FRAMED, Stage.CUT, Stage.COLLECTED), Stage.CUT),
        ((Stage.DECLINED, Stage.FRAMED), Stage.FRAMED),
        ((Stage.CANCELLED, Stage.COLLECTED), Stage.COLLECTED),
        ((Stage.DECLINED, Stage.DECLINED), Stage.DECLINED),
        ((Stage.DECLINED, Stage.CANCELLED), Stage.CANCELLED),
        ((Stage.CANCELLED,), Stage.CANCELLED),
    ],
)
def test_an_order_stands_where_the_least_of_its_pieces_stands(pieces, order):
    assert stage_of_order(pieces) is order
