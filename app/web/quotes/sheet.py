"""Which quote page is asked for: of a new quote, of a further piece, or of a piece that is changed."""

from dataclasses import dataclass

from app.orders import Agreed, Customer
from app.web.quotes import page as page_of
from app.web.quotes.going_on import Onward

TODAYS = "todays_prices"
"""The box by which a changed piece is priced at today's price book."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteForm:
    """Which quote page it is: a new quote, a further piece of one, or a piece changed.

    who: may be meant by what was typed of a customer. agreed: what a piece that is changed
    keeps as long as only its artwork is described anew. quoted: whether that is a quote still. closed: why it is only looked at, "" where it may be saved. grown: fields that the posted form had not and
    that were filled in as usual.
    onward: the buttons that save and go on. page: the address at which it is shown. order_id: the order that it is of, None for a new one.
    """

    heading: str
    subheading: str
    action: str
    page: str
    save_label: str
    order_id: int | None = None
    onward: Onward = ()
    version: int = 0
    customer: Customer | None = None
    asks_customer: bool = False
    who: page_of.Who = page_of.Who()
    agreed: Agreed | None = None
    quoted: bool = False
    closed: str = ""
    grown: frozenset[str] = frozenset()

    @property
    def tax_free(self) -> bool:
        """Whether the piece is priced without tax."""
        return bool(self.customer and self.customer.tax_free)
