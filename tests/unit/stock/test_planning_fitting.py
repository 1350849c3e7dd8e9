"""Offcuts for a piece and what nothing new holds; the piece of tests/builders/worked, worked by hand.

Rails 2 × 630 and 2 × 530; mats 600 × 500 and 594 × 494; glass and backing 600 × 500. With 8.5 lost
between neighbours all four rails take 2320 + 3 × 8.5 = 2345.5.
"""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from app.framing import Concern
from app.lengths import Unit, mm
from app.orders import CuttingHabits, Shop
from app.pricing import Material, Trait
from app.stock.planning.fitting import OffcutFit, extent_text, offcuts_that_fit, too_large
from app.stock.planning.parts import PartToCut, parts_to_cut
from app.stock.planning.problems import OnRack
from tests.builders.in_work import REF, made, sheet, stick
from tests.builders.values import size
from tests.builders.worked import BOOK, FILLET, MOULDING, SHOP, TOP_MAT

AS_TYPED: Mapping[str, str] = {}


type Typed = Mapping[str, str]


def parts(typed: Typed, book: tuple[Material, ...] = (*BOOK, FILLET)) -> tuple[PartToCut, ...]:
    agreed, cut = made(book, **typed)
    return parts_to_cut(REF, agreed, cut)


def fits(*rack: OnRack, shop: Shop = SHOP, typed: Typed = AS_TYPED) -> list[tuple[str, int]]:
    found = offcuts_that_fit(parts(typed), rack, shop)
    return [(fit.what, fit.offcut.kept.id) for fit in found]


def test_a_rest_that_takes_all_four_rails_is_named_for_the_frame_the_shortest_first() -> None:
    enough = stick(1, mm("2345.5"))
    assert fits(stick(2, mm(2900)), enough) == [("frame, all 4 rails", 1)]
    assert fits(stick(2, mm(2900)), stick(1, mm("2345.4"))) == [("frame, all 4 rails", 2)]


def test_else_the_rests_that_take_the_most_rails_are_named_with_those() -> None:
    # 630 + 8.5 + 630 = 1268.5 takes top and bottom; 600 takes one of 530; 500 takes none
    found = fits(stick(1, mm("1268.5")), stick(2, mm(600)), stick(3, mm(500)))
    assert found == [("frame, top and bottom", 1), ("frame, left", 2)]
    # 630 + 2 × 530 + 2 × 8.5 = 1707 takes three
    assert fits(stick(1, mm(1707))) == [("frame, top, left and right", 1)]
    assert fits(stick(1, mm("1706.9"))) == [("frame, top and bottom", 1)]


def test_trims_at_the_ends_count() -> None:
    trims = replace(SHOP, cutting_habits=CuttingHabits(end_trim=mm(10), sheet_trim=mm(5)))
    assert fits(stick(1, mm("2365.5")), shop=trims) == [("frame, all 4 rails", 1)]
    assert fits(stick(1, mm("2365.4")), shop=trims) == [("frame, top, bottom and left", 1)]
    assert fits(sheet(1, size(610, 510)), shop=trims) == [("mat 1", 1)]
    assert fits(sheet(1, size(610, 509)), shop=trims) == []


def test_the_smallest_offcut_that_holds_a_board_is_named_turned_or_not() -> None:
    large, lying, narrow = (sheet(n, s) for n, s in enumerate(_SIZES, start=1))
    assert fits(large, lying, narrow) == [("mat 1", 2)]
    assert fits(large, narrow) == [("mat 1", 1)]
    assert fits(narrow) == []


_SIZES = (size(900, 800), size(500, 600), size(1100, 499))


def test_a_board_with_a_direction_is_not_turned() -> None:
    assert TOP_MAT.sheet is not None
    one_way = replace(TOP_MAT, sheet=replace(TOP_MAT.sheet, traits=frozenset({Trait.ONE_WAY})))
    agreed, cut = made((one_way, *(each for each in BOOK if each is not TOP_MAT)))
    wanted = parts_to_cut(REF, agreed, cut)
    assert offcuts_that_fit(wanted, [sheet(1, size(500, 600))], SHOP) == ()
    (found,) = offcuts_that_fit(wanted, [sheet(1, size(600, 500))], SHOP)
    assert found.what == "mat 1"


def test_no_offcut_is_named_for_two_parts_unless_there_are_two_of_it() -> None:
    both = {"mats__1__material": "M-101"}
    # mat 1 is the larger one and chooses first; mat 2 would fit 596 × 496 too
    assert fits(sheet(1, size(600, 500)), typed=both) == [("mat 1", 1)]
    assert fits(sheet(1, size(596, 496)), typed=both) == [("mat 2", 1)]
    assert fits(sheet(1, size(600, 500), available=2), typed=both) == [("mat 1", 1), ("mat 2", 1)]


def test_offcuts_are_of_the_same_material_owned_and_not_taken() -> None:
    assert fits(sheet(1, size(900, 800), code="X-9")) == []
    assert fits(sheet(1, size(900, 800), whole=True)) == []
    assert fits(sheet(1, size(900, 800), available=0)) == []
    assert fits(stick(1, mm(2900), code="X-9")) == []


