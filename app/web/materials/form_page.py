"""The form of one material, with what it will sell for beside it."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass

from app.errors import Fault, Invalid
from app.forms.rows import rows_in
from app.forms.table import Options
from app.framing.notices.weight import DENSITIES
from app.lengths import parse_length, show
from app.money import parse_percent, show_money, show_percent
from app.orders import Shop
from app.pricing import CHARGES, TRAITS_OF, ChargeBy, Kind, Material, cost_bases
from app.pricing.wording import unit_text
from app.web.kit import stating
from app.web.kit.fields import Fields, FieldView
from app.web.kit.stating import Stated
from app.web.kit.templating import Page
from app.web.materials.fields import (
    BEARS_CHOICES,
    FIELDS,
    MOST_BANDS,
    PER,
    RULES,
    WAYS,
    MaterialField,
)
from app.web.materials.form import SECTION, kind_of, read_material
from app.web.materials.page import kind_word, price_of

LABELS = {each.path: each.label for each in FIELDS} | {"sheet.traits": "What it is"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PricePreview:
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

    section: str = "Materials"
    wide: bool = True
    heading: str
    code: str
    kind: str
    is_sheet: bool
    has_profile: bool
    hangs: bool
    rules: tuple[str, ...]
    fields: Mapping[str, FieldView]
    traits: tuple[FieldView, ...]
    bands: tuple[tuple[FieldView, FieldView], ...]
    blank_band: tuple[FieldView, FieldView]
    preview: PricePreview | None
    action: str
    live: str
    version: str
    on_offer: bool
    on_rack: str
    rack: str


def preview_of(typed: Mapping[str, str], shop: Shop) -> PricePreview | None:
    """Return what the typed material would sell for; None where it cannot be read yet."""
    try:
        named = {**typed, "code": typed.get("code") or "new", "name": typed.get("name") or "new"}
        material = read_material(named, shop)
    except Invalid:
        return None
    return _preview(material, shop)


def _preview(material: Material, shop: Shop) -> PricePreview | None:
    tax_word = "with tax" if shop.tax_policy.included else "without tax"
    if material.charge.by is ChargeBy.SIZE_BAND:
        bands = tuple(
            (show(band.up_to, shop.unit, mark=True), show_money(band.price))
            for band in material.charge.bands
        )
        why = ("The price of the first line that width + height do not pass.",)
        return PricePreview(sells="", why=why, bands=bands, tax_word=tax_word)
    price = price_of(material, shop)
    if price is None:
        return None
    sells = unit_text(price.minor, shop.currency, price.measure)
    rate = shop.rules.rate_of(material.tax) if shop.tax_policy.included else None
    net = price.minor / (1 + rate.percent) if rate else price.minor
    below = ("Without its tax this is below what it costs.",) if net < price.cost else ()
    return PricePreview(sells=sells, why=(price.why_shop, *below), bands=(), tax_word=tax_word)


def form_fields(
    typed: Mapping[str, str], faults: Iterable[Fault], shop: Shop
) -> dict[str, FieldView]:
    """Return the fields of the form, by their paths."""
    kind = kind_of(typed)
    make = Fields(typed, faults, _understood(typed, shop)).needing(_section_of_strip(typed, kind))
    choices = _choices(kind, shop)
    rate = shop.rules.rate_of(typed.get("tax", ""))
    sold = stating.prices(shop, rate)

    def view(each: MaterialField) -> FieldView:
        hint = _markup_hint(each, sold) if each.path == "selling.markup" else each.hint or None
        required = kind in each.needed
        if each.stated is not None:
            stated = each.stated(shop, rate)
            return make.amount(each.path, each.label, stated, hint=hint, required=required)
        return make.field(
            each.path,
            each.named(shop),
            hint=hint,
            options=choices.get(each.path, ()),
            required=None if kind is Kind.EXTRA and each.path in SECTION else required,
        )

    traits = make.field("sheet.traits", LABELS["sheet.traits"])
    return {each.path: view(each) for each in FIELDS} | {traits.path: traits}


def labels_of(shop: Shop) -> dict[str, str]:
    """Return how each field is called, the amounts as they are stated."""
    stated = {each.path: each.named(shop) for each in FIELDS if each.stated is not None}
    return LABELS | stated


def _markup_hint(field: MaterialField, sold: Stated) -> str:
    comes_to = f", which gives the price {sold.words}" if sold.words else ""
    return f"{field.hint.rstrip('.')}{comes_to}."


def _section_of_strip(typed: Mapping[str, str], kind: Kind) -> tuple[str, ...]:
    """What an extra needs once it has a part of a section."""
    given = kind is Kind.EXTRA and any(typed.get(path, "").strip() for path in SECTION)
    return SECTION if given else ()


def _understood(typed: Mapping[str, str], shop: Shop) -> dict[str, str]:
    """What nothing means where it is easily overlooked: no waste is charged, no lip covers anything."""
    said: dict[str, str] = {}
    with suppress(Invalid):
        if not parse_percent(typed.get("charge.waste", "").strip() or "0", high=200):
            said["charge.waste"] = "none charged"
    with suppress(Invalid):
        if not parse_length(typed.get("profile.lip", ""), unit=shop.unit, zero_ok=True):
            said["profile.lip"] = "no lip, as a tray has"
    return said


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
        "hanging.bears": tuple((each.value, each.label) for each in BEARS_CHOICES),
        "sheet.matter": (("", "something else"), *((name, name) for name in DENSITIES)),
    }


def band_fields(
    typed: Mapping[str, str], faults: Iterable[Fault], shop: Shop
) -> tuple[tuple[FieldView, FieldView], ...]:
    """Return the rows of size bands: those filled, at least three to begin with."""
    make = Fields(typed, faults)
    stated = stating.prices(shop, shop.rules.rate_of(typed.get("tax", "")))
    filled = rows_in({path: text for path, text in typed.items() if text}, "charge.bands")
    asked = rows_in(typed, "charge.bands") if "action" in typed else 0
    shown = min(max(filled, asked, 3), MOST_BANDS)
    return tuple(_band(make, str(row), stated) for row in range(shown))


def blank_band(shop: Shop) -> tuple[FieldView, FieldView]:
    """Return the row that a button adds."""
    return _band(Fields({}), "__row__", stating.prices(shop, None))


def _band(make: Fields, row: str, stated: Stated) -> tuple[FieldView, FieldView]:
    path = f"charge.bands.{row}"
    inner = make.within(f"Band {int(row) + 1}") if row.isdigit() else make
    return (
        inner.field(f"{path}.up_to", "Width + height up to", required=row == "0"),
        inner.amount(f"{path}.price", "Price", stated, required=row == "0"),
    )


def trait_fields(fields: Mapping[str, FieldView], kind: Kind) -> tuple[FieldView, ...]:
    """Return the ticks of what may be said of a kind of sheet."""
    return tuple(fields[f"sheet.traits.{trait.value}"] for trait in TRAITS_OF.get(kind, ()))


def heading_of(kind: Kind, shop: Shop) -> str:
    """Return the heading of a new material's form."""
    words = {Kind.HARDWARE: "New hardware", Kind.GLAZING: "New glazing"}
    return words.get(kind, f"A new {kind_word(kind, shop)}")


def as_new(typed: Mapping[str, str]) -> dict[str, str]:
    """Return the form of a copy: everything but the code, which each material has for itself."""
    return {**typed, "code": "", "active": "1"}
