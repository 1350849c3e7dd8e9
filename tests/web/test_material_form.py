"""The form of a material: what is typed becomes the material, and comes back as it was."""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing import ProfileShape
from app.lengths import Unit, inches, mm
from app.orders import Shop, usual_shop
from app.pricing import (
    Bears,
    Charge,
    ChargeBy,
    CostPer,
    HangingPart,
    Kind,
    MarkupStep,
    MarkupTable,
    Selling,
    Trait,
)
from app.web.materials.form import read_material, typed_of, usual_typed
from app.web.materials.form_page import form_fields, trait_fields
from tests.builders.values import euro, size
from tests.builders.watercolour import backing, glazing, mat, moulding, ring


def shop(unit: Unit = Unit.MM) -> Shop:
    table = MarkupTable(
        code="boards", name="Boards", steps=(MarkupStep(up_to=None, factor=Fraction(3)),)
    )
    plain = usual_shop("Sedge Lane Frames", unit, "EUR", Fraction(1, 5))
    return replace(plain, markup_tables=(table,))


ALL = {
    "a moulding by length": moulding(),
    "a moulding in sixteenths": moulding(
        profile=replace(moulding().profile, face=inches("13/16"), lip=inches("3/16"))
    ),
    "a moulding with all that length charging has": moulding(
        charge=Charge(
            by=ChargeBy.LENGTH, waste=Fraction(1, 8), minimum_length=mm(1000), step=mm(100)
        ),
        finish="gilt, aged",
        supplier="Holm Timber",
        tags=("wood", "wide"),
        notes="Two lines\nof notes.",
        active=False,
    ),
    "a scoop": moulding(shape=ProfileShape.SCOOP),
    "a mat by sheet share from a table": mat(),
    "a mat with shares of its own": mat(
        charge=Charge(by=ChargeBy.SHEET_SHARE, shares=(Fraction(1, 6), Fraction(1, 3), Fraction(1)))
    ),
    "glazing by area": glazing(
        sheet=replace(
            glazing().sheet, traits=frozenset({Trait.GLASS, Trait.UV_FILTER}), size=size(1220, 915)
        )
    ),
    "a ring that bears an odd weight": ring(
        hanging=HangingPart(bears=Bears.RING, load_kg=Fraction("0.45359237") * 33)
    ),
    "a wire of a seventh of a kilogram": ring(
        hanging=HangingPart(bears=Bears.WIRE, load_kg=Fraction(100, 7))
    ),
    "a cleat of unknown load": ring(hanging=HangingPart(bears=Bears.CLEAT)),
    "a bumper that bears nothing": ring(hanging=HangingPart(bears=Bears.NOTHING)),
    "a mat with a direction": mat(
        sheet=replace(mat().sheet, traits=frozenset({Trait.ACID_FREE, Trait.ONE_WAY}))
    ),
    "backing by size band": backing(),
    "a moulding by what is opened": moulding(
        charge=Charge(by=ChargeBy.OPENED, minimum_length=mm(600), step=mm(10))
    ),
    "glazing by what is opened": glazing(
        charge=Charge(by=ChargeBy.OPENED, minimum_area=Fraction(1, 5))
    ),
    "a price outright": moulding(selling=Selling(price=euro("1234.50"))),
}


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("unit", Unit)
def test_a_material_comes_back_from_its_form_as_it_was(name: str, unit: Unit) -> None:
    assert read_material(typed_of(ALL[name], shop(unit)), shop(unit)) == ALL[name]


def test_what_was_typed_is_read_exactly() -> None:
    typed = usual_typed(Kind.GLAZING, shop()) | {
        "code": "UV2",
        "name": "Clear, UV, 2 mm",
        "cost": "31,40",
        "charge.waste": "12.5",
        "charge.minimum_area": "0.2",
        "selling": "markup",
        "selling.markup": "3,25",
        "sheet.size": "48x36 in",
        "sheet.thickness": "2",
        "sheet.matter": "float glass",
        "sheet.traits.glass": "1",
    }
    material = read_material(typed, shop())
    assert material.cost == euro("31.40")
    assert material.per is CostPer.SHEET
    assert material.charge.waste == Fraction(1, 8)
    assert material.charge.minimum_area == Fraction(1, 5)
    assert material.selling.markup == Fraction(13, 4)
    assert material.sheet is not None
    assert material.sheet.size.width == inches(48)
    # 2.5 kg per m² and mm of glass (EN 572-1, as quoted publicly): 5 kg a m² at 2 mm.
    assert material.sheet.grams_per_m2 == 5000


@pytest.mark.parametrize(
    ("kind", "offered"),
    [
        (Kind.MAT, {"acid-free", "one-way"}),
        (Kind.BOARD, {"acid-free", "one-way"}),
        (Kind.GLAZING, {"uv-filter", "glass", "acrylic", "laminated"}),
        (Kind.MOULDING, set()),
    ],
)
def test_only_what_may_be_said_of_a_kind_is_offered(kind: Kind, offered: set[str]) -> None:
    fields = form_fields({"kind": kind.value}, (), shop())
    paths = {field.path for field in trait_fields(fields, kind)}
    assert paths == {f"sheet.traits.{trait}" for trait in offered}


def test_what_a_form_of_another_kind_said_is_not_taken_over() -> None:
    typed = usual_typed(Kind.MAT, shop()) | {
        "code": "M1",
        "name": "Chalk",
        "cost": "9",
        "sheet.size": "1120 x 815",
        "sheet.thickness": "1.4",
        "sheet.traits.glass": "1",
        "sheet.traits.one-way": "1",
    }
    sheet = read_material(typed, shop()).sheet
    assert sheet is not None
    assert sheet.traits == {Trait.ONE_WAY}


