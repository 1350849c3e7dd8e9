"""A material as a row, and back.

Lengths become grains at the path of the form's field, so that one too fine to be kept is said there.
"""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from app.lengths import Size, from_grains, to_grains
from app.money import CURRENCIES, Money
from app.pricing import (
    Bears,
    Charge,
    ChargeBy,
    CostPer,
    HangingPart,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
)
from app.storage.rows import MaterialRow
from app.storage.search_text import words_of

type Columns = Mapping[str, Any]


def columns_of(material: Material) -> Columns:
    """The columns of a material. Raises: Invalid where a length is too fine to be kept."""
    return {
        "code": material.code,
        "name": material.name,
        "kind": material.kind.value,
        "currency": material.cost.currency.code,
        "cost_minor": material.cost.minor,
        "per": material.per.value,
        **_charge_columns(material.charge),
        **_selling_columns(material.selling),
        "tax": material.tax,
        "supplier": material.supplier,
        "finish": material.finish,
        "colour": material.colour,
        **_profile_columns(material.profile),
        **_sheet_columns(material.sheet),
        **_hanging_columns(material.hanging),
        "notes": material.notes,
        "tags": list(material.tags),
        "active": material.active,
        "words": _words(material),
    }


def _words(material: Material) -> str:
    """What it is found by: every word with a blank before it, so that beginnings can be told."""
    texts = (material.code, material.name, material.finish, material.supplier, *material.tags)
    return "".join(f" {word}" for text in texts for word in words_of(text))


def _charge_columns(charge: Charge) -> Columns:
    return {
        "charge_by": charge.by.value,
        "waste": charge.waste,
        "minimum_length": to_grains(charge.minimum_length, path="charge.minimum_length"),
        "step": to_grains(charge.step, path="charge.step"),
        "minimum_area": charge.minimum_area,
        "shares": [str(share) for share in charge.shares],
        "bands": [
            [to_grains(band.up_to, path=f"charge.bands.{index}.up_to"), band.price.minor]
            for index, band in enumerate(charge.bands)
        ],
    }


def _selling_columns(selling: Selling) -> Columns:
    return {
        "markup": selling.markup,
        "markup_table": selling.table,
        "price_minor": selling.price.minor if selling.price is not None else None,
    }


def _profile_columns(profile: Profile | None) -> Columns:
    lengths = ("face", "lip", "rebate_depth", "stick")
    if profile is None:
        return dict.fromkeys((*lengths, "grams_per_metre"))
    grains = {name: to_grains(getattr(profile, name), path=f"profile.{name}") for name in lengths}
    return {**grains, "grams_per_metre": profile.grams_per_metre}


def _sheet_columns(sheet: SheetStock | None) -> Columns:
    if sheet is None:
        names = ("sheet_width", "sheet_height", "thickness", "grams_per_m2")
        return {**dict.fromkeys(names), "traits": []}
    return {
        "sheet_width": to_grains(sheet.size.width, path="sheet.size"),
        "sheet_height": to_grains(sheet.size.height, path="sheet.size"),
        "thickness": to_grains(sheet.thickness, path="sheet.thickness"),
        "grams_per_m2": sheet.grams_per_m2,
        "traits": sorted(trait.value for trait in sheet.traits),
    }


def _hanging_columns(hanging: HangingPart | None) -> Columns:
    if hanging is None:
        return {"bears": None, "load_kg": None}
    return {"bears": hanging.bears.value, "load_kg": hanging.load_kg}


def material_of(row: MaterialRow) -> Material:
    """The material of a row."""
    return Material(
        code=row.code,
        name=row.name,
        kind=Kind(row.kind),
        cost=_money(row, row.cost_minor),
        per=CostPer(row.per),
        charge=_charge(row),
        selling=_selling(row),
        tax=row.tax,
        supplier=row.supplier,
        finish=row.finish,
        colour=row.colour,
        profile=_profile(row),
        sheet=_sheet(row),
        hanging=_hanging(row),
        notes=row.notes,
        active=row.active,
        tags=tuple(row.tags),
    )


def _money(row: MaterialRow, minor: int) -> Money:
    return Money(minor, CURRENCIES[row.currency])


def _charge(row: MaterialRow) -> Charge:
    return Charge(
        by=ChargeBy(row.charge_by),
        waste=row.waste,
        minimum_length=from_grains(row.minimum_length),
        step=from_grains(row.step),
        minimum_area=row.minimum_area,
        shares=tuple(map(Fraction, row.shares)),
        bands=tuple(
            SizeBand(up_to=from_grains(up_to), price=_money(row, minor))
            for up_to, minor in row.bands
        ),
    )


def _selling(row: MaterialRow) -> Selling:
    return Selling(
        markup=row.markup,
        table=row.markup_table,
        price=_money(row, row.price_minor) if row.price_minor is not None else None,
    )


def _profile(row: MaterialRow) -> Profile | None:
    if row.face is None:
        return None
    return Profile(
        face=from_grains(row.face),
        lip=from_grains(row.lip or 0),
        rebate_depth=from_grains(row.rebate_depth or 0),
        stick=from_grains(row.stick or 0),
        grams_per_metre=row.grams_per_metre or 0,
    )


def _sheet(row: MaterialRow) -> SheetStock | None:
    if row.thickness is None:
        return None
    return SheetStock(
        size=Size(
            width=from_grains(row.sheet_width or 0), height=from_grains(row.sheet_height or 0)
        ),
        thickness=from_grains(row.thickness),
        grams_per_m2=row.grams_per_m2 or 0,
        traits=frozenset(map(Trait, row.traits)),
    )


def _hanging(row: MaterialRow) -> HangingPart | None:
    if row.bears is None:
        return None
    return HangingPart(bears=Bears(row.bears), load_kg=row.load_kg)
