"""An outside, or a frame that is given, as it is typed on the quote page: what follows, is asked and is overruled.

Worked by hand. The moulding LIN-20 has a face of 20 and a lip of 6.5: it takes 2 × 13.5 + 3 = 30 of an outside.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.lengths import mm
from app.orders import Agreed, ArtworkRecord
from app.orders.dimensions_memo import worked_out
from app.orders.piece_report import findings
from app.orders.quoting.agreement import agree
from app.orders.quoting.artwork import same_design
from app.orders.quoting.overruled import overruled
from app.orders.quoting.partial import so_far
from app.orders.quoting.piece_typed import PieceTyped
from app.orders.quoting.reader import NEEDED
from app.orders.quoting.standard_sizes import even_sizes, standard_sizes
from app.pricing import (
    DEFAULT_OPERATIONS,
    Charge,
    ChargeBy,
    CostPer,
    FrameStock,
    Kind,
    LineGroup,
    Material,
    Selling,
)
from app.stock.planning.parts import PieceRef, needs_of
from tests.builders.specs import edges, size
from tests.builders.values import euro, finder
from tests.builders.worked import BOOK, SHOP, TYPED

READY = Material(
    code="RM-4030",
    name="Ready-made, black, 40 × 30 cm",
    kind=Kind.READY_MADE,
    cost=euro("6.00"),
    per=CostPer.EACH,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(markup=Fraction(2)),
    frame=FrameStock(rebate=size("402", "302"), depth=mm(15), lip=mm(5), grams=300),
)
FIND = finder((*BOOK, READY))
DAY = date(2026, 11, 25)

FRAMELESS = {
    path: text
    for path, text in TYPED.items()
    if not path.startswith(("frames.", "borders.", "artwork.size", "weighting"))
} | {"artwork.size": "300 x 200 mm"}

OUTSIDE = FRAMELESS | {
    "frames.0.material": "LIN-20",
    "sizing": "outside",
    "outside.size": "50 x 40 cm",
}
OWN = FRAMELESS | {
    "frame.source": "own",
    "given_frame.rebate": "402 x 302",
    "given_frame.opposite": "400 x 302",
    "given_frame.depth": "16",
}
READY_MADE = FRAMELESS | {"frame.source": "ready-made", "given_frame.material": "RM-4030"}
REGLAZED = {
    "presentation": "as-it-came",
    "frame.source": "own",
    "given_frame.rebate": "402 x 302",
    "given_frame.depth": "16",
    **{path: text for path, text in TYPED.items() if path.startswith(("glazing.", "backing."))},
}


def agreed(typed: dict[str, str]) -> tuple[ArtworkRecord, Agreed]:
    return agree(typed, SHOP, FIND, today=DAY)


def faults(typed: dict[str, str]) -> dict[str, str]:
    with pytest.raises(Invalid) as raised:
        agreed(typed)
    return {fault.path: fault.message for fault in raised.value.faults}


def told(typed: dict[str, str]) -> dict[str, str]:
    return {each.path: each.why for each in overruled(PieceTyped(SHOP, typed))}


def test_an_outside_gives_package_and_borders() -> None:
    """500 − 30 = 470, 400 − 30 = 370."""
    _, piece = agreed(OUTSIDE)
    dimensions = worked_out(piece.spec)
    assert dimensions.package == size("470", "370")
    assert dimensions.outside == size("500", "400")


def test_the_nearest_outside_with_equal_borders_is_what_its_button_fills_in() -> None:
    """The window is 310 × 210: (470 − 310)/2 = 80 beside, (390 − 210)/2 = 90 above; 80 all round is 500 × 400."""
    _, piece = agreed(OUTSIDE | {"outside.size": "50 x 42 cm"})
    dimensions = worked_out(piece.spec)
    first, *_ = even_sizes(dimensions, piece.steps)
    assert (first.words, first.size) == ("Equal borders of 80 mm", "500 × 400")
    again = worked_out(agreed(OUTSIDE | dict(first.fields))[1].spec)
    assert again.layers[0].borders == edges("80", "80", "80", "80")
    assert even_sizes(again, piece.steps) == ()
    assert standard_sizes(dimensions, SHOP) == ()


def test_an_outside_that_is_not_typed_is_asked_for() -> None:
    assert list(faults(OUTSIDE | {"outside.size": ""})) == ["outside.size"]


def test_an_outside_too_small_is_said_at_its_field() -> None:
    said = faults(OUTSIDE | {"outside.size": "20 x 10 cm"})
    assert list(said) == ["outside.size"]
    assert "outside must be over" in said["outside.size"]


def test_the_customers_own_frame_costs_no_moulding_and_no_joining() -> None:
    """Of 402 and 400 the smaller: 400 − 3 = 397, 302 − 3 = 299."""
    _, piece = agreed(OWN)
    dimensions = worked_out(piece.spec)
    assert dimensions.package == size("397", "299")
    assert dimensions.frames == ()
    assert piece.chosen.frames == ()
    assert not [line for line in piece.price.lines if line.group is LineGroup.FRAME]


@pytest.mark.parametrize(
    ("code", "own", "minutes"),
    [
        ("take-apart", True, Fraction(8) + 2 * Fraction(1408, 1000)),
        ("clean-frame", True, Fraction(4) + 2 * Fraction(1408, 1000)),
        ("refit", True, Fraction(3) + Fraction(704, 1000)),
        ("take-apart", False, Fraction(0)),
        ("refit", False, Fraction(3) + Fraction(704, 1000)),
        ("join", True, Fraction(0)),
    ],
)
def test_its_work_is_to_take_apart_clean_and_refit(code: str, own: bool, minutes: Fraction) -> None:
    """Around 402 × 302 measured there are 2 × 0.704 = 1.408 m."""
    (operation,) = (each for each in DEFAULT_OPERATIONS if each.code == code)
    shop = replace(SHOP, labour=replace(SHOP.labour, operations=(operation,)))
    typed = OWN | {"given_frame.opposite": ""} if own else READY_MADE
    assert agree(typed, shop, FIND, today=DAY)[1].price.minutes == minutes


def test_a_ready_made_frame_is_charged_each_and_taken_off_the_rack() -> None:
    """6.00 × 2 = 12.00; 402 − 3 and 302 − 3."""
    _, piece = agreed(READY_MADE)
    dimensions = worked_out(piece.spec)
    assert dimensions.package == size("399", "299")
    (line,) = [line for line in piece.price.lines if line.group is LineGroup.FRAME]
    assert line.amount == euro("12.00")
    ref = PieceRef(piece_id=1, order_id=1, order_number="2026-0001", number=1)
    needs = needs_of(ref, piece, dimensions)
    assert [
        (each.material.code, each.quantity) for each in needs.counted if each.material == READY
    ] == [("RM-4030", 1)]
    assert not [part for part in needs.parts if part.frame.startswith("frame")]


def test_what_a_frame_needs_is_asked_for() -> None:
    with pytest.raises(Invalid) as raised:
        agreed(FRAMELESS | {"frame.source": "own"})
    needed = {fault.path for fault in raised.value.faults if fault.code == NEEDED}
    assert needed == {"given_frame.rebate", "given_frame.depth"}
    assert list(faults(FRAMELESS | {"frame.source": "ready-made"})) == ["given_frame.material"]
    assert list(faults(FRAMELESS | {"frame.source": "found"})) == ["frame.source"]


def test_a_frame_too_small_is_said_where_it_was_chosen() -> None:
    assert list(faults(READY_MADE | {"artwork.size": "600 x 200 mm"})) == ["given_frame.material"]
    assert list(faults(OWN | {"artwork.size": "600 x 200 mm"})) == ["given_frame.rebate"]


def test_diagonals_that_cannot_be_are_said_at_their_field() -> None:
    said = faults(OWN | {"given_frame.diagonals": "503 x 540"})
    assert list(said) == ["given_frame.diagonals"]
    assert "Measure sides and diagonals again" in said["given_frame.diagonals"]


def test_no_frame_is_the_package_alone() -> None:
    typed = TYPED | {"frame.source": "none"}
    _, piece = agreed(typed)
    dimensions = worked_out(piece.spec)
    assert dimensions.frames == ()
    assert dimensions.outside == dimensions.package
    assert told(typed)["frames.0.material"].startswith("Not used")


def test_a_frame_is_reglazed_with_what_is_in_it_as_it_came() -> None:
    """402 − 3 and 302 − 3; nothing is said of glass that would touch, nor of paper."""
    artwork, piece = agreed(REGLAZED)
    found = findings(artwork, piece, SHOP)
    assert found.exact.glazing == size("399", "299")
    codes = {each.code for each in found.notices}
    assert not codes & {"glazing-touches-artwork", "paper-without-glazing", "package-loose"}
    assert found.weight.at_least
    assert found.hanging is not None


def test_a_frame_alone_is_mended_without_glass() -> None:
    mended = {path: text for path, text in REGLAZED.items() if not path.startswith("glazing")}
    artwork, piece = agreed(mended | {"artwork.kind": "print"})
    codes = {each.code for each in findings(artwork, piece, SHOP).notices}
    assert not codes & {"glazing-touches-artwork", "paper-without-glazing", "no-uv-filter"}


def test_what_came_in_no_frame_is_asked_which() -> None:
    said = faults(REGLAZED | {"frame.source": ""})
    assert "frame.source" in said


@pytest.mark.parametrize(
    ("typed", "paths"),
    [
        (TYPED, set()),
        (TYPED | {"package.size": "40 x 50 cm"}, {"package.size"}),
        (TYPED | {"outside.size": "40 x 50 cm"}, {"outside.size"}),
        (OUTSIDE, set()),
        (OUTSIDE | {"borders.top": "60"}, {"borders.left"}),
        (OUTSIDE | {"package.size": "40 x 50 cm"}, {"package.size"}),
        (
            OWN | {"package.size": "40 x 50 cm", "borders.left": "50"},
            {"package.size", "borders.left"},
        ),
        (OWN | {"sizing": "both", "borders.left": "50"}, set()),
        (OWN | {"frames.0.material": "LIN-20"}, {"frames.0.material"}),
        (OWN | {"given_frame.material": "RM-4030"}, {"given_frame.material"}),
        (TYPED | {"given_frame.depth": "15"}, {"given_frame.depth"}),
        (TYPED | {"borders.bottom": "70", "weighting": "10"}, {"weighting"}),
    ],
)
def test_what_is_typed_and_not_used_is_told(typed: dict[str, str], paths: set[str]) -> None:
    assert set(told(typed)) == paths


def test_what_would_use_it_does() -> None:
    typed = TYPED | {"package.size": "50 x 60 cm"}
    (each,) = overruled(PieceTyped(SHOP, typed))
    assert each.instead is not None
    _, path, text = each.instead
    assert worked_out(agreed(typed | {path: text})[1].spec).package == size("500", "600")


def test_a_blank_source_is_the_same_design_as_before() -> None:
    _, piece = agreed(TYPED)
    assert same_design(piece, TYPED | {"frame.source": "", "outside.size": ""})
    assert not same_design(piece, OWN)


def test_what_can_be_told_of_a_frame_half_measured() -> None:
    typed = OWN | {"given_frame.depth": "wide"}
    with pytest.raises(Invalid) as raised:
        agreed(typed)
    told_of = so_far(typed, raised.value.faults, SHOP, FIND)
    assert told_of is not None
    assert told_of.left_out["given_frame.depth"] == "wide"


def test_borders_beside_a_given_frame_leave_the_window() -> None:
    """G6: 397 − 100 and 299 − 100."""
    both = OWN | {"sizing": "both", "borders.left": "50"}
    dimensions = worked_out(agreed(both)[1].spec)
    assert dimensions.windows[0].size == size("297", "199")
    assert dimensions.layers[0].borders == edges("50", "50", "50", "50")
