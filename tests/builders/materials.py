"""Materials in few words: euro, millimetres, grams; what is not said is usual."""

from fractions import Fraction
from typing import Any

from app.lengths import Size, mm
from app.pricing import (
    Charge,
    ChargeBy,
    CostPer,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
)
from tests.builders.values import euro, size

BY_LENGTH, BY_AREA = Charge(by=ChargeBy.LENGTH), Charge(by=ChargeBy.AREA)
BY_SHEET, EACH = Charge(by=ChargeBy.SHEET_SHARE), Charge(by=ChargeBy.EACH)
SMALL_BOARD = size(1120, 815)


def marked_up(times: str) -> Selling:
    return Selling(markup=Fraction(times))


def sold_at(price: str) -> Selling:
    return Selling(price=euro(price))


def by_band(*bands: tuple[int, str]) -> Charge:
    """By size band: the most width + height of each, and its price."""
    return Charge(
        by=ChargeBy.SIZE_BAND,
        bands=tuple(SizeBand(up_to=mm(most), price=euro(price)) for most, price in bands),
    )


def profile(face: str, lip: str, depth: str, grams: int) -> Profile:
    """Of a moulding in sticks of 3 m; grams: a metre."""
    return Profile(
        face=mm(face), lip=mm(lip), rebate_depth=mm(depth), stick=mm(3000), grams_per_metre=grams
    )


def moulding(
    code: str, name: str, shape: Profile, cost: str, selling: Selling, **more: Any
) -> Material:
    """Sold by length. cost: a metre."""
    usual = {"per": CostPer.METRE, "charge": BY_LENGTH}
    return Material(
        code=code,
        name=name,
        kind=Kind.MOULDING,
        cost=euro(cost),
        selling=selling,
        profile=shape,
        **(usual | more),
    )


def stock(thickness: str, grams: int, *traits: Trait, of: Size = SMALL_BOARD) -> SheetStock:
    """grams: a m²."""
    return SheetStock(
        size=of, thickness=mm(thickness), grams_per_m2=grams, traits=frozenset(traits)
    )


def sheet(  # noqa: PLR0917 - each is one plain word of a material
    code: str, name: str, kind: Kind, of: SheetStock, cost: str, selling: Selling, **more: Any
) -> Material:
    """Sold by its share of a sheet, glazing by area. cost: a sheet, of glazing a m²."""
    glazing = kind is Kind.GLAZING
    usual: dict[str, Any] = {
        "per": CostPer.SQUARE_METRE if glazing else CostPer.SHEET,
        "charge": BY_AREA if glazing else BY_SHEET,
    }
    return Material(
        code=code,
        name=name,
        kind=kind,
        cost=euro(cost),
        selling=selling,
        sheet=of,
        **(usual | more),
    )


def counted(code: str, name: str, kind: Kind, cost: str, selling: Selling, **more: Any) -> Material:
    """Sold each. cost: of hardware a hundred, of an extra each."""
    usual: dict[str, Any] = {
        "per": CostPer.HUNDRED if kind is Kind.HARDWARE else CostPer.EACH,
        "charge": EACH,
    }
    return Material(
        code=code, name=name, kind=kind, cost=euro(cost), selling=selling, **(usual | more)
    )
