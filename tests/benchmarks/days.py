"""The mats of a day at the cutter: how many moves it takes together and piece by piece, and how long to plan."""

from dataclasses import replace
from datetime import date
from functools import partial
from itertools import chain, islice
from random import Random
from time import process_time

from app.bench import Cutter, MatToCut, Stops, mats_to_cut, plan_day
from app.orders.dimensions_memo import as_cut
from app.orders.quoting.agreement import agree
from seed_demo.price_book import price_book
from seed_demo.quoting import designs, finder
from seed_demo.shop import quillmoor
from tests.benchmarks.sample import Plan
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import alternating

TODAY = date(2026, 11, 25)
DAYS = 5
"""Different days of each size."""


def measure(plan: Plan) -> Section:
    """Days of 5, 10 and 20 matted pieces of the sample, on its cutter without stops and with two."""
    pieces = _pieces()
    return Section(
        title=f"Mats of a day together, {DAYS} days each, processor's time",
        base="for moves, the same pieces one after the other",
        rows=tuple(
            row
            for size in (5, 10, 20)
            for stops in (Stops(), Stops(near=True, far=True))
            for row in _rows(pieces, size, replace(quillmoor().cutter, stops=stops))
        ),
    )


def _rows(pieces: list[tuple[MatToCut, ...]], size: int, cutter: Cutter) -> tuple[Row, ...]:
    days = [
        list(chain.from_iterable(pieces[start : start + size]))
        for start in range(0, DAYS * size, size)
    ]
    plans = [plan_day(day, cutter) for day in days]
    times = [
        alternating((partial(plan_day, day, cutter),), rounds=1, warm=0, clock=process_time)[0]
        for day in days
    ]
    name = f"{size} pieces, {'two stops' if cutter.stops.fitted else 'no stops'}: "
    rows = [
        Row(
            what=f"{name}moves of the guide",
            measured=sum(plan.moves for plan in plans),
            unit="",
            base=sum(plan.moves_apart for plan in plans),
            most_ratio=1,
        ),
        Row(
            what=f"{name}days with the fewest proven",
            measured=sum(plan.moves_proven and plan.stop_moves_proven for plan in plans),
            unit=f"of {DAYS}",
        ),
        Row(
            what=f"{name}the slowest day",
            measured=max(time.median for time in times),
            unit="ms",
            most=2000,
        ),
    ]
    if cutter.stops.fitted:
        rows.insert(
            1,
            Row(
                what=f"{name}moves of the stops",
                measured=sum(plan.stop_moves or 0 for plan in plans),
                unit="",
                base=sum(plan.stop_moves_apart or 0 for plan in plans),
            ),
        )
    return tuple(rows)


def _pieces() -> list[tuple[MatToCut, ...]]:
    """The first pieces of the sample that have mats, each under a name of its own."""
    find, shop = finder(price_book()), quillmoor()
    typed = (each for quote in designs(Random(11)) for each in quote)
    found = list[tuple[MatToCut, ...]]()
    for number, fields in enumerate(islice(typed, DAYS * 20 * 4)):
        _, agreed = agree(fields, shop, find, today=TODAY)
        if mats := mats_to_cut(as_cut(agreed.spec, agreed.steps), piece=f"P{number}"):
            found.append(mats)
    return found[: DAYS * 20]
