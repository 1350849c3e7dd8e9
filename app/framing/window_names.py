"""Names of windows in a few letters: A, B, C, D as A–D."""

from collections.abc import Iterable

_LEAST_RUN = 3
"""Fewer that follow one another are as short with commas."""


def in_short(names: Iterable[str]) -> str:
    """Write names in short: "A–D, F" for letters that follow one another, all others as they are."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(name, runs[-1][-1]):
            runs[-1].append(name)
        else:
            runs.append([name])
    return ", ".join(_run(run) for run in runs)


def _follows(name: str, before: str) -> bool:
    return len(name) == len(before) == 1 and ord(name) == ord(before) + 1


def _run(run: list[str]) -> str:
    return ", ".join(run) if len(run) < _LEAST_RUN else f"{run[0]}–{run[-1]}"