def test_waste_that_was_typed_counts_for_nothing_where_what_is_opened_is_charged() -> None:
    typed = typed_of(moulding(), shop()) | {"charge.by": "opened", "charge.waste": "15"}
    assert read_material(typed, shop()).charge == Charge(by=ChargeBy.OPENED)


@pytest.mark.parametrize(
    ("kind", "thickness", "grams"),
    [
        (Kind.GLAZING, "2", 5000),  # 2.5 kg per m² and mm (EN 572-1, as quoted publicly)
        (Kind.MAT, "1.4", 980),  # 700 kg/m³ × 1.4 mm (handbook D2, from memory)
    ],
)
def test_a_sheet_whose_weight_nobody_gives_weighs_what_its_kind_is_usually_made_of(
    kind: Kind, thickness: str, grams: int
) -> None:
    typed = usual_typed(kind, shop()) | {
        "code": "X",
        "name": "x",
        "cost": "9",
        "sheet.size": "1120 x 815",
        "sheet.thickness": thickness,
    }
    sheet = read_material(typed, shop()).sheet
    assert sheet is not None
    assert sheet.grams_per_m2 == grams


def faults(typed: dict[str, str]) -> dict[str, str]:
    with pytest.raises(Invalid) as caught:
        read_material(typed, shop())
    return {fault.path: fault.message for fault in caught.value.faults}


def test_an_empty_moulding_says_all_that_is_missing_at_once() -> None:
    assert set(faults(usual_typed(Kind.MOULDING, shop()))) == {
        "code",
        "name",
        "cost",
        "profile.face",
        "profile.lip",
        "profile.rebate_depth",
        "profile.stick",
    }


@pytest.mark.parametrize("text", ["NaN", "-3", "1e9", "🖼", "<b>12</b>", "x" * 10_000])
def test_what_is_no_number_is_quoted_and_refused_in_every_field(text: str) -> None:
    typed = typed_of(glazing(), shop()) | {
        "cost": text,
        "charge.waste": text,
        "charge.minimum_area": text,
        "selling.markup": text,
        "sheet.size": text,
        "sheet.thickness": text,
        "sheet.grams_per_m2": text,
    }
    found = faults(typed)
    assert set(found) == {
        "cost",
        "charge.waste",
        "charge.minimum_area",
        "selling.markup",
        "sheet.size",
        "sheet.thickness",
        "sheet.grams_per_m2",
    }
    assert all(len(message) < 400 for message in found.values())


def test_the_fields_of_another_rule_are_not_read() -> None:
    typed = typed_of(glazing(), shop()) | {"charge.step": "no length", "charge.bands.0.price": "x"}
    assert read_material(typed, shop()) == glazing()


def test_a_band_without_a_size_and_one_out_of_order_are_said_at_their_rows() -> None:
    typed = typed_of(backing(), shop())
    found = faults(typed | {"charge.bands.0.up_to": "", "charge.bands.2.price": "7"})
    assert set(found) == {"charge.bands.0.up_to", "charge.bands.2.up_to"}
    assert set(faults(typed | {"charge.bands.1.up_to": "700"})) == {"charge.bands.1.up_to"}


def test_shares_are_read_from_the_smallest_up_to_the_whole_sheet() -> None:
    typed = typed_of(mat(), shop())
    assert set(faults(typed | {"charge.shares": "1/2, 1/4, 1"})) == {"charge.shares"}
    assert set(faults(typed | {"charge.shares": "half"})) == {"charge.shares"}
    read = read_material(typed | {"charge.shares": "1/3 2/3 1"}, shop())
    assert read.charge.shares == (Fraction(1, 3), Fraction(2, 3), Fraction(1))


def test_a_table_or_a_tax_rate_that_the_shop_does_not_have_is_refused() -> None:
    typed = typed_of(mat(), shop()) | {"selling.table": "gone", "tax": "odd"}
    assert set(faults(typed)) == {"selling.table", "tax"}


def test_a_spacer_strip_is_an_extra_with_a_section_of_its_own() -> None:
    typed = usual_typed(Kind.EXTRA, shop()) | {
        "code": "SP5",
        "name": "Spacer strip 5",
        "cost": "2.40",
        "charge.by": "length",
        "per": "stick",
        "selling": "price",
        "selling.price": "3",
        "profile.face": "3",
        "profile.lip": "0",
        "profile.rebate_depth": "5",
        "profile.stick": "1500",
    }
    material = read_material(typed, shop())
    assert material.profile is not None
    assert material.profile.stick == mm(1500)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({}, {"charge.waste": "none charged"}),
        ({"charge.waste": "0", "profile.lip": "0"}, {"profile.lip": "no lip, as a tray has"}),
        ({"charge.waste": "10", "profile.lip": "6"}, {"charge.waste": None, "profile.lip": None}),
        ({"charge.waste": "much", "profile.lip": "wide"}, {"charge.waste": None}),
    ],
)
def test_what_nothing_means_is_said_beside_its_field(
    typed: dict[str, str], said: dict[str, str | None]
) -> None:
    fields = form_fields(usual_typed(Kind.MOULDING, shop()) | typed, (), shop())
    assert {path: fields[path].understood for path in said} == said


def test_a_moulding_without_a_lip_says_so_by_a_typed_nought() -> None:
    """Left blank it was taken for 0, and the outside came out two lips too large."""
    typed = typed_of(moulding(), shop())
    assert set(faults(typed | {"profile.lip": ""})) == {"profile.lip"}
    tray = read_material(typed | {"profile.lip": "0"}, shop())
    assert tray.profile is not None
    assert tray.profile.lip == mm(0)
