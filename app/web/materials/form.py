"""A material of the price book from its form, and the text that its form begins with.

Only the fields that make sense for the kind and the charge rule are read; text in others is kept on the
page and ignored. The CSV of the price book has the same fields.
"""

from collections.abc import Mapping
from fractions import Fraction

from app.errors import Fault, Invalid
from app.forms.reader import Reader, length_text, number_text, percent_text, size_text
from app.framing.mass import mass_text
from app.framing.notices.weight import DENSITIES, grams_per_m2
from app.lengths import ZERO, Length, Size, mm
from app.money import Money, show_money
from app.orders import Shop
from app.pricing import (
    CHARGES,
    TRAITS_OF,
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
    cost_bases,
)
from app.web.materials.fields import EXAMPLES, FIELD_AT, MATERIAL_FIELDS, MOST_BANDS

SELLING_WAYS = ("markup", "table", "price")

SECTION = ("profile.face", "profile.rebate_depth", "profile.stick")
"""What every stick has; a moulding has a lip as well, or says that it has none."""

_PLACE_SIZE = Size(width=mm(1000), height=mm(1000))
_PLACE_PROFILE = Profile(
    face=mm(20), lip=mm(5), rebate_depth=mm(15), stick=mm(3000), grams_per_metre=0
)
_PLACE_SHEET = SheetStock(size=_PLACE_SIZE, thickness=mm(1), grams_per_m2=0)
"""What stands in for what could not be read, so that it causes no second fault."""


def kind_of(typed: Mapping[str, str]) -> Kind:
    """The kind that a form is for; a moulding where it says none."""
    return Kind(typed["kind"]) if typed.get("kind") in set(Kind) else Kind.MOULDING


def rule_of(typed: Mapping[str, str]) -> ChargeBy:
    """The charge rule chosen, or the usual one of the kind."""
    rules = CHARGES[kind_of(typed)]
    return ChargeBy(typed["charge.by"]) if typed.get("charge.by") in set(ChargeBy) else rules[0]


def read_material(typed: Mapping[str, str], shop: Shop) -> Material:
    """The material of a form. Raises: Invalid with every fault, at the form's fields."""
    return read_with_use(typed, shop)[0]


