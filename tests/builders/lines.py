"""Lines without a piece in few words: goods of a small price book, work, a voucher."""

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from typing import Any

from app.money import TaxPolicy, TaxRate, TaxRounding
from app.orders import LineAgreed, LineEntry, OrderLine, Shop, Stage
from app.orders.quoting.line import GoodsMeant, LineTerms, agree_line
from app.pricing import Kind
from tests.builders.kept import SHOP
from tests.builders.materials import counted, marked_up, sold_at
from tests.builders.values import TODAY, finder

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)

CARDS = counted("CARD", "Greeting card, heron", Kind.GOODS, "1.20", sold_at("3.50"))
HOOKS = counted("HOOK", "Picture hook, brass", Kind.GOODS, "0.33", marked_up("2.5"))
GOODS = (CARDS, HOOKS)
find = finder(GOODS)

REDUCED = TaxRate("reduced", "Reduced", Fraction(1, 10))
WITHOUT = replace(
    SHOP,
    tax_rates=(*SHOP.tax_rates, REDUCED),
    tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT),
)
"""A shop that prices without tax, with a reduced rate of 10 %."""

PLATE = {"what": "Brass plate, engraved", "price": "24.99", "minutes": "45", "note": "Two lines"}
VOUCHER = {"what": "Gift voucher", "price": "50", "tax": "none"}


def agreed_line(*, shop: Shop = SHOP, tax_free: bool = False, **typed: str) -> LineAgreed:
    """A line as it is agreed today."""
    return agree_line(
        typed,
        shop,
        lambda text: GoodsMeant(goods=find(text, Kind.GOODS)),
        LineTerms(today=TODAY, tax_free=tax_free),
    )


def order_line(agreed: LineAgreed, number: int = 1, **more: Any) -> OrderLine:
    """A line of an order, ordered."""
    entry = LineEntry(agreed=agreed, at=NOW, by="Ilse")
    usual: dict[str, Any] = {"id": number, "number": number, "stage": Stage.ORDERED}
    return OrderLine(entries=(entry,), **(usual | more))
