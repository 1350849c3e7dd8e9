"""Shows what a piece takes of its materials and what the rack has for it: to the shop, never to a customer.

Serves the quote page, which also says what is really used up beside what is charged, and the pages of
an order and of the bench.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.counting import counted
from app.framing import Notice
from app.lengths import ZERO, Length, Unit
from app.money import Money
from app.orders import Agreed, Shop
from app.orders.dimensions_memo import as_cut
from app.orders.material_usage import RealUse, real_use
from app.pricing import Measure, OpenedSticks, PriceLine
from app.pricing.wording import short_quantity
from app.stock.planning.as_set import say_stock
from app.stock.planning.fitting import OffcutFit, extent_text, offcuts_that_fit, too_large
from app.stock.planning.parts import PieceRef, parts_to_cut
from app.stock.planning.problems import OnRack

_THIS = PieceRef(piece_id=0, order_id=0, order_number="", number=1)
"""Parts are looked at within one piece, which may not be kept yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutView:
    """An offcut that fits parts of the piece.

    what: those parts. href: the address of its page.
    """

    what: str
    label: str
    extent: str
    place: str
    material: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UseView:
    """What a piece takes of a material in fact.

    short: the part of its cost that the price does not cover.
    """

    name: str
    opens: str
    goes: tuple[str, ...]
    charged: str
    short: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FromRack:
    """What the stock has for a piece.

    notices: parts that fit no new stick or sheet.
    """

    offcuts: tuple[OffcutView, ...]
    notices: tuple[Notice, ...]


NOTHING_FROM_RACK = FromRack(offcuts=(), notices=())
"""For a piece that is cut already."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReallyUsed:
    """What a piece takes of every material in fact.

    short: the cost in all that the price does not cover; None where it covers everything.
    """

    uses: tuple[UseView, ...]
    short: Money | None


def from_rack(agreed: Agreed, shop: Shop, rack: Sequence[OnRack]) -> FromRack:
    """Show what the rack has for a piece, in the piece's unit."""
    unit = agreed.spec.unit
    parts = parts_to_cut(_THIS, agreed, as_cut(agreed.spec, agreed.steps))
    return FromRack(
        offcuts=tuple(_offcut(fit, unit) for fit in offcuts_that_fit(parts, rack, shop)),
        notices=too_large(parts, rack, shop, unit),
    )


def _offcut(fit: OffcutFit, unit: Unit) -> OffcutView:
    kept = fit.offcut.kept
    return OffcutView(
        what=fit.what,
        label=kept.item.label,
        extent=extent_text(kept.item, unit),
        place=kept.item.place,
        material=fit.parts[0].material.name,
        href=f"/stock/items/{kept.id}",
    )


def really_used(agreed: Agreed, shop: Shop) -> ReallyUsed:
    """Show what a piece by itself really takes of sticks and sheets, in the piece's unit."""
    used = real_use(agreed, shop)
    missing = [each.short for each in used if each.short]
    return ReallyUsed(
        uses=tuple(_use(each, agreed.spec.unit) for each in used),
        short=sum(missing, Money.zero(agreed.price.currency)) if missing else None,
    )


def _use(use: RealUse, unit: Unit) -> UseView:
    opens, goes = _sticks(use, unit) if isinstance(use.opened, OpenedSticks) else _sheets(use, unit)
    return UseView(
        name=use.material.name,
        opens=opens,
        goes=tuple(goes),
        charged=_charged(use.lines, unit),
        short=use.short,
    )


def _sticks(use: RealUse, unit: Unit) -> tuple[str, Iterable[str]]:
    opened = use.opened
    assert isinstance(opened, OpenedSticks), "asked of sticks"

    def say(length: Length) -> str:
        return say_stock(length, unit)

    kept = sum(opened.kept, ZERO)
    lost = Length(use.lost)
    stock = f"{_counted(opened.count, 'new stick')} of {say(opened.stick)}"
    goes = _goes(say(opened.used_up - lost), say(lost) if lost else "", say(kept) if kept else "")
    return stock + _beyond(opened.count, len(opened.too_long), "longer"), goes


def _sheets(use: RealUse, unit: Unit) -> tuple[str, Iterable[str]]:
    opened = use.opened
    assert not isinstance(opened, OpenedSticks), "asked of sheets"

    def say(area_m2: Fraction) -> str:
        return short_quantity(area_m2, Measure.SQUARE_METRE, unit)

    one = opened.sheet.area_m2
    kept = sum((size.area_m2 for size in opened.kept), Fraction(0))
    stock = f"{_counted(opened.count, 'new sheet')} of {say_stock(opened.sheet, unit)}"
    in_parts = say(opened.used_up * one - use.lost)
    goes = _goes(in_parts, say(use.lost) if use.lost else "", say(kept) if kept else "")
    return stock + _beyond(opened.count, len(opened.too_large), "larger"), goes


def _counted(count: int, one: str) -> str:
    """Write a count with its word: "no new stick", "1 new stick", "2 new sticks"."""
    return counted(count, one) if count else f"no {one}"


def _beyond(opened: int, beyond: int, than: str) -> str:
    """Say which parts fit no new stick or sheet: ", since 2 parts are longer"; empty where all fit."""
    if not beyond:
        return ""
    parts = counted(beyond, "part is", "parts are")
    return f", {'and' if opened else 'since'} {parts} {than}"


def _goes(in_parts: str, lost: str, kept: str) -> Iterable[str]:
    yield f"{in_parts} in the piece"
    if lost:
        yield f"{lost} lost to cuts and small rests"
    if kept:
        yield f"{kept} left to keep"


def _charged(lines: Sequence[PriceLine], unit: Unit) -> str:
    """Say how much of a material the price charges: "2.4 m"; where that follows from the size alone,
    "by its size".
    """
    measures = {line.measure for line in lines}
    if len(measures) != 1 or Measure.BAND in measures:
        return "by its size"
    return short_quantity(sum((line.quantity for line in lines), Fraction(0)), measures.pop(), unit)
