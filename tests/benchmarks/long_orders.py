"""An order of many pieces against one of ten: a piece added to it, its page, the page of one of its pieces."""

import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import partial
from itertools import count
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory
from time import process_time

from app.services import orders
from app.services import stages as progress
from app.services.orders import OrderAt, QuoteHead
from app.storage import DATABASE_NAME, NewPiece, PageRequest, Stamp, Store
from tests.benchmarks.sample import Plan, shop_of
from tests.benchmarks.serving import serving
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import Times, alternating

ACT = Stamp(who="Ilse", now=datetime(2026, 11, 25, 10, 30, tzinfo=UTC))
FEW = 10


def measure(plan: Plan) -> Section:
    """Processor's time of both in turn; each adding is a write of its own, as at the counter."""
    with TemporaryDirectory(
        dir=shop_of(plan.data, plan.few).parent, prefix="long-order-"
    ) as folder:
        shop = copytree(shop_of(plan.data, plan.few), Path(folder) / "shop")
        with Store.open(shop / DATABASE_NAME) as store:
            print(f"Ordering {plan.open_pieces} pieces at once …", file=sys.stderr)
            piece = _piece(store)
            small, large = (_order(store, piece, many) for many in (FEW, plan.open_pieces))
            acts = (_adding(store, large, piece), _adding(store, small, piece))
            added = alternating(acts, rounds=FEW, warm=2, clock=process_time)
        with serving(shop) as server:
            pages = [
                alternating(
                    [partial(server.get, page.format(order)) for order in (large, small)],
                    rounds=plan.pages,
                    warm=3,
                    clock=server.processor_seconds,
                )
                for page in ("/orders/{}", "/orders/{}/pieces/1")
            ]
            size = len(server.get(f"/orders/{large}")) / 1000
            least = len(server.get(f"/orders/{small}")) / 1000
    return Section(
        title=f"An order of {plan.open_pieces} pieces, processor's time",
        base=f"the same of an order of {FEW} pieces, in turn",
        rows=(
            _row("a piece is added", added, most_ratio=1.5),
            _row("the page of the order", pages[0], most=1000),
            _row("the page of its first piece", pages[1]),
            Row(what="the page of the order, size", measured=size, unit="kB", base=least),
        ),
    )


def _row(
    what: str,
    times: tuple[Times, ...],
    *,
    most: float | None = None,
    most_ratio: float | None = None,
) -> Row:
    many, few = times
    return Row(
        what=what,
        measured=many.median,
        unit="ms",
        base=few.median,
        most=most,
        most_ratio=most_ratio,
    )


def _piece(store: Store) -> NewPiece:
    """A piece as it was agreed for the newest order of the sample that has one."""
    for known in orders.listed(store, page=PageRequest(size=100)).rows:
        for piece in orders.get(store, known.id).pieces:
            return NewPiece(artwork=piece.artwork, agreed=piece.agreed)
    raise ValueError("no order of the sample has a piece")


def _order(store: Store, piece: NewPiece, many: int) -> int:
    """An order of so many pieces: the first ones at once, those beyond what a quote takes at once one by one."""
    head = QuoteHead(customer_id=1, valid_until=ACT.today + timedelta(days=30))
    at_once = min(many, orders.MOST_PIECES)
    order = orders.save_quote(store, head, [piece] * at_once, ACT)
    progress.take_order(store, _at(store, order), progress.Terms(due=ACT.today), ACT)
    add = _adding(store, order, piece)
    for _ in range(many - at_once):
        add()
    return order


def _adding(store: Store, order: int, piece: NewPiece) -> Callable[[], object]:
    """Add a piece as a form does, which knows the version that it was shown."""
    versions = count(_at(store, order).version)
    return lambda: orders.add_piece(store, OrderAt(id=order, version=next(versions)), piece, ACT)


def _at(store: Store, order: int) -> OrderAt:
    return OrderAt(id=order, version=orders.get(store, order).version)
