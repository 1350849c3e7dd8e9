"""`python -m tests.benchmarks [name ...]`: measures speed and memory, and prints the figures.

Nothing is asserted: a machine that is slow or busy is no fault of the program. Every figure stands
beside a base that was measured in the same run.
"""

import argparse
import os
import platform
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from tests.benchmarks import (
    cutting_sheets,
    cutting_sticks,
    days,
    keystrokes,
    lists,
    long_orders,
    memory,
    open_work,
    planning,
    recalculation,
    starting,
    tickets,
    typing_live,
)
from tests.benchmarks.sample import Plan
from tests.benchmarks.table import Section, table_text

BENCHMARKS: Mapping[str, Callable[[Plan], Section]] = {
    "recalculation": recalculation.measure,
    "ticket": tickets.measure,
    "lists": lists.measure,
    "open-work": open_work.measure,
    "long-order": long_orders.measure,
    "plans": planning.measure,
    "start": starting.measure,
    "memory": memory.measure,
    "sticks": cutting_sticks.measure,
    "sheets": cutting_sheets.measure,
    "days": days.measure,
    "keystrokes": keystrokes.measure,
    "typing": typing_live.measure,
}


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure what is named, or everything."""
    args = _parser().parse_args(arguments)
    plan = Plan.quick(args.data) if args.quick else Plan(data=args.data)
    names = list(dict.fromkeys(args.names)) or list(BENCHMARKS)
    sections = [BENCHMARKS[name](plan) for name in names]
    print(f"Python {platform.python_version()}, {os.cpu_count()} processors, load {_load()}\n")
    print(table_text(sections))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="benchmarks", description="Measures speed and memory.")
    parser.add_argument(
        "names", nargs="*", choices=list(BENCHMARKS), help="default: all", metavar="name"
    )
    parser.add_argument("--quick", action="store_true", help="smaller data and fewer rounds")
    parser.add_argument(
        "--data",
        type=Path,
        default=Path(tempfile.gettempdir()) / "bevelbook-benchmarks",
        help="where sample shops are made once and kept (default: under the system's temporary folder)",
    )
    return parser


def _load() -> str:
    return f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"


if __name__ == "__main__":
    main()
