"""Fallouts that go back into stock, against sizes worked by hand (C5)."""

from dataclasses import replace

import pytest

from app.documents.kit.printing import Figures
from app.documents.ticket.guide_work import guide_work
from app.lengths import Size, mm
from app.orders.piece_report import findings
from app.orders.workbench import workbench
from tests.builders.printed import SKETCH, a_shop, an_order


def kept(keep: Size, **typed: str) -> list[tuple[int, Size, str]]:
    shop = replace(a_shop(), keep=keep)
    piece = an_order({**SKETCH, **typed}, shop=shop).pieces[0]
    bench = workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop)
    return [(each.layer, each.sound, each.board.name) for each in bench.kept]


# Windows at the back, the smaller side of a bevelled fallout: 422 × 299 in mat 1 and 410 × 287 in 2.
def test_what_is_kept_is_whole_through_the_board_and_named_by_it() -> None:
    assert kept(Size(mm(150), mm(100))) == [
        (1, Size(mm(422), mm(299)), "Chalk white"),
        (2, Size(mm(410), mm(287)), "Slate blue"),
    ]


@pytest.mark.parametrize(
    ("keep", "layers"),
    [
        (Size(mm(422), mm(299)), [1]),
        (Size(mm(299), mm(422)), [1]),
        (Size(mm(300), mm(300)), []),
        (Size(mm(423), mm(100)), []),
        (Size(mm(287), mm(410)), [1, 2]),
    ],
)
def test_a_fallout_is_kept_where_the_keep_size_goes_into_it_either_way_round(
    keep: Size, layers: list[int]
) -> None:
    assert [layer for layer, _, _ in kept(keep)] == layers


# The largest plain rectangle of an oval is taken as 7/10 of its axes: 190 × 250 gives 133 × 175.
def test_of_an_oval_the_rectangle_inside_it_counts() -> None:
    oval = {"artwork.size": "200x260", "windows.0.shape": "oval", "mats.1.material": ""}
    assert kept(Size(mm(150), mm(100)), **oval) == [(1, Size(mm(133), mm(175)), "Chalk white")]
    assert kept(Size(mm(150), mm(134)), **oval) == []


# 133 × 175 is no square.
def test_what_is_kept_of_an_oval_is_called_a_rectangle() -> None:
    oval = {"artwork.size": "200x260", "windows.0.shape": "oval", "mats.1.material": ""}
    shop = replace(a_shop(), keep=Size(mm(150), mm(100)))
    piece = an_order({**SKETCH, **oval}, shop=shop).pieces[0]
    bench = workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop)
    work = guide_work(bench, Figures(piece.agreed.steps), "mat")
    assert work is not None
    (dropped,) = (row.text for row in work.rows if "keep:" in row.text)
    assert dropped.endswith("keep: 133 × 175 of Chalk white, rectangle inside the curve")
