"""What an artwork weighs by what it is made of and its size (D8).

Owns the estimate alone. Which support an artwork has, whether its weight was typed, and what is said
about a guess is for `app.orders.artwork_weight`. An object is never estimated.
"""

from collections.abc import Iterable
from dataclasses import dataclass, fields
from enum import StrEnum
from fractions import Fraction

from app.errors import FaultCollector
from app.lengths import ZERO, Length, Size, Unit, inches, mm


class Support(StrEnum):
    """What an artwork is made of, as far as its weight asks."""

    PAPER = "paper"
    BOARD = "board"
    TEXTILE = "textile"
    CANVAS = "canvas"
    HARDBOARD = "hardboard"
    MDF = "mdf"
    WOOD = "wood"
    ACRYLIC = "acrylic"
    GLASS = "glass"
    ALUMINIUM = "aluminium"

    @property
    def is_panel(self) -> bool:
        """Whether it weighs by its thickness."""
        return self in PANELS

    @property
    def in_words(self) -> str:
        """For a sentence: "canvas on a stretcher"."""
        return _IN_WORDS.get(self, self.value)


_IN_WORDS = {
    Support.BOARD: "paper on board",
    Support.TEXTILE: "cloth",
    Support.CANVAS: "canvas on a stretcher",
    Support.MDF: "MDF",
    Support.ALUMINIUM: "aluminium composite",
}

PANELS = frozenset(
    {
        Support.HARDBOARD,
        Support.MDF,
        Support.WOOD,
        Support.ACRYLIC,
        Support.GLASS,
        Support.ALUMINIUM,
    }
)

HEAVIEST = 20_000
"""A guard against a figure typed in another unit: lead is below it in kg/m³. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtworkFigures:
    """What supports weigh: thin ones in g/m², panels in kg/m³, a stretcher's bar in g a metre.

    cross_bar_over: the length of a stretcher's side above which a bar runs from its middle to the
    middle of the side opposite.
    Source: D8, from memory, but for glass (EN 572-1, as quoted publicly) and acrylic (public data on
    cast PMMA). Raises: Invalid with every fault, at the field's name.
    """

    paper: int = 200
    board: int = 800
    textile: int = 400
    canvas: int = 400
    bar: int = 500
    cross_bar_over: Length = mm(1000)
    hardboard: int = 900
    mdf: int = 750
    wood: int = 600
    acrylic: int = 1190
    glass: int = 2500
    aluminium: int = 1500

    def __post_init__(self) -> None:
        faults = FaultCollector()
        for name in WHOLE_FIGURES:
            figure = getattr(self, name)
            if not 1 <= figure <= HEAVIEST:
                faults.add(name, f"{figure} was typed; 1 to {HEAVIEST} is allowed.")
        if self.cross_bar_over <= ZERO:
            faults.add("cross_bar_over", "The length is zero or less; it must be above zero.")
        faults.finish()


def usual_figures(unit: Unit) -> ArtworkFigures:
    """Return the defaults; in inches a cross bar runs over 39 in, 990.6 mm. Source: ours, on the heavier side of 1 m."""
    return ArtworkFigures() if unit is Unit.MM else ArtworkFigures(cross_bar_over=inches(39))


WHOLE_FIGURES = tuple(each.name for each in fields(ArtworkFigures) if each.name != "cross_bar_over")
"""The figures that are whole numbers."""


def bars_of(size: Size, figures: ArtworkFigures) -> Length:
    """Return all bars of a stretcher: four sides, and for each pair of sides over the limit a cross bar.

    A cross bar joins the middles of two long sides, so it is as long as the sides between them: a
    canvas of 1200 x 800 has one of 800. Source: D8; which way it runs is common practice.
    """
    over = figures.cross_bar_over
    across = size.height if size.width > over else ZERO
    down = size.width if size.height > over else ZERO
    return (size.width + size.height) * 2 + across + down


def estimated_kg(
    support: Support, sizes: Iterable[Size], thickness: Length, figures: ArtworkFigures
) -> Fraction | None:
    """Return what artworks of these sizes weigh together, exact; None for a panel of unknown thickness (D8)."""
    if support.is_panel and thickness <= ZERO:
        return None
    return sum((_one_kg(support, size, thickness, figures) for size in sizes), Fraction(0))


def _one_kg(support: Support, size: Size, thickness: Length, figures: ArtworkFigures) -> Fraction:
    figure: int = getattr(figures, support.value)
    if support.is_panel:
        return size.area_m2 * thickness.mm * figure / 1000
    grams = size.area_m2 * figure
    if support is Support.CANVAS:
        grams += bars_of(size, figures).mm * figures.bar / 1000
    return grams / 1000
