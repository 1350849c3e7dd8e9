"""The page that raises many prices: which materials, by how much, and what their prices become."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from app.counting import count_text
from app.errors import Fault, Invalid
from app.forms.kinds import MONEY, PERCENT, TEXT, Options, choice
from app.forms.reader import Reader, whole_number
from app.forms.table import Field, Form, Typed
from app.money import Money, parse_percent, show_money, show_percent
from app.orders import Shop
from app.pricing import ChargeBy, Kind, Material, Raised
from app.services.price_book import LARGEST_RAISE, Raise, Raising, Selection
from app.web.kit import stating
from app.web.kit.fields import Fields, FormView, OfShop, id_of
from app.web.kit.tally import Tally
from app.web.kit.templating import Page
from app.web.materials.page import kind_word, price_of, sells_for

WHAT: Options = (
    (Raised.COST, "costs; prices follow"),
    (Raised.PRICE, "fixed prices, size tables"),
    (Raised.BOTH, "both"),
)

OPEN_AT_MOST = 25
"""Materials that are listed unfolded; of more, each kind is a fold of its own."""


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
    Field("percent", "By, %", replace(PERCENT, read=_share), "5 = +5 %, -5 = −5 %.", needed=True),
    Field("what", "What changes", choice(Raised, WHAT), usual=Raised.COST),
    Field("kind", "Which", choice(Kind, ()), options=_kinds),
    Field("supplier", "From", replace(TEXT, control="select"), options=_suppliers),
    Field("q", "With the words", TEXT, "Part of code, name, finish; blank for all."),
    Field(
        "step",
        "Round fixed prices to steps of",
        replace(MONEY, text=lambda step, _known: show_money(step) if step else ""),
        "Blank: exact. Costs always are.",
        usual=lambda known: Money.zero(known.currency),
        stated=lambda known, _typed: stating.prices(known.shop, None),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RaisedRow:
    """One material with its cost and sell price before and after.

    The sell prices are texts with their unit. path: the name of its box, ticked where it is to change.
    """

    path: str
    ticked: bool
    code: str
    name: str
    cost: Money
    new_cost: Money
    sells: str
    new_sells: str

    @property
    def id(self) -> str:
        """The id of its box."""
        return id_of(self.path)


@dataclass(frozen=True, slots=True, kw_only=True)
class RaisedKind:
    """The materials of one kind. opened: whether its fold is open."""

    kind: Kind
    title: str
    rows: tuple[RaisedRow, ...]
    opened: bool

    @property
    def ticked(self) -> int:
        """How many of them are to change."""
        return sum(row.ticked for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class RaisePage(Page):
    """The page that raises prices.

    kinds: None until something readable was asked, empty where nothing would change. seen: the versions
    that the rows show.
    """

    title: str = "Raise prices"
    section: str = "Materials"
    wide: bool = True
    fields: FormView[OfSuppliers]
    kinds: tuple[RaisedKind, ...] | None
    tally: tuple[Tally, ...]
    seen: str
    asked: tuple[tuple[str, str], ...]


def begun(typed: Typed, shop: Shop) -> dict[str, str]:
    """Return what was asked with the rest as it is to begin with: costs, and prices in the steps of the shop."""
    step = show_money(shop.rounding_step) if shop.rounding_step else ""
    return {"what": Raised.COST.value, "step": step, **typed}


def read_raise(typed: Typed, shop: Shop) -> Raise:
    """Read what to raise and by how much. Raises: Invalid with every fault, at the form's fields."""
    values = RAISE.read(begun(typed, shop), OfSuppliers(shop))
    selection = Selection(kind=values["kind"], text=values["q"], supplier=values["supplier"])
    step = values["step"] or None
    return Raise(selection=selection, share=values["percent"], what=values["what"], step=step)


def form_fields(typed: Typed, faults: Iterable[Fault], known: OfSuppliers) -> FormView[OfSuppliers]:
    """Return the fields of the form."""
    return FormView(RAISE, known, Fields(begun(typed, known.shop), faults))


def suppliers_of(materials: Iterable[Material]) -> tuple[str, ...]:
    """Return the suppliers in the price book, sorted by name; names that differ only in case are one."""
    names = {material.supplier.strip().casefold(): material.supplier for material in materials}
    names.pop("", None)
    return tuple(names[key] for key in sorted(names))


