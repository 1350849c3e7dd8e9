"""The forms of the quote page, each of what it is for: a new quote, a further piece, another design, a piece that is changed."""

from dataclasses import dataclass

from app.orders import Agreed, Customer, Order, Piece, Stage
from app.orders.copies import in_words
from app.orders.designs import undecided
from app.services import customers, designs, orders, quotes
from app.services.order_transaction import DesignAt, piece_of
from app.web.kit.context import RequestContext
from app.web.kit.visitor import Visitor
from app.web.quotes import page as page_of
from app.web.quotes.going_on import Onward, onward

TODAYS = "todays_prices"
"""The box by which a changed piece is priced at today's price book."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteForm:
    """Which quote page it is: a new quote, a further piece of one, or a piece changed.

    who: may be meant by what was typed of a customer. agreed: what a piece that is changed
    keeps as long as only its artwork is described anew. quoted: whether that is a quote still. closed: why it is only looked at, "" where it may be saved. grown: fields that the posted form had not and
    that were filled in as usual.
    of_photo: what became of the photo on the page that one comes back from.
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
    of_photo: str = ""

    @property
    def tax_free(self) -> bool:
        """Whether the piece is priced without tax."""
        return bool(self.customer and self.customer.tax_free)


def new_quote_sheet(who: page_of.Who) -> QuoteForm:
    """Make the quote for the only known customer who may be meant."""
    customer = who.fitting[0] if len(who.fitting) == 1 else None
    return QuoteForm(
        heading="A new quote",
        subheading=f"for {customer.name}" if customer else "for whom, and what",
        action="/quotes",
        page="/quotes/new",
        save_label="Save the quote",
        onward=onward(None),
        customer=customer,
        asks_customer=True,
        who=who,
    )


def further_piece_sheet(here: RequestContext, order: Order) -> QuoteForm:
    """Return the form of a further piece of an order."""
    customer = customers.get(here.store, order.customer_id).value
    return QuoteForm(
        heading="A further piece",
        subheading=f"for {customer.name} · {order.number}",
        action=f"/orders/{order.id}/pieces",
        page=f"/orders/{order.id}/pieces/new",
        order_id=order.id,
        save_label="Add the piece",
        onward=onward(order, undecided=bool(undecided(order))),
        version=order.version,
        customer=customer,
    )


def another_design_sheet(here: RequestContext, order: Order, number: int) -> QuoteForm:
    """Return the form of another design. Raises: Conflict for a piece that is not only quoted."""
    piece = piece_of(order, number)
    designs.check_open(order, piece)
    customer = customers.get(here.store, order.customer_id).value
    return QuoteForm(
        heading=f"Another design of {piece.artwork.title or f'piece {number}'}",
        subheading=f"for {customer.name} · {order.number} · piece {number}",
        action=f"/orders/{order.id}/pieces/{number}/designs",
        page=f"/orders/{order.id}/pieces/{number}/designs/new",
        order_id=order.id,
        save_label="Add the design",
        onward=onward(order, undecided=True),
        version=order.version,
        customer=customer,
    )


def changed_piece_sheet(
    here: RequestContext, order: Order, number: int, design: int | None
) -> QuoteForm:
    """Return the form of a piece that is changed: of one of its designs, or of the one that counts."""
    customer = customers.get(here.store, order.customer_id).value
    piece = DesignAt(piece=number, design=design).of(order)
    which = f" · design {piece.counted.letter}" if piece.several else ""
    return QuoteForm(
        heading=piece.artwork.title or f"Piece {number}",
        subheading=f"for {customer.name} · {order.number} · piece {number}{which}",
        action=f"/orders/{order.id}/pieces/{number}{of_design(design)}",
        page=f"/orders/{order.id}/pieces/{number}/change{of_design(design)}",
        order_id=order.id,
        save_label="Save the change",
        onward=onward(order, undecided=bool(undecided(order))),
        version=order.version,
        customer=customer,
        agreed=quotes.typed_as_agreed(here.store, piece, here.shop),
        quoted=piece.stage is Stage.QUOTED,
        closed="" if orders.is_changeable(piece) else _closed(piece, here.visitor),
    )


def of_design(design: int | None) -> str:
    """Return the design of an address, where one is named."""
    return f"?design={design}" if design else ""


def _closed(piece: Piece, visitor: Visitor) -> str:
    """Say why a piece is only looked at; to the shop, what can be done about it too."""
    if visitor.beside_customer:
        return "This piece is not changed any more, so it is only looked at here."
    if piece.deleted:
        return "This piece is deleted with its quote, so it is only looked at here. Bring the quote back to change it."
    stands = in_words(piece.stands) if len(piece.stands) > 1 else piece.stage_word
    return (
        f"This piece is {stands}, so it is only looked at here: a piece can be changed until the first cut. Undo the "
        "last change, or make a new quote."
    )
