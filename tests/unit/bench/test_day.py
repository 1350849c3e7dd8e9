"""The mats of a day together, against tables worked by hand (B10)."""

from dataclasses import replace

import pytest

from app.bench import MatToCut, plan_day
from app.errors import Invalid
from tests.builders.at_cutter import CUTTER, framed_by, sketch_piece


def of(piece: str, *mats: MatToCut) -> list[MatToCut]:
    return [replace(mat, piece=piece) for mat in mats]


def test_two_pieces_alike_take_the_moves_of_one() -> None:
    """By hand: 80, 70, 76, 86 serve both; one after the other it is these four twice."""
    day = plan_day([*of("A", *sketch_piece()), *of("B", *sketch_piece())], CUTTER)
    assert (day.moves, day.moves_apart, day.proven) == (4, 8, True)
    assert day.pieces == ("A", "B")


def test_of_the_borders_of_two_pieces_those_alike_are_set_once() -> None:
    """By hand: 60, 70 and 70, 80 are three settings together, two and two apart."""
    one = of("A", framed_by("60", "60", "60", "70"))
    other = of("B", framed_by("70", "70", "70", "80"))
    day = plan_day([*one, *other], CUTTER)
    assert (day.moves, day.moves_apart) == (3, 4)


def test_copies_are_cut_at_the_same_settings() -> None:
    one = of("A", framed_by("60", "60", "60", "70"))
    day = plan_day(one, CUTTER, copies={"A": 20})
    assert (day.moves, day.moves_apart, day.copies_of("A"), day.copies_of("B")) == (2, 2, 20, 1)


def test_nothing_is_cut_less_than_once() -> None:
    with pytest.raises(Invalid) as refused:
        plan_day(of("A", framed_by("60", "60", "60", "70")), CUTTER, copies={"A": 0})
    (fault,) = refused.value.faults
    assert (fault.path, fault.message) == (
        "copies.A",
        "A is to be made 0 times; it must be at least once.",
    )
