"""What the form of a piece follows from: the shop, and what was typed in its other fields."""

from collections.abc import Mapping
from dataclasses import dataclass

from app.framing import Presentation
from app.lengths import Unit
from app.money import Currency
from app.orders.order import ArtworkKind
from app.orders.quoting.choices import FrameSource, Sizing
from app.orders.shop import Allowances, Shop

STANDS_IN_BOX = "artwork.object"
"""Typed by programs alone, as "yes" or "no"; on the quote page the kind of the artwork says it."""


def unit_of(typed: Mapping[str, str], shop: Shop) -> Unit:
    """Return the piece's unit: as chosen on the page, else the shop's."""
    return Unit(typed["unit"]) if typed.get("unit") in set(Unit) else shop.unit


def is_object(typed: Mapping[str, str]) -> bool:
    """Tell whether what was typed asks for an artwork that stands in a box (G22)."""
    said = typed.get(STANDS_IN_BOX, "").strip()
    if said:
        return said == "yes"
    return typed.get("artwork.kind", "").strip() == ArtworkKind.OBJECT.value


@dataclass(frozen=True, slots=True)
class PieceTyped:
    """What the form of a piece follows from: the shop, and what was typed in its other fields."""

    shop: Shop
    typed: Mapping[str, str]

    @property
    def unit(self) -> Unit:
        """The piece's unit."""
        return unit_of(self.typed, self.shop)

    @property
    def currency(self) -> Currency:
        """The shop's."""
        return self.shop.currency

    @property
    def usual(self) -> Allowances:
        """What the shop starts with in the piece's unit."""
        return self.shop.allowances_in(self.unit)

    @property
    def mat(self) -> str:
        """As the shop calls a window board."""
        return self.shop.mat_word.value

    @property
    def presentation(self) -> str:
        """As chosen; over the edges where it is not."""
        return self.typed.get("presentation") or Presentation.WINDOW.value

    @property
    def matted(self) -> bool:
        """Whether the artwork is shown in a window."""
        return self.presentation in (Presentation.WINDOW, Presentation.FLOAT)

    @property
    def canvas(self) -> bool:
        """Whether the artwork is a canvas, which sets the size of a frame that is made for it."""
        return self.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)

    @property
    def sizing(self) -> Sizing:
        """What is given; borders where it is not said."""
        said = self.typed.get("sizing", "").strip()
        return Sizing(said) if said in set(Sizing) else Sizing.BORDERS

    @property
    def source(self) -> FrameSource:
        """Where the frame comes from; made where it is not said."""
        said = self.typed.get("frame.source", "").strip()
        return FrameSource(said) if said in set(FrameSource) else FrameSource.MADE

    @property
    def frame_to_come(self) -> bool:
        """Whether a frame is to be made and no moulding is chosen for it yet."""
        as_it_came = self.presentation == Presentation.AS_IT_CAME
        return (
            self.source is FrameSource.MADE
            and not as_it_came
            and not self.given("frames.0.material")
        )

    def given(self, *paths: str) -> bool:
        """Tell whether anything was typed in any of some fields."""
        return any(self.typed.get(path, "").strip() for path in paths)
