"""Pieces worked out by hand, through the functions behind `POST /api/dimensions`."""

import pytest

from app.framing import in_steps, work_out
from app.web.api.dimensions import DimensionsAsked, dimensions_json, read_spec
from tests.unit.framing.worked import Worked, differences, worked_pieces


@pytest.mark.parametrize("piece", worked_pieces(), ids=lambda piece: piece.id)
def test_a_piece_comes_out_as_worked_by_hand(piece: Worked) -> None:
    spec, steps = read_spec(DimensionsAsked.model_validate(piece.asked))
    exact = work_out(spec)
    shop = in_steps(exact, steps)
    answer = {
        "unit": spec.unit.value,
        **dimensions_json(exact),
        "shop": dimensions_json(shop),
    }
    assert differences(piece.answer, answer) == []
    if piece.notices is not None:
        assert tuple(notice.code for notice in shop.notices) == piece.notices


def test_the_comparison_sees_a_wrong_a_missing_and_a_surplus_figure() -> None:
    expected = {"package": {"width": "1"}, "frames": [{"lip": "2"}], "glazing": None}
    assert differences(expected, {"package": {"width": "2"}, "frames": [], "x": 1}) == [
        "package.width: '2', by hand '1'",
        "frames: [], by hand [{'lip': '2'}]",
        "glazing: 'missing', by hand None",
    ]
