"""The items of the stock: their list, and one with its record."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from app.framing import Notice
from app.journal import taken_back
from app.lengths import Unit
from app.money import Money, show_money
from app.orders import Shop
from app.pricing import Kind
from app.services.stock import Looked
from app.stock.balances import Balance, notices_of_item
from app.stock.items import Item
from app.stock.movements import MovementKind
from app.stock.planning.fitting import extent_text
from app.stock.wording import counted, figure, signed
from app.storage import StockFilter, StockLine
from app.web.kit.fields import FormView
from app.web.kit.listing import ChipRow, Listing, ListQuery, choice, flag, words, yes_or_no
from app.web.stock.parts import StockPage

WORDS = {
    MovementKind.BOUGHT: "bought",
    MovementKind.CUT: "cut",
    MovementKind.KEPT: "kept",
    MovementKind.SPOILED: "spoiled",
    MovementKind.USED: "used",
    MovementKind.SOLD: "sold",
    MovementKind.COUNTED: "counted",
    MovementKind.TAKEN_BACK: "undone",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemQuery(ListQuery):
    """The filters, the search and the page that the address of the items asks for.

    offcuts: True for offcuts, False for whole items, None for both. on_a_page: what fills a sheet of labels, two on A5.
    """

    path: ClassVar[str] = "/stock/items"
    on_a_page: ClassVar[int] = 24
    material: str = words("material", 40)
    text: str = words("q", 200)
    place: str = words("place", 60)
    kind: Kind | None = choice(Kind)
    offcuts: bool | None = yes_or_no()
    gone: bool = flag()

    @property
    def filter(self) -> StockFilter:
        """The filter that the store is asked with."""
        return StockFilter(
            material=self.material,
            text=self.text,
            place=self.place,
            kind=self.kind,
            offcuts=self.offcuts,
            gone=self.gone,
        )

    def chips(self) -> ChipRow:
        """Return the filters for whole items and offcuts, and one that lists also what is used up."""
        forms = self.choices("offcuts", ((None, "all"), (False, "whole"), (True, "offcuts")))
        gone = self.toggles("gone", [(True, "show used-up items")])
        return ChipRow(label="Narrowed", chips=(*forms, *gone))


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemRow:
    """One item of the list.

    measure: "3000 mm", "" for what is counted. value: at cost; None where that is not shown.
    """

    id: int
    name: str
    code: str
    colour: str
    label: str
    measure: str
    on_hand: str
    below_zero: bool
    reserved: int
    batch: str
    place: str
    value: Money | None
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemsPage(StockPage):
    """The items of the stock, a page at a time.

    code: the material whose items they are, "" for all; notices and figures are about that. labels: the
    address of the labels for the items listed, "" where there are none. costs: whether it says what they are worth.
    """

    wide: bool = True
    heading: str
    code: str
    notices: tuple[Notice, ...]
    figures: tuple[tuple[str, str], ...]
    listing: Listing[ItemRow]
    labels: str
    costs: bool


def rows_of(
    lines: Sequence[StockLine], reserved: Mapping[int, int], unit: Unit, *, costs: bool = True
) -> tuple[ItemRow, ...]:
    """Return the rows of the list. costs: whether they say what the items are worth."""
    return tuple(
        ItemRow(
            id=line.kept.id,
            name=line.name,
            code=line.kept.item.material,
            colour=line.colour,
            label=line.kept.item.label,
            measure=extent_text(line.kept.item, unit),
            on_hand=figure(line.kept.on_hand),
            below_zero=line.kept.on_hand < 0,
            reserved=reserved.get(line.kept.id, 0),
            batch=line.kept.item.batch,
            place=line.kept.item.place,
            value=line.value if costs else None,
            href=f"/stock/items/{line.kept.id}",
        )
        for line in lines
    )


def labels_href(rows: Sequence[ItemRow]) -> str:
    """Return the address at which the labels of some items are printed; "" for no items."""
    return f"/stock/labels?items={','.join(str(row.id) for row in rows)}" if rows else ""


def figures_of(balance: Balance, *, costs: bool = True) -> tuple[tuple[str, str], ...]:
    """Return what there is of a material as (what, figure) pairs. costs: whether its value is one of them."""
    material, levels = balance.material, balance.levels
    at = levels.reorder_at
    pairs = (
        ("on the rack", counted(balance.whole, material)),
        ("offcuts", str(balance.offcuts) if balance.offcuts else ""),
        ("reserved by plans", str(balance.reserved) if balance.reserved else ""),
        ("value at cost", show_money(balance.value) if costs else ""),
        ("buy at", "" if at is None else f"{counted(at, material)} or fewer"),
        ("bought by", counted(levels.pack, material) if levels.pack > 1 else ""),
        ("usual place", levels.place),
    )
    return tuple((name, text) for name, text in pairs if text)


@dataclass(frozen=True, slots=True, kw_only=True)
class MovementRow:
    """One movement of an item.

    change: with its sign. undo: whether it can be taken back; what came of a supplier's order is taken
    back on that order. piece, order: (name, address) of the piece or the line it was for, and of the supplier's
    order it came of; None where there is none.
    """

    id: int
    at: datetime
    words: str
    change: str
    by: str
    note: str
    plan_id: int | None
    piece: tuple[str, str] | None
    order: tuple[str, str] | None
    undo: bool
    undone: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemPage(StockPage):
    """One item with its record.

    taking: the fields for what leaves the rack. on_hand: how many there are, in words.
    """

    wide: bool = True
    id: int
    heading: str
    name: str
    code: str
    items_href: str
    on_hand: str
    facts: tuple[tuple[str, str], ...]
    notices: tuple[Notice, ...]
    movements: tuple[MovementRow, ...]
    taking: FormView[Shop]
    cuttable: bool


def heading_of(item: Item, unit: Unit) -> str:
    """Return what an item is called: its label, or its material and measure."""
    return item.label or " ".join(filter(None, (item.material, extent_text(item, unit))))


def facts_of(looked: Looked, unit: Unit, *, costs: bool = True) -> tuple[tuple[str, str], ...]:
    """Return what is known of an item. costs: whether its cost, and who supplies it, are among it."""
    item, material = looked.kept.item, looked.material
    pairs = (
        ("size", extent_text(item, unit)),
        ("reserved by plans", str(looked.reserved) if looked.reserved else ""),
        ("cost of one", show_money(item.unit_cost) if costs else ""),
        ("value", show_money(looked.line.value) if costs else ""),
        ("place", item.place),
        ("batch", item.batch),
        ("supplier", material.supplier if costs else ""),
        ("note", item.note),
    )
    return tuple((name, text) for name, text in pairs if text)


def notices_about(looked: Looked) -> tuple[Notice, ...]:
    """Return notices about an item."""
    return notices_of_item(looked.kept, looked.material, looked.reserved)


def movement_rows(looked: Looked) -> tuple[MovementRow, ...]:
    """Return the movements of an item, the newest first."""
    undone = taken_back(looked.movements)
    return tuple(
        MovementRow(
            id=each.id,
            at=each.entry.at,
            words=WORDS[each.entry.kind],
            change=signed(each.entry.change) if each.entry.change else "as noted",
            by=each.entry.by,
            note=each.entry.note,
            plan_id=each.entry.plan_id,
            piece=_piece(looked, each.entry.piece_id) or _line(looked, each.entry.order_line_id),
            order=_order(looked, each.entry.line_id),
            undo=bool(each.entry.change)
            and each.entry.line_id is None
            and each.entry.kind is not MovementKind.TAKEN_BACK
            and each.id not in undone,
            undone=each.id in undone,
        )
        for each in looked.movements
    )


def _piece(looked: Looked, piece_id: int | None) -> tuple[str, str] | None:
    ref = looked.pieces.get(piece_id or 0)
    return None if ref is None else (ref.name, f"/orders/{ref.order_id}/pieces/{ref.number}")


def _line(looked: Looked, line_id: int | None) -> tuple[str, str] | None:
    ref = looked.lines.get(line_id or 0)
    return None if ref is None else (ref.name, f"/orders/{ref.order_id}#line-{ref.number}")


def _order(looked: Looked, line_id: int | None) -> tuple[str, str] | None:
    found = looked.orders.get(line_id or 0)
    return None if found is None else (found[1], f"/buying/orders/{found[0]}")


def on_hand_of(looked: Looked) -> str:
    """Say how many are on hand."""
    on_hand = looked.kept.on_hand
    if not looked.kept.item.whole:
        return "on the rack" if on_hand == 1 else f"{figure(on_hand)} on the rack"
    return counted(on_hand, looked.material)
