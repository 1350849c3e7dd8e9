"""Designs of the sample beside each other: a quote with three to choose from, an order with one that was not taken.

Added by the app's own services to what is there; of a sample too small nothing is made.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta

from app.errors import Invalid
from app.orders import DesignAct, Order, Piece, Stage
from app.services import designs
from app.services.order_transaction import OrderAt
from app.services.quotes import worked_out
from app.storage import NewPiece, OrderFilter, OrderSort, PageRequest, Stamp, Store
from seed_demo.palettes import PALETTES
from seed_demo.shop import PEOPLE

DESIGNS = 3
LOOKED_AT = 60
"""Quotes and orders that are looked at for one that suits."""


def offer_designs(store: Store) -> None:
    """Put two further designs on the newest quote that suits, and one on the newest order."""
    quote = next(_suiting(store, Stage.QUOTED), None)
    if quote is not None:
        for piece in _others(store, quote)[: DESIGNS - 1]:
            designs.add(store, _at(store, quote), 1, piece, _act(quote))
    ordered = next(_suiting(store, Stage.ORDERED), None)
    if ordered is not None:
        _leave_untaken(store, ordered, _others(store, ordered)[0])


def _suiting(store: Store, stage: Stage) -> Iterator[Order]:
    """Those of one piece behind a mat in a single frame of which other designs can be made, with a photo and the newest first."""
    wanted = OrderFilter(stages=frozenset({stage}))
    with store.reading() as work:
        page = PageRequest(size=LOOKED_AT)
        found = work.order_lists.listed(wanted, OrderSort.NEWEST, page).rows
        orders = [work.orders.get(each.id) for each in found]
    for order in sorted(orders, key=lambda each: not each.pieces[0].artwork.photo):
        if len(order.pieces) == 1 and _suits(order.pieces[0]) and len(_others(store, order)) > 1:
            yield order


def _suits(piece: Piece) -> bool:
    chosen = piece.agreed.chosen
    plain = chosen.fillet is None or bool(piece.artwork.photo)
    return len(chosen.frames) == 1 and bool(chosen.mats) and plain


def _others(store: Store, order: Order) -> tuple[NewPiece, ...]:
    """The same piece in other frames, mats and glass, as far as they hold it."""
    shop = store.current_shop()
    (piece,) = order.pieces
    made: list[NewPiece] = []
    for palette in PALETTES:
        if shop is None or palette.frames[0] == piece.agreed.chosen.frames[0].code:
            continue
        typed = piece.agreed.typed | {
            "frames.0.material": palette.frames[0],
            "mats.0.material": palette.tops[0],
            "glazing.material": ("CLEAR2", "CALM2/UV")[len(made) % 2],
        }
        if "mats.1.material" in typed:
            typed["mats.1.material"] = palette.unders[0]
        try:
            new = worked_out(
                store, typed, shop, today=order.quoted_on, tax_free=piece.agreed.tax_free
            )
        except Invalid:
            continue
        made.append(replace(new, artwork=piece.artwork))
        if len(made) == DESIGNS:
            break
    return tuple(made)


def _leave_untaken(store: Store, order: Order, other: NewPiece) -> None:
    """A second design that was offered with the quote; the customer took the first."""
    (piece,) = order.pieces
    taken = piece.changes[0]
    offered = Stamp(who=taken.by, now=taken.at - timedelta(minutes=5))
    with store.writing() as work:
        work.orders.add_design(piece.id, other.agreed, offered)
        act = Stamp(who=taken.by, now=taken.at)
        work.orders.note_design(piece.id, piece.counted.number, DesignAct.TAKEN, act)


def _at(store: Store, order: Order) -> OrderAt:
    with store.reading() as work:
        return OrderAt(id=order.id, version=work.orders.get(order.id).version)


def _act(order: Order) -> Stamp:
    """In the evening of the day on which it was quoted."""
    return Stamp(who=PEOPLE[0], now=datetime.combine(order.quoted_on, time(17, 30), UTC))
