"""The list of the stock: what is on the rack of each material."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from app.money import Currency, Money
from app.orders import Shop
from app.pricing import Kind
from app.stock.balances import Balance
from app.stock.wording import counted
from app.storage import StockFilter
from app.web.kit.fields import FieldView
from app.web.kit.listing import ChipRow, Listing, ListQuery, choice, flag, items_of, words
from app.web.materials.page import kind_labels
from app.web.stock.parts import StockPage


@dataclass(frozen=True, slots=True, kw_only=True)
class StockQuery(ListQuery):
    """The filters, the search and the page that the address of the list asks for.

    low: only what has to be bought. offcuts: only materials with offcuts.
    """

    path: ClassVar[str] = "/stock"
    kind: Kind | None = choice(Kind)
    text: str = words("q", 200)
    place: str = words("place", 60)
    low: bool = flag()
    offcuts: bool = flag()

    @property
    def filter(self) -> StockFilter:
        """The filter that the store is asked with."""
        return StockFilter(
            kind=self.kind, text=self.text, place=self.place, offcuts=self.offcuts or None
        )

    def chips(self, shop: Shop) -> tuple[ChipRow, ...]:
        """Return a filter for each kind, and those that narrow the list."""
        low = self.toggles("low", [(True, "to buy")])
        offcuts = self.toggles("offcuts", [(True, "with offcuts")])
        return (
            ChipRow(label="Kinds", chips=self.choices("kind", kind_labels(shop))),
            ChipRow(label="Narrowed", chips=(*low, *offcuts)),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRow:
    """One material of the list.

    value: at cost; None where that is not shown. flags: short warnings.
    """

    code: str
    name: str
    colour: str
    href: str
    whole: str
    offcuts: int
    reserved: int
    level: str
    value: Money | None
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockListPage(StockPage):
    """The stock by material, a page at a time.

    value: of every material that fits the filters; None where costs are not shown. empty_rack: whether nothing was ever noted.
    empty_book: whether the price book has no material either.
    """

    title: str = "Stock"
    wide: bool = True
    listing: Listing[StockRow]
    value: Money | None
    file: str
    empty_rack: bool
    empty_book: bool


def wanted_of(balances: Iterable[Balance], wanted: StockQuery) -> tuple[Balance, ...]:
    """Return the balances that fit the filters."""
    return tuple(each for each in balances if each.low or not wanted.low)


def row_of(balance: Balance, *, costs: bool = True) -> StockRow:
    """Return the row of a material. costs: whether it says what that is worth."""
    material, level = balance.material, balance.levels.reorder_at
    return StockRow(
        code=material.code,
        name=material.name,
        colour=material.colour,
        href=items_of(material.code),
        whole=counted(balance.whole, material),
        offcuts=balance.offcuts,
        reserved=balance.reserved,
        level="" if level is None else str(level),
        value=balance.value if costs else None,
        flags=flags_of(balance),
    )


def flags_of(balance: Balance) -> tuple[str, ...]:
    """Return short warnings about the stock of a material."""
    flags = {
        "below zero": balance.below_zero > 0,
        "more is reserved than there is": balance.overdrawn,
        "buy": balance.low,
    }
    return tuple(word for word, holds in flags.items() if holds)


def value_of(balances: Iterable[Balance], currency: Currency) -> Money:
    """Return the value of all of it at cost, in one currency."""
    values = (each.value for each in balances if each.value.currency == currency)
    return sum(values, Money.zero(currency))


def place_field(place: str, places: Iterable[str]) -> FieldView:
    """Return the field that filters by place."""
    known = tuple(dict.fromkeys((*places, *((place,) if place else ()))))
    return FieldView(
        path="place",
        label="Place",
        value=place,
        options=(("", "everywhere"), *((each, each) for each in known)),
    )