def without(raising: Iterable[Raising], typed: Typed) -> frozenset[str]:
    """Return the codes of what is left as it is: what has a box and is not ticked.

    A button that ticks all or none, of one kind or of every one, counts before the boxes. A form without
    boxes means all.
    """
    ticks, _, kind = typed.get("action", "").partition(":")

    def left(each: Raising) -> bool:
        meant = ticks in ("all", "none") and kind in ("", each.new.kind.value)
        return ticks == "none" if meant else _path(each) not in typed

    return frozenset(each.new.code for each in raising if "boxes" in typed and left(each))


def _path(each: Raising) -> str:
    return f"with.{each.new.code}"


def kinds_of(
    raising: Iterable[Raising], shop: Shop, left: frozenset[str], action: str = ""
) -> tuple[RaisedKind, ...]:
    """Return the preview, kind by kind. left: codes of what is not ticked. action: the button that was pressed."""
    raising = tuple(raising)
    of = {kind: [each for each in raising if each.new.kind is kind] for kind in Kind}
    unfolded = len(raising) <= OPEN_AT_MOST or len({each.new.kind for each in raising}) == 1
    return tuple(
        RaisedKind(
            kind=kind,
            title=kind_word(kind, shop, many=True).capitalize(),
            rows=tuple(_row(each, shop, left) for each in rows),
            opened=unfolded or action.endswith(f":{kind.value}"),
        )
        for kind, rows in of.items()
        if rows
    )


def _row(each: Raising, shop: Shop, left: frozenset[str]) -> RaisedRow:
    return RaisedRow(
        path=_path(each),
        ticked=each.new.code not in left,
        code=each.new.code,
        name=each.new.name,
        cost=each.old.value.cost,
        new_cost=each.new.cost,
        sells=sells_for(each.old.value, shop),
        new_sells=sells_for(each.new, shop),
    )


def tally_of(
    raising: Iterable[Raising], shop: Shop, asked: Raise, left: frozenset[str]
) -> tuple[Tally, ...]:
    """Sum the preview up: how many materials, costs and fixed prices change, and by how much sell prices do."""
    raising = tuple(raising)
    done = [each for each in raising if each.new.code not in left]
    costs = sum(each.new.cost != each.old.value.cost for each in done)
    given = sum(
        (each.new.charge.bands, each.new.selling)
        != (each.old.value.charge.bands, each.old.value.selling)
        for each in done
    )
    shares = sorted(share for each in done for share in _shares(each, shop))
    astray = sum(share * asked.share < 0 for share in shares)
    way = "fall" if asked.share > 0 else "rise"
    ends = [_signed(share) for share in dict.fromkeys((*shares[:1], *shares[-1:]))]
    step = f"in steps of {show_money(asked.step)} where they can be" if asked.step else "exact"
    return (
        Tally(
            label="Materials that change",
            number=count_text(len(done)),
            note=f"{len(raising) - len(done)} left out" if left else "none left out",
        ),
        Tally(label="Costs", number=count_text(costs), note="exact, as suppliers bill"),
        Tally(label="Fixed prices, size tables", number=count_text(given), note=step),
        Tally(
            label="Sell prices change by",
            number=" to ".join(dict.fromkeys(ends)) or "–",
            note=f"{astray} {way}: another step of a markup table"
            if astray
            else "quotes and orders keep theirs",
            late=astray > 0,
        ),
    )


def _signed(share: Fraction) -> str:
    tenths = Fraction(round(share * 1000), 1000)
    return f"+{show_percent(tenths)}" if tenths > 0 else show_percent(tenths)


def _shares(each: Raising, shop: Shop) -> Iterator[Fraction]:
    """Return by which shares the sell prices of a material change; a price of nothing has none."""
    old, new = each.old.value, each.new
    if new.charge.by is ChargeBy.SIZE_BAND:
        bands = zip(old.charge.bands, new.charge.bands, strict=True)
        pairs = [(Fraction(b.price.minor), Fraction(a.price.minor)) for b, a in bands]
    else:
        before, after = price_of(old, shop), price_of(new, shop)
        pairs = [(before.minor, after.minor)] if before and after else []
    return (after / before - 1 for before, after in pairs if before)


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
