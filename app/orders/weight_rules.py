"""What a shop sets once about weight and hanging (D2 to D5, D8).

A value with the handbook's defaults. Unlike what was agreed it follows the shop: a factor that was
corrected holds for the next ticket of an old piece too.
"""

from dataclasses import dataclass, field

from app.errors import FaultCollector
from app.framing.notices.artwork_weight import ArtworkFigures, Support, usual_figures
from app.framing.notices.weight import HangingRules, usual_hanging
from app.lengths import Unit
from app.orders.order import ArtworkKind

USUAL_SUPPORTS: tuple[tuple[ArtworkKind, Support], ...] = (
    (ArtworkKind.WATERCOLOUR, Support.PAPER),
    (ArtworkKind.PRINT, Support.PAPER),
    (ArtworkKind.PHOTOGRAPH, Support.BOARD),
    (ArtworkKind.DRAWING, Support.PAPER),
    (ArtworkKind.PASTEL, Support.PAPER),
    (ArtworkKind.OIL, Support.CANVAS),
    (ArtworkKind.CANVAS, Support.CANVAS),
    (ArtworkKind.TEXTILE, Support.TEXTILE),
    (ArtworkKind.DOCUMENT, Support.PAPER),
    (ArtworkKind.OTHER, Support.PAPER),
)
"""What artworks of a kind are made of where nobody says. Source: D8, common practice; an object is made
of nothing usual, so its weight is asked for."""

FIXINGS_GRAMS = 125
"""What points, tape, rings and wire add to a piece. Source: from memory, a default; with a sheet of A3
they make the 150 g that stood for both before."""

MOST_FIXINGS_GRAMS = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightRules:
    """hanging, figures: see there. supports: (kind, what it is usually made of), an object never.

    Raises: Invalid with every fault, at the field's name.
    """

    hanging: HangingRules = field(default_factory=HangingRules)
    figures: ArtworkFigures = field(default_factory=ArtworkFigures)
    supports: tuple[tuple[ArtworkKind, Support], ...] = USUAL_SUPPORTS
    fixings_grams: int = FIXINGS_GRAMS

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not 0 <= self.fixings_grams <= MOST_FIXINGS_GRAMS:
            faults.add(
                "fixings_grams",
                f"{self.fixings_grams} g was typed; 0 to {MOST_FIXINGS_GRAMS} is allowed.",
            )
        faults.finish()

    @classmethod
    def usual(cls, unit: Unit) -> "WeightRules":
        """Return the defaults as round figures of a unit."""
        return cls(hanging=usual_hanging(unit), figures=usual_figures(unit))

    def support_of(self, kind: ArtworkKind) -> Support | None:
        """Return what an artwork of a kind is usually made of; None where that is asked each time."""
        return dict(self.supports).get(kind)
