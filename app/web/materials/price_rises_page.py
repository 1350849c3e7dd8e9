"""The page that raises many prices: which materials, by how much, and what their prices become."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from app.errors import Fault, Invalid
from app.forms.reader import Reader, whole_number
from app.forms.table import PERCENT, TEXT, Field, Form, Options, Typed, choice
from app.money import Money, parse_percent
from app.orders import Shop
from app.pricing import Kind, Material, Raised
from app.services.price_book import LARGEST_RAISE, Raise, Raising, Selection
from app.web.kit.fields import Fields, FormView, OfShop
from app.web.kit.templating import Page
from app.web.materials.page import kind_word, sells_for

WHAT: Options = (
    (Raised.COST, "Costs; sell prices follow by their markup"),
    (Raised.PRICE, "Prices given outright and by size"),
    (Raised.BOTH, "Both"),
)


@dataclass(frozen=True, slots=True)
class OfSuppliers(OfShop):
    """The shop and the suppliers of its price book, which are only needed to show the form."""

    suppliers: tuple[str, ...] = ()


def _kinds(known: OfSuppliers) -> Options:
    named = ((kind.value, kind_word(kind, known.shop, many=True)) for kind in Kind)
    return ("", "all materials"), *named


def _suppliers(known: OfSuppliers) -> Options:
    return ("", "any supplier"), *((name, name) for name in known.suppliers)


def _share(read: Reader, path: str, _usual: None) -> Fraction:
    """Read by how much prices rise, below zero where they fall; a blank is refused."""
    text, high = read.raw(path), LARGEST_RAISE * 100
    return read.take(lambda: parse_percent(text, path=path, low=-99, high=high)) or Fraction(0)


RAISE = Form[OfSuppliers](
    Field("kind", "Which", choice(Kind, ()), options=_kinds),
    Field("supplier", "From", replace(TEXT, control="select"), options=_suppliers, beside=True),
    Field("q", "With the words", TEXT, "Part of code, name, finish; blank for all."),
    Field(
        "percent",
        "By, %",
        replace(PERCENT, read=_share),
        "5 raises by a twentieth, -5 lowers.",
        needed=True,
    ),
    Field("what", "What changes", choice(Raised, WHAT, "radios"), usual=Raised.COST),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RaisedRow:
    """One material with its cost and sell price before and after.

    The sell prices are texts with their unit.
    """

    code: str
    name: str
    cost: Money
    new_cost: Money
    sells: str
    new_sells: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RaisePage(Page):
    """The page that raises prices.

    rows: None until something readable was asked. seen: the versions that the rows show.
    """

    title: str = "Raise prices"
    section: str = "Materials"
    fields: FormView[OfSuppliers]
    rows: tuple[RaisedRow, ...] | None
    seen: str
    asked: tuple[tuple[str, str], ...]


def read_raise(typed: Typed, shop: Shop) -> Raise:
    """Read what to raise and by how much. Raises: Invalid with every fault, at the form's fields."""
    values = RAISE.read(typed, OfSuppliers(shop))
    selection = Selection(kind=values["kind"], text=values["q"], supplier=values["supplier"])
    return Raise(selection=selection, share=values["percent"], what=values["what"])


def form_fields(typed: Typed, faults: Iterable[Fault], known: OfSuppliers) -> FormView[OfSuppliers]:
    """Return the fields of the form; costs are chosen to begin with."""
    return FormView(RAISE, known, Fields({"what": Raised.COST.value, **typed}, faults))


def suppliers_of(materials: Iterable[Material]) -> tuple[str, ...]:
    """Return the suppliers in the price book, sorted by name; names that differ only in case are one."""
    names = {material.supplier.strip().casefold(): material.supplier for material in materials}
    names.pop("", None)
    return tuple(names[key] for key in sorted(names))


def rows_of(raising: Iterable[Raising], shop: Shop) -> tuple[RaisedRow, ...]:
    """Return the rows of the preview."""
    return tuple(
        RaisedRow(
            code=each.new.code,
            name=each.new.name,
            cost=each.old.value.cost,
            new_cost=each.new.cost,
            sells=sells_for(each.old.value, shop),
            new_sells=sells_for(each.new, shop),
        )
        for each in raising
    )


def seen_text(raising: Iterable[Raising]) -> str:
    """Write the versions of a preview, to be posted back: "SALT14:3 SALT24:1"."""
    return " ".join(f"{each.new.code}:{each.old.version}" for each in raising)


def read_seen(text: str) -> dict[str, int]:
    """Read the versions that were posted back. Raises: Invalid where they are unreadable."""
    seen = {}
    for part in text.split():
        code, _, version = part.rpartition(":")
        number = whole_number(version, digits=12)
        if number is None:
            raise Invalid.at("", "The list of prices is not readable; look at it again.")
        seen[code] = number
    return seen
