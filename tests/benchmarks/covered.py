"""`python -m tests.benchmarks.covered`: what the last `make coverage` saw of the pure half, by room.

Reads what coverage.py gathered and prints lines and branches that tests ran, by room, then the
modules of which most was missed. Nothing is asserted: a line that was run need not be a line that
was checked; `make mutants` asks that.
"""

import json
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import reduce
from pathlib import Path

TOP = Path(__file__).parents[2]
WORST = 10
"""How many modules are named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Covered:
    """Lines (statements) and branches: how many there are, and how many were run."""

    lines: int = 0
    lines_run: int = 0
    branches: int = 0
    branches_run: int = 0

    def __add__(self, other: "Covered") -> "Covered":
        return Covered(
            lines=self.lines + other.lines,
            lines_run=self.lines_run + other.lines_run,
            branches=self.branches + other.branches,
            branches_run=self.branches_run + other.branches_run,
        )

    @property
    def missed(self) -> int:
        """Lines and branches that no test ran."""
        return self.lines - self.lines_run + self.branches - self.branches_run

    @classmethod
    def of(cls, summary: Mapping[str, int]) -> "Covered":
        """From the summary of one file in coverage.py's JSON report."""
        return cls(
            lines=summary["num_statements"],
            lines_run=summary["covered_lines"],
            branches=summary["num_branches"],
            branches_run=summary["covered_branches"],
        )


def pure_half(top: Path) -> tuple[str, ...]:
    """The packages and modules of the pure half, as the import contract in pyproject.toml has them."""
    tools = tomllib.loads((top / "pyproject.toml").read_text(encoding="utf-8"))["tool"]
    [contract] = [
        each
        for each in tools["importlinter"]["contracts"]
        if each["name"].startswith("The pure half")
    ]
    return tuple(contract["source_modules"])


def is_in(packages: Iterable[str], module: str) -> bool:
    """Whether a module, by its path from the top, is one of some packages or lies in one."""
    name = module.removesuffix(".py").replace("/", ".")
    return any(name == package or name.startswith(f"{package}.") for package in packages)


def by_room(files: Mapping[str, Covered]) -> dict[str, Covered]:
    """The sum of each room of the first floor, by its name, in order of the names."""
    found: dict[str, Covered] = {}
    for name, covered in files.items():
        room = name.split("/")[1].removesuffix(".py")
        found[room] = found.get(room, Covered()) + covered
    return dict(sorted(found.items()))


def covered_text(files: Mapping[str, Covered]) -> str:
    """The rooms, the whole, and the modules of which most was missed. files: by path, `app/...`."""
    worst = sorted(files.items(), key=lambda each: (-each[1].missed, each[0]))[:WORST]
    return "\n".join(
        [
            f"{'':32}{'lines':>8}{'run':>9}{'branches':>10}{'run':>9}",
            *_rows(by_room(files).items()),
            *_rows([("all", reduce(Covered.__add__, files.values(), Covered()))]),
            "",
            "Most missed:",
            *_rows((name, covered) for name, covered in worst if covered.missed),
        ]
    )


def _rows(named: Iterable[tuple[str, Covered]]) -> Iterable[str]:
    for name, each in named:
        yield (
            f"{name:32}{each.lines:>8,}{_share(each.lines_run, each.lines):>9}"
            f"{each.branches:>10,}{_share(each.branches_run, each.branches):>9}"
        )


def _share(part: int, whole: int) -> str:
    """Per cent with one decimal, rounded down, so that 100.0 % is all."""
    return f"{part * 1000 // whole / 10:.1f} %" if whole else "–"


def main() -> None:
    """Print what the last run covered."""
    report = subprocess.run(
        [sys.executable, "-m", "coverage", "json", "-q", "-o", "-"],
        check=True,
        stdout=subprocess.PIPE,
        text=True,
    )
    pure = pure_half(TOP)
    seen = {
        name.replace("\\", "/"): Covered.of(each["summary"])
        for name, each in json.loads(report.stdout)["files"].items()
    }
    print(covered_text({name: each for name, each in seen.items() if is_in(pure, name)}))


if __name__ == "__main__":
    main()
