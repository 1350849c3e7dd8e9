"""The list of the price book: what each material is, costs and sells for."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from app.errors import Invalid
from app.framing.mass import mass_text
from app.lengths import Unit, show, show_size
from app.money import show_money
from app.orders import MatWord, Shop
from app.pricing import ChargeBy, Kind, Material, UnitPrice, charged_in, unit_price
from app.pricing.wording import unit_text
from app.stock.balances import Balance
from app.stock.wording import counted
from app.web.kit.fields import FieldView
from app.web.kit.listing import Chip, Option, numbered, page_number, with_query
from app.web.kit.templating import Page
from app.web.materials.fields import PER

PAGE_SIZE = 50


def kind_word(kind: Kind, shop: Shop, *, many: bool = False) -> str:
    """The shop's word for a kind."""
    one = {
        Kind.MOULDING: "moulding",
        Kind.MAT: "mount" if shop.mat_word is MatWord.MOUNT else "mat",
        Kind.GLAZING: "glazing",
        Kind.BOARD: "board",
        Kind.HARDWARE: "hardware",
        Kind.EXTRA: "extra",
    }[kind]
    return one if not many or kind in (Kind.GLAZING, Kind.HARDWARE) else f"{one}s"


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialView:
    """One material of the list. href: of its form. sells: the price of a unit, or of the bands."""

    code: str
    name: str
    colour: str
    finish: str
    supplier: str
    details: str
    cost: str
    sells: str
    href: str
    active: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialQuery:
    """What the address of the list asks for. Whatever cannot be read there is left out."""

    kind: Kind | None = None
    text: str = ""
    retired: bool = False
    page: int = 1

    @classmethod
    def read(cls, query: Mapping[str, str]) -> "MaterialQuery":
        """From an address's query."""
        return cls(
            kind=Kind(query["kind"]) if query.get("kind") in set(Kind) else None,
            text=query.get("q", "").strip()[:200],
            retired=query.get("retired") == "1",
            page=page_number(query),
        )

    def href(self, **changes: object) -> str:
        """This list with something changed, from its first page on."""
        values = {
            "kind": self.kind,
            "q": self.text,
            "retired": "1" if self.retired else "",
            **changes,
        }
        return with_query("/materials", values)


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialsPage(Page):
    """A page of the list. kept: what the search form carries along. new: a link for each kind."""

    title: str = "Materials"
    section: str = "Materials"
    wide: bool = True
    search: FieldView
    kept: tuple[tuple[str, str], ...]
    kinds: tuple[Chip, ...]
    retired: Chip
    rows: tuple[MaterialView, ...]
    total: int
    pages: tuple[Chip, ...]
    new: tuple[tuple[str, str], ...]
    empty_book: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveMaterialPage(Page):
    """Asks before a material is taken out."""

    section: str = "Materials"
    material: Material
    version: int


def rows_of(materials: Iterable[Material], shop: Shop) -> tuple[MaterialView, ...]:
    """The rows of the list."""
    return tuple(
        MaterialView(
            code=material.code,
            name=material.name,
            colour=material.colour,
            finish=material.finish,
            supplier=material.supplier,
            details=details_of(material, shop.unit),
            cost=f"{show_money(material.cost)} {PER[material.per]}",
            sells=sells_for(material, shop),
            href=f"/materials/{material.code}/edit",
            active=material.active,
        )
        for material in materials
    )


def details_of(material: Material, unit: Unit) -> str:
    """What matters of the stock: face, lip, rebate and stick, sheet and thickness, or working load."""
    if (profile := material.profile) is not None:
        face, lip = show(profile.face, unit), show(profile.lip, unit)
        depth = show(profile.rebate_depth, unit, mark=True)
        return (
            f"face {face}, lip {lip}, rebate {depth}; stick {show(profile.stick, unit, mark=True)}"
        )
    if (sheet := material.sheet) is not None:
        thickness = show(sheet.thickness, unit, mark=True)
        return f"{thickness} thick; sheet {show_size(sheet.size, unit, mark=True)}"
    return _bears(material, unit)


def _bears(material: Material, unit: Unit) -> str:
    """What one hanging part bears; empty where that is not known."""
    load = None if material.hanging is None else material.hanging.load_kg
    return "" if load is None else f"bears {mass_text(load, unit)}"


def price_of(material: Material, shop: Shop) -> UnitPrice | None:
    """What a unit sells for; None for what is priced by size band or cannot be priced today."""
    if material.charge.by is ChargeBy.SIZE_BAND or material.cost.currency != shop.currency:
        return None
    try:
        return unit_price(material, charged_in(material), shop.rules)
    except Invalid:
        return None


def sells_for(material: Material, shop: Shop) -> str:
    """The sell price for the list; a dash where it cannot be worked out."""
    if material.charge.by is ChargeBy.SIZE_BAND:
        prices = [band.price for band in material.charge.bands]
        least, most = show_money(min(prices)), show_money(max(prices))
        return f"{least} by size" if least == most else f"{least} to {most} by size"
    price = price_of(material, shop)
    return "–" if price is None else unit_text(price.minor, shop.currency, price.measure)


def options(found: Iterable[Material], shop: Shop) -> tuple[Option, ...]:
    """The matches under a field that finds a material."""
    return tuple(
        Option(
            value=material.code,
            label=material.name,
            hint=" · ".join(
                part for part in (material.code, _short_details(material, shop.unit)) if part
            ),
            colour=material.colour,
        )
        for material in found
    )


def _short_details(material: Material, unit: Unit) -> str:
    if material.profile is not None:
        return f"{show(material.profile.face, unit, mark=True)} wide"
    if material.sheet is not None:
        return show(material.sheet.thickness, unit, mark=True)
    return _bears(material, unit)


def kind_chips(wanted: MaterialQuery, counts: Mapping[Kind, int], shop: Shop) -> tuple[Chip, ...]:
    """A filter for each kind, with how many there are."""
    everything = Chip(
        label=f"all {sum(counts.values())}",
        href=wanted.href(kind=None),
        current=wanted.kind is None,
    )
    kinds = (
        Chip(
            label=f"{kind_word(kind, shop, many=True)} {counts[kind]}",
            href=wanted.href(kind=kind),
            current=kind is wanted.kind,
        )
        for kind in Kind
    )
    return (everything, *kinds)


def page_of(materials: Sequence[Material], wanted: MaterialQuery) -> tuple[Material, ...]:
    """The part of the list that is on this page."""
    start = (wanted.page - 1) * PAGE_SIZE
    return tuple(materials[start : start + PAGE_SIZE])


def page_links(wanted: MaterialQuery, total: int) -> tuple[Chip, ...]:
    """Links to the pages; none for a single one."""
    return numbered(wanted.page, -(-total // PAGE_SIZE), lambda page: wanted.href(page=page))


def on_rack(balance: Balance) -> str:
    """What is on hand, in a sentence’s part: "7 sticks and 2 offcuts"."""
    whole = counted(balance.whole, balance.material)
    if not balance.offcuts:
        return whole
    return f"{whole} and {balance.offcuts} {'offcut' if balance.offcuts == 1 else 'offcuts'}"
