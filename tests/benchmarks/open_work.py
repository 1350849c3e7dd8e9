"""How it stands with the materials of many pieces in work, and what is to be bought, after each write."""

import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import cycle, islice
from pathlib import Path
from shutil import copytree
from tempfile import TemporaryDirectory

from app.services import orders
from app.services import stages as progress
from app.services.open_work import open_work, states_of_materials
from app.services.orders import OrderAt, QuoteHead
from app.services.shortages import what_to_buy
from app.storage import DATABASE_NAME, NewPiece, PageRequest, Series, Stamp, Store
from tests.benchmarks.sample import Plan, shop_of
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import alternating

ACT = Stamp(who="Ilse", now=datetime(2026, 11, 25, 10, 30, tzinfo=UTC))


def measure(plan: Plan) -> Section:
    """Everything that a page asks of open work, right after a write that changed none of it."""
    with (
        TemporaryDirectory(dir=shop_of(plan.data, plan.few).parent, prefix="open-") as folder,
        Store.open(_shop(plan, Path(folder))) as store,
    ):
        rows = (
            _row("the parts to plan", store, lambda: open_work(store), plan),
            _row("the materials of all pieces", store, lambda: states_of_materials(store), plan),
            _row("what is to be bought", store, lambda: what_to_buy(store), plan),
        )
    return Section(
        title=f"Open work of {plan.open_pieces} pieces after a write, median of {plan.pages}",
        base="the write alone",
        rows=rows,
    )


def _row(what: str, store: Store, asked: Callable[[], object], plan: Plan) -> Row:
    def write() -> None:
        with store.writing() as work:
            work.numbers.take(Series.OFFCUT, ACT.today.year)

    def write_and_ask() -> None:
        write()
        asked()

    both, alone = alternating((write_and_ask, write), rounds=plan.pages, warm=2)
    return Row(what=what, measured=both.median, unit="ms", base=alone.median)


def _shop(plan: Plan, folder: Path) -> Path:
    """A sample shop of which so many pieces are ordered and not cut, those of its orders again."""
    print(f"Ordering {plan.open_pieces} pieces …", file=sys.stderr)
    path = copytree(shop_of(plan.data, plan.few), folder / "shop") / DATABASE_NAME
    with Store.open(path) as store:
        known = orders.listed(store, page=PageRequest(size=100)).rows
        designs = (orders.get(store, each.id) for each in cycle(known))
        pieces = (
            (order.customer_id, NewPiece(artwork=each.artwork, agreed=each.agreed))
            for order in designs
            for each in order.pieces
        )
        for number, (customer, piece) in enumerate(islice(pieces, plan.open_pieces)):
            _order(store, customer, piece, days=number % 30)
    return path


def _order(store: Store, customer: int, piece: NewPiece, *, days: int) -> None:
    until = ACT.today + timedelta(days=30)
    head = QuoteHead(customer_id=customer, valid_until=until)
    order_id = orders.save_quote(store, head, (piece,), ACT)
    at = OrderAt(id=order_id, version=orders.get(store, order_id).version)
    progress.take_order(store, at, progress.Terms(due=ACT.today + timedelta(days=days)), ACT)
