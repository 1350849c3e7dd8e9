"""What the artwork of a piece weighs, and how sure that is: typed, estimated, or missing (D8).

Owns which estimate is taken and when even that is too little to go by. What supports weigh is
for `app.framing.notices.artwork_weight`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from app.framing import Dimensions, Notice, Presentation, Spec
from app.framing.mass import show_mass
from app.framing.notice import Concern
from app.framing.notices.artwork_weight import Support, estimated_kg
from app.framing.notices.weight import PieceWeight
from app.lengths import Size, Unit, mm, say
from app.orders.order import ArtworkKind, ArtworkRecord
from app.orders.weight_rules import WeightRules

WORTH_SAYING = Fraction(1, 10)
"""Share of the piece's weight from which a guess gets a notice; below it stands beside the weight that
it is one. Source: ours, so that a sheet of paper is no warning."""

THICKEST_SHEET = mm(5)
"""What is thicker is no sheet of paper, board or cloth, whatever is usual. Source: ours."""


class Known(StrEnum):
    """How the weight of an artwork is known. LEAST: an estimate that may well be too low."""

    TYPED = "typed"
    ESTIMATED = "estimated"
    LEAST = "least"
    MISSING = "missing"


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtworkWeight:
    """kg: exact, zero where it is missing. support: that was taken; None where none was.

    why: why it is too little to go by, or missing, and what to do about it, as a sentence.
    """

    kg: Fraction
    known: Known
    support: Support | None = None
    why: str = ""

    @property
    def at_least(self) -> bool:
        """Whether the weight of the piece is only a lower bound, since that of its artwork is not fully known."""
        return self.known in (Known.LEAST, Known.MISSING)

    def counts_in(self, whole: PieceWeight) -> bool:
        """Tell whether it is so much of a piece's weight that a guess would be worth a word."""
        return self.at_least or self.kg >= whole.kg * WORTH_SAYING

    def in_short(self, unit: Unit) -> str:
        """As "about 2.8 kg"."""
        if self.known is Known.MISSING:
            return "not known"
        how = {Known.ESTIMATED: "about ", Known.LEAST: "at least "}.get(self.known, "")
        return f"{how}{show_mass(self.kg, unit)}"

    def in_words(self, unit: Unit) -> str:
        """As "about 2.8 kg, estimated as canvas on a stretcher"."""
        if self.known is Known.MISSING:
            return self.in_short(unit)
        if self.known is Known.TYPED or self.support is None:
            return f"{self.in_short(unit)}, as weighed"
        return f"{self.in_short(unit)}, estimated as {self.support.in_words}"


def weigh_artwork(artwork: ArtworkRecord, exact: Dimensions, rules: WeightRules) -> ArtworkWeight:
    """Return the weight of everything that is framed: as it was typed, else by what it is made of and size."""
    if artwork.weight_kg is not None:
        return ArtworkWeight(kg=artwork.weight_kg, known=Known.TYPED, support=artwork.support)
    if never_guessed(artwork, exact.spec):
        return _missing("An object is not estimated: weigh it and type what it weighs.")
    spec = exact.spec
    if spec.presentation is Presentation.AS_IT_CAME:
        return _missing(
            "What is in the frame is as it came: weigh the piece when it is closed again."
        )
    support = artwork.support or _usual(artwork.kind, spec.presentation, rules)
    if support is None:
        return _missing("Say what it is made of, or type what it weighs.")
    sizes = _sizes(exact)
    kg = estimated_kg(support, sizes, spec.artwork_thickness, rules.figures)
    if kg is None:
        return _missing(
            f"A panel of {support.in_words} weighs by its thickness: type that, or what it weighs."
        )
    why = "" if artwork.support else _may_be_more(artwork.kind, support, exact)
    known = Known.LEAST if why else Known.ESTIMATED
    return ArtworkWeight(kg=kg, known=known, support=support, why=why)


def never_guessed(artwork: ArtworkRecord, spec: Spec) -> bool:
    """Tell whether it is an object, a thing of any shape and stuff: by its kind or standing in a box (D8, G22)."""
    return artwork.kind is ArtworkKind.OBJECT or spec.boxed is not None


def _missing(why: str) -> ArtworkWeight:
    return ArtworkWeight(kg=Fraction(0), known=Known.MISSING, why=why)


def _usual(kind: ArtworkKind, presentation: Presentation, rules: WeightRules) -> Support | None:
    """Return what the kind says, or for one that says nothing the way it is shown."""
    on_stretcher = presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    if kind is ArtworkKind.OTHER and on_stretcher:
        return Support.CANVAS
    return rules.support_of(kind)


def _sizes(exact: Dimensions) -> tuple[Size, ...]:
    """Return the size of every artwork; of one behind a window that is given itself only that much is known."""
    spec = exact.spec
    if not spec.openings or exact.reaches_behind_all:
        return (spec.artwork,)
    given = ((opening.artwork or opening.window) for opening in spec.openings)
    return tuple(size for size in given if size is not None)


def _may_be_more(kind: ArtworkKind, support: Support, exact: Dimensions) -> str:
    """Tell why what is usual may be far too light for this one; empty where it may not."""
    if kind is ArtworkKind.OIL and support is Support.CANVAS:
        return "An oil on a panel weighs more: say what it is made of, or type what it weighs."
    thickness = exact.spec.artwork_thickness
    if not support.is_panel and support is not Support.CANVAS and thickness > THICKEST_SHEET:
        return (
            f"{say(thickness, exact.spec.unit)} is thick for {support.in_words}: say what it is made of, or "
            "type what it weighs."
        )
    return ""


def artwork_weight_notices(
    artwork: ArtworkWeight, whole: PieceWeight, unit: Unit
) -> tuple[Notice, ...]:
    """Tell that a weight is missing, or only guessed where the guess counts."""
    return tuple(_notices(artwork, whole, unit))


def _notices(artwork: ArtworkWeight, whole: PieceWeight, unit: Unit) -> Iterator[Notice]:
    match artwork.known:
        case Known.MISSING:
            yield Notice(
                code="artwork-weight-missing",
                message=f"The artwork's weight is missing. {artwork.why} Until then weight and loads "
                "are without it, as “at least”.",
            )
        case Known.LEAST:
            yield Notice(
                code="artwork-weight-at-least",
                message=f"The artwork weighs {artwork.in_words(unit)}. {artwork.why}",
            )
        case Known.ESTIMATED if artwork.counts_in(whole):
            yield Notice(
                code="artwork-weight-estimated",
                message=f"The artwork weighs {artwork.in_words(unit)}; type its weight if you know it.",
                concern=Concern.NOTE,
            )
