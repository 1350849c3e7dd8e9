"""`python -m tests.benchmarks.mutants [pattern ...]`: do the tests notice a fault in the pure half?

Takes a sample of all small faults that can be put into the modules (see `mutating`; a folder or a
pattern such as `app/money` chooses modules), imports the app with one after the other, and runs the
tests that ran the faulty line, as the last `make coverage` saw them. Where those pass, all tests of
the module's room and all laws that ran anything of the module have their turn. A fault that all of
them pass over survives, and is printed with its line: an assertion may be missing there, or the
fault changes nothing that counts. No file is changed, and nothing is asserted. Each fault has a
process of its own, by `fork`, so this runs where that is there.
"""

import argparse
import os
import random
import resource
import signal
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum
from fnmatch import fnmatchcase
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType

import pytest
from coverage import Coverage, CoverageData
from hypothesis import settings

from tests.benchmarks.covered import is_in, pure_half
from tests.benchmarks.mutating import Fault, faults, with_fault

TOP = Path(__file__).parents[2]
SEEN = ".coverage/data"
AT_ONCE = 60
"""How many test functions have the first turn: the nearest to the module."""
SECONDS = (30, 200)
"""Of a processor, for the first and the second turn. A fault that takes longer is one that loops."""
OPTIONS = (
    *("-x", "-q", "-p", "no:schemathesis", "-p", "no:xdist"),
    *("-W", "ignore::pytest.PytestAssertRewriteWarning"),  # of what is imported here already
)
NOT_RUN = 70
"""How a process ends in which pytest could not even be started."""

# What a fault makes Hypothesis find is of no use to the next run of the tests.
settings.register_profile(
    "mutants", deadline=None, max_examples=25, derandomize=True, database=None
)


class Fate(StrEnum):
    """What became of a fault."""

    KILLED = "killed"
    TIMED_OUT = "timed out"
    SURVIVED = "survived"
    NEVER_RUN = "never run"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """A module, by its path from the top, with one fault. number: the fault's among the module's."""

    module: str
    number: int
    fault: Fault

    @property
    def name(self) -> str:
        """As `--only` takes it."""
        return f"{self.module}:{self.number}"


def mutants_of(top: Path, modules: Iterable[str]) -> list[Mutant]:
    """All mutants of some modules."""
    return [
        Mutant(module=module, number=number, fault=fault)
        for module in modules
        for number, fault in enumerate(faults((top / module).read_text(encoding="utf-8")))
    ]


def named_modules(modules: Iterable[str], patterns: Sequence[str]) -> list[str]:
    """The modules that a pattern or a folder names; all where there is none."""
    return [
        module
        for module in modules
        if not patterns
        or any(fnmatchcase(module, p) or module.startswith(f"{p.rstrip('/')}/") for p in patterns)
    ]


def named_by(context: str) -> tuple[str, str] | None:
    """The file and the function of a test, from a context that `contexts` gave.

    None where nothing but an import ran.
    """
    file, _, function = context.partition("::")
    return (file, function) if function else None


def nearest_first(tests: Iterable[tuple[str, str]], module: str) -> list[tuple[str, str]]:
    """Tests of the module's own file first, then those of its room, then the rest."""
    _, *rooms, file = module.split("/")
    own = f"test_{'_'.join([*rooms[1:], file])}"

    def distance(test: tuple[str, str]) -> tuple[int, tuple[str, str]]:
        name = test[0].rpartition("/")[2]
        in_room = test[0].startswith(_near(module))
        return (0 if in_room and name == own else 1 if in_room else 2, test)

    return sorted(set(tests), key=distance)


def _near(module: str) -> tuple[str, str]:
    """How the tests of a module's room begin: a folder, or files of that name."""
    room = module.split("/")[1].removesuffix(".py")
    return f"tests/unit/{room}/", f"tests/unit/test_{room}"


class Seen:
    """Which tests ran what, as coverage.py kept it."""

    def __init__(self, data: CoverageData, top: Path) -> None:
        self._data = data
        self._top = top
        self.modules = sorted(
            Path(each).relative_to(top).as_posix() for each in data.measured_files()
        )

    def of_line(self, mutant: Mutant) -> tuple[bool, list[tuple[str, str]]]:
        """Whether the faulty statement was run at all, and the tests that ran it, nearest first.

        Not every line of a statement is traced, so those before the fault's count as well.
        """
        lines = self._data.contexts_by_lineno(str(self._top / mutant.module))
        fault = mutant.fault
        run = [lines[n] for n in range(fault.statement, fault.line + 1) if n in lines]
        return bool(run), self._named((each for found in run for each in found), mutant.module)

    def of_module(self, mutant: Mutant) -> list[str]:
        """The files of tests of the module's room, or of laws, that ran anything of the module."""
        lines = self._data.contexts_by_lineno(str(self._top / mutant.module))
        named = self._named((each for found in lines.values() for each in found), mutant.module)
        near = (*_near(mutant.module), "tests/property/")
        files = list(dict.fromkeys(file for file, _ in named))
        return [file for file in files if file.startswith(near)] or files

    def _named(self, contexts: Iterable[str], module: str) -> list[tuple[str, str]]:
        named = (named_by(each) for each in set(contexts))
        return nearest_first((each for each in named if each is not None), module)


