"""The sample's price book: enough of everything, every way of pricing, and nobody else's codes."""

import re
from collections import Counter

import pytest

from app.lengths import mm
from app.pricing import ChargeBy, Kind, Material, Trait
from seed_demo.palettes import FILLETS
from seed_demo.price_book import price_book
from seed_demo.shop import MARKUP_TABLES, quillmoor

BOOK = price_book()


def of_kind(kind: Kind) -> tuple[Material, ...]:
    return tuple(material for material in BOOK if material.kind is kind)


def named(code: str) -> Material:
    return next(material for material in BOOK if material.code == code)


def test_there_is_enough_to_choose_from() -> None:
    """Source: the issue that asks for the sample: 40 mouldings and 60 mats at least."""
    counts = Counter(material.kind for material in BOOK)
    assert counts[Kind.MOULDING] >= 40
    assert counts[Kind.MAT] >= 60
    assert all(counts[kind] >= 8 for kind in Kind)


def test_codes_and_names_are_each_used_once() -> None:
    for words in ([m.code.casefold() for m in BOOK], [(m.kind, m.name.casefold()) for m in BOOK]):
        assert len(set(words)) == len(words)


def test_every_charge_rule_is_in_use() -> None:
    assert {material.charge.by for material in BOOK} == set(ChargeBy)


def test_every_way_to_a_sell_price_is_in_use() -> None:
    selling = [material.selling for material in BOOK]
    assert any(each.markup for each in selling)
    assert any(each.price for each in selling)
    assert {each.table for each in selling if each.table} == {table.code for table in MARKUP_TABLES}


def test_a_sliding_table_falls_as_the_cost_rises() -> None:
    for table in MARKUP_TABLES:
        factors = [step.factor for step in table.steps]
        assert factors == sorted(factors, reverse=True)


def test_two_tax_rates_are_in_use_and_the_shop_has_both() -> None:
    used = {material.tax for material in BOOK}
    assert used == {"standard", "reduced"}
    assert used <= {rate.code for rate in quillmoor().tax_rates}


@pytest.mark.parametrize(
    ("code", "grams"),
    [
        # EN 572-1 as quoted publicly: 2.5 kg per m² and mm of glass
        ("CLEAR2", 5000),
        ("CLEAR3", 7500),
        ("UV2", 5000),
        # 1190 kg/m³ of cast PMMA, public material data: 2 × 1190, 3 × 1190
        ("ACRYL2", 2380),
        ("ACRYL3", 3570),
        # 1.4 × 700 and 2.4 × 700, MDF 2.5 × 750: densities of the handbook, from memory
        ("SALT14", 980),
        ("SALT24", 1680),
        ("MDF25", 1875),
    ],
)
def test_a_sheet_weighs_its_thickness_times_its_density(code: str, grams: int) -> None:
    sheet = named(code).sheet
    assert sheet is not None
    assert sheet.grams_per_m2 == grams


def test_glazing_is_glass_or_acrylic_and_some_of_both_filters_uv() -> None:
    for matter in (Trait.GLASS, Trait.ACRYLIC):
        traits = [m.sheet.traits for m in of_kind(Kind.GLAZING) if m.sheet]
        assert any({matter, Trait.UV_FILTER} <= each for each in traits)
        assert any(matter in each and Trait.UV_FILTER not in each for each in traits)
    assert Trait.LAMINATED in {t for m in of_kind(Kind.GLAZING) if m.sheet for t in m.sheet.traits}


def test_mats_are_of_several_thicknesses_and_mostly_the_usual_sheet() -> None:
    sheets = [material.sheet for material in of_kind(Kind.MAT) if material.sheet]
    assert {sheet.thickness for sheet in sheets} == {mm("1.4"), mm(2), mm("2.4")}
    usual = [s for s in sheets if (s.size.width, s.size.height) == (mm(1120), mm(815))]
    assert len(sheets) * 4 // 5 < len(usual) < len(sheets)
    acid_free = [Trait.ACID_FREE in sheet.traits for sheet in sheets]
    assert 20 < sum(acid_free) < len(acid_free)


def test_a_tray_has_no_lip_and_everything_else_does() -> None:
    for material in of_kind(Kind.MOULDING):
        assert material.profile is not None
        assert ("tray" in material.tags) == (material.profile.lip == mm(0))


def test_what_mounts_with_glue_says_so() -> None:
    assert {m.code for m in BOOK if "adhesive" in m.tags} == {"DRYMNT", "SPRAY"}


def test_moulding_codes_follow_one_scheme_of_the_shops_own() -> None:
    """A letter for the shape, the face in mm, three letters for the colour."""
    for material in of_kind(Kind.MOULDING):
        found = re.fullmatch(r"[BCDFHLMQRSTW](\d\d)-[A-Z]{3}", material.code)
        assert found, material.code
        assert material.profile is not None
        assert material.profile.face == mm(int(found[1]))


def test_every_fillet_goes_with_a_frame_and_can_be_tucked() -> None:
    """G19: a moulding charged by length, whose lip goes behind the mat."""
    fillets = {m.code: m for m in BOOK if "fillet" in m.tags}
    assert set(FILLETS.values()) == set(fillets)
    assert set(FILLETS) <= {m.code for m in of_kind(Kind.MOULDING)}
    for fillet in fillets.values():
        assert fillet.profile is not None
        assert fillet.charge.by is ChargeBy.LENGTH
        assert mm(0) < fillet.profile.lip < fillet.profile.face <= mm(12)
