"""The price book as it is kept."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Invalid, NotFound
from app.lengths import Length, Size, inches, mm
from app.pricing import Bears, Charge, ChargeBy, HangingPart, Kind, Material, Profile
from app.storage import Stale, Store
from app.storage.memo import Memo
from app.storage.tables.materials import MaterialRow, columns_of_material, material_of
from tests.builders.kept import BOARD, BOOK, GLASS, MOULDING, NOW, TOP_MAT, UNDER_MAT, WIRE


def _codes(found: tuple[Material, ...]) -> list[str]:
    return [material.code for material in found]


@pytest.mark.parametrize("material", BOOK, ids=lambda material: material.code)
def test_every_kind_of_material_reads_back_equal(store: Store, material: Material) -> None:
    with store.reading() as work:
        assert work.materials.get(material.code).value == material


@pytest.mark.parametrize(
    "material",
    [
        replace(MOULDING, charge=Charge(by=ChargeBy.OPENED, minimum_length=mm(600), step=mm(10))),
        replace(GLASS, charge=Charge(by=ChargeBy.OPENED, minimum_area=Fraction(1, 5))),
    ],
)
def test_what_is_charged_by_stock_opened_reads_back_equal(store: Store, material: Material) -> None:
    with store.writing() as work:
        work.materials.save(material.code, material, 1, now=NOW)
    with store.reading() as work:
        assert work.materials.get(material.code).value == material


def test_the_longest_sheet_is_the_longest_side_of_any_sheet_on_offer(store: Store) -> None:
    """Boards of 1120 × 815 and a panel of 815 × 2440, which is then taken off offer."""
    panel = replace(BOARD, code="P-8", sheet=replace(BOARD.sheet, size=Size(mm(815), mm(2440))))
    with store.writing() as work:
        assert work.materials.longest_sheet() == mm(1120)
        work.materials.add(panel, now=NOW)
        assert work.materials.longest_sheet() == mm(2440)
        work.materials.save("P-8", replace(panel, active=False), 1, now=NOW)
        assert work.materials.longest_sheet() == mm(1120)


@pytest.mark.parametrize("load", [None, Fraction("0.45359237") * 33, Fraction(100, 7)])
@pytest.mark.parametrize("bears", [each for each in Bears if each is not Bears.NOTHING])
def test_a_hanging_part_reads_back_equal_to_the_last_gram(
    store: Store, bears: Bears, load: Fraction | None
) -> None:
    material = replace(WIRE, code="H-9", hanging=HangingPart(bears=bears, load_kg=load))
    with store.writing() as work:
        work.materials.add(material, now=NOW)
    with store.reading() as work:
        assert work.materials.get("H-9").value == material


grid = st.one_of(
    st.integers(1, 3_000_000).map(lambda thousandths: mm(Fraction(thousandths, 1000))),
    st.integers(1, 6400).map(lambda parts: inches(Fraction(parts, 64))),
)


@given(face=grid, stick=grid, lip_share=st.sampled_from([0, 1]))
def test_lengths_of_both_scales_are_kept_exactly(
    face: Length, stick: Length, lip_share: int
) -> None:
    # Source: L1; 1/1000 mm and 1/64 in are whole grains.
    profile = Profile(
        face=face,
        lip=mm(0) if not lip_share else face - min(face, mm("0.001")),
        rebate_depth=stick,
        stick=stick,
        grams_per_metre=1,
    )
    material = replace(MOULDING, profile=profile)
    assert (
        material_of(MaterialRow(id=1, version=1, **columns_of_material(material)), Memo())
        == material
    )


def test_a_length_too_fine_to_keep_is_said_at_its_field(store: Store) -> None:
    assert MOULDING.profile is not None
    third = replace(MOULDING.profile, face=mm("61/3"))
    with pytest.raises(Invalid) as caught, store.writing() as work:
        work.materials.add(replace(MOULDING, code="L-3", profile=third), now=NOW)
    assert [fault.path for fault in caught.value.faults] == ["profile.face"]


def test_a_code_is_found_in_any_case(store: Store) -> None:
    with store.reading() as work:
        assert work.materials.get("lin-20").value == MOULDING


def test_an_unknown_code_is_not_found(store: Store) -> None:
    with store.reading() as work, pytest.raises(NotFound, match="“X-9”"):
        work.materials.get("X-9")


def test_a_code_in_another_case_is_taken(store: Store) -> None:
    with pytest.raises(Invalid, match="is taken") as caught, store.writing() as work:
        work.materials.add(replace(MOULDING, code="lin-20"), now=NOW)
    assert [fault.path for fault in caught.value.faults] == ["code"]


def test_a_code_can_change_but_not_to_one_that_is_taken(store: Store) -> None:
    with store.writing() as work:
        work.materials.save("LIN-20", replace(MOULDING, code="LIN-21"), 1, now=NOW)
        assert work.materials.get("LIN-21").version == 2
    with pytest.raises(Invalid, match="is taken"), store.writing() as work:
        work.materials.save("LIN-21", replace(MOULDING, code="M-101"), 2, now=NOW)


def test_saving_an_old_version_tells_what_is_kept_now(store: Store) -> None:
    darker, lighter = replace(MOULDING, colour="#101010"), replace(MOULDING, colour="#f0f0f0")
    with store.writing() as work:
        work.materials.save("LIN-20", darker, 1, now=NOW)
    with pytest.raises(Stale) as caught, store.writing() as work:
        work.materials.save("LIN-20", lighter, 1, now=NOW)
    stored = caught.value.stored
    assert getattr(stored, "value", None) == darker
    assert getattr(stored, "version", None) == 2


def test_a_removed_material_is_gone_and_its_id_is_not_used_again(store: Store) -> None:
    with store.writing() as work:
        last = max(work.materials.get(material.code).id for material in BOOK)
        work.materials.remove("W-1", 1)
        work.materials.add(replace(MOULDING, code="NEW"), now=NOW)
        assert work.materials.get("NEW").id == last + 1
        with pytest.raises(NotFound):
            work.materials.get("W-1")


def test_the_best_comes_first(store: Store) -> None:
    others = (
        replace(MOULDING, code="OAK", name="Plain"),
        replace(MOULDING, code="OAK-9", name="Plain"),
        replace(MOULDING, code="A-1", name="Smoked oak"),
        replace(MOULDING, code="A-0", name="Cloaked"),
        replace(MOULDING, code="A-2", name="Ash"),
    )
    with store.writing() as work:
        work.materials.add_all(others, now=NOW)
        assert _codes(work.materials.find("oak")) == ["OAK", "OAK-9", "A-1", "A-0"]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("reseda", ["M-140"]),  # the name is Réséda
        ("RÉSÉDA gre", ["M-140"]),
        ("limewash", ["LIN-20"]),  # its finish
        ("holzwerk", ["LIN-20"]),  # its supplier
        ("wood light", ["LIN-20"]),  # its tags
        ("m-1", ["M-101", "M-140"]),
        ("20", ["LIN-20"]),
        ("papierhaus chalk", ["M-101"]),
        ("chalk green", []),
        ("%", []),
        ("_", []),
        ("😀", []),
        ('" OR 1=1 --', []),
        ("x" * 10_000, []),
    ],
)
def test_materials_are_found_by_parts_of_anything(
    store: Store, typed: str, found: list[str]
) -> None:
    with store.reading() as work:
        assert _codes(work.materials.find(typed)) == found


def test_finding_keeps_to_its_kind_and_its_limit(store: Store) -> None:
    with store.reading() as work:
        assert _codes(work.materials.find("papierhaus", kind=Kind.MAT)) == ["M-101", "M-140"]
        assert len(work.materials.find("", limit=3)) == 3


def test_an_inactive_material_is_offered_only_when_asked_for(store: Store) -> None:
    with store.writing() as work:
        work.materials.save("G-2", replace(GLASS, active=False), 1, now=NOW)
        assert work.materials.all(Kind.GLAZING) == ()
        assert work.materials.find("float") == ()
        assert _codes(work.materials.find("float", inactive=True)) == ["G-2"]
        assert _codes(work.materials.all(Kind.GLAZING, inactive=True)) == ["G-2"]
        assert work.materials.counts()[Kind.GLAZING] == 0


@pytest.mark.parametrize(
    ("typed", "kind", "material"),
    [
        ("m-140", Kind.MAT, UNDER_MAT),
        ("reseda green", Kind.MAT, UNDER_MAT),
        ("  Chalk  White ", Kind.MAT, TOP_MAT),
        ("chalk", Kind.MAT, None),
        ("m-140", Kind.MOULDING, None),
        ("backing board", Kind.BOARD, BOARD),
        ("", Kind.MAT, None),
        ("😀", Kind.MAT, None),
    ],
)
def test_a_material_is_named_by_its_code_or_its_whole_name(
    store: Store, typed: str, kind: Kind, material: Material | None
) -> None:
    with store.reading() as work:
        assert work.materials.named(typed, kind) == material
