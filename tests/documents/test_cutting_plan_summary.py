"""What a cutting plan comes to, in words, against plans that are worked out by hand."""

from dataclasses import replace
from fractions import Fraction

from app.cutting import (
    LaidRail,
    Maker,
    OpenedStick,
    Stick,
    StickPart,
    StickPlan,
    StickProblem,
    StickRest,
)
from app.documents.cutting_plan.summary import TENTHS, summary_of
from app.lengths import ZERO, Unit, mm
from app.money import show_percent
from app.stock.items import Item, StockForm, StockItem
from tests.builders.kept import MOULDING
from tests.builders.values import euro

PARTS = {"7/frame-1.top": 1400, "7/frame-1.bottom": 1400, "8/frame-1.top": 1000}
PIECES = {id: f"2026-0148/{id[0]}" for id in PARTS}

ASKED = StickProblem(
    unit=Unit.MM,
    stock=(
        Stick(id="item-4", length=mm(2000), copies=1, cost=Fraction(0)),
        Stick(id="whole", length=mm(3000)),
    ),
    parts=tuple(
        StickPart(id=id, length=mm(long), group=id.partition(".")[0]) for id, long in PARTS.items()
    ),
    keep=mm(300),
)


def lying(stock: str, *parts: tuple[str, int], rest: tuple[int, int] | None = None) -> OpenedStick:
    return OpenedStick(
        stock=stock,
        copy=1,
        parts=tuple(
            LaidRail(id=id, copy=1, at=mm(at) if at else ZERO, length=mm(PARTS[id]))
            for id, at in parts
        ),
        offcut=StickRest(at=mm(rest[0]), length=mm(rest[1])) if rest else None,
    )


PLAN = StickPlan(
    asked=ASKED,
    bins=(
        lying("item-4", ("7/frame-1.top", 0), rest=(1400, 600)),
        lying("whole", ("7/frame-1.bottom", 0), ("8/frame-1.top", 1400), rest=(2400, 600)),
    ),
    unplaced=(),
    lower_bound=Fraction(1),
    maker=Maker.SOLVER,
)
"""5000 mm are opened, 3800 are parts, 1200 are kept, nothing is lost."""


def item(id: int, *, whole: bool) -> StockItem:
    kept = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("28.20"),
        length=mm(3000) if whole else mm(2000),
        whole=whole,
        label="" if whole else "K-2026-0004",
    )
    return StockItem(id=id, version=1, item=kept, on_hand=1)


def test_what_is_opened_is_told_apart_by_where_it_comes_from() -> None:
    taken = (item(4, whole=False), item(5, whole=True))
    assert summary_of(PLAN, MOULDING, taken, PIECES).facts == (
        ("parts", "3"),
        ("offcuts from the rack", "1"),
        ("whole from the rack", "1 stick"),
        ("waste", "0 %"),
        ("kept as offcuts", "24 %"),
    )
    bought = summary_of(PLAN, MOULDING, (item(4, whole=False), None), PIECES)
    assert ("to buy", "1 stick") in bought.facts


def test_what_is_not_kept_is_waste() -> None:
    first = replace(PLAN.bins[0], offcut=None)
    plan = replace(PLAN, bins=(first, PLAN.bins[1]))
    facts = dict(summary_of(plan, MOULDING, (None, None), PIECES).facts)
    assert facts["waste"] == "12 %"  # 600 of 5000
    assert facts["kept as offcuts"] == "12 %"


def test_a_plan_at_its_bound_is_proven_best() -> None:
    found = summary_of(PLAN, MOULDING, (None, None), PIECES)
    assert found.proven
    assert found.goodness == "Least waste possible: no plan for these parts opens less."


def test_a_plan_of_owned_offcuts_alone_opens_nothing_whole() -> None:
    plan = replace(PLAN, bins=PLAN.bins[:1], lower_bound=Fraction(0))
    found = summary_of(plan, MOULDING, (item(4, whole=False),), PIECES)
    assert found.goodness == "Least waste possible: nothing whole is opened."


def test_a_plan_above_its_bound_says_by_how_much_at_most() -> None:
    """The bound of 3/2 sticks means that 2 are opened at least; 3 of cost 1 are less than 2 above it."""
    three = (*PLAN.bins, *(replace(PLAN.bins[1], copy=n) for n in (2, 3)))
    plan = replace(PLAN, bins=three, lower_bound=Fraction(3, 2))
    found = summary_of(plan, MOULDING, (None,) * 4, PIECES)
    assert not found.proven
    assert found.goodness == ("At most 2 sticks more than the minimum, which is 2 sticks.")


def test_frames_whose_rails_stay_apart_are_named() -> None:
    assert summary_of(PLAN, MOULDING, (None, None), PIECES).split == ("2026-0148/7: 2 sticks",)
    together = replace(PLAN, bins=(PLAN.bins[1],))
    assert summary_of(together, MOULDING, (None,), PIECES).split == ()


def test_frames_of_one_piece_that_stay_apart_alike_are_counted() -> None:
    """Rails of two frames, each laid on both sticks."""
    rails = {f"7/{copy}/{side}": f"frame-{copy}" for copy in (2, 3) for side in ("a", "b")}
    parts = tuple(replace(PLAN.asked.parts[0], id=id, group=group) for id, group in rails.items())
    laid = PLAN.bins[0].parts[0]
    bins = tuple(
        replace(each, parts=tuple(replace(laid, id=f"7/{copy}/{side}") for copy in (2, 3)))
        for each, side in zip(PLAN.bins, ("a", "b"), strict=True)
    )
    plan = replace(PLAN, asked=replace(PLAN.asked, parts=parts), bins=bins)
    pieces = dict.fromkeys(rails, "2026-0148/7")
    found = summary_of(plan, MOULDING, (None, None), pieces)
    assert found.split == ("2026-0148/7: 2 frames on 2 sticks each",)


def test_our_own_rule_is_told_from_the_solver() -> None:
    assert not summary_of(PLAN, MOULDING, (None, None), PIECES).simple
    simple = replace(PLAN, maker=Maker.SIMPLE)
    assert summary_of(simple, MOULDING, (None, None), PIECES).simple


def test_a_share_is_written_to_a_tenth_half_up() -> None:
    assert [show_percent(Fraction(n, 10_000), TENTHS) for n in (0, 4, 5, 1234, 1235, 10_000)] == [
        "0 %",
        "0 %",
        "0.1 %",
        "12.3 %",
        "12.4 %",
        "100 %",
    ]
