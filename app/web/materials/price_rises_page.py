"""The page that raises many prices: which materials, by how much, and what their prices become."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.errors import Fault, Invalid
from app.forms.reader import whole_number
from app.forms.table import Options
from app.money import Money, parse_percent
from app.orders import Shop
from app.pricing import Kind, Material, Raised
from app.services.price_book import LARGEST_RAISE, Raise, Raising, Selection
from app.web.kit.fields import Fields, FieldView
from app.web.kit.templating import Page
from app.web.materials.page import kind_word, sells_for

WHAT: Options = (
    (Raised.COST, "Costs; sell prices follow by their markup"),
    (Raised.PRICE, "Prices given outright and by size"),
    (Raised.BOTH, "Both"),
)
ASKED = ("kind", "q", "supplier", "percent", "what")


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
    fields: Mapping[str, FieldView]
    rows: tuple[RaisedRow, ...] | None
    seen: str
    asked: tuple[tuple[str, str], ...]


def read_raise(typed: Mapping[str, str]) -> Raise:
    """Read what to raise and by how much. Raises: Invalid at "percent"."""
    text = typed.get("percent", "")
    share = parse_percent(text, path="percent", low=-99, high=LARGEST_RAISE * 100)
    what = typed.get("what", "")
    return Raise(
        selection=Selection(
            kind=Kind(typed["kind"]) if typed.get("kind") in set(Kind) else None,
            text=typed.get("q", ""),
            supplier=typed.get("supplier", ""),
        ),
        share=share,
        what=Raised(what) if what in set(Raised) else Raised.COST,
    )


def form_fields(
    typed: Mapping[str, str], faults: Iterable[Fault], shop: Shop, suppliers: Iterable[str]
) -> dict[str, FieldView]:
    """Return the fields of the form."""
    make = Fields({"what": Raised.COST.value, **typed}, faults)
    kinds = ((kind.value, kind_word(kind, shop, many=True)) for kind in Kind)
    names = ((name, name) for name in suppliers)
    return {
        "kind": make.field("kind", "Which", options=(("", "all materials"), *kinds)),
        "supplier": make.field("supplier", "From", options=(("", "any supplier"), *names)),
        "q": make.field("q", "With the words", hint="Part of code, name, finish; blank for all."),
        "percent": make.field(
            "percent", "By, %", hint="5 raises by a twentieth, -5 lowers.", required=True
        ),
        "what": make.field("what", "What changes", options=WHAT),
    }


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
