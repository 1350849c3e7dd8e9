"""The sheet of an order to a supplier: what is wanted, in what size, how many.

Costs stand on it only where they are asked for: a supplier has a price list of their own.
"""

from dataclasses import dataclass

from app.documents.kit.pdf import sheets_for, to_fewest_pages
from app.documents.kit.printing import day, page_html
from app.lengths import Unit
from app.money import show_money
from app.orders import Paper, Shop
from app.stock.buying.supplier_orders import NewLine, SupplierOrder, SupplierStage
from app.stock.planning.as_set import say_stock

_WARNINGS = {
    SupplierStage.DRAFT: "A draft: this order was not sent.",
    SupplierStage.DROPPED: "Deleted: this order was not sent.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedLine:
    """One line. quantity: "12 sheets". cost, total: "" unless costs are asked for."""

    quantity: str
    code: str
    name: str
    size: str
    note: str
    cost: str = ""
    total: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSheetPage:
    """Everything that an order sheet says. dates: (what, day). deliver_to: "" where the
    shop has said no address. towards: the word before the supplier. total: "" unless costs are asked for."""

    lang: str
    title: str
    heading: str
    number: str
    shop_name: str
    shop_lines: tuple[str, ...]
    supplier: str
    dates: tuple[tuple[str, str], ...]
    warning: str
    lines: tuple[OrderedLine, ...]
    deliver_to: str
    note: tuple[str, ...]
    costs: bool
    total: str
    towards: str = "To"


def order_sheet_pdf(order: SupplierOrder, shop: Shop, *, paper: Paper, costs: bool) -> bytes:
    """Make the PDF of an order's sheet.

    costs: whether to say what each line is expected to cost.

    Raises: PdfUnavailable.
    """
    html = page_html("order_sheet.html", order_sheet_page(order, shop, costs=costs))
    return to_fewest_pages(html, sheets_for(paper, "quote", "order-sheet"))


def order_sheet_page(order: SupplierOrder, shop: Shop, *, costs: bool) -> OrderSheetPage:
    """Return the page model of an order sheet."""
    sent = order.sent_on
    return OrderSheetPage(
        lang="en",
        title=f"Order {order.number}, {shop.name}",
        heading="Order",
        number=order.number,
        shop_name=shop.name,
        shop_lines=(*_lines_of(shop.address), *_lines_of(shop.contact)),
        supplier=order.supplier,
        dates=(("Ordered on", day(sent)) if sent else ("Made on", day(order.made_on)),),
        warning=_WARNINGS.get(order.stage, ""),
        lines=tuple(_line(line.ordered, shop.unit, costs=costs) for line in order.lines),
        note=_lines_of(order.note),
        deliver_to=", ".join((shop.name, *_lines_of(shop.address))) if shop.address.strip() else "",
        costs=costs,
        total=show_money(order.total, code=True) if costs else "",
    )


def _lines_of(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def _line(ordered: NewLine, unit: Unit, *, costs: bool) -> OrderedLine:
    each = f" for {ordered.cost_for}" if ordered.cost_for > 1 else ""
    return OrderedLine(
        quantity=ordered.unit.counted(ordered.quantity),
        code=ordered.material,
        name=ordered.name,
        size=_size(ordered, unit),
        note=ordered.note,
        cost=f"{show_money(ordered.cost)}{each}" if costs else "",
        total=show_money(ordered.total) if costs else "",
    )


def _size(ordered: NewLine, unit: Unit) -> str:
    extent = ordered.length if ordered.length is not None else ordered.size
    return "" if extent is None else say_stock(extent, unit)
