"""Boards that are bought in the size that a piece takes: nobody cuts their outside, and a ticket says so.

The sketch has a package of 562 × 449 and an under mat of 556 × 443: 420 − 10 + 12 + 140 by 297 − 10 + 12 + 150, and 6 less.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.bench import usual_cutter
from app.lengths import Size, Unit, inches, mm
from app.orders import Order, Shop
from app.orders.cut_together import at_cutter, cut_together
from app.orders.piece_report import findings
from app.orders.step_ticks import Tick, asked_the_same, words_of
from app.orders.workbench import cutting_limits, workbench
from app.pricing import Material, Trait
from tests.builders.printed import INCHES, SKETCH, a_shop, an_order
from tests.documents.reading import text_of
from tests.documents.test_ticket_pages import ticket

ON_ARM = a_shop(cutters=(replace(usual_cutter(Unit.MM), arm_reach=mm(1000)),))
TOP = Size(mm(562), mm(449))


def bought(board: Material, size: Size, *traits: Trait) -> Material:
    assert board.sheet is not None
    return replace(board, sheet=replace(board.sheet, size=size, traits=frozenset(traits)))


def with_top_mat(
    size: Size, *traits: Trait, typed: Mapping[str, str] = SKETCH, shop: Shop = ON_ARM
) -> Order:
    """The sketch with the board of its top mat bought in a size."""
    order = an_order(typed, shop=shop)
    (piece,) = order.pieces
    agreed = piece.agreed
    first, *others = agreed.chosen.mats
    chosen = replace(agreed.chosen, mats=(bought(first, size, *traits), *others))
    (design,) = piece.designs
    design = replace(design, agreed=replace(agreed, chosen=chosen))
    return replace(order, pieces=(replace(piece, designs=(design,)),))


def arm_and_first_step(order: Order, shop: Shop = ON_ARM) -> tuple[list[str], str]:
    (piece,) = order.pieces
    bench = workbench(piece.agreed, findings(piece.artwork, piece.agreed, shop), shop)
    assert bench.sizing is not None
    return [one.in_words for one in bench.sizing.settings], bench.steps[0].text


def test_a_blank_that_is_bought_in_its_size_is_not_set_on_the_arm_but_checked() -> None:
    arm, first = arm_and_first_step(with_top_mat(TOP))
    assert arm == [
        "width of mount board, backing",
        "width of mat 2",
        "height of mount board, backing",
        "height of mat 2",
    ]
    assert first == (
        "cut the blank to size, mat 2: 556 × 443 mm; "
        "check the ready-cut blank with a rule, mat 1: 562 × 449 mm"
    )


@pytest.mark.parametrize(
    ("size", "traits", "ready"),
    [
        (TOP, (), True),
        (TOP.turned(), (), True),
        (TOP.turned(), (Trait.ONE_WAY,), False),
        (Size(mm("562.2"), mm(449)), (), True),  # to the half millimetre that the shop cuts in
        (Size(mm(563), mm(449)), (), False),
        (Size(mm(1120), mm(815)), (), False),
    ],
)
def test_it_goes_by_the_size_of_the_sheet_to_the_nearest_step(
    size: Size, traits: tuple[Trait, ...], ready: bool
) -> None:
    _, first = arm_and_first_step(with_top_mat(size, *traits))
    assert ("ready-cut" in first) is ready


# 16 × 20 less 3/16 at each side, with 2 1/2, 2 1/2, 2 1/2 and 3 around: 16 − 3/8 + 5 by 20 − 3/8 + 5 1/2.
def test_of_the_only_mat_nothing_is_cut_to_size() -> None:
    shop = a_shop(Unit.IN, cutters=(replace(usual_cutter(Unit.IN), arm_reach=inches(40)),))
    size = Size(inches("20.625"), inches("25.125"))
    arm, first = arm_and_first_step(with_top_mat(size, typed=INCHES, shop=shop), shop)
    assert arm == ["height of backing", "width of backing"]
    assert first == 'check the ready-cut blank with a rule, the mat: 20 5/8 × 25 1/8"'


def test_what_is_ready_cut_is_not_too_long_for_the_arm() -> None:
    shop = a_shop(cutters=(replace(usual_cutter(Unit.MM), arm_reach=mm(560)),))
    for order, longer in ((with_top_mat(TOP), "mount board"), (an_order(SKETCH), "mat 1")):
        (piece,) = order.pieces
        found = findings(piece.artwork, piece.agreed, shop)
        (said,) = [one.message for one in cutting_limits(found, shop) if "reaches" in one.message]
        assert f"longer are {longer}" in said


def test_a_backing_that_is_ready_cut_is_checked_too() -> None:
    order = an_order(SKETCH, shop=ON_ARM)
    (piece,) = order.pieces
    agreed = piece.agreed
    assert agreed.chosen.backing is not None
    chosen = replace(agreed.chosen, backing=bought(agreed.chosen.backing, TOP))
    (design,) = piece.designs
    design = replace(design, agreed=replace(agreed, chosen=chosen))
    order = replace(order, pieces=(replace(piece, designs=(design,)),))
    arm, _ = arm_and_first_step(order)
    assert "backing" not in " ".join(arm)
    (piece,) = order.pieces
    steps = workbench(piece.agreed, findings(piece.artwork, piece.agreed, ON_ARM), ON_ARM).steps
    assert "check the ready-cut backing with a rule, 562 × 449" in [step.text for step in steps]


def test_pieces_that_are_cut_together_leave_it_out_too() -> None:
    (piece,) = (order := with_top_mat(TOP)).pieces
    together = cut_together([at_cutter(order, piece, ON_ARM)], ON_ARM)
    names = [each.blank.part for one in together.day.sizing.settings for each in one.blanks]
    assert set(names) == {"mat 2"}


def test_what_was_ticked_while_every_blank_was_said_to_be_cut_stays_ticked() -> None:
    then, now = (
        workbench(piece.agreed, findings(piece.artwork, piece.agreed, ON_ARM), ON_ARM).steps[0]
        for order in (an_order(SKETCH, shop=ON_ARM), with_top_mat(TOP))
        for piece in order.pieces
    )
    assert then.text == "cut the blanks to size, mat 1: 562 × 449 mm, mat 2: 556 × 443 mm"
    tick = Tick(
        step=then.id,
        words=words_of(then),
        ticked=True,
        at=datetime(2026, 11, 25, tzinfo=UTC),
        by="",
    )
    assert asked_the_same(tick, now)


@pytest.mark.documents
@pytest.mark.poppler
def test_its_ticket_says_so_beside_its_size() -> None:
    text = text_of(ticket(with_top_mat(TOP), ON_ARM))
    assert "Stop on the squaring arm 562 width of mount board, backing" in text
    assert "blank, ready cut: check with a rule" in text
    assert text.count("562 × 449") == text_of(ticket(an_order(SKETCH), ON_ARM)).count("562 × 449")
