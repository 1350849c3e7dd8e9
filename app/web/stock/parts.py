"""What every page of the stock has: the way to its other parts."""

from dataclasses import dataclass

from app.web.kit.listing import Chip
from app.web.kit.templating import Page

PARTS = (("Rack", "/stock"), ("Plans", "/plans"), ("Buying", "/buying"))
"""The parts of the section “Stock”, in their order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPage(Page):
    """A page of the section. part: the label of the part that it belongs to."""

    section: str = "Stock"
    part: str = "Rack"

    @property
    def parts(self) -> tuple[Chip, ...]:
        """Links to the pages of the stock."""
        return tuple(
            Chip(label=label, href=href, current=label == self.part) for label, href in PARTS
        )
