"""How long the cutting plans of a shop's whole open work take, as the page of plans makes them."""

import subprocess
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from app.services.children import ROOT, WORKER
from app.services.cutting import NamedProblem, plans
from app.services.open_work import ALL_WORK, problems_for
from app.storage import DATABASE_NAME, Store
from seed_demo.build import USUAL_ORDERS, build_demo
from tests.benchmarks.sample import Plan
from tests.benchmarks.table import Row, Section

MOST_SECONDS = 2
"""For the sample's open work, on two processors with nothing else to do."""


def measure(plan: Plan) -> Section:
    """The best of a few runs over the sample shop."""
    with (
        TemporaryDirectory(prefix="bevelbook-planning-") as folder,
        Store.open(Path(folder) / DATABASE_NAME) as store,
    ):
        build_demo(store, orders=USUAL_ORDERS)
        problems = [
            NamedProblem(name=each.material.name, asked=each.asked, seconds=None)
            for each in problems_for(store, ALL_WORK)
        ]
    parts = sum(part.copies for problem in problems for part in problem.asked.parts)
    row = Row(
        what=f"{parts} parts of {len(problems)} materials",
        measured=min(_seconds(lambda: plans(problems)) for _ in range(plan.starts)),
        unit="s",
        base=min(_seconds(_start_child) for _ in range(plan.starts)),
        most=MOST_SECONDS,
    )
    return Section(
        title=f"Cutting plans of the sample's open work, best of {plan.starts}",
        base="starting a solver's process that is asked nothing",
        rows=(row,),
    )


def _start_child() -> None:
    subprocess.run(WORKER, cwd=ROOT, stdin=subprocess.DEVNULL, check=True)


def _seconds(act: Callable[[], object]) -> float:
    started = perf_counter()
    act()
    return perf_counter() - started
