"""The page of the form of one material, with what it will sell for beside it."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.lengths import parse_length, show
from app.money import parse_percent, show_money
from app.orders import Shop
from app.pricing import TRAITS_OF, ChargeBy, Kind, Material
from app.pricing.wording import short_unit
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.templating import Page
from app.web.materials.fields import form_for
from app.web.materials.form import read_material
from app.web.materials.material_field import MaterialTyped
from app.web.materials.page import kind_word, price_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PricePreview:
    """What the typed material would sell for.

    bands: (up to, price) for each size band, where it is priced by these.
    """

    sells: str
    why: tuple[str, ...]
    bands: tuple[tuple[str, str], ...]
    tax_word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialPage(Page):
    """The form of one material.

    code: of the material that is changed, "" for a new one. live: the address that works the form out
    and keeps nothing. on_rack: what is on hand, "" for a new one. rack: the address of its items.
    """

    section: str = "Materials"
    wide: bool = True
    heading: str
    code: str
    kind: str
    is_sheet: bool
    has_profile: bool
    hangs: bool
    is_frame: bool
    rules: tuple[str, ...]
    fields: FormView[MaterialTyped]
    traits: tuple[FieldView, ...]
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
    sells = short_unit(price.minor, shop.currency, price.measure, shop.unit)
    rate = shop.rules.rate_of(material.tax) if shop.tax_policy.included else None
    net = price.minor / (1 + rate.percent) if rate else price.minor
    below = ("Without its tax this is below what it costs.",) if net < price.cost else ()
    return PricePreview(sells=sells, why=(price.why_shop, *below), bands=(), tax_word=tax_word)


def form_fields(typed: Typed, faults: Iterable[Fault], shop: Shop) -> FormView[MaterialTyped]:
    """Return the fields of the form, by their paths."""
    known = MaterialTyped(shop, typed)
    return FormView(form_for(known.kind), known, Fields(typed, faults, _understood(typed, shop)))


def _understood(typed: Mapping[str, str], shop: Shop) -> dict[str, str]:
    """Say what a blank stands for where that is easily overlooked: no waste is charged, no lip covers anything."""
    said: dict[str, str] = {}
    with suppress(Invalid):
        if not parse_percent(typed.get("charge.waste", "").strip() or "0", high=200):
            said["charge.waste"] = "none charged"
    with suppress(Invalid):
        if not parse_length(typed.get("profile.lip", ""), unit=shop.unit, zero_ok=True):
            said["profile.lip"] = "no lip, as a tray has"
    return said


def trait_fields(fields: Mapping[str, FieldView], kind: Kind) -> tuple[FieldView, ...]:
    """Return the boxes for the traits that a kind of sheet may have."""
    return tuple(fields[f"sheet.traits.{trait.value}"] for trait in TRAITS_OF.get(kind, ()))


def heading_of(kind: Kind, shop: Shop) -> str:
    """Return the heading of a new material's form."""
    words = {Kind.HARDWARE: "New hardware", Kind.GLAZING: "New glazing", Kind.GOODS: "New goods"}
    return words.get(kind, f"A new {kind_word(kind, shop)}")


def as_new(typed: Mapping[str, str]) -> dict[str, str]:
    """Return the form of a copy: everything but the code, which no two materials share."""
    return {**typed, "code": "", "active": "1"}