def read_with_use(typed: Mapping[str, str], shop: Shop) -> tuple[Material, frozenset[str]]:
    """The material of a form, and the fields that it rests on; the others count for nothing with it.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency, EXAMPLES)
    kind, by = kind_of(typed), rule_of(typed)
    amounts = _amounts_of(kind, by)
    read.choice("kind", Kind, kind)
    read.choice("charge.by", ChargeBy, by)
    values = {
        "code": read.text("code", 80),
        "name": read.text("name"),
        "kind": kind,
        "cost": read.money("cost"),
        "per": read.choice("per", CostPer, cost_bases(kind, CHARGES[kind][0])[0]),
        "charge": read.take(lambda: _charge(read, by, amounts)) or _place_charge(read, by),
        "selling": _selling(read, by),
        "tax": read.text("tax", 24) or "standard",
        "supplier": read.text("supplier", 80),
        "finish": read.text("finish", 80),
        "colour": read.text("colour", 40) or "#c8c2b4",
        "profile": _profile(read, kind),
        "sheet": _sheet(read, kind) if kind.is_sheet else None,
        "hanging": _hanging(read, by) if kind is Kind.HARDWARE else None,
        "notes": read.text("notes"),
        "active": read.ticked("active"),
        "tags": tuple(read.text("tags", 200).replace(",", " ").split()),
    }
    material = read.take(lambda: Material(**values))  # type: ignore[arg-type]
    _check_choices(read, shop, material)
    if read.faults:
        raise Invalid(on_the_form(read.faults.faults))
    assert material is not None, "what has no fault was made"
    return material, frozenset(read.used)


def on_the_form(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """Faults of a material moved to the fields of its form, each sentence once per field."""

    def path(of: str) -> str:
        if of == "profile":
            return "profile.face"
        if of == "sheet":
            return "sheet.size"
        if of == "charge.bands":
            return "charge.bands.0.up_to"
        return "charge.shares" if of.startswith("charge.shares") else of

    return tuple(
        dict.fromkeys(Fault(path=path(f.path), message=f.message, code=f.code) for f in faults)
    )


def _check_choices(read: Reader, shop: Shop, material: Material | None) -> None:
    """What only the shop knows: its tax rates and its markup tables."""
    if material is None:
        return
    if shop.rules.rate_of(material.tax) is None:
        read.faults.add("tax", shop.rules.no_such_rate(material.tax))
    table = material.selling.table
    if table is not None and shop.rules.table_of(table) is None:
        read.faults.add("selling.table", shop.rules.no_such_table(table))


def _amounts_of(kind: Kind, by: ChargeBy) -> ChargeBy:
    """Whether a least length and a step count, or a least area: of opened sticks and sheets as well."""
    if by is not ChargeBy.OPENED:
        return by
    return ChargeBy.AREA if kind.is_sheet else ChargeBy.LENGTH


def _charge(read: Reader, by: ChargeBy, amounts: ChargeBy) -> Charge:
    """amounts: the rule whose least amounts count. Raises: Invalid as `Charge` does."""
    by_length, by_area = amounts is ChargeBy.LENGTH, amounts is ChargeBy.AREA
    shares = {"shares": _shares(read)} if by is ChargeBy.SHEET_SHARE else {}
    wasted = by in (ChargeBy.LENGTH, ChargeBy.AREA, ChargeBy.SIZE_BAND)
    return Charge(
        by=by,
        waste=read.percent("charge.waste", high=200) if wasted else Fraction(0),
        minimum_length=read.length("charge.minimum_length") if by_length else ZERO,
        step=read.length("charge.step") if by_length else ZERO,
        minimum_area=read.number("charge.minimum_area", "minimum area") if by_area else Fraction(0),
        bands=_bands(read) if by is ChargeBy.SIZE_BAND else (),
        **shares,
    )


def _place_charge(read: Reader, by: ChargeBy) -> Charge:
    band = SizeBand(up_to=mm(1000), price=Money.zero(read.currency))
    return Charge(by=by, bands=(band,) if by is ChargeBy.SIZE_BAND else ())


def _shares(read: Reader) -> tuple[Fraction, ...]:
    """The parts of a sheet on offer, as "1/8, 1/4, 1/2, 1"; blank is the usual ones."""
    text = read.text("charge.shares", 200)
    if not text:
        return Charge(by=ChargeBy.SHEET_SHARE).shares
    shares = []
    for part in text.replace(",", " ").replace(";", " ").split():
        one = Reader({"charge.shares": part}, read.unit, read.currency)
        shares.append(one.number("charge.shares", "part of a sheet"))
        for fault in one.faults.faults:
            read.faults.add(fault.path, fault.message, fault.code)
    return tuple(shares) if not read.faults else Charge(by=ChargeBy.SHEET_SHARE).shares


def _bands(read: Reader) -> tuple[SizeBand, ...]:
    bands = []
    for row in range(MOST_BANDS):
        path = f"charge.bands.{row}"
        if read.given(f"{path}.up_to") or read.given(f"{path}.price"):
            band = _band(read, path)
            if band is not None:
                bands.append(band)
    return tuple(bands)


def _band(read: Reader, path: str) -> SizeBand | None:
    if not read.given(f"{path}.up_to"):
        read.faults.add(
            f"{path}.up_to", "This band has a price but no size; type the largest width + height."
        )
        return None
    up_to = read.length(f"{path}.up_to", mm(1), zero_ok=False)
    return SizeBand(up_to=up_to, price=read.money(f"{path}.price"))


def _selling(read: Reader, by: ChargeBy) -> Selling:
    """Of the three ways the one that is chosen; none for a size band, which has its prices."""
    if by is ChargeBy.SIZE_BAND:
        return Selling()
    way = read.text("selling", 20) or SELLING_WAYS[0]
    if way == "table":
        code = read.required("selling.table", "Choose the markup table.", 24)
        return Selling(table=code or "?")
    if way == "price":
        return Selling(price=read.money("selling.price"))
    if not read.given("selling.markup"):
        read.faults.add("selling.markup", "Type what the cost is multiplied by, as 2.5.", "empty")
    factor = read.number("selling.markup", "markup", Fraction(1))
    return read.take(lambda: Selling(markup=factor)) or Selling(markup=Fraction(1))


def _profile(read: Reader, kind: Kind) -> Profile | None:
    """A moulding's profile; an extra's where any of its fields is filled (a slip or spacer strip)."""
    is_strip = kind is Kind.EXTRA and any(map(read.given, SECTION))
    if kind is not Kind.MOULDING and not is_strip:
        return None
    before = len(read.faults.faults)
    values = {path.removeprefix("profile."): _measure(read, path) for path in SECTION}
    lip = read.length("profile.lip") if is_strip else _measure(read, "profile.lip", zero_ok=True)
    grams = read.whole("profile.grams_per_metre", "weight in g a metre", 0, high=50_000)
    if len(read.faults.faults) > before:
        return _PLACE_PROFILE
    made = read.take(lambda: Profile(lip=lip, grams_per_metre=grams, **values))
    return made or _PLACE_PROFILE


def _measure(read: Reader, path: str, *, zero_ok: bool = False) -> Length:
    """A length that the material cannot do without."""
    wish = f"{FIELD_AT[path].called} is empty; type a length"
    return read.wanted_length(path, wish, mm(1), zero_ok=zero_ok)


def _sheet(read: Reader, kind: Kind) -> SheetStock:
    before = len(read.faults.faults)
    wish = f"{FIELD_AT['sheet.size'].called} is empty; type a width and a height"
    size = read.wanted_size("sheet.size", wish, _PLACE_SIZE)
    thickness = _measure(read, "sheet.thickness")
    grams = _grams(read, thickness)
    offered = TRAITS_OF[kind]
    traits = frozenset(trait for trait in offered if read.ticked(f"sheet.traits.{trait.value}"))
    if len(read.faults.faults) > before:
        return _PLACE_SHEET
    made = read.take(
        lambda: SheetStock(size=size, thickness=thickness, grams_per_m2=grams, traits=traits)
    )
    return made or _PLACE_SHEET


def _grams(read: Reader, thickness: Length) -> int:
    """The weight typed, else thickness × density of what the sheet is made of, else none (D2)."""
    matter = read.text("sheet.matter", 40)
    if matter and matter not in DENSITIES:
        read.faults.add("sheet.matter", f"Choose one of {', '.join(DENSITIES)}.")
    worked_out = grams_per_m2(thickness, DENSITIES[matter]) if matter in DENSITIES else 0
    return read.whole("sheet.grams_per_m2", "weight in g a m²", worked_out, high=200_000)


def _hanging(read: Reader, by: ChargeBy) -> HangingPart | None:
    """How it carries a piece. Of a load alone that is plain: what is charged by length is a wire."""
    load = read.mass("hanging.load")
    usual = Bears.WIRE if by is ChargeBy.LENGTH else Bears.RING
    bears = read.choice("hanging.bears", Bears, usual)
    if load is None and not read.given("hanging.bears"):
        return None
    return read.take(lambda: HangingPart(bears=bears, load_kg=load))


def typed_of(material: Material, shop: Shop) -> dict[str, str]:
    """The text of every field of a material; `read_material` makes the same material of it."""
    typed = {
        "kind": material.kind.value,
        "code": material.code,
        "name": material.name,
        "cost": show_money(material.cost),
        "per": material.per.value,
        "tax": material.tax,
        "colour": material.colour,
        "finish": material.finish,
        "supplier": material.supplier,
        "tags": " ".join(material.tags),
        "notes": material.notes,
        "active": "1" if material.active else "",
        **_charge_typed(material.charge, _amounts_of(material.kind, material.charge.by), shop),
        **_selling_typed(material.selling),
        **_stock_typed(material, shop),
    }
    return {path: typed.get(path, "") for path in MATERIAL_FIELDS}


def _charge_typed(charge: Charge, amounts: ChargeBy, shop: Shop) -> dict[str, str]:
    typed = {"charge.by": charge.by.value, "charge.waste": percent_text(charge.waste)}
    if amounts is ChargeBy.LENGTH:
        typed["charge.minimum_length"] = length_text(charge.minimum_length, shop.unit)
        typed["charge.step"] = length_text(charge.step, shop.unit)
    if amounts is ChargeBy.AREA:
        typed["charge.minimum_area"] = number_text(charge.minimum_area)
    if charge.by is ChargeBy.SHEET_SHARE:
        typed["charge.shares"] = ", ".join(map(str, charge.shares))
    for row, band in enumerate(charge.bands):
        typed[f"charge.bands.{row}.up_to"] = length_text(band.up_to, shop.unit)
        typed[f"charge.bands.{row}.price"] = show_money(band.price)
    return typed


def _selling_typed(selling: Selling) -> dict[str, str]:
    if selling.price is not None:
        return {"selling": "price", "selling.price": show_money(selling.price)}
    if selling.table is not None:
        return {"selling": "table", "selling.table": selling.table}
    if selling.markup is not None:
        return {"selling": "markup", "selling.markup": number_text(selling.markup)}
    return {"selling": "markup"}


def _stock_typed(material: Material, shop: Shop) -> dict[str, str]:
    typed: dict[str, str] = {}
    if (profile := material.profile) is not None:
        for name in ("face", "lip", "rebate_depth", "stick"):
            typed[f"profile.{name}"] = length_text(getattr(profile, name), shop.unit)
        typed["profile.grams_per_metre"] = str(profile.grams_per_metre)
    if (sheet := material.sheet) is not None:
        typed["sheet.size"] = size_text(sheet.size, shop.unit)
        typed["sheet.thickness"] = length_text(sheet.thickness, shop.unit)
        typed["sheet.grams_per_m2"] = str(sheet.grams_per_m2)
        typed |= {f"sheet.traits.{trait.value}": "1" for trait in sheet.traits}
    if (hanging := material.hanging) is not None:
        typed["hanging.bears"] = hanging.bears.value
        if hanging.load_kg is not None:
            typed["hanging.load"] = mass_text(hanging.load_kg, shop.unit)
    return typed


_USUAL_MATTER = {Kind.MAT: "mat board", Kind.GLAZING: "float glass"}
"""What a sheet is made of unless said otherwise, so that it is not taken to weigh nothing."""


def usual_typed(kind: Kind, shop: Shop) -> dict[str, str]:
    """What the form of a new material begins with: the usual charge rule and cost basis."""
    by = CHARGES[kind][0]
    tables = shop.markup_tables
    typed = dict.fromkeys(MATERIAL_FIELDS, "")
    return typed | {
        "kind": kind.value,
        "charge.by": by.value,
        "per": cost_bases(kind, by)[0].value,
        "selling": "table" if tables else "markup",
        "selling.table": tables[0].code if tables else "",
        "sheet.matter": _USUAL_MATTER.get(kind, ""),
        "tax": "standard",
        "colour": "#c8c2b4",
        "active": "1",
    }