def test_fits_run_as_the_parts_of_a_ticket_and_say_what_they_are() -> None:
    rack = (
        stick(1, mm(2900)),
        sheet(2, size(600, 500)),
        sheet(3, size(700, 550), code="B-3"),
        stick(4, mm(1500), code="FIL-10"),
    )
    lined = {"fillet__material": "FIL-10", "fillet__depth": "3"}
    # the fillet takes 2 × 408 + 2 × 308 + 3 × 8.5 = 1457.5
    assert fits(*rack, typed=lined) == [
        ("mat 1", 2),
        ("backing", 3),
        ("fillet, all 4 rails", 4),
        ("frame, all 4 rails", 1),
    ]


def test_nothing_on_the_rack_fits_nothing() -> None:
    assert offcuts_that_fit(parts({}), (), SHOP) == ()
    fit: OffcutFit = offcuts_that_fit(parts({}), [sheet(2, size(600, 500))], SHOP)[0]
    assert extent_text(fit.offcut.kept.item, Unit.MM) == "600 × 500 mm"
    assert extent_text(stick(1, mm(254)).kept.item, Unit.IN) == '10"'


# A print close in a frame: package 3100 × 300, rails 3100 + 3 + 2 × 13.5 = 3130 and 330.
LONG = {
    "presentation": "close",
    "artwork__size": "3100 x 300",
    "mats__0__material": "",
    "mats__1__material": "",
    "mats__1__reveal": "",
    "borders__left": "",
    "borders__top": "",
    "borders__bottom": "",
    "glazing__material": "",
}


def said(*rack: OnRack, shop: Shop = SHOP, typed: Typed = AS_TYPED) -> list[tuple[Concern, str]]:
    notices = too_large(parts(typed), rack, shop, Unit.MM)
    assert {notice.code for notice in notices} <= {"larger-than-new-stock"}
    return [(notice.concern, notice.message) for notice in notices]


def test_nothing_is_said_of_what_new_stock_holds() -> None:
    assert said() == []


def test_what_neither_new_stock_nor_the_rack_holds_is_a_risk_said_once() -> None:
    backing = "The backing is 3100 × 300 mm, and no new sheet of B-3, 1200 × 1000 mm, holds it"
    rail = "A rail of the frame is 3130 mm long, and no new stick of LIN-20, 3000 mm, holds it"
    assert said(stick(1, mm(3129), whole=True), typed=LONG) == [
        (Concern.RISK, f"{backing}; nothing on the rack holds it either."),
        (Concern.RISK, f"{rail}; nothing on the rack holds it either."),
    ]


def test_an_item_on_the_rack_that_holds_it_is_named_the_smallest_first() -> None:
    long, longer = stick(1, mm(3600), whole=True), stick(2, mm(4000), whole=True)
    placed = replace(long.kept, item=replace(long.kept.item, place="Bay 3"))
    rack = (longer, OnRack(kept=placed, available=1), sheet(3, size(3200, 400), code="B-3"))
    (backing, rail) = said(*rack, typed=LONG)
    assert backing[0] is rail[0] is Concern.LOOK
    assert backing[1].endswith("holds it; on the rack K-3 (3200 × 400 mm) holds it.")
    assert rail[1].endswith("holds it; on the rack a whole one (3600 mm, Bay 3) holds it.")


def test_trims_and_direction_are_said_where_they_are_the_reason() -> None:
    # 1195 × 990 fits 1200 × 1000, but not within trims of 5 at each edge
    wide = LONG | {"artwork__size": "1195 x 990", "frames__0__material": ""}
    trims = replace(SHOP, cutting_habits=CuttingHabits(sheet_trim=mm(5)))
    assert said(typed=wide) == []
    ((_, message),) = said(shop=trims, typed=wide)
    assert "no new sheet of B-3, 1200 × 1000 mm, holds it within its trims;" in message


def test_a_fillet_longer_than_its_stick_is_told() -> None:
    assert FILLET.profile is not None
    short = replace(FILLET, profile=replace(FILLET.profile, stick=mm(400)))
    lined = parts({"fillet__material": "FIL-10", "fillet__depth": "3"}, (*BOOK, short))
    (notice,) = too_large(lined, (), SHOP, Unit.MM)  # the long rails are 408, the short ones 308
    assert notice.message.startswith(
        "A rail of the fillet is 408 mm long, and no new stick of FIL-10, 400 mm, holds it;"
    )


@pytest.mark.parametrize(("traits", "told"), [(frozenset({Trait.ONE_WAY}), 1), (frozenset(), 0)])
def test_a_board_with_a_direction_does_not_hold_what_it_would_hold_turned(
    traits: frozenset[Trait], told: int
) -> None:
    assert TOP_MAT.sheet is not None
    tall = replace(TOP_MAT, sheet=replace(TOP_MAT.sheet, size=size(1000, 1200), traits=traits))
    wide = {
        "artwork__size": "900 x 300",  # 890 + 2 × 90 = 1070
        "mats__1__material": "",
        "glazing__material": "",
        "backing__material": "",
    }
    agreed, cut = made((tall, MOULDING, *BOOK[6:]), **wide)
    found = too_large(parts_to_cut(REF, agreed, cut), (), SHOP, Unit.MM)
    assert len(found) == told
    assert all("holds it without being turned; nothing" in each.message for each in found)
