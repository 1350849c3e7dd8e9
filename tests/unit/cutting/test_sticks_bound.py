"""The bound by hand: what it must reach, and what it must not pass."""

from collections import Counter
from fractions import Fraction

import pytest

from app.cutting import Stick, StickPart, StickProblem
from app.cutting.sticks.bound import StickOffer, cheapest_opening, least_cost
from app.cutting.sticks.model import task_of
from app.lengths import Unit, mm


def bound(lengths, *bars, most=1000):
    return least_cost(Counter(lengths), bars, most)


@pytest.mark.parametrize(
    ("lengths", "sticks"),
    [
        # 3 x 40 = 120 of 100 each: 1.2 sticks, so two.
        ([40, 40, 40], 2),
        # Each is more than half: no two go together, though their sum, 255, fits three.
        ([51, 51, 51, 51, 51], 5),
        # Each is more than a third: two go together, so three sticks for five, sum 170.
        ([34, 34, 34, 34, 34], 3),
        # Martello and Toth: with the small ones left out, 70 + 70 + 60 + 40 are 70 | 70 | 60 40.
        ([70, 70, 60, 40], 3),
        ([100], 1),
        ([], 0),
    ],
)
def test_sticks_of_one_length(lengths, sticks):
    assert bound(lengths, (100, 1, 100)) == sticks


def test_what_is_owned_is_used_up_first():
    # 250 to place, 100 owned: 150 are left for sticks of 100, so two at 7.
    assert bound([50] * 5, (100, 0, 1), (100, 7, 9)) == 14


def test_as_much_owned_stock_as_is_wanted_makes_all_free():
    assert bound([50] * 5, (100, 0, 5), (100, 7, 5)) == 0


def test_the_bound_is_a_cost_that_sticks_can_come_to():
    # 110 to place: one of 60 at 5 and one of 100 at 8 make 13, two of 60 make 10: so 10, not 9.
    assert bound([55, 55], (60, 5, 9), (100, 8, 9)) == 10


def test_a_cheap_length_of_which_there_are_few_does_not_serve_for_all():
    # 4 x 100; one stick at 1, the others at 10.
    assert bound([100] * 4, (100, 1, 1), (100, 10, 9)) == 31


def test_the_bound_never_passes_a_known_plan():
    assert bound([51] * 5, (100, 1, 100), most=5) == 5


@pytest.mark.parametrize(
    ("need", "cost"),
    # Weights 4 for 5 and 5 for 6. By hand: 0; 4 -> 5; 5 -> 6; 8 -> 4+4 = 10; 9 -> 4+5 = 11;
    # 10 -> 5+5 = 12; 11 -> 4+4+4 = 15; 13 -> 4+4+5 = 16.
    [(0, 0), (4, 5), (5, 6), (8, 10), (9, 11), (10, 12), (11, 15), (13, 16)],
)
def test_the_cheapest_opening_that_holds_a_weight(need, cost):
    offers = [StickOffer(weight=4, cost=5, copies=9), StickOffer(weight=5, cost=6, copies=9)]
    assert cheapest_opening(need, offers, 100) == cost


def test_too_many_openings_to_look_at_leave_the_best_rate():
    # Rates of 1 to 1 throughout, and a need that many mixtures come to: 100,001 or little more.
    offers = [StickOffer(weight=w, cost=w, copies=10**6) for w in (210, 330, 462, 770, 1155)]
    assert 100_001 <= cheapest_opening(100_001, offers, 10**6) <= 100_002


def test_costs_are_whole_in_their_greatest_unit():
    # 9.6 = 4 x 2.4 and 12 = 5 x 2.4.
    stock = (
        Stick(id="a", length=mm(2400), cost=Fraction("9.6")),
        Stick(id="b", length=mm(3000), cost=Fraction(12)),
        Stick(id="o", length=mm(900), copies=1, cost=Fraction(0)),
    )
    parts = (StickPart(id="A", length=mm(100)),)
    assert task_of(StickProblem(unit=Unit.MM, stock=stock, parts=parts)).unit == Fraction("2.4")
