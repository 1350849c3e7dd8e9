"""The simple plan by hand: who goes where, what is said of what does not fit."""

from fractions import Fraction

import pytest

from app.cutting import Maker, Stick, StickPart, StickProblem, Together
from app.cutting.checker import faults_of_stick_plan
from app.cutting.sticks.model import Load, task_of
from app.cutting.sticks.simple import (
    Packing,
    settled_stick_plan,
    simple_stick_plan,
    sticks_hold_all,
    topped_up,
)
from app.lengths import ZERO, Length, Unit, inches, mm
from tests.cases.sticks import invented_frames, stick_cases

NEW = Stick(id="new", length=mm(3000))


def owned(id: str, length: int, copies: int = 1) -> Stick:
    return Stick(id=id, length=mm(length), copies=copies, cost=Fraction(0))


def part(id: str, length: int, copies: int = 1, group: str = "") -> StickPart:
    return StickPart(id=id, length=mm(length), copies=copies, group=group)


def asked(
    *parts: StickPart,
    stock: tuple[Stick, ...] = (NEW,),
    kerf: Length = ZERO,
    end_trim: Length = ZERO,
    keep: Length = ZERO,
    together: Together = Together.PREFERRED,
) -> StickProblem:
    return StickProblem(
        unit=Unit.MM,
        stock=stock,
        parts=parts,
        kerf=kerf,
        end_trim=end_trim,
        keep=keep,
        together=together,
    )


def cut_from(plan):
    return [(each.stock, [rail.id for rail in each.parts]) for each in plan.bins]


def test_rails_go_longest_first_where_there_is_room():
    # By hand: 2000 opens a stick, 1500 a second, 1400 goes beside 1500, 900 beside 2000.
    plan = simple_stick_plan(
        asked(part("A", 900), part("B", 1400), part("C", 1500), part("D", 2000))
    )
    assert cut_from(plan) == [("new", ["D", "A"]), ("new", ["C", "B"])]
    assert (plan.cost, plan.lower_bound, plan.maker) == (2, 2, Maker.SIMPLE)


def test_kerf_trims_and_offcut_are_measured_from_the_left_end():
    # 10 trim, 1000 rail, 4 kerf, 1000 rail, 4 kerf, then 972 up to the right trim at 2990.
    plan = simple_stick_plan(asked(part("A", 1000, 2), kerf=mm(4), end_trim=mm(10)))
    (stick,) = plan.bins
    assert [(rail.copy, rail.at, rail.length) for rail in stick.parts] == [
        (1, mm(10), mm(1000)),
        (2, mm(1014), mm(1000)),
    ]
    assert stick.offcut is not None
    assert (stick.offcut.at, stick.offcut.length) == (mm(2018), mm(972))


def test_the_last_rail_needs_no_kerf_behind_it():
    # 3 x 996 + 2 x 6 = 3000: a third kerf would not fit, and need not.
    plan = simple_stick_plan(asked(part("A", 996, 3), kerf=mm(6)))
    assert len(plan.bins) == 1
    assert plan.bins[0].offcut is None


def test_an_offcut_below_the_keep_size_is_waste():
    plan = simple_stick_plan(asked(part("A", 2700), keep=mm(301)))
    assert plan.bins[0].offcut is None
    plan = simple_stick_plan(asked(part("A", 2700), keep=mm(300)))
    assert plan.bins[0].offcut is not None


def test_owned_sticks_are_opened_first_and_the_shortest_that_holds_the_rail():
    stock = (NEW, owned("long", 1900), owned("short", 1100))
    plan = simple_stick_plan(asked(part("A", 1000), part("B", 1500), stock=stock))
    assert cut_from(plan) == [("long", ["B"]), ("short", ["A"])]
    assert (plan.cost, plan.proven) == (0, True)


def test_the_length_that_comes_out_cheapest_is_bought():
    # 4 x 1000: two sticks of 2000 at 3 make 6, two of 3000 at 4 make 8.
    stock = (
        Stick(id="s2000", length=mm(2000), cost=Fraction(3)),
        Stick(id="s3000", length=mm(3000), cost=Fraction(4)),
    )
    plan = simple_stick_plan(asked(part("A", 1000, 4), stock=stock))
    assert (plan.opened, plan.cost) == ({"s2000": 2}, 6)


def test_lengths_to_buy_are_mixed_where_that_is_cheaper():
    # 2500 needs a 3000 at 3; 1400 then fits a 1500 at 3/2: 4.5 against 6 for two long ones.
    stock = (
        Stick(id="s1500", length=mm(1500), cost=Fraction(3, 2)),
        Stick(id="s3000", length=mm(3000), cost=Fraction(3)),
    )
    plan = simple_stick_plan(asked(part("A", 2500), part("B", 1400), stock=stock))
    assert (plan.cost, plan.lower_bound) == (Fraction(9, 2), Fraction(9, 2))


