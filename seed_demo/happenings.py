"""What happens to orders of the sample on their way: a note to a piece, a part that was spoiled at the bench.

Added by the app's own services to what is there; of a sample too small nothing is made.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time

from app.orders import Order, Piece, Stage
from app.services.order_transaction import DesignAt, OrderAt
from app.services.quotes import Retyped, change_piece
from app.services.spoiling import parts_at_bench, spoil
from app.stock.planning.open_work import PartState
from app.storage import OrderFilter, OrderSort, PageRequest, Stamp, Store
from seed_demo.shop import PEOPLE

NOTES = (
    "Keep the old label from the back and put it into the envelope behind the new one.",
    "Hangs beside last year’s print: the same height of frame.",
)
SPOILED = "slipped on the table, a corner chipped"
LOOKED_AT = 20


def let_things_happen(store: Store, today: date) -> None:
    """Note something of the newest orders that wait to be cut, and spoil the glass of a piece that is cut."""
    act = Stamp(who=PEOPLE[0], now=datetime.combine(today, time(8, 15), UTC))
    shop = store.current_shop()
    for order, note in zip(_newest(store, Stage.ORDERED), NOTES, strict=False):
        piece = order.pieces[0]
        if shop is not None and piece.stage is Stage.ORDERED:
            noted = Retyped(which=DesignAt(piece=piece.number), typed=_noted(piece, note))
            change_piece(store, OrderAt(id=order.id, version=order.version), noted, shop, act)
    for order in _newest(store, Stage.CUT):
        piece = order.pieces[0]
        glass = next(
            (part for part in parts_at_bench(store, piece.id) if part.key == "glazing"), None
        )
        if glass is not None and piece.stage is Stage.CUT and glass.state is PartState.CUT:
            spoil(store, piece.id, glass.key, act, note=SPOILED)
            return


def _noted(piece: Piece, note: str) -> dict[str, str]:
    return {**piece.agreed.typed, "note": note}


def _newest(store: Store, stage: Stage) -> Iterator[Order]:
    """The orders at a stage, the newest first; of pieces with one design."""
    wanted = OrderFilter(stages=frozenset({stage}))
    with store.reading() as work:
        found = work.order_lists.listed(wanted, OrderSort.NEWEST, PageRequest(size=LOOKED_AT))
        orders = [work.orders.get(each.id) for each in found.rows]
    yield from (order for order in orders if len(order.pieces[0].designs) == 1)
