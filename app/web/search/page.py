"""What was found from the head of a page: what answers at once first, then the rest by kind."""

from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from app.orders import Shop
from app.pricing import Material
from app.services.search import Hit, SearchResult
from app.stock.planning.fitting import extent_text
from app.storage import (
    CustomerSummary,
    ListPage,
    NumberedPaper,
    OrderSummary,
    PaperKind,
    StockLine,
)
from app.web.kit.listing import with_query
from app.web.kit.sought import MEMORY, SOUGHT
from app.web.kit.templating import Page
from app.web.materials.page import kind_word

_CALLED = {
    PaperKind.INVOICE: "Invoice",
    PaperKind.CREDIT_NOTE: "Credit note",
    PaperKind.PLAN: "Cutting plan",
    PaperKind.SUPPLIER_ORDER: "Supplier order",
}

_KEPT_UNDER = {PaperKind.PLAN: "/plans", PaperKind.SUPPLIER_ORDER: "/buying/orders"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundLine:
    """One thing that was found. hint: what tells it from others like it."""

    label: str
    href: str
    hint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundGroup:
    """The things of one kind. more: the list that has the others too, with its address; None where all are here."""

    title: str
    lines: tuple[FoundLine, ...]
    more: tuple[str, str] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchPage(Page):
    """orders: with stage, place and what is owed, since that is what is mostly asked. more_orders: (words, address) of the
    lists with all of them, where not all are here. forgotten: whether its address asks for words that are not known any more.
    """

    title: str = "Find"
    text: str
    forgotten: bool
    today: date
    orders: tuple[OrderSummary, ...]
    more_orders: tuple[tuple[str, str], ...]
    groups: tuple[FoundGroup, ...]


def address_of(hit: Hit) -> str:
    """Return the page of what was found."""
    match hit:
        case CustomerSummary():
            return f"/customers/{hit.id}"
        case Material():
            return f"/materials/{quote(hit.code)}/edit"
        case StockLine():
            return f"/stock/items/{hit.kept.id}"
        case NumberedPaper():
            return f"{_KEPT_UNDER.get(hit.kind, '/orders')}/{hit.id}"
    return f"/orders/{hit.id}"


def _list_with(path: str, text: str) -> str:
    """Return the address of a list of all with some words, which it does not bear."""
    return with_query(path, {SOUGHT: MEMORY.id_of(text)})


def search_page(
    found: SearchResult, shop: Shop, *, today: date, forgotten: bool = False
) -> SearchPage:
    """Return the page of what was found. forgotten: whether its address asks for words that are not known any more."""
    orders = found.orders
    lists = (("Orders", "/orders"), ("Quotes", "/quotes"))
    return SearchPage(
        text=found.text,
        forgotten=forgotten,
        today=today,
        orders=orders.rows,
        more_orders=tuple(
            (f"{called} with these words", _list_with(path, found.text))
            for called, path in lists
            if orders.total > len(orders.rows)
        ),
        groups=tuple(group for group in _groups(found, shop) if group.lines),
    )


def _groups(found: SearchResult, shop: Shop) -> tuple[FoundGroup, ...]:
    def group[Row: Hit](title: str, listed: ListPage[Row], path: str = "") -> FoundGroup:
        whole = path and listed.total > len(listed.rows)
        return FoundGroup(
            title=title,
            lines=tuple(_line(hit, shop) for hit in listed.rows),
            more=(f"All {listed.total}", _list_with(path, found.text)) if whole else None,
        )

    return (
        group("Customers", found.customers, "/customers"),
        group("Invoices, plans and supplier orders", found.papers),
        group("In stock", found.items, "/stock/items"),
        group("Price book", found.materials, "/materials"),
    )


def _line(hit: Hit, shop: Shop) -> FoundLine:
    label, hints = _said(hit, shop)
    return FoundLine(label=label, href=address_of(hit), hint=" · ".join(filter(None, hints)))


def _said(hit: Hit, shop: Shop) -> tuple[str, tuple[str, ...]]:
    """Return the name of a hit, and what tells it from others."""
    match hit:
        case OrderSummary():
            return hit.number, (hit.customer_name,)
        case CustomerSummary():
            return hit.name, (hit.phone, hit.email)
        case Material():
            return hit.name or hit.code, (kind_word(hit.kind, shop), hit.code, hit.supplier)
        case StockLine():
            item = hit.kept.item
            measure = extent_text(item, shop.unit)
            return item.label or hit.name, (hit.name if item.label else "", measure, item.place)
        case NumberedPaper():
            return f"{_CALLED[hit.kind]} {hit.number}", (hit.supplier,)
