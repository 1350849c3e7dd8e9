"""Reads a material of the price book from its form, and writes the text that the form begins with.

Only the fields that make sense for the kind and the charge rule are read; text in others is kept on the
page and ignored. The CSV of the price book has the same fields.
"""

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import Any

from app.errors import Fault, Invalid
from app.forms.reader import Reader
from app.forms.table import Typed, value_of, values_in
from app.framing.notices.weight import DENSITIES
from app.framing.notices.weight import grams_per_m2 as weight_of
from app.lengths import Size, Unit, mm
from app.money import Money
from app.orders import Shop
from app.pricing import (
    CHARGES,
    Bears,
    Charge,
    ChargeBy,
    CostPer,
    FrameStock,
    HangingPart,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
    cost_bases,
)
from app.web.materials.fields import BANDS, FIELDS, MATERIAL_FIELDS, form_for
from app.web.materials.material_field import MaterialTyped

_PLACE_PROFILE = Profile(
    face=mm(20), lip=mm(5), rebate_depth=mm(15), stick=mm(3000), grams_per_metre=0
)
_PLACE_FRAME = FrameStock(rebate=Size(mm(1000), mm(1000)), depth=mm(15))
_PLACE_SHEET = SheetStock(size=Size(mm(1000), mm(1000)), thickness=mm(1), grams_per_m2=0)
"""What stands in for what could not be read, so that it causes no second fault."""


def read_material(typed: Typed, shop: Shop) -> Material:
    """Read the material of a form. Raises: Invalid with every fault, at the form's fields."""
    return read_with_use(typed, shop)[0]


def read_with_use(typed: Typed, shop: Shop) -> tuple[Material, frozenset[str]]:
    """Read the material of a form, and return with it the fields that it rests on; no other field
    counts for it.

    Raises: Invalid with every fault, at the form's fields.
    """
    known = MaterialTyped(shop, typed)
    form = form_for(known.kind)
    read = form.reader(typed, known)
    values = {
        each.path: value_of(form.at[each.path], read, known)
        for each in FIELDS
        if each.is_read(known)
    }
    if known.by is ChargeBy.SIZE_BAND:
        values["charge.bands"] = _bands(read, known)
    material = _made(read, values, known)
    _check_choices(read, shop, material)
    if read.faults:
        raise Invalid(on_the_form(read.faults.faults))
    assert material is not None, "what has no fault was made"
    return material, frozenset(read.used)


def _made(read: Reader, values: dict[str, Any], known: MaterialTyped) -> Material | None:
    """Make the material of its values; the fields beneath a name, "sheet.thickness", make the part of that name."""

    def part[T](name: str, make: Callable[..., T | None], place: T | None = None) -> T | None:
        below = f"{name}."
        of = {path.removeprefix(below): values[path] for path in values if path.startswith(below)}
        if any(fault.path.startswith(below) for fault in read.faults.faults):
            return place
        return (read.take(lambda: make(**of)) or place) if of else None

    bands = (SizeBand(up_to=mm(1000), price=Money.zero(read.currency)),)
    parts = {
        "charge": part(
            "charge",
            Charge,
            Charge(by=known.by, bands=bands if known.by is ChargeBy.SIZE_BAND else ()),
        ),
        "selling": part("selling", Selling, Selling(markup=Fraction(1))) or Selling(),
        "profile": part("profile", Profile, _PLACE_PROFILE),
        "sheet": part("sheet", _sheet, _PLACE_SHEET),
        "frame": part("frame", FrameStock, _PLACE_FRAME),
        "hanging": part("hanging", lambda bears, load: _hanging(known, bears, load)),
    }
    own = {path: value for path, value in values.items() if "." not in path and path != "selling"}
    return read.take(lambda: Material(**own, **parts))  # type: ignore[arg-type]


