"""The price book's values: what exists is valid, and what is not says all that is wrong."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from app.errors import Invalid
from app.lengths import ZERO, inches, mm
from app.money import CURRENCIES, Money
from app.pricing import (
    CHARGES,
    Charge,
    ChargeBy,
    CostPer,
    FrameStock,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
    cost_bases,
)
from tests.builders.values import euro, size
from tests.builders.watercolour import PROFILE, SHEET, backing, extra, glazing, mat, moulding, ring


def paths_of(make: Callable[[], object]) -> list[str]:
    with pytest.raises(Invalid) as caught:
        make()
    return [fault.path for fault in caught.value.faults]


def message_of(make: Callable[[], object]) -> str:
    with pytest.raises(Invalid) as caught:
        make()
    return caught.value.message


def test_all_faults_of_a_material_are_gathered() -> None:
    assert paths_of(
        lambda: moulding(
            code="W 25",
            name="  ",
            colour="brown",
            cost=-euro("1"),
            tax=" ",
            profile=None,
            selling=Selling(),
        )
    ) == ["code", "name", "colour", "tax", "cost", "profile", "selling"]


@pytest.mark.parametrize(
    "code", ["", "-x", "a b", "ü1", "x" * 25, "<b>", "\N{ARABIC-INDIC DIGIT ONE}"]
)
def test_a_code_is_letters_digits_and_strokes(code: str) -> None:
    assert paths_of(lambda: mat(code=code)) == ["code"]


def test_a_code_that_is_not_usable_is_quoted() -> None:
    assert "“a b”" in message_of(lambda: mat(code="a b"))


def test_a_name_is_at_most_120_characters() -> None:
    assert mat(name="x" * 120).name
    assert "121 characters; up to 120" in message_of(lambda: mat(name="x" * 121))


@pytest.mark.parametrize("colour", ["", "#fff", "c8c2b4", "#c8c2bg", "#c8c2b4 "])
def test_a_colour_is_six_hex_digits(colour: str) -> None:
    assert paths_of(lambda: mat(colour=colour)) == ["colour"]


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"face": ZERO}, ["profile.face"]),
        ({"face": mm(-3)}, ["profile.face"]),
        ({"lip": mm(25)}, ["profile.lip"]),
        ({"lip": mm(26)}, ["profile.lip"]),
        ({"lip": mm(-1)}, ["profile.lip"]),
        ({"rebate_depth": ZERO, "stick": ZERO}, ["profile.rebate_depth", "profile.stick"]),
        ({"grams_per_metre": -1}, ["profile.grams_per_metre"]),
    ],
)
def test_a_profile_that_cannot_be_is_refused(changes: dict[str, Any], paths: list[str]) -> None:
    assert paths_of(lambda: replace(PROFILE, **changes)) == paths


def test_a_lip_as_wide_as_the_face_says_both() -> None:
    assert message_of(lambda: replace(PROFILE, lip=mm("25.4"), face=mm("25.4"))) == (
        'The lip is 25.4 mm (1"), but the whole face is 25.4 mm (1"); the lip must be narrower.'
    )


def test_a_tray_has_no_lip() -> None:
    assert replace(PROFILE, lip=ZERO).lip == ZERO


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"size": size(0, 815)}, ["sheet.size"]),
        ({"size": size(1120, -1), "thickness": ZERO}, ["sheet.size", "sheet.thickness"]),
        ({"grams_per_m2": -1}, ["sheet.grams_per_m2"]),
        ({"traits": frozenset({Trait.GLASS, Trait.ACRYLIC})}, ["sheet.traits"]),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(changes: dict[str, Any], paths: list[str]) -> None:
    assert paths_of(lambda: replace(SHEET, **changes)) == paths


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"waste": Fraction(-1, 10)}, ["charge.waste"]),
        ({"waste": Fraction(3)}, ["charge.waste"]),
        ({"minimum_length": mm(-1), "step": mm(-1)}, ["charge.minimum_length", "charge.step"]),
        ({"minimum_area": Fraction(-1)}, ["charge.minimum_area"]),
    ],
)
def test_a_charge_below_zero_is_refused(changes: dict[str, Any], paths: list[str]) -> None:
    assert paths_of(lambda: Charge(by=ChargeBy.LENGTH, **changes)) == paths


@pytest.mark.parametrize(
    ("shares", "paths"),
    [
        ((), ["charge.shares"]),
        ((Fraction(1, 2),), ["charge.shares"]),
        ((Fraction(1, 2), Fraction(1, 4), Fraction(1)), ["charge.shares"]),
        ((Fraction(1), Fraction(1)), ["charge.shares"]),
        ((Fraction(0), Fraction(1)), ["charge.shares.0"]),
        ((Fraction(1), Fraction(2)), ["charge.shares.1", "charge.shares"]),
        ((Fraction(1, 65), Fraction(1)), ["charge.shares.0"]),
    ],
)
def test_shares_run_from_the_smallest_to_the_whole_sheet(
    shares: tuple[Fraction, ...], paths: list[str]
) -> None:
    assert paths_of(lambda: Charge(by=ChargeBy.SHEET_SHARE, shares=shares)) == paths


def test_bands_run_from_the_smallest_and_share_a_currency() -> None:
    small, large = (SizeBand(up_to=mm(n), price=euro("1")) for n in (100, 200))
    yen = SizeBand(up_to=mm(300), price=Money(1, CURRENCIES["JPY"]))
    by = ChargeBy.SIZE_BAND
    assert paths_of(lambda: Charge(by=by)) == ["charge.bands"]
    assert paths_of(lambda: Charge(by=by, bands=(large, small))) == ["charge.bands.1.up_to"]
    assert paths_of(lambda: Charge(by=by, bands=(small, small))) == ["charge.bands.1.up_to"]
    assert paths_of(lambda: Charge(by=by, bands=(small, yen))) == ["charge.bands"]
    assert paths_of(lambda: SizeBand(up_to=ZERO, price=-euro("1"))) == ["up_to", "price"]


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("by", list(ChargeBy))
def test_a_charge_rule_that_makes_no_sense_for_the_kind_is_refused(
    kind: Kind, by: ChargeBy
) -> None:
    senseless = {
        Kind.MOULDING: {ChargeBy.AREA, ChargeBy.SHEET_SHARE, ChargeBy.EACH},
        Kind.MAT: {ChargeBy.LENGTH},
        Kind.GLAZING: {ChargeBy.LENGTH},
        Kind.BOARD: {ChargeBy.LENGTH},
        Kind.HARDWARE: {
            ChargeBy.AREA,
            ChargeBy.SHEET_SHARE,
            ChargeBy.SIZE_BAND,
            ChargeBy.OPENED,
        },
        Kind.EXTRA: {ChargeBy.SHEET_SHARE, ChargeBy.OPENED},
        Kind.READY_MADE: set(ChargeBy) - {ChargeBy.EACH},
        Kind.GOODS: set(ChargeBy) - {ChargeBy.EACH},
    }
    assert (by not in CHARGES[kind]) == (by in senseless[kind])
    if by in senseless[kind]:
        assert "charge.by" in paths_of(lambda: of_kind(kind, by, CostPer.EACH))
    else:
        for per in cost_bases(kind, by):
            assert of_kind(kind, by, per).charge.by is by


FRAME = FrameStock(rebate=size(402, 502), depth=mm(15))


@pytest.mark.parametrize(
    ("changes", "paths"),
    [
        ({"rebate": size(0, 502)}, ["frame.rebate"]),
        ({"depth": ZERO, "grams": -1}, ["frame.depth", "frame.grams"]),
        ({"outside": size(402, 530)}, ["frame.outside"]),
        ({"lip": mm(-1)}, ["frame.lip"]),
        ({"lip": mm(201)}, ["frame.lip"]),
        ({"face": mm(5), "lip": mm(5)}, ["frame.lip"]),
        ({"face": ZERO}, ["frame.face"]),
    ],
)
def test_a_ready_made_frame_that_cannot_be_is_refused(
    changes: dict[str, Any], paths: list[str]
) -> None:
    assert paths_of(lambda: replace(FRAME, **changes)) == paths


def of_kind(kind: Kind, by: ChargeBy, per: CostPer) -> Material:
    bands = (SizeBand(up_to=mm(1000), price=euro("1")),) if by is ChargeBy.SIZE_BAND else ()
    return Material(
        code="K1",
        name="Of a kind",
        kind=kind,
        cost=euro("1"),
        per=per,
        charge=Charge(by=by, bands=bands),
        selling=Selling() if bands else Selling(markup=Fraction(2)),
        profile=PROFILE if kind is Kind.MOULDING or per is CostPer.STICK else None,
        sheet=SHEET if kind.is_sheet else None,
        frame=FRAME if kind is Kind.READY_MADE else None,
    )


@pytest.mark.parametrize(
    ("make", "per", "possible"),
    [
        (moulding, CostPer.SHEET, "per stick, metre, foot"),
        (moulding, CostPer.EACH, "per stick, metre, foot"),
        (mat, CostPer.METRE, "per sheet, square metre, square foot"),
        (backing, CostPer.HUNDRED, "per sheet, square metre, square foot"),
        (ring, CostPer.METRE, "per each, hundred"),
    ],
)
def test_a_cost_basis_that_says_nothing_of_the_charge_is_refused(
    make: Callable[..., Material], per: CostPer, possible: str
) -> None:
    with pytest.raises(Invalid) as caught:
        make(per=per)
    assert [fault.path for fault in caught.value.faults] == ["per"]
    assert possible in caught.value.message


def test_a_strip_bought_by_the_stick_needs_its_stick() -> None:
    strip = {"per": CostPer.STICK, "charge": Charge(by=ChargeBy.LENGTH)}
    assert paths_of(lambda: extra(**strip)) == ["profile"]
    assert extra(**strip, profile=PROFILE).profile == PROFILE


def test_sheets_and_profiles_belong_to_their_kinds() -> None:
    assert paths_of(lambda: mat(sheet=None)) == ["sheet"]
    assert paths_of(lambda: mat(profile=PROFILE)) == ["profile"]
    assert paths_of(lambda: ring(sheet=SHEET)) == ["sheet"]
    assert paths_of(lambda: ring(profile=PROFILE)) == ["profile"]


def test_a_material_is_sold_in_exactly_one_way() -> None:
    assert paths_of(lambda: Selling(markup=Fraction(2), price=euro("1"))) == ["selling"]
    assert paths_of(lambda: mat(selling=Selling())) == ["selling"]
    assert paths_of(lambda: backing(selling=Selling(markup=Fraction(2)))) == ["selling"]


@pytest.mark.parametrize("markup", [Fraction(0), Fraction(-1), Fraction(101)])
def test_a_markup_is_a_factor_above_zero(markup: Fraction) -> None:
    assert paths_of(lambda: Selling(markup=markup)) == ["selling.markup"]


def test_a_sell_price_may_be_nothing_but_not_less() -> None:
    assert Selling(price=euro("0")).price == euro("0")
    assert paths_of(lambda: Selling(price=-euro("1"))) == ["selling.price"]


def test_cost_and_sell_prices_are_in_one_currency() -> None:
    yen = Money(100, CURRENCIES["JPY"])
    assert paths_of(lambda: ring(selling=Selling(price=yen))) == ["cost"]
    assert paths_of(lambda: backing(cost=yen)) == ["cost"]


def test_a_sheet_may_be_given_in_inches() -> None:
    sheet = SheetStock(
        size=replace(SHEET.size, width=inches(40), height=inches(32)),
        thickness=inches("1/16"),
        grams_per_m2=980,
    )
    assert glazing(sheet=sheet).sheet == sheet


def test_a_profile_is_kept_as_given() -> None:
    profile = Profile(
        face=inches(2),
        lip=inches("1/4"),
        rebate_depth=inches("5/8"),
        stick=inches(120),
        grams_per_metre=0,
    )
    assert moulding(profile=profile).profile == profile
