"""Finding what is kept by what is remembered of it: a number, a name, a title, a place, a label."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from app.pricing import Material
from app.storage import (
    CustomerSummary,
    ListPage,
    NumberedPaper,
    OrderFilter,
    OrderSummary,
    PageRequest,
    StockLine,
    Store,
    UnitOfWork,
)

type Hit = OrderSummary | CustomerSummary | StockLine | Material | NumberedPaper

SHOWN = PageRequest(size=8)
NOTHING: ListPage[Any] = ListPage.of((), 0, SHOWN)
SHORTEST_NUMBER = 4
"""Digits of a number's last part; one that is typed shorter lacks its noughts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchResult:
    """Where a text was found, the first few of each kind.

    orders: quotes as well. items: of the stock, by label, place or batch.
    """

    text: str
    orders: ListPage[OrderSummary]
    customers: ListPage[CustomerSummary]
    items: ListPage[StockLine]
    materials: ListPage[Material]
    papers: ListPage[NumberedPaper]

    @property
    def hits(self) -> tuple[Hit, ...]:
        """All that is shown."""
        customers, items = self.customers.rows, self.items.rows
        return (
            *self.orders.rows,
            *customers,
            *items,
            *self.materials.rows,
            *self.papers.rows,
        )

    @property
    def meant(self) -> Hit | None:
        """What is meant without a doubt: what bears the text as its number, code or label, or the only hit."""
        hits = self.hits
        named = [hit for hit in hits if self.text.casefold() in _numbers(hit)]
        if len(named) == 1:
            return named[0]
        return hits[0] if len(hits) == 1 else None


def search(store: Store, text: str) -> SearchResult:
    """Look for a text in all that is kept; a blank one is found nowhere.

    A number may be typed short: "148" is in the one that ends on 0148. Where no order bears the text, the
    orders of the only customer who is found by it, such as by a telephone number, are shown.
    """
    text = text.strip()
    number = text.zfill(SHORTEST_NUMBER) if text.isascii() and text.isdigit() else text
    with store.reading() as work:
        customers = work.customers.listed(text, SHOWN) if text else NOTHING
        materials = work.materials.find(text, limit=None) if text else ()
        papers = work.papers.found(number)
        return SearchResult(
            text=text,
            orders=_orders(work, number, customers),
            customers=customers,
            items=work.stock_lists.marked(text, SHOWN),
            materials=_first(materials),
            papers=_first(papers),
        )


def _orders(
    work: UnitOfWork, text: str, customers: ListPage[CustomerSummary]
) -> ListPage[OrderSummary]:
    if not text:
        return NOTHING
    found = work.order_lists.listed(OrderFilter(text=text), page=SHOWN)
    if found.total or customers.total != 1:
        return found
    return work.order_lists.listed(OrderFilter(customer_id=customers.rows[0].id), page=SHOWN)


def _first[Row](rows: Sequence[Row]) -> ListPage[Row]:
    return ListPage.of(rows[: SHOWN.size], len(rows), SHOWN)


def _numbers(hit: Hit) -> tuple[str, ...]:
    """Return what a hit is called for certain, in lower case."""
    called: tuple[str | None, ...]
    match hit:
        case OrderSummary():
            called = (hit.quote_number, hit.order_number)
        case NumberedPaper():
            called = (hit.number,)
        case Material():
            called = (hit.code,)
        case StockLine():
            called = (hit.kept.item.label,)
        case _:
            called = ()
    return tuple(each.casefold() for each in called if each)
