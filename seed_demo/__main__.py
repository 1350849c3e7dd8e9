"""`python -m seed_demo --data DIR [--orders N] [--today YYYY-MM-DD]`: the sample shop in a folder."""

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from app.errors import AppError
from app.storage import DATABASE_NAME, Store
from seed_demo.build import MOST_ORDERS, USUAL_ORDERS, build_demo


def main(arguments: Sequence[str] | None = None) -> int:
    """Build the sample. Returns the exit code."""
    args = _parser().parse_args(arguments)
    try:
        args.data.mkdir(parents=True, exist_ok=True)
        with Store.open(args.data / DATABASE_NAME) as store:
            build_demo(store, orders=args.orders, today=args.today)
    except AppError as error:
        print(f"seed_demo: {error.message}", file=sys.stderr)
        return 2
    except OSError as error:
        print(f"seed_demo: {args.data} cannot be used ({error.strerror}).", file=sys.stderr)
        return 2
    print(f"The sample shop is in {args.data}. Serve it with: python -m app --data {args.data}")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="seed_demo", description="Builds the sample shop.")
    parser.add_argument("--data", type=Path, required=True, help="a folder without a shop in it")
    parser.add_argument(
        "--orders",
        type=int,
        default=USUAL_ORDERS,
        help=f"how many orders (default {USUAL_ORDERS}, up to {MOST_ORDERS})",
    )
    parser.add_argument(
        "--today",
        type=date.fromisoformat,
        help="the day that the sample leads up to, as 2026-11-25 (default: this one)",
    )
    return parser


if __name__ == "__main__":
    sys.exit(main())
