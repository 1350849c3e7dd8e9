"""The list of the price book: what each material is, costs and sells for."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar

from app.errors import Invalid
from app.framing.mass import mass_text
from app.lengths import Unit, show, show_size
from app.money import show_money
from app.orders import MatWord, Shop
from app.pricing import ChargeBy, Kind, Material, UnitPrice, charged_in, unit_price
from app.pricing.wording import short_unit
from app.stock.balances import Balance
from app.stock.wording import counted
from app.web.kit.listing import ChipRow, Listing, ListQuery, Option, choice, flag, words
from app.web.kit.templating import Page
from app.web.materials.choices import PER


def kind_word(kind: Kind, shop: Shop, *, many: bool = False) -> str:
    """Return the shop's word for a kind of material."""
    one = {
        Kind.MOULDING: "moulding",
        Kind.MAT: "mount" if shop.mat_word is MatWord.MOUNT else "mat",
        Kind.GLAZING: "glazing",
        Kind.BOARD: "board",
        Kind.HARDWARE: "hardware",
        Kind.EXTRA: "extra",
        Kind.READY_MADE: "ready-made frame",
        Kind.GOODS: "goods",
    }[kind]
    return one if not many or kind in (Kind.GLAZING, Kind.HARDWARE, Kind.GOODS) else f"{one}s"


def kind_labels(
    shop: Shop, counted: Callable[[Kind | None], str] = lambda kind: ""
) -> Iterator[tuple[Kind | None, str]]:
    """Return each kind with its name in a filter, and before them all the name for every kind.

    counted: what is said after the word.
    """
    yield None, f"all{counted(None)}"
    for kind in Kind:
        yield kind, f"{kind_word(kind, shop, many=True)}{counted(kind)}"


FROM_QUOTE = "from-quote"
"""The further word that marks what was entered on a quote, until somebody takes it away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialView:
    """One material of the list.

    href: the address of its form. sells: the price of a unit, or of the size bands. from_quote: whether it was entered on
    a quote, so that the rest is to be completed.
    """

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
    from_quote: bool = False


SELDOM = (Kind.READY_MADE, Kind.GOODS)
"""Kinds that many shops sell none of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialQuery(ListQuery):
    """The filters, the search and the page that the address of the list asks for.

    retired: whether to list also what is off offer.
    """

    path: ClassVar[str] = "/materials"
    kind: Kind | None = choice(Kind)
    text: str = words("q", 200)
    retired: bool = flag()

    def chips(self, counts: Mapping[Kind, int], shop: Shop) -> ChipRow:
        """Return a filter for each kind, with how many there are, and one that lists also what is off offer.

        Ready-made frames and goods are among them once there are any: many shops sell none.
        """
        labels = kind_labels(
            shop, lambda kind: f" {counts[kind] if kind else sum(counts.values())}"
        )
        kinds = [
            (kind, label)
            for kind, label in labels
            if kind not in SELDOM or counts[kind] or kind is self.kind
        ]
        wider = self.toggles("retired", [(True, "also what is discontinued")])
        return ChipRow(label="Kinds", chips=(*self.choices("kind", kinds), *wider))


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialsPage(Page):
    """The price book, a page at a time.

    new: a link for each kind.
    """

    title: str = "Materials"
    section: str = "Materials"
    wide: bool = True
    listing: Listing[MaterialView]
    new: tuple[tuple[str, str], ...]
    empty_book: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveMaterialPage(Page):
    """The page that asks before a material is taken out of the price book."""

    section: str = "Materials"
    material: Material
    version: int


def rows_of(materials: Iterable[Material], shop: Shop) -> tuple[MaterialView, ...]:
    """Return the rows of the list."""
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
            from_quote=FROM_QUOTE in material.tags,
        )
        for material in materials
    )


def details_of(material: Material, unit: Unit) -> str:
    """Describe the stock in short: face, lip, rebate and stick; sheet and thickness; or working load."""
    if (profile := material.profile) is not None:
        face, lip = show(profile.face, unit), show(profile.lip, unit)
        depth = show(profile.rebate_depth, unit, mark=True)
        return (
            f"face {face}, lip {lip}, rebate {depth}; stick {show(profile.stick, unit, mark=True)}"
        )
    if (sheet := material.sheet) is not None:
        thickness = show(sheet.thickness, unit, mark=True)
        return f"{thickness} thick; sheet {show_size(sheet.size, unit, mark=True)}"
    if (frame := material.frame) is not None:
        outside = f"; outside {show_size(frame.outside, unit, mark=True)}" if frame.outside else ""
        return f"rebate {show_size(frame.rebate, unit)}, {show(frame.depth, unit, mark=True)} deep{outside}"
    return _bears(material, unit)


def _bears(material: Material, unit: Unit) -> str:
    """Say what one hanging part bears; empty where that is not known."""
    load = None if material.hanging is None else material.hanging.load_kg
    return "" if load is None else f"bears {mass_text(load, unit)}"


def price_of(material: Material, shop: Shop) -> UnitPrice | None:
    """Return the price of a unit of the shop's, a metre or a foot; None for what is priced by size band or cannot be priced today."""
    if material.charge.by is ChargeBy.SIZE_BAND or material.cost.currency != shop.currency:
        return None
    try:
        return unit_price(material, charged_in(material), shop.rules).read_in(shop.unit)
    except Invalid:
        return None


def sells_for(material: Material, shop: Shop) -> str:
    """Write the sell price for the list; a dash where it cannot be worked out."""
    if material.charge.by is ChargeBy.SIZE_BAND:
        prices = [band.price for band in material.charge.bands]
        least, most = show_money(min(prices)), show_money(max(prices))
        return f"{least} by size" if least == most else f"{least} to {most} by size"
    price = price_of(material, shop)
    return (
        "–" if price is None else short_unit(price.minor, shop.currency, price.measure, shop.unit)
    )


def options(found: Iterable[Material], shop: Shop) -> tuple[Option, ...]:
    """Return the materials that a field for a material offers while one types."""
    return tuple(
        Option(
            value=material.code,
            label=material.name,
            hint=" · ".join(
                part for part in (material.code, short_details(material, shop.unit)) if part
            ),
            colour=material.colour,
        )
        for material in found
    )


def short_details(material: Material, unit: Unit) -> str:
    """Describe the stock in a few words beside a name: how wide or thick it is, what it bears."""
    if material.profile is not None:
        return f"{show(material.profile.face, unit, mark=True)} wide"
    if material.sheet is not None:
        return show(material.sheet.thickness, unit, mark=True)
    if material.frame is not None:
        return f"rebate {show_size(material.frame.rebate, unit, mark=True)}"
    return _bears(material, unit)


def on_rack(balance: Balance) -> str:
    """Say what is on hand, as part of a sentence: "7 sticks and 2 offcuts"."""
    whole = counted(balance.whole, balance.material)
    if not balance.offcuts:
        return whole
    return f"{whole} and {balance.offcuts} {'offcut' if balance.offcuts == 1 else 'offcuts'}"