def on_the_form(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """Move faults of a material to the fields of its form, each sentence once for a field."""

    def path(of: str) -> str:
        if of == "profile":
            return "profile.face"
        if of == "frame":
            return "frame.rebate"
        if of == "sheet":
            return "sheet.size"
        if of == "charge.bands":
            return "charge.bands.0.up_to"
        return "charge.shares" if of.startswith("charge.shares") else of

    return tuple(
        dict.fromkeys(Fault(path=path(f.path), message=f.message, code=f.code) for f in faults)
    )


def _check_choices(read: Reader, shop: Shop, material: Material | None) -> None:
    """Check the tax rate and the markup table, which only the shop knows."""
    if material is None:
        return
    if shop.rules.rate_of(material.tax) is None:
        read.faults.add("tax", shop.rules.no_such_rate(material.tax))
    table = material.selling.table
    if table is not None and shop.rules.table_of(table) is None:
        read.faults.add("selling.table", shop.rules.no_such_table(table))


def _bands(read: Reader, known: MaterialTyped) -> tuple[SizeBand, ...]:
    rows = ((row.values(read, known), row.root) for row in BANDS.filled(read))
    bands = [read.take(partial(SizeBand, **of), root) for of, root in rows]
    return tuple(band for band in bands if band is not None)


def _sheet(matter: str, grams_per_m2: int | None, **of: Any) -> SheetStock:
    """Make the sheet; its weight is the typed one, else thickness × density of what it is made of, else 0 (D2)."""
    traits = frozenset(trait for trait in Trait if of.pop(f"traits.{trait.value}", False))
    if grams_per_m2 is None:
        grams_per_m2 = weight_of(of["thickness"], DENSITIES[matter]) if matter else 0
    return SheetStock(**of, grams_per_m2=grams_per_m2, traits=traits)


def _hanging(
    known: MaterialTyped, bears: Bears | None, load: Fraction | None
) -> HangingPart | None:
    """Make what the hardware bears. Where only a load is typed, a wire is what is charged by length, else a ring."""
    if load is None and bears is None:
        return None
    usual = Bears.WIRE if known.by is ChargeBy.LENGTH else Bears.RING
    return HangingPart(bears=bears or usual, load_kg=load)


def typed_of(material: Material, shop: Shop) -> dict[str, str]:
    """Return the text of every field of a material; `read_material` makes the same material of it."""
    known = MaterialTyped(shop, {"kind": material.kind, "charge.by": material.charge.by})
    own = {each.path: each.of for each in FIELDS if each.of is not None}
    value_at = values_in(material)
    typed = form_for(material.kind).typed(
        lambda path: own[path](material) if path in own else value_at(path), known
    )
    return {path: typed.get(path, "") for path in MATERIAL_FIELDS}


_IN_FEET = {CostPer.METRE: CostPer.FOOT, CostPer.SQUARE_METRE: CostPer.SQUARE_FOOT}


def usual_basis(kind: Kind, by: ChargeBy, unit: Unit) -> CostPer:
    """Return what a cost is usually for: of what is bought by length or area a foot or a sq ft in a shop of inches."""
    usual = cost_bases(kind, by)[0]
    return _IN_FEET.get(usual, usual) if unit is Unit.IN else usual


_USUAL_MATTER = {Kind.MAT: "mat board", Kind.GLAZING: "float glass"}
"""What a sheet is made of unless said otherwise, so that it is not taken to weigh nothing."""


def usual_typed(kind: Kind, shop: Shop) -> dict[str, str]:
    """Return the text that the form of a new material begins with: the usual charge rule and cost basis."""
    by = CHARGES[kind][0]
    tables = shop.markup_tables
    return {
        "kind": kind.value,
        "charge.by": by.value,
        "per": usual_basis(kind, by, shop.unit).value,
        "selling": "table" if tables else "markup",
        "selling.table": tables[0].code if tables else "",
        "sheet.matter": _USUAL_MATTER.get(kind, ""),
        "tax": "standard",
        "colour": "#c8c2b4",
        "active": "1",
    }
