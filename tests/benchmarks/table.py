"""Figures beside the base they were measured against, as one table that can be read at a glance.

A figure alone says as much about the machine as about the program. So nearly every row has a base,
measured in the same minute by the same hands, and the ratio is what to look at.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One figure. most: the aim for the figure itself; most_ratio: for the figure over its base."""

    what: str
    measured: float
    unit: str
    base: float | None = None
    most: float | None = None
    most_ratio: float | None = None

    @property
    def ratio(self) -> float | None:
        """The figure over its base."""
        return self.measured / self.base if self.base else None

    @property
    def aims(self) -> str:
        """What is aimed at, in words; nothing where the row is there to inform."""
        ratio = f"≤ {self.most_ratio:g} ×" if self.most_ratio is not None else ""
        figure = f"≤ {self.most:g} {self.unit}" if self.most is not None else ""
        return " and ".join(filter(None, (ratio, figure)))

    @property
    def met(self) -> bool:
        """Whether every aim is met."""
        by_ratio = self.most_ratio is None or (self.ratio or 0) <= self.most_ratio
        return by_ratio and (self.most is None or self.measured <= self.most)


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The rows of one benchmark. base: what the base of its rows is."""

    title: str
    rows: tuple[Row, ...]
    base: str = ""
    note: str = ""


_HEADS = ("", "measured", "base", "ratio", "aim", "")


def table_text(sections: Sequence[Section]) -> str:
    """All sections as one table, columns under one another."""
    cells = [[_cells(row) for row in section.rows] for section in sections]
    every = [_HEADS, *(row for rows in cells for row in rows)]
    widths = [max(len(row[column]) for row in every) for column in range(len(_HEADS))]
    lines = [_line(_HEADS, widths)]
    for section, rows in zip(sections, cells, strict=True):
        lines += ["", *_heading(section), *(_line(row, widths) for row in rows)]
    return "\n".join(lines)


def _heading(section: Section) -> list[str]:
    base = f"; base: {section.base}" if section.base else ""
    return [f"{section.title}{base}", *([f"  ({section.note})"] if section.note else [])]


def _cells(row: Row) -> tuple[str, ...]:
    return (
        f"  {row.what}",
        f"{figure_text(row.measured)} {row.unit}",
        "" if row.base is None else f"{figure_text(row.base)} {row.unit}",
        "" if row.ratio is None else f"{row.ratio:.2f} ×",
        row.aims,
        ("met" if row.met else "MISSED") if row.aims else "",
    )


def figure_text(value: float) -> str:
    """A figure with two decimals below ten, one below a hundred, else none."""
    decimals = 2 if value < 10 else 1 if value < 100 else 0
    return f"{value:.{decimals}f}"


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    padded = [
        cell.rjust(width) if column in (1, 2, 3) else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return "  ".join(padded).rstrip()
