"""What every page of one piece of an order says: where the piece stands, and at which version its order is changed."""

from dataclasses import dataclass

from app.web.kit.templating import Page
from app.web.pieces.place import on_order


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecePage(Page):
    """A page of one piece. number: of the piece, within its order."""

    order_id: int
    order_number: str
    version: int
    number: int

    @property
    def on_order(self) -> str:
        """The address of the piece on its order's page."""
        return on_order(self.order_id, self.number)
