"""The pages of buying: the shopping list of what is short, and the list of orders to suppliers."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from typing import ClassVar

from app.counting import count_text, counted
from app.errors import Fault
from app.forms.table import Typed
from app.money import Money, show_money
from app.services.shortages import FromSupplier, Shortages
from app.stock.buying.supplier_orders import SupplierStage
from app.stock.buying.to_buy import Demand, Purchase
from app.stock.planning.parts import PieceRef
from app.storage import SupplierOrderSummary
from app.web.buying.form import MOST_ROWS, row_path
from app.web.kit.fields import Fields, FieldView
from app.web.kit.listing import Chip, ChipRow, Listing, ListQuery, choice
from app.web.kit.tally import Tally
from app.web.stock.parts import StockPage

PIECES_NAMED = 6
"""Pieces that a row names; of more it says how many."""

ORDERS = "/buying/orders"


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseRow:
    """One material that is short.

    unit: what its quantity counts. code_path, coming_path: the names of its hidden fields. coming: how
    many are in drafts and on order as the page shows it. pieces: (words, address) of those that want
    it. more: how many such pieces are not named.
    """

    code: str
    name: str
    colour: str
    code_path: str
    coming: int
    coming_path: str
    without: str
    why: str
    pieces: tuple[tuple[str, str], ...]
    more: int
    chosen: FieldView
    quantity: FieldView
    unit: str
    cost: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierGroup:
    """The rows of one supplier.

    supplier: "" for materials that have none. total: at cost.
    """

    supplier: str
    rows: tuple[PurchaseRow, ...]
    total: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortPage(StockPage):
    """The shopping list of what is short.

    supplier: the field for the supplier of materials that have none. more: rows that are not shown.
    gone: sentences about materials that are wanted and have left the price book.
    """

    title: str = "To buy"
    wide: bool = True
    part: str = "Buying"
    views: tuple[Chip, ...]
    groups: tuple[SupplierGroup, ...]
    supplier: FieldView
    more: int
    gone: tuple[str, ...]
    tally: tuple[Tally, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrdersPage(StockPage):
    """The list of orders to suppliers, a page at a time."""

    title: str = "Orders to suppliers"
    wide: bool = True
    part: str = "Buying"
    views: tuple[Chip, ...]
    listing: Listing[SupplierOrderSummary]


def views(current: str) -> tuple[Chip, ...]:
    """Link to the two pages of buying: what is short, and the orders."""
    links = (("To buy", "/buying"), ("Orders to suppliers", ORDERS))
    return tuple(Chip(label=label, href=href, current=href == current) for label, href in links)


def groups_of(
    short: Shortages, typed: Typed, faults: Iterable[Fault]
) -> tuple[tuple[SupplierGroup, ...], int]:
    """Return the rows by supplier with their fields, and how many rows found no room.

    typed: the form that was refused, numbered as the rows are now (see `renumbered`); empty when the
    page is opened.
    """
    rows = numbered_rows(short)
    make = Fields({**_at_first(rows, ticked=not typed), **typed}, faults)
    left = iter(rows)
    by_supplier = [(each, tuple(islice(left, len(each.purchases)))) for each in short.suppliers]
    groups = tuple(_group(group, ours, make) for group, ours in by_supplier if ours)
    total = sum(len(group.purchases) for group in short.suppliers)
    return groups, total - len(rows)


def tally_of(short: Shortages) -> tuple[Tally, ...]:
    """Sum up what is short: how many materials, of how many suppliers, at what cost; nothing where nothing is."""
    purchases = [each for group in short.suppliers for each in group.purchases]
    if not purchases:
        return ()
    total = sum((each.cost for each in purchases), Money.zero(purchases[0].cost.currency))
    named = sum(bool(group.supplier) for group in short.suppliers)
    without = sum(len(group.purchases) for group in short.suppliers if not group.supplier)
    return (
        Tally(label="Materials short", number=count_text(len(purchases))),
        Tally(
            label="Suppliers",
            number=count_text(named),
            note=counted(without, "material without one", "materials without one")
            if without
            else "",
        ),
        Tally(label="At cost", number=show_money(total), note=total.currency.code),
    )


def numbered_rows(short: Shortages) -> tuple[tuple[int, Purchase], ...]:
    """Return the rows of the page with their numbers, as many as there is room for."""
    purchases = (each for group in short.suppliers for each in group.purchases)
    return tuple(enumerate(islice(purchases, MOST_ROWS)))


def _at_first(rows: Iterable[tuple[int, Purchase]], *, ticked: bool) -> dict[str, str]:
    fields: dict[str, str] = {}
    for number, purchase in rows:
        fields[row_path(number, "chosen")] = "1" if ticked else ""
        fields[row_path(number, "quantity")] = str(purchase.quantity)
    return fields


def renumbered(
    short: Shortages, typed: Typed, faults: Iterable[Fault]
) -> tuple[dict[str, str], tuple[Fault, ...]]:
    """Return a refused form and its faults with the rows numbered as they stand now, matched by the
    material's code.

    What is short may have changed since the form was made; a fault of a row that is gone has no field.
    """
    now = {each.material.code: number for number, each in numbered_rows(short)}
    moved = {
        before: now.get(typed.get(row_path(before, "code"), "")) for before in range(MOST_ROWS)
    }

    def path_of(path: str) -> str:
        head, _, rest = path.partition(".")
        number, _, field = rest.partition(".")
        if head != "buy" or not number.isdecimal():
            return path
        there = moved.get(int(number))
        return "" if there is None else row_path(there, field)

    fields = {new: value for path, value in typed.items() if (new := path_of(path))}
    return fields, tuple(replace(fault, path=path_of(fault.path)) for fault in faults)


def _group(
    group: FromSupplier, purchases: Iterable[tuple[int, Purchase]], make: Fields
) -> SupplierGroup:
    rows = tuple(
        _row(number, purchase, make, without=not group.supplier) for number, purchase in purchases
    )
    zero = Money.zero(rows[0].cost.currency)
    return SupplierGroup(
        supplier=group.supplier, rows=rows, total=sum((row.cost for row in rows), zero)
    )


def _row(number: int, purchase: Purchase, make: Fields, *, without: bool) -> PurchaseRow:
    material, bought = purchase.material, purchase.bought
    named = (
        *((piece.name, piece_href(piece)) for piece in purchase.pieces),
        *((name, f"/orders/{order_id}") for name, order_id in purchase.lines),
    )
    return PurchaseRow(
        code=material.code,
        name=material.name,
        colour=material.colour,
        code_path=row_path(number, "code"),
        coming=purchase.supply.coming,
        coming_path=row_path(number, "coming"),
        without=row_path(number, "without") if without else "",
        why=purchase.why,
        pieces=named[:PIECES_NAMED],
        more=max(0, len(named) - PIECES_NAMED),
        chosen=make.field(row_path(number, "chosen"), f"Order {material.code}"),
        quantity=make.field(
            row_path(number, "quantity"),
            " ".join(filter(None, ("How many", bought.unit.word(), "of", material.code))),
        ),
        unit=bought.unit.word(many=purchase.quantity != 1),
        cost=purchase.cost,
    )


def piece_href(piece: PieceRef) -> str:
    """Return the address of a piece's bench page."""
    return f"/orders/{piece.order_id}/pieces/{piece.number}"


def gone_words(wanted: Iterable[Demand]) -> tuple[str, ...]:
    """Return sentences about materials that are wanted and can no longer be ordered by their code."""
    return tuple(
        f"{each.material} is wanted by {counted(len(each.pieces) + len(each.lines), 'piece')}, but it has "
        "left the price book; add it again to order it."
        for each in wanted
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrderQuery(ListQuery):
    """The filters, the search and the page that the address of the list asks for."""

    path: ClassVar[str] = ORDERS
    stage: SupplierStage | None = choice(SupplierStage)

    @property
    def stages(self) -> frozenset[SupplierStage]:
        """The stages that are wanted; empty for all of them."""
        return frozenset() if self.stage is None else frozenset({self.stage})

    def chips(self, counts: Mapping[SupplierStage, int]) -> ChipRow:
        """Return a filter for each stage, with how many orders stand at it."""
        stages = ((stage, f"{stage.word} {counts[stage]}") for stage in SupplierStage)
        every = (None, f"all {sum(counts.values())}")
        return ChipRow(label="Stages", chips=self.choices("stage", (every, *stages)))