def test_on_a_stick_the_rails_of_a_frame_follow_one_another_longest_first():
    # B6: rails longest first; frames in the order asked for, what belongs to none at the end.
    plan = simple_stick_plan(
        asked(
            part("L", 450),
            part("F1w", 300, 2, "F1"),
            part("F1h", 400, 2, "F1"),
            part("F2w", 200, 2, "F2"),
            part("F2h", 350, 2, "F2"),
        )
    )
    (stick,) = plan.bins
    ids = ["F1h", "F1h", "F1w", "F1w", "F2h", "F2h", "F2w", "F2w", "L"]
    assert [rail.id for rail in stick.parts] == ids


@pytest.mark.parametrize(
    ("stock", "end_trim", "reason"),
    [
        (
            (NEW,),
            mm(5),
            "A1 is 3200 mm long; the longest stick leaves 2990 mm after its ends are trimmed.",
        ),
        ((NEW,), ZERO, "A1 is 3200 mm long; the longest stick is 3000 mm."),
        (
            (NEW,),
            mm(1500),
            "A1 is 3200 mm long; no stick leaves anything after its ends are trimmed.",
        ),
        ((), ZERO, "A1 is 3200 mm long; there is no stick on offer."),
    ],
)
def test_a_part_longer_than_any_stick_is_told(stock, end_trim, reason):
    plan = simple_stick_plan(asked(part("A1", 3200, 2), stock=stock, end_trim=end_trim))
    (told,) = plan.unplaced
    assert (told.id, told.copies, told.code, told.reason) == ("A1", 2, "too-long", reason)
    assert (plan.bins, plan.cost, plan.lower_bound) == ((), 0, 0)


def test_a_part_that_fits_nowhere_does_not_keep_the_others_from_their_plan():
    plan = simple_stick_plan(asked(part("A", 3001), part("B", 1000)))
    assert cut_from(plan) == [("new", ["B"])]
    assert [each.id for each in plan.unplaced] == ["A"]


def test_parts_beyond_the_sticks_that_are_there_are_told():
    plan = simple_stick_plan(asked(part("A", 900, 3), stock=(owned("o", 1000, copies=2),)))
    (told,) = plan.unplaced
    assert (told.copies, told.code) == (1, "out-of-stock")
    assert told.reason == "There is no stick left for 1 of 3 of A; what is on offer is used up."
    assert faults_of_stick_plan(plan) == ()


def test_frames_stay_whole_where_that_costs_no_further_stick():
    # Longest first would put the four 800s on two sticks; two frames of 2600 fit a stick each.
    frames = [
        part(f"{f}{side}", long, 2, f) for f in "FG" for side, long in (("w", 500), ("h", 800))
    ]
    plan = simple_stick_plan(asked(*frames))
    assert [{rail.id[0] for rail in each.parts} for each in plan.bins] == [{"F"}, {"G"}]


def test_frames_that_must_be_together_are_even_where_that_costs_a_stick():
    # Three frames of 2 x 750 + 2 x 250 = 2000: 6000 in all fit two sticks, whole ones need three.
    frames = [
        part(f"{f}{side}", long, 2, f) for f in "FGH" for side, long in (("w", 250), ("h", 750))
    ]
    assert simple_stick_plan(asked(*frames)).cost == 2
    plan = simple_stick_plan(asked(*frames, together=Together.ALWAYS))
    assert (plan.cost, plan.lower_bound) == (3, 3)
    assert all(len({rail.id[0] for rail in each.parts}) == 1 for each in plan.bins)


def test_a_frame_longer_than_any_stick_takes_the_fewest():
    # 2 x 1400 + 2 x 900 = 4600: two sticks of 3000.
    frame = (part("w", 900, 2, "F"), part("h", 1400, 2, "F"))
    plan = simple_stick_plan(asked(*frame, together=Together.ALWAYS))
    assert len(plan.bins) == 2


def test_a_frame_is_parted_where_the_sticks_long_enough_are_used_up():
    frames = [part(f, 700, 2, f) for f in "FG"]
    stock = (owned("long", 1400), Stick(id="new", length=mm(1000)))
    plan = simple_stick_plan(asked(*frames, stock=stock, together=Together.ALWAYS))
    assert plan.unplaced == ()
    assert plan.opened == {"long": 1, "new": 2}


