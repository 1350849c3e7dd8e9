"""The checker on a plan for sticks made by hand, true and spoilt (C1, C4)."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from app.cutting import StickPart, StickPlan, StickRest, Unplaced
from app.cutting.checker import faults_of_stick_plan
from app.lengths import ZERO, mm
from tests.builders.cutting_plans import STICK_PLAN, rail

OWNED, NEW = STICK_PLAN.bins


def with_new(**changes: object) -> StickPlan:
    return replace(STICK_PLAN, bins=(OWNED, replace(NEW, **changes)))


def with_asked(**changes: object) -> StickPlan:
    return replace(STICK_PLAN, asked=replace(STICK_PLAN.asked, **changes))


def test_a_true_plan_has_no_fault() -> None:
    assert faults_of_stick_plan(STICK_PLAN) == ()


def test_a_part_may_end_at_the_trim_without_an_offcut() -> None:
    """By hand: 3000 - 10 - 1818 = 1172 is all that is left for the third part."""
    longer = with_asked(
        parts=(
            StickPart(id="A", length=mm(900), copies=2),
            StickPart(id="B", length=mm(600)),
            StickPart(id="C", length=mm(1172)),
            StickPart(id="L", length=mm(2990)),
        )
    )
    parts = (*NEW.parts[:2], rail("C", 1, "1818", "1172"))
    plan = replace(longer, bins=(OWNED, replace(NEW, parts=parts, offcut=None)))
    assert faults_of_stick_plan(plan) == ()


SPOILT: dict[str, tuple[Callable[[], StickPlan], str]] = {
    "a part begins late": (
        lambda: with_new(parts=(NEW.parts[0], rail("A", 2, "915", "900"), NEW.parts[2])),
        "“A” copy 2 on “new” no. 1 begins at 915 mm; trim, parts and kerf before it come to 914 mm.",
    ),
    "the kerf is forgotten": (
        lambda: with_new(parts=(NEW.parts[0], rail("A", 2, "910", "900"), NEW.parts[2])),
        "“A” copy 2 on “new” no. 1 begins at 910 mm; trim, parts and kerf before it come to 914 mm.",
    ),
    "the trim is forgotten": (
        lambda: replace(STICK_PLAN, bins=(replace(OWNED, parts=(rail("B", 1, "0", "600"),)), NEW)),
        "“B” copy 1 on “o1” no. 1 begins at 0 mm; trim, parts and kerf before it come to 10 mm.",
    ),
    "a part is shorter than wanted": (
        lambda: with_new(parts=(*NEW.parts[:2], rail("A", 3, "1818", "890"))),
        "“A” copy 3 is 890 mm long in the plan; 900 mm is wanted.",
    ),
    "parts run into the right trim": (
        lambda: with_asked(
            end_trim=mm(10),
            stock=(replace(STICK_PLAN.asked.stock[0], length=mm(2720)), STICK_PLAN.asked.stock[1]),
        ),
        "The parts on “new” no. 1 end at 2718 mm; it can be used up to 2710 mm.",
    ),
    "a part is placed twice": (
        lambda: with_new(parts=(*NEW.parts[:2], rail("A", 2, "1818", "900"))),
        "“A” copy 2 is placed 2 times.",
    ),
    "a part is missing": (
        lambda: with_new(parts=NEW.parts[:2], offcut=StickRest(at=mm(1818), length=mm(1172))),
        "Of “A” 3 are wanted, but 2 are placed and 0 left out.",
    ),
    "a part is placed and left out": (
        lambda: replace(
            STICK_PLAN,
            unplaced=(*STICK_PLAN.unplaced, Unplaced(id="B", copies=1, code="c", reason="r")),
        ),
        "Of “B” 1 are wanted, but 1 are placed and 1 left out.",
    ),
    "nobody asked for a part": (
        lambda: with_new(parts=(*NEW.parts[:2], rail("X", 1, "1818", "900"))),
        "The part “X” is in the plan, but nobody asked for it.",
    ),
    "there is no such copy": (
        lambda: with_new(parts=(*NEW.parts[:2], rail("A", 4, "1818", "900"))),
        "“A” copy 4 is placed; there are copies 1 to 3.",
    ),
    "a part is left out without a word": (
        lambda: replace(STICK_PLAN, unplaced=(replace(STICK_PLAN.unplaced[0], reason=" "),)),
        "“L” is left out without a reason.",
    ),
    "less than one is left out": (
        lambda: replace(
            STICK_PLAN,
            unplaced=(*STICK_PLAN.unplaced, Unplaced(id="B", copies=0, code="c", reason="r")),
        ),
        "Of “B” 0 are left out; 1 or more can be.",
    ),
    "a part is left out though a new stick holds it": (
        lambda: replace(
            with_asked(parts=(*STICK_PLAN.asked.parts, StickPart(id="E", length=mm(2980)))),
            unplaced=(*STICK_PLAN.unplaced, Unplaced(id="E", copies=1, code="c", reason="r")),
        ),
        "“E” is left out, but “new” holds it and there is one more of that.",
    ),
    "a stick is not on offer": (
        lambda: with_new(stock="old"),
        "The stock “old” is opened, but it is not on offer.",
    ),
    "more is opened than there is": (
        lambda: with_new(stock="o1", copy=2),
        "2 of “o1” are opened; there are 1.",
    ),
    "sticks are numbered wrongly": (
        lambda: with_new(copy=2),
        "The 1 opened of “new” are not numbered 1 to 1.",
    ),
    "a stick is opened for nothing": (
        lambda: replace(
            STICK_PLAN, bins=(*STICK_PLAN.bins, replace(NEW, copy=2, parts=(), offcut=None))
        ),
        "“new” no. 2 is opened, but no part is cut from it.",
    ),
    "the offcut begins in the kerf": (
        lambda: with_new(offcut=StickRest(at=mm(2718), length=mm(272))),
        "The offcut of 272 mm at 2718 mm on “new” no. 1 is not what is left, 268 mm at 2722 mm.",
    ),
    "the offcut takes the trim with it": (
        lambda: with_new(offcut=StickRest(at=mm(2722), length=mm(278))),
        "The offcut of 278 mm at 2722 mm on “new” no. 1 is not what is left, 268 mm at 2722 mm.",
    ),
    "an offcut is forgotten": (
        lambda: with_new(offcut=None),
        "The offcut of 268 mm on “new” no. 1 is not in the plan.",
    ),
    "an offcut is not worth keeping": (
        lambda: with_asked(keep=mm(200)),
        "The offcut of 116 mm on “o1” no. 1 is not worth keeping; 200 mm is.",
    ),
    "the bound is above the cost": (
        lambda: replace(STICK_PLAN, lower_bound=Fraction(3, 2)),
        "The bound of 3/2 is above the cost of 1, so it is no bound.",
    ),
    "the bound is below zero": (
        lambda: replace(STICK_PLAN, lower_bound=Fraction(-1)),
        "The bound is -1; no stock costs less than nothing.",
    ),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_plan_is_told_by_a_sentence(name: str) -> None:
    spoil, sentence = SPOILT[name]
    assert sentence in faults_of_stick_plan(spoil())


def test_a_plan_for_nothing_that_can_be_cut_is_proven() -> None:
    plan = replace(with_asked(parts=(STICK_PLAN.asked.parts[2],)), bins=(), lower_bound=Fraction(0))
    assert faults_of_stick_plan(plan) == ()


def test_an_offcut_of_any_length_is_kept_where_nothing_smaller_is_waste() -> None:
    plan = with_asked(keep=ZERO)
    assert faults_of_stick_plan(plan) == ()
