"""What is put to the solver, and that its answers are not taken on trust."""

import builtins
from collections import Counter
from fractions import Fraction

import pytest

from app.cutting import Stick, StickPart, StickProblem
from app.cutting.sticks.model import task_of
from app.cutting.sticks.solver import (
    LARGEST_PRICE,
    Filled,
    SolverAnswer,
    SolverBar,
    SolverQuestion,
    ask,
    whole_bound,
)
from app.cutting.sticks.solver_runs import prices_of
from app.lengths import Unit, mm

QUESTION = SolverQuestion(bars=(SolverBar(ticks=100, price=1, copies=9),), lengths=(60, 40, 60, 40))
SECONDS = Fraction(2)


def filled(*loads, bar=0):
    return SolverAnswer(filled=tuple(Filled(bar=bar, lengths=each) for each in loads))


def test_the_library_packs_and_says_below_what_no_packing_goes():
    answer = ask(QUESTION, SECONDS)
    assert answer is not None
    assert Counter(tuple(sorted(each.lengths)) for each in answer.filled) == {(40, 60): 2}
    assert answer.bound == 2


def test_an_answer_that_holds_is_taken():
    assert ask(QUESTION, SECONDS, lambda *_: filled((60, 40), (40, 60))) is not None


@pytest.mark.parametrize(
    "answer",
    [
        None,
        filled((60, 40), (40,)),
        filled((60, 40), (40, 60), (40,)),
        filled((60, 40, 40), (60,)),
        filled((60, 40), (40, 60), bar=1),
        filled(*[(60,), (60,), (40,), (40,)], *[()] * 6),
    ],
    ids=["none", "one left out", "one twice", "too full", "no such bar", "too many bars"],
)
def test_a_wrong_answer_is_none(answer):
    assert ask(QUESTION, SECONDS, lambda *_: answer) is None


def test_what_the_library_raises_is_no_answer():
    def solve(*_):
        raise RuntimeError("inside the solver")

    assert ask(QUESTION, SECONDS, solve) is None


def test_an_absent_library_is_no_answer(monkeypatch):
    real = builtins.__import__

    def without(name, *rest):
        if name.startswith("packingsolver"):
            raise ImportError(name)
        return real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", without)
    assert ask(QUESTION, SECONDS) is None


def test_no_seconds_are_no_answer():
    assert ask(QUESTION, Fraction(0)) is None


def test_parts_that_fit_nowhere_are_no_answer():
    question = SolverQuestion(bars=QUESTION.bars, lengths=(60, 101))
    assert ask(question, Fraction(1)) is None


@pytest.mark.parametrize(
    ("said", "bound"),
    # Room for errors in the last digits never makes more of a bound than was said.
    [(48.0, 48), (47.2, 48), (48.0000000001, 48), (0.0, 0), (float("inf"), 0), (float("nan"), 0)],
)
def test_a_bound_in_binary_fractions_is_read_as_a_whole_number(said, bound):
    assert whole_bound(said) == bound


def stock(*sticks):
    return task_of(
        StickProblem(
            unit=Unit.MM,
            stock=tuple(
                Stick(id=str(place), length=mm(long), copies=copies, cost=Fraction(cost))
                for place, (long, copies, cost) in enumerate(sticks)
            ),
            parts=(StickPart(id="A", length=mm(100), copies=20),),
        )
    )


def test_all_that_is_owned_costs_less_than_the_least_step_between_costs():
    # In units of 2.4 the new ones cost 4 and 5.
    task = stock((2000, 3, 0), (1000, 1, 0), (2400, None, "9.6"), (3000, None, "12"))
    prices = prices_of(task)
    two_metres, one_metre, short, long = prices.of_bars
    assert 0 < one_metre < two_metres
    assert 3 * two_metres + one_metre == prices.owned < prices.unit
    assert (short, long) == (4 * prices.unit, 5 * prices.unit)
    assert prices.exact


def test_costs_with_no_small_common_unit_are_rounded_and_said_to_be():
    prices = prices_of(stock((2400, None, "9.600000000001"), (3000, None, "12.0000000000007")))
    assert not prices.exact
    assert 0 < prices.of_bars[0] < prices.of_bars[1]
    assert max(prices.of_bars) * 20 <= LARGEST_PRICE
