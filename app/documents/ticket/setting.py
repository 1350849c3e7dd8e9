"""How a ticket is set: its level, what stands in which column of which page, and the rules of style that follow from these."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from app.documents.ticket.levels import RING, Level


class Subject(StrEnum):
    """What stands under one heading, in the order of the work."""

    FRONT = "front"
    FIRST = "first"
    CUT = "cuts"
    CHECK = "checks"
    BACK = "back"
    TABLES = "tables"
    GUIDE = "guide"
    WORK = "work"


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Some parts of a subject under its heading. above: what is free above it beyond the level's, mm.

    again: whether it goes on from another column or page.
    """

    subject: Subject
    start: int
    stop: int
    above: float = 0.0
    again: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketSheet:
    """A page of a ticket: its two columns; of one that flows the only one, with nothing at its right."""

    left: tuple[Section, ...]
    right: tuple[Section, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Widths:
    """What stands side by side in a column, mm.

    column: its width. sizes: of the cut sizes; rail: of each of a rail's two. sizes_under, rails_under: whether they
    stand under their words. setting: of a setting of the guide with its check value.
    """

    column: float
    sizes: float
    rail: float
    sizes_under: bool
    rails_under: bool
    setting: float

    @property
    def label(self) -> float:
        """The width of words beside cut sizes."""
        return self.column if self.sizes_under else self.column - self.sizes

    @property
    def rail_label(self) -> float:
        """The width of words beside rails' sizes."""
        return self.column if self.rails_under else self.column - 2 * self.rail

    def beside_setting(self, level: Level) -> float:
        """Return where words beside a setting begin."""
        return level.hang + RING + 1.0 + self.setting + 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One way to set a ticket. flows: over as many pages as it takes, in one column. tall: rows whose words have not one
    line beside their figures, by their subject and number. front: the height of the front drawing, plan: the room of each mat's, mm.
    stops_under: whether stops stand under their setting, over the whole width. beside: how many mats are drawn beside each other. low: whether the head is that of small paper.
    """

    level: Level
    widths: Widths
    sheets: tuple[TicketSheet, ...]
    tall: frozenset[str]
    front: float
    plan: tuple[float, float]
    stops_under: bool = False
    beside: int = 1
    flows: bool = False
    low: bool = False

    @property
    def pages(self) -> int:
        """For how many pages it is made."""
        return len(self.sheets)

    @property
    def dense(self) -> bool:
        """Whether it is set as densely as small paper needs."""
        return self.level.dense

    @property
    def classes(self) -> str:
        """The classes that the style sheet knows it by."""
        known = {"flows": self.flows, "low": self.low, "dense": self.dense}
        return " ".join(name for name, holds in known.items() if holds)

    @property
    def style(self) -> str:
        """The rules of the widths of what stands side by side."""
        widths, hang = self.widths, self.level.hang
        rules = {".left, .right": f"width: {widths.column}mm", **self._beside}
        rules |= {
            ".set": f"width: {widths.setting}mm; margin-left: {hang + RING + 1.0:.2f}mm",
            ".what": f"padding-left: {widths.beside_setting(self.level):.2f}mm",
            ".under-set": f"padding-left: {hang}mm",
        }
        return in_css(rules)

    @property
    def _beside(self) -> dict[str, str]:
        """Place sizes beside the last line of their words, or under them."""
        row, sizes, rail = self.level.row, self.widths.sizes, self.widths.rail
        under, beside = "min-height: 0", f"margin-top: -{row}mm"
        rules = {
            ".size": under if self.widths.sizes_under else f"margin-right: {sizes}mm",
            ".rail": under if self.widths.rails_under else f"margin-right: {2 * rail}mm",
            ".long": f"margin-right: {rail}mm",
            ".f.short": beside,
        }
        if not self.widths.sizes_under:
            rules[".f.only"] = beside
        if not self.widths.rails_under:
            rules[".f.long"] = beside
        return rules


def in_css(rules: Mapping[str, str]) -> str:
    """Write rules of style."""
    return "\n".join(f"{which} {{ {what} }}" for which, what in rules.items())