def fate(mutant: Mutant, tests: Seen) -> Fate:
    """What becomes of a mutant in its two turns."""
    was_run, of_line = tests.of_line(mutant)
    if not was_run:
        return Fate.NEVER_RUN
    turns = (
        [f"{file}::{function}" for file, function in of_line[:AT_ONCE]],
        tests.of_module(mutant),
    )
    for named, seconds in zip(turns, SECONDS, strict=True):
        if named and (fate := _run(mutant, named, seconds)) is not Fate.SURVIVED:
            return fate
    return Fate.SURVIVED


def _run(mutant: Mutant, tests: Sequence[str], seconds: int) -> Fate:
    """Run some tests with a mutant. Raises: RuntimeError where they do not run without it either."""
    status = _pytest(mutant, tests, seconds)
    if status == -signal.SIGXCPU:
        return Fate.TIMED_OUT
    if status == NOT_RUN:
        raise RuntimeError(f"{mutant.name} could not be tried; nothing was run.")
    if status == pytest.ExitCode.USAGE_ERROR and _pytest(None, [*tests, "--collect-only"], seconds):
        raise RuntimeError(f"These cannot be run: {' '.join(tests)}. Run `make coverage` anew.")
    return Fate.SURVIVED if status == pytest.ExitCode.OK else Fate.KILLED


def _pytest(mutant: Mutant | None, arguments: Sequence[str], seconds: int) -> int:
    """How pytest ends in a process of its own, which knows what is imported here, but not the app.

    seconds: of a processor. Below zero: the signal that ended it.
    """
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        os.chdir(TOP)
        os.environ.pop("CI", None)
        os.environ["BEVELBOOK_EXAMPLES"] = "mutants"
        if mutant is not None:
            _plant(mutant)
        os._exit(pytest.main([*OPTIONS, *arguments]))
    finally:
        os._exit(NOT_RUN)


def _plant(mutant: Mutant) -> None:
    """Let a module of the app, none of which is imported yet, be read with its fault."""
    usual = SourceFileLoader.get_code
    module = TOP / mutant.module

    def get_code(loader: SourceFileLoader, fullname: str) -> CodeType | None:
        if Path(loader.path).resolve() != module.resolve():
            return usual(loader, fullname)
        tree = with_fault(module.read_text(encoding="utf-8"), mutant.number)
        return compile(tree, str(module), "exec", dont_inherit=True)

    SourceFileLoader.get_code = get_code  # type: ignore[method-assign]


def score_text(fates: Iterable[Fate]) -> str:
    """How many were noticed, of how many; a fault that loops was noticed as well."""
    counts = Counter(fates)
    noticed = counts[Fate.KILLED] + counts[Fate.TIMED_OUT]
    parts = ", ".join(f"{counts[each]} {each}" for each in Fate)
    return f"{noticed} of {counts.total()} noticed ({noticed * 100 // max(counts.total(), 1)} %): {parts}"


def _asked(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="mutants", description=(__doc__ or "").split("\n")[0])
    parser.add_argument(
        "patterns", nargs="*", help="modules or folders, as app/money; default: all"
    )
    parser.add_argument("--sample", type=int, default=100, help="how many mutants (default 100)")
    parser.add_argument("--seed", type=int, default=1, help="which sample (default 1)")
    parser.add_argument("--only", action="append", help="one mutant again, as app/money/tax.py:17")
    return parser.parse_args(arguments)


def _told(mutant: Mutant, fate: Fate, count: int) -> str:
    fault = mutant.fault
    where = f"{mutant.module}, line {fault.line} ({mutant.name})"
    return f"{count}. {fate}: {where}\n    - {fault.was}\n    + {fault.now}"


def main(arguments: Sequence[str] | None = None) -> None:
    """Run a sample, and print the survivors and the score."""
    asked = _asked(arguments)
    coverage = Coverage()
    coverage.load()
    tests = Seen(coverage.get_data(), TOP)
    if not tests.modules:
        sys.exit("Nobody knows yet which tests run what. Run `make coverage` first.")
    pure = pure_half(TOP)
    chosen = named_modules([each for each in tests.modules if is_in(pure, each)], asked.patterns)
    if any((TOP / each).stat().st_mtime > (TOP / SEEN).stat().st_mtime for each in chosen):
        print("Modules were changed since `make coverage`; lines and tests may not fit together.")
    every = mutants_of(TOP, chosen)
    if asked.only:
        sample = [mutant for mutant in every if mutant.name in asked.only]
    else:
        sample = random.Random(asked.seed).sample(every, min(asked.sample, len(every)))
    print(f"{len(sample)} of {len(every)} mutants in {len(chosen)} modules")
    fates: list[Fate] = []
    with suppress(KeyboardInterrupt):  # stopped by hand: the score of what was tried
        for mutant in sample:
            fates.append(fate(mutant, tests))
            if fates[-1] not in (Fate.KILLED, Fate.TIMED_OUT):
                print(_told(mutant, fates[-1], len(fates)), flush=True)
    print(score_text(fates))


if __name__ == "__main__":
    main()