def test_inches_are_planned_as_exactly():
    # 3 x 39 7/8 + 2 x 3/16 = 120 in.
    plan = simple_stick_plan(
        StickProblem(
            unit=Unit.IN,
            stock=(Stick(id="ten feet", length=inches(120)),),
            parts=(StickPart(id="A", length=inches("39.875"), copies=3),),
            kerf=inches("3/16"),
        )
    )
    assert (len(plan.bins), plan.bins[0].offcut) == (1, None)


@pytest.mark.parametrize("name", stick_cases())
def test_a_published_case_has_a_simple_plan_that_holds(name):
    case = stick_cases()[name]
    plan = simple_stick_plan(case.asked)
    assert faults_of_stick_plan(plan) == ()
    assert plan.lower_bound <= case.best_known <= plan.cost


@pytest.mark.parametrize(
    ("length", "sticks", "whether"),
    # By hand: 3 × 900 + 2 × 3 = 2706 of 3000 for three rails, so six take two; one of 3001 fits none.
    [(900, 1, False), (900, 2, True), (3001, 2, False)],
)
def test_whether_sticks_hold_all_rails_is_told_without_a_plan(length, sticks, whether):
    asked = StickProblem(
        stock=(Stick(id="new", length=mm(3000), copies=sticks),),
        parts=(StickPart(id="A", length=mm(length), copies=6),),
        kerf=mm(3),
        unit=Unit.MM,
    )
    assert sticks_hold_all(asked) is whether
    assert (not simple_stick_plan(asked).unplaced) is whether


def test_the_simple_plan_is_the_same_every_time():
    asked_for = invented_frames(60)
    assert simple_stick_plan(asked_for) == simple_stick_plan(asked_for)


def test_rails_that_were_left_over_are_put_where_room_has_come_about():
    # 90 is on the stick of 100; 60 was left, and 5 and 12. There is a stick of 70 still: it takes
    # 60; 5 goes beside 90, and 12 beside neither 90 + 5 nor 60.
    stock = (owned("o", 100), owned("p", 70))
    task = task_of(asked(part("A", 90), part("B", 60), part("C", 5), part("D", 12), stock=stock))
    longest, *others = task.rails
    packing = Packing(loads=(Load(bar=0, rails=(longest,)),), left=tuple(others))
    full = topped_up(task, packing)
    names = [[task.asked.parts[rail.part].id for rail in load.rails] for load in full.loads]
    assert names == [["A", "C"], ["B"]]
    assert [task.asked.parts[rail.part].id for rail in full.left] == ["D"]


FRAME = (part("long", 800, 2, "F"), part("short", 600, 2, "F"))
"""2800 in all."""


def test_rails_that_one_stick_holds_are_settled():
    plan = settled_stick_plan(asked(*FRAME))
    assert cut_from(plan) == [("new", ["long", "long", "short", "short"])]
    assert (plan.cost, plan.lower_bound, plan.maker) == (1, 1, Maker.SIMPLE)
    assert faults_of_stick_plan(plan) == ()


def test_rails_that_fit_no_stick_are_settled_and_said():
    plan = settled_stick_plan(asked(part("A", 3001)))
    assert (plan.bins, [each.code for each in plan.unplaced]) == ((), ["too-long"])


def test_a_dearer_stick_that_alone_holds_all_is_settled():
    """By hand: two of 2000 cost 2 × 8 = 16, one of 3000 costs 12."""
    short, long = (
        Stick(id="short", length=mm(2000), cost=Fraction(8)),
        Stick(id="long", length=mm(3000), cost=Fraction(12)),
    )
    plan = settled_stick_plan(asked(*FRAME, stock=(short, long)))
    assert cut_from(plan) == [("long", ["long", "long", "short", "short"])]
    assert (plan.cost, plan.lower_bound) == (12, 12)


def test_of_two_sticks_of_one_cost_the_longer_is_settled():
    plan = settled_stick_plan(asked(*FRAME, stock=(NEW, Stick(id="longer", length=mm(3300)))))
    assert [(stick.stock, stick.offcut.length) for stick in plan.bins] == [("longer", mm(500))]


@pytest.mark.parametrize(
    ("parts", "stock"),
    [
        ((*FRAME, part("more", 300)), (NEW,)),
        (FRAME, (NEW, owned("rest", 700))),
        (FRAME, (NEW, Stick(id="half", length=mm(1500), cost=Fraction(1, 2)))),
        ((part("A", 900, 2),), (owned("rest", 1000),)),
    ],
    ids=["two sticks", "an owned one", "two as cheap as one", "one left over"],
)
def test_rails_that_a_search_may_lay_better_are_not_settled(parts, stock):
    assert settled_stick_plan(asked(*parts, stock=stock)) is None
