"""The form of one material, with what it will sell for beside it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.errors import Fault, Invalid
from app.framing.weight import DENSITIES
from app.lengths import show
from app.money import show_money, show_percent
from app.orders import Shop
from app.pricing import CHARGES, TRAITS_OF, ChargeBy, Kind, Material, Trait, cost_bases
from app.pricing.wording import unit_text
from app.web import stating
from app.web.fields import Fields, FieldView, Options
from app.web.forms.material import MATERIAL_FIELDS, MOST_BANDS, kind_of, read_material
from app.web.forms.rows import rows_in
from app.web.pages.materials import PER, kind_word, price_of
from app.web.stating import Stated
from app.web.templating import Page

RULES = {
    ChargeBy.LENGTH: "by length",
    ChargeBy.AREA: "by area",
    ChargeBy.SHEET_SHARE: "by part of a sheet",
    ChargeBy.SIZE_BAND: "by size, from a list",
    ChargeBy.EACH: "each",
    ChargeBy.OPENED: "by what is opened for the piece",
}
WAYS: Options = (
    ("markup", "Cost × a number"),
    ("table", "Cost × a number from a markup table"),
    ("price", "A price given outright"),
)
TRAITS = {
    Trait.ACID_FREE: "acid-free",
    Trait.UV_FILTER: "filters UV light",
    Trait.GLASS: "glass",
    Trait.ACRYLIC: "acrylic",
    Trait.LAMINATED: "laminated",
    Trait.ONE_WAY: "has a direction: never cut turned",
}
LABELS = {
    "code": "Code",
    "name": "Name",
    "cost": "Cost",
    "per": "Cost is for",
    "charge.by": "Charged",
    "charge.waste": "Added for waste, %",
    "charge.minimum_length": "Least length charged",
    "charge.step": "Rounded up to steps of",
    "charge.minimum_area": "Least area charged, m²",
    "charge.shares": "Parts of a sheet on offer",
    "selling": "Sell price",
    "selling.markup": "The number",
    "selling.table": "Markup table",
    "selling.price": "Sell price",
    "tax": "Tax",
    "profile.face": "Face width",
    "profile.lip": "Lip",
    "profile.rebate_depth": "Rebate depth",
    "profile.stick": "Length of a stick",
    "profile.grams_per_metre": "Weight, g a metre",
    "sheet.size": "Sheet size",
    "sheet.thickness": "Thickness",
    "sheet.matter": "Made of",
    "sheet.grams_per_m2": "Weight, g a m²",
    "sheet.traits": "What it is",
    **{f"sheet.traits.{trait.value}": label for trait, label in TRAITS.items()},
    "colour": "Colour in the drawing",
    "finish": "Finish",
    "supplier": "Supplier",
    "tags": "Further words to find it by",
    "notes": "Notes",
    "active": "On offer in quotes",
    **{
        f"charge.bands.{row}.{name}": f"{label}, line {row + 1}"
        for row in range(MOST_BANDS)
        for name, label in (("up_to", "Width + height up to"), ("price", "Price"))
    },
}
HINTS = {
    "code": "Your own: letters, digits, dots, strokes, dashes.",
    "charge.minimum_length": "Blank for none.",
    "charge.step": "Blank for the exact length.",
    "charge.minimum_area": "Blank for none.",
    "charge.shares": "From the smallest up; blank for 1/8, 1/4, 1/2, 1.",
    "selling.markup": "2.5 sells at two and a half times the cost.",
    "profile.lip": "What covers the package; 0 for a tray.",
    "sheet.grams_per_m2": "Blank to work it out from what it is made of.",
    "profile.grams_per_metre": "For the weight of the piece; blank where you do not know.",
    "finish": "As gilt, waxed, matt: words and the drawing follow it.",
}
IN_SHOP_UNIT = {
    "charge.minimum_length",
    "charge.step",
    "profile.face",
    "profile.lip",
    "profile.rebate_depth",
    "profile.stick",
    "sheet.size",
    "sheet.thickness",
}
"""Where a bare number is in the shop's unit, which their labels name."""
NEEDED = ("code", "name", "cost")


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What the material sells for. bands: (up to, price) where it is priced so."""

    sells: str
    why: tuple[str, ...]
    bands: tuple[tuple[str, str], ...]
    tax_word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialPage(Page):
    """The form. code: of the material it changes, "" for a new one. live: works out, keeps nothing.

    on_rack: what is on hand, "" for a new one; rack: the address of its items.
    """

    heading: str
    code: str
    kind: str
    is_sheet: bool
    has_profile: bool
    rules: tuple[str, ...]
    fields: Mapping[str, FieldView]
    traits: tuple[FieldView, ...]
    bands: tuple[tuple[FieldView, FieldView], ...]
    blank_band: tuple[FieldView, FieldView]
    preview: Preview | None
    action: str
    live: str
    version: str
    on_offer: bool
    on_rack: str
    rack: str


def preview_of(typed: Mapping[str, str], shop: Shop) -> Preview | None:
    """What the typed material would sell for; None where it cannot be read yet."""
    try:
        named = {**typed, "code": typed.get("code") or "new", "name": typed.get("name") or "new"}
        material = read_material(named, shop)
    except Invalid:
        return None
    return _preview(material, shop)


def _preview(material: Material, shop: Shop) -> Preview | None:
    tax_word = "with tax" if shop.tax_policy.included else "without tax"
    if material.charge.by is ChargeBy.SIZE_BAND:
        bands = tuple(
            (show(band.up_to, shop.unit, mark=True), show_money(band.price))
            for band in material.charge.bands
        )
        why = ("The price of the first line that width + height do not pass.",)
        return Preview(sells="", why=why, bands=bands, tax_word=tax_word)
    price = price_of(material, shop)
    if price is None:
        return None
    sells = unit_text(price.minor, shop.currency, price.measure)
    rate = shop.rules.rate_of(material.tax) if shop.tax_policy.included else None
    net = price.minor / (1 + rate.percent) if rate else price.minor
    below = ("Without its tax this is below what it costs.",) if net < price.cost else ()
    return Preview(sells=sells, why=(price.why_shop, *below), bands=(), tax_word=tax_word)


def form_fields(
    typed: Mapping[str, str], faults: Iterable[Fault], shop: Shop
) -> dict[str, FieldView]:
    """The fields of the form, by their paths."""
    make = Fields(typed, faults)
    choices = _choices(kind_of(typed), shop)
    amounts = _amounts(typed, shop)
    hints = HINTS | {"selling.markup": _markup_hint(amounts["selling.price"])}

    def field(path: str) -> FieldView:
        label, hint, required = LABELS[path], hints.get(path), path in NEEDED
        if path in amounts:
            return make.amount(path, label, amounts[path], hint=hint, required=required)
        if path in IN_SHOP_UNIT:
            label = f"{label}, {shop.unit.value}"
        options = choices.get(path, ())
        return make.field(path, label, hint=hint, options=options, required=required)

    return {path: field(path) for path in (*MATERIAL_FIELDS, "sheet.traits") if path in LABELS}


def _amounts(typed: Mapping[str, str], shop: Shop) -> dict[str, Stated]:
    """How the amounts of the form are stated, at the tax that is chosen in it."""
    rate = shop.rules.rate_of(typed.get("tax", ""))
    return {
        "cost": stating.costs(shop, rate),
        "selling.price": stating.prices(shop, rate),
        **{f"charge.bands.{row}.price": stating.prices(shop, rate) for row in range(MOST_BANDS)},
    }


def labels_of(shop: Shop) -> dict[str, str]:
    """How each field is called, the amounts as they are stated."""
    return LABELS | {
        path: stated.after(LABELS[path]) for path, stated in _amounts({}, shop).items()
    }


def _markup_hint(sold: Stated) -> str:
    comes_to = f", which gives the price {sold.words}" if sold.words else ""
    return f"{HINTS['selling.markup'].rstrip('.')}{comes_to}."


def _choices(kind: Kind, shop: Shop) -> dict[str, Options]:
    bases = dict.fromkeys(base for by in CHARGES[kind] for base in cost_bases(kind, by))
    tables = tuple((table.code, table.name) for table in shop.markup_tables)
    return {
        "per": tuple((base.value, PER[base]) for base in bases),
        "charge.by": tuple((by.value, RULES[by]) for by in CHARGES[kind]),
        "selling": WAYS if tables else (WAYS[0], WAYS[2]),
        "selling.table": tables,
        "tax": tuple(
            (rate.code, f"{rate.name} · {show_percent(rate.percent)}") for rate in shop.tax_rates
        ),
        "sheet.matter": (("", "something else"), *((name, name) for name in DENSITIES)),
    }


def band_fields(
    typed: Mapping[str, str], faults: Iterable[Fault], shop: Shop
) -> tuple[tuple[FieldView, FieldView], ...]:
    """The rows of size bands: those filled, at least three to begin with."""
    make = Fields(typed, faults)
    stated = _amounts(typed, shop)["selling.price"]
    filled = rows_in({path: text for path, text in typed.items() if text}, "charge.bands")
    asked = rows_in(typed, "charge.bands") if "action" in typed else 0
    shown = min(max(filled, asked, 3), MOST_BANDS)
    return tuple(_band(make, str(row), stated) for row in range(shown))


def blank_band(shop: Shop) -> tuple[FieldView, FieldView]:
    """The row that a button adds."""
    return _band(Fields({}), "__row__", stating.prices(shop, None))


def _band(make: Fields, row: str, stated: Stated) -> tuple[FieldView, FieldView]:
    path = f"charge.bands.{row}"
    inner = make.within(f"Band {int(row) + 1}") if row.isdigit() else make
    return (
        inner.field(f"{path}.up_to", "Width + height up to"),
        inner.amount(f"{path}.price", "Price", stated),
    )


def trait_fields(fields: Mapping[str, FieldView], kind: Kind) -> tuple[FieldView, ...]:
    """The ticks of what may be said of a kind of sheet."""
    return tuple(fields[f"sheet.traits.{trait.value}"] for trait in TRAITS_OF.get(kind, ()))


def heading_of(kind: Kind, shop: Shop) -> str:
    """The heading of a new material's form."""
    words = {Kind.HARDWARE: "New hardware", Kind.GLAZING: "New glazing"}
    return words.get(kind, f"A new {kind_word(kind, shop)}")


def as_new(typed: Mapping[str, str]) -> dict[str, str]:
    """The form of a copy: everything but the code, which each material has for itself."""
    return {**typed, "code": "", "active": "1"}
