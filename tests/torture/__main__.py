"""`python -m tests.torture [name ...]`: what must never happen is tried for long, and the figures are printed.

kills: the program is killed while clients write. writes: clients write at once. inputs: bad input at every door.
faults: each fault of the machine that a test brings about. Exit 1 where anything was lost, broke or failed.
"""

import argparse
import os
import platform
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from tests.torture import faults, inputs, kills, writes
from tests.torture.figures import Figures

TORTURES: Mapping[str, Callable[[Path, int], Figures]] = {
    "kills": lambda folder, seed: kills.tried(folder, rounds=200, seed=seed),
    "writes": lambda folder, seed: writes.tried(folder, clients=8, each=2000, seed=seed),
    "inputs": lambda folder, seed: inputs.tried(folder, sent=20_000, seed=seed),
    "faults": lambda _folder, _seed: faults.tried(),
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Try what is named, or everything. Returns the exit code."""
    parser = argparse.ArgumentParser(prog="torture", description=__doc__)
    parser.add_argument("names", nargs="*", choices=[*TORTURES, []], help="default: all")
    parser.add_argument("--seed", type=int, default=1, help="of what is chosen by chance")
    args = parser.parse_args(arguments)
    print(f"Python {platform.python_version()}, {os.cpu_count()} processors, seed {args.seed}")
    wrong = 0
    for name in args.names or TORTURES:
        with tempfile.TemporaryDirectory(prefix=f"torture-{name}-") as folder:
            found = TORTURES[name](Path(folder), args.seed)
        print(f"\n{name}: {found.text()}", flush=True)
        wrong += len(found.wrong)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
