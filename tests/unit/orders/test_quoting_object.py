"""An object as it is typed on the quote page: by its kind, and what of the price book suits its box (G22, D7).

Worked by hand: mat 1.5 (layer 1 alone), spacers 25, object 20, glass 2, board 3 behind, board 3 as mount:
2 + 26.5 + 3 + 3 = 34.5, and 2 for the points: a rebate of 36.5. 20 + 3 − 1.5 = 21.5 is the least spacer.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing import ObjectInBox
from app.framing.notices.care import Work
from app.lengths import Length, Unit, inches, mm
from app.orders import Agreed, ArtworkKind, ArtworkRecord, usual_shop
from app.orders.box_materials import suited_to_box
from app.orders.dimensions_memo import worked_out
from app.orders.piece_report import findings
from app.orders.quoting.agreement import agree
from app.orders.quoting.artwork import same_design
from app.orders.quoting.partial import SoFar, so_far
from app.orders.quoting.request import read_piece
from app.pricing import Charge, ChargeBy, CostPer, Kind, Material, Profile, Selling
from tests.builders.values import euro, finder
from tests.builders.worked import BACKING, BOOK, FILLET, MOULDING, SHOP, TYPED


def strip(code: str, depth: str) -> Material:
    return Material(
        code=code,
        name=f"Spacer strip {depth}",
        kind=Kind.EXTRA,
        cost=euro("1.00"),
        per=CostPer.METRE,
        charge=Charge(by=ChargeBy.LENGTH),
        selling=Selling(markup=Fraction(3)),
        profile=Profile(
            face=mm(5), lip=mm(0), rebate_depth=mm(depth), stick=mm(2000), grams_per_metre=10
        ),
    )


def deep(code: str, depth: str, lip: str = "6.5") -> Material:
    assert MOULDING.profile is not None
    profile = replace(MOULDING.profile, rebate_depth=mm(depth), lip=mm(lip))
    return replace(MOULDING, code=code, profile=profile)


SPACER = replace(strip("SP-25", "25"), profile=None)

BOX = {
    "artwork.size": "200 x 150",
    "artwork.kind": "object",
    "artwork.thickness": "20",
    "presentation": "float",
    "mats.0.material": "M-101",
    "borders.left": "60",
    "frames.0.material": "LIN-20",
    "glazing.material": "G-2",
    "mount_board.material": "B-3",
    "backing.material": "B-3",
    "spacer.material": "SP-25",
    "spacer.depth": "25",
}


find = finder((*BOOK, SPACER))


def made(**typed: str) -> tuple[ArtworkRecord, Agreed]:
    fields = {name.replace("__", "."): text for name, text in typed.items()}
    return agree(BOX | fields, SHOP, find, today=date(2026, 11, 25))


def stack(**typed: str) -> Length:
    return worked_out(made(**typed)[1].spec).stack


def test_the_kind_says_that_it_stands_in_a_box() -> None:
    """D1 added both: 2 + 1.5 + 25 + 20 + 3 + 3 = 54.5."""
    assert made()[1].spec.boxed == ObjectInBox(clearance=mm(3))
    assert stack() == mm("34.5")
    assert made(artwork__kind="print")[1].spec.boxed is None
    assert stack(artwork__kind="print") == mm("54.5")


def test_a_program_may_say_or_deny_it_whatever_the_kind() -> None:
    assert stack(artwork__object="no") == mm("54.5")
    assert stack(artwork__kind="other", artwork__object="yes") == mm("34.5")


def test_the_clearance_is_the_shops_in_the_unit_of_the_piece() -> None:
    wide = replace(SHOP, allowances=replace(SHOP.allowances, object_clearance=mm(8)))
    assert read_piece(BOX, wide, find).spec.boxed == ObjectInBox(clearance=mm(8))
    imperial = usual_shop("Kesselhof", Unit.IN, "EUR", Fraction(0))
    spec = read_piece(BOX | {"unit": "in", "artwork.size": "8 x 6"}, imperial, find).spec
    assert spec.boxed == ObjectInBox(clearance=inches("1/8"))


def refused(**typed: str) -> dict[str, str]:
    with pytest.raises(Invalid) as raised:
        made(**typed)
    return {fault.path: fault.message for fault in raised.value.faults}


def test_glass_on_the_object_is_refused_at_the_depth_of_the_spacers() -> None:
    """30 + 3 − 1.5 = 31.5."""
    found = refused(artwork__thickness="30")
    assert set(found) == {"spacer.depth"}
    assert "31.5 mm" in found["spacer.depth"]


def test_a_canvas_is_refused_at_how_it_is_shown() -> None:
    assert set(refused(presentation="canvas")) == {"presentation"}


def told(**typed: str) -> SoFar:
    fields = BOX | {name.replace("__", "."): text for name, text in typed.items()}
    with pytest.raises(Invalid) as raised:
        agree(fields, SHOP, find, today=date(2026, 11, 25))
    found = so_far(fields, raised.value.faults, SHOP, find)
    assert found is not None
    return found


def test_an_object_too_high_for_its_box_is_still_drawn_in_it() -> None:
    drawn = told(artwork__thickness="30")
    assert drawn.left_out == {"artwork.thickness": "30"}
    assert drawn.dimensions.spec.boxed is not None
    assert drawn.dimensions.spec.spacer is not None
    without = told(artwork__thickness="6", spacer__material="", spacer__depth="")
    assert without.left_out == {"artwork.thickness": "6"}


def test_an_object_shown_as_a_canvas_is_drawn_as_one() -> None:
    drawn = told(presentation="canvas")
    assert drawn.left_out == {"artwork.kind": "object"}
    assert drawn.dimensions.spec.boxed is None


def test_what_lies_flat_and_becomes_an_object_is_another_design() -> None:
    _, flat = made(artwork__kind="print")
    typed = dict(flat.typed)
    assert same_design(flat, typed | {"artwork.kind": "drawing"})
    assert not same_design(flat, typed | {"artwork.kind": "object"})
    _, box = made()
    assert same_design(box, dict(box.typed) | {"artwork.title": "Shoes"})
    assert not same_design(box, dict(box.typed) | {"artwork.kind": "other"})


def test_an_object_that_was_agreed_lying_flat_stays_as_it_was() -> None:
    _, box = made()
    old = replace(box, spec=replace(box.spec, boxed=None))
    assert same_design(old, dict(old.typed) | {"artwork.condition": "one lace is torn"})


def test_an_object_has_its_caution_and_its_notices() -> None:
    found = findings(*made(), SHOP)
    assert Work.OBJECT in dict(found.cautions)
    assert "object-depth" in [notice.code for notice in found.notices]
    flat = findings(*made(artwork__kind="print"), SHOP)
    assert Work.OBJECT not in dict(flat.cautions)


def named(
    mouldings: tuple[Material, ...], extras: tuple[Material, ...], **typed: str
) -> dict[str, str]:
    dimensions = worked_out(made(**typed)[1].spec)
    return {n.code: n.message for n in suited_to_box(dimensions, mouldings, extras)}


def test_the_mouldings_that_are_deep_enough_are_named_the_shallowest_first() -> None:
    """36.5 are needed. A tray has no lip to hold glass."""
    book = (deep("D-60", "60"), deep("D-37", "36.5"), deep("D-36", "36.4"), deep("T-60", "60", "0"))
    said = named(book, ())
    assert set(said) == {"moulding-deep-enough"}
    assert "36.5 mm: D-37 (36.5 mm), D-60 (60 mm)." in said["moulding-deep-enough"]
    assert named((MOULDING, FILLET), ())["moulding-deep-enough"] == (
        "No moulding of the price book is deep enough: it takes a rebate of at least 36.5 mm; the "
        "deepest is LIN-20 (14 mm)."
    )
    assert named((), ())["moulding-deep-enough"].endswith("at least 36.5 mm.")
    many = tuple(deep(f"D-{number}", "40") for number in range(10, 18))
    assert named(many, ())["moulding-deep-enough"].endswith("D-15 (40 mm) and 2 more.")


def test_spacers_are_named_where_the_glazing_comes_too_close() -> None:
    """25 of 26.5: 1.5 clear; 25 + 3 − 1.5 = 26.5 would do."""
    book = (strip("SP-30", "30"), strip("SP-26", "26.5"), strip("SP-12", "12"))
    said = named((), book, artwork__thickness="25")["spacer-deep-enough"]
    assert "26.5 mm: SP-26 (26.5 mm), SP-30 (30 mm)." in said
    none = named((), (strip("SP-12", "12"),), artwork__thickness="25")["spacer-deep-enough"]
    assert "the deepest is SP-12 (12 mm)" in none
    assert "spacer-deep-enough" not in named((), book)
    assert "spacer-deep-enough" not in named((), (SPACER, BACKING), artwork__thickness="25")


def test_nothing_is_named_for_what_lies_flat() -> None:
    dimensions = worked_out(agree(TYPED, SHOP, find, today=date(2026, 11, 25))[1].spec)
    assert suited_to_box(dimensions, (MOULDING,), (SPACER,)) == ()


def test_an_object_is_a_kind_of_artwork() -> None:
    assert made()[0].kind is ArtworkKind.OBJECT
