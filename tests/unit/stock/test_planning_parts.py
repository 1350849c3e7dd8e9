"""The parts of a piece, against the one that is worked by hand in tests/builders/worked."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.lengths import ZERO, Length, Size, mm
from app.pricing import Charge, ChargeBy, CostPer, Kind, Material, Profile, Selling, Trait
from app.pricing.measure import Measure
from app.stock.items import StockForm
from app.stock.planning.parts import PartToCut, needs_of, parts_to_cut
from tests.builders.in_work import REF, made
from tests.builders.values import euro
from tests.builders.worked import BOOK, MOULDING, TOP_MAT


def sizes(parts: tuple[PartToCut, ...]) -> dict[str, Length | Size | None]:
    return {part.key: part.length or part.size for part in parts}


def test_every_rail_and_blank_is_a_part_of_its_own_at_the_size_worked_by_hand() -> None:
    agreed, cut = made()
    # tests/builders/worked: package 600 × 500, long points 630 and 530; the under mat is trimmed by 3 at
    # each edge: 594 × 494 (its blank in the weight's sum there).
    assert sizes(parts_to_cut(REF, agreed, cut)) == {
        "mat-1": Size(mm(600), mm(500)),
        "mat-2": Size(mm(594), mm(494)),
        "glazing": Size(mm(600), mm(500)),
        "backing": Size(mm(600), mm(500)),
        "frame-1.top": mm(630),
        "frame-1.bottom": mm(630),
        "frame-1.left": mm(530),
        "frame-1.right": mm(530),
    }


def test_a_part_says_which_piece_it_is_for_and_what_it_is_of() -> None:
    parts = {part.key: part for part in parts_to_cut(REF, *made())}
    rail, under = parts["frame-1.left"], parts["mat-2"]
    assert (rail.id, rail.group, rail.form) == ("17/frame-1.left", "17/frame-1", StockForm.STICK)
    assert (rail.words, rail.piece.name, rail.material.code) == (
        "frame, left",
        "2026-0148/2",
        "LIN-20",
    )
    assert (under.id, under.group, under.form) == ("17/mat-2", "", StockForm.SHEET)
    assert under.what == "M-140 594 × 494"
    assert rail.what == "LIN-20 530"


def test_a_piece_in_inches_is_cut_in_sixteenths() -> None:
    # 16 × 20 in behind a window: overlap 3/16 each edge, so 15 5/8 × 19 5/8; borders of 2 in make a
    # package of 19 5/8 × 23 5/8. Rails: package + 1/8 + 2 × (20 − 6.5) mm = 27 mm = 1.062992 in, so
    # 20.8130 and 24.8130 in, up to sixteenths: 20 13/16 = 20.8125 is too short, 20 14/16 it is.
    agreed, cut = made(
        unit="in", artwork__size="16 x 20", mats__1__material="", mats__1__reveal="",
        borders__left="2", borders__top="2", borders__bottom="2",
    )  # fmt: skip
    found = sizes(parts_to_cut(REF, agreed, cut))
    assert found["mat-1"] == Size(
        Length.of("157/8", agreed.spec.unit), Length.of("189/8", agreed.spec.unit)
    )
    assert found["frame-1.top"] == Length.of("167/8", agreed.spec.unit)
    assert found["frame-1.left"] == Length.of("199/8", agreed.spec.unit)


def test_what_is_counted_is_no_part_to_cut() -> None:
    agreed, cut = made(extras__0__material="X-1")
    counted = needs_of(REF, agreed, cut).counted
    assert [(need.material.code, need.quantity, need.measure) for need in counted] == [
        ("R-1", Fraction(2), Measure.EACH),
        ("X-1", Fraction(1), Measure.EACH),
    ]


def _strip(**but: object) -> Material:
    return Material(
        code="S-5",
        name="Spacer strip",
        kind=Kind.EXTRA,
        cost=euro("1.00"),
        charge=Charge(by=ChargeBy.LENGTH),
        selling=Selling(markup=Fraction(3)),
        **{"per": CostPer.METRE, **but},  # type: ignore[arg-type]
    )


SPACED = {"mats__0__material": "", "mats__1__material": "", "mats__1__reveal": "", "presentation": "close",
          "borders__left": "", "borders__top": "", "borders__bottom": "", "spacer__material": "S-5", "spacer__depth": "5"}  # fmt: skip


def test_spacers_with_a_stick_are_cut_from_it_and_others_are_measured() -> None:
    profile = Profile(face=mm(5), lip=ZERO, rebate_depth=mm(5), stick=mm(2000), grams_per_metre=10)
    agreed, cut = made((*BOOK, _strip(profile=profile)), **SPACED)
    (width, _), (height, _) = cut.spacers
    found = sizes(parts_to_cut(REF, agreed, cut))
    # Close fit: the package is the artwork, 410 × 310 (G15). Spacers 410 and 310 − 2 × their width
    # of 5, which is the usual one (G14).
    assert (width, height) == (mm(410), mm(300))
    assert {key: length for key, length in found.items() if key.startswith("spacer")} == {
        "spacer.top": mm(410),
        "spacer.bottom": mm(410),
        "spacer.left": mm(300),
        "spacer.right": mm(300),
    }
    needs = needs_of(REF, *made((*BOOK, _strip()), **SPACED))
    assert not [part for part in needs.parts if part.key.startswith("spacer")]
    (metres,) = [need for need in needs.counted if need.material.code == "S-5"]
    assert (metres.quantity, metres.measure) == (Fraction("1.42"), Measure.METRE)


def test_a_board_with_a_direction_lets_no_part_turn() -> None:
    assert TOP_MAT.sheet is not None
    traits = TOP_MAT.sheet.traits | {Trait.ONE_WAY}
    grained = replace(TOP_MAT, sheet=replace(TOP_MAT.sheet, traits=traits))
    parts = {part.key: part for part in parts_to_cut(REF, *made((grained, *BOOK[2:], MOULDING)))}
    assert not parts["mat-1"].turn
    assert parts["glazing"].turn


def test_a_part_has_one_kind_of_size_above_zero() -> None:
    for sizes_given in ({}, {"length": mm(3), "size": Size(mm(3), mm(4))}):
        with pytest.raises(Invalid, match="a length or a size"):
            PartToCut(piece=REF, key="x", words="x", material=MOULDING, **sizes_given)  # type: ignore[arg-type]
    with pytest.raises(Invalid, match="above zero"):
        PartToCut(piece=REF, key="x", words="x", material=MOULDING, size=Size(mm(3), ZERO))


def test_the_rails_of_a_fillet_are_parts_of_their_own() -> None:
    # G19: the innermost window of 400 × 300 and a tuck of 5 at each edge, the moulding's lip.
    profile = Profile(
        face=mm(12), lip=mm(5), rebate_depth=mm(3), stick=mm(2400), grams_per_metre=60
    )
    narrow = replace(MOULDING, code="FIL-12", name="Gilt fillet", profile=profile)
    agreed, cut = made((*BOOK, narrow), fillet__material="FIL-12", fillet__depth="3")
    parts = [part for part in parts_to_cut(REF, agreed, cut) if part.material.code == "FIL-12"]
    assert sizes(tuple(parts)) == {
        "fillet-1.top": mm(410),
        "fillet-1.bottom": mm(410),
        "fillet-1.left": mm(310),
        "fillet-1.right": mm(310),
    }
    assert {part.group for part in parts} == {"17/fillet-1"}
