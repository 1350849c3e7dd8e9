"""The list of the stock: what is on the rack of each material."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from app.money import Currency, Money
from app.orders import Shop
from app.pricing import Kind
from app.stock.balances import Balance
from app.stock.wording import counted
from app.storage import StockFilter
from app.web.kit.fields import FieldView
from app.web.kit.listing import Chip, items_of, numbered, page_number, with_query
from app.web.materials.page import kind_word
from app.web.stock.parts import StockPage

PAGE_SIZE = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class StockQuery:
    """What the address of the list asks for. Whatever cannot be read there is left out."""

    kind: Kind | None = None
    text: str = ""
    place: str = ""
    low: bool = False
    offcuts: bool = False
    page: int = 1

    @classmethod
    def read(cls, query: Mapping[str, str]) -> "StockQuery":
        """From an address's query."""
        return cls(
            kind=Kind(query["kind"]) if query.get("kind") in set(Kind) else None,
            text=query.get("q", "").strip()[:200],
            place=query.get("place", "").strip()[:60],
            low=query.get("low") == "1",
            offcuts=query.get("offcuts") == "1",
            page=page_number(query),
        )

    @property
    def filter(self) -> StockFilter:
        """What the store is asked for."""
        return StockFilter(
            kind=self.kind, text=self.text, place=self.place, offcuts=self.offcuts or None
        )

    @property
    def all(self) -> bool:
        """Whether nothing is left out."""
        return not (self.kind or self.text or self.place or self.low or self.offcuts)

    def href(self, **changes: object) -> str:
        """This list with something changed, from its first page on."""
        values = {
            "kind": self.kind,
            "q": self.text,
            "place": self.place,
            "low": "1" if self.low else "",
            "offcuts": "1" if self.offcuts else "",
            **changes,
        }
        return with_query("/stock", values)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRow:
    """One material of the list. flags: words for what ought to be looked at."""

    code: str
    name: str
    colour: str
    href: str
    whole: str
    offcuts: int
    reserved: int
    level: str
    value: Money
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockListPage(StockPage):
    """A page of the list. value: of all that is wanted, over every page. kept: of a new search.

    empty_rack: nothing was ever noted. empty_book: nor is there a material that could be.
    """

    title: str = "Stock"
    wide: bool = True
    search: FieldView
    place: FieldView
    kept: tuple[tuple[str, str], ...]
    kinds: tuple[Chip, ...]
    narrowed: tuple[Chip, ...]
    rows: tuple[StockRow, ...]
    total: int
    value: Money
    pages: tuple[Chip, ...]
    file: str
    empty_rack: bool
    empty_book: bool


def wanted_of(balances: Iterable[Balance], wanted: StockQuery) -> tuple[Balance, ...]:
    """The balances that the list holds."""
    return tuple(each for each in balances if each.low or not wanted.low)


def rows_of(balances: Sequence[Balance], wanted: StockQuery) -> tuple[StockRow, ...]:
    """The rows of this page."""
    start = (wanted.page - 1) * PAGE_SIZE
    return tuple(_row(each) for each in balances[start : start + PAGE_SIZE])


def _row(balance: Balance) -> StockRow:
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
        value=balance.value,
        flags=flags_of(balance),
    )


def flags_of(balance: Balance) -> tuple[str, ...]:
    """Short words for what ought to be looked at."""
    flags = {
        "below zero": balance.below_zero > 0,
        "plans take more than there is": balance.overdrawn,
        "buy": balance.low,
    }
    return tuple(word for word, holds in flags.items() if holds)


def value_of(balances: Iterable[Balance], currency: Currency) -> Money:
    """What all of it is worth at cost."""
    values = (each.value for each in balances if each.value.currency == currency)
    return sum(values, Money.zero(currency))


def kind_chips(wanted: StockQuery, shop: Shop) -> tuple[Chip, ...]:
    """A filter for each kind."""
    every = Chip(label="all", href=wanted.href(kind=None), current=wanted.kind is None)
    kinds = (
        Chip(
            label=kind_word(kind, shop, many=True),
            href=wanted.href(kind=kind),
            current=kind is wanted.kind,
        )
        for kind in Kind
    )
    return (every, *kinds)


def narrowing(wanted: StockQuery) -> tuple[Chip, ...]:
    """Filters that can be set or taken off."""
    return (
        Chip(label="to buy", href=wanted.href(low="" if wanted.low else "1"), current=wanted.low),
        Chip(
            label="with offcuts",
            href=wanted.href(offcuts="" if wanted.offcuts else "1"),
            current=wanted.offcuts,
        ),
    )


def page_links(wanted: StockQuery, total: int) -> tuple[Chip, ...]:
    """Links to the pages; none for a single one."""
    return numbered(wanted.page, -(-total // PAGE_SIZE), lambda page: wanted.href(page=page))


def place_field(place: str, places: Iterable[str]) -> FieldView:
    """The choice of a place."""
    known = tuple(dict.fromkeys((*places, *((place,) if place else ()))))
    return FieldView(
        path="place",
        label="Place",
        value=place,
        options=(("", "everywhere"), *((each, each) for each in known)),
    )
