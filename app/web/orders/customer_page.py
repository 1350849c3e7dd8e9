"""The page of a quote or order while the screen faces its customer: pictures, prices, sums, papers.

Like the papers it has no field for cost, margin, stock, codes or notices (P9); what the shop does with the order stands on
the shop's own page.
"""

from dataclasses import dataclass

from markupsafe import Markup

from app.documents.kit.total_lines import Sum
from app.documents.quote.comparison import mode_of
from app.documents.quote.totals import heading_of, totals_of
from app.errors import Fault
from app.money import Money
from app.orders import Order, Piece
from app.orders.designs import open_designs
from app.orders.handing_over import handed_over
from app.orders.piece_report import findings
from app.services import invoices
from app.services.orders import is_changeable, may_add_piece
from app.web.kit.context import RequestContext
from app.web.kit.templating import Page
from app.web.orders.designs_page import drawings_of
from app.web.orders.handing_over import receipt_address
from app.web.orders.invoices_page import invoice_views
from app.web.orders.piece_rows import may_add_design
from app.web.pieces.piece import DrawingView, draw
from app.web.pieces.place import IN_FULL


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenDesign:
    """One of several designs of which none is taken. at: the address of it alone."""

    letter: str
    drawing: Markup
    price: Money
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPiece:
    """A piece as its customer sees it. least, most: what it comes to; most is None where nothing is open. mode: how that is
    stated. open: its designs while none is taken, in place of the drawing; both are left out of what is not drawn. designs: how many
    there are. at: the address of what belongs to it.
    """

    number: int
    title: str
    drawing: Markup | None
    open: tuple[OpenDesign, ...]
    least: Money
    most: Money | None
    mode: str
    designs: int
    undecided: bool
    may_change: bool
    may_add_design: bool
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPage(Page):
    """A quote or order for its customer. lines: (what, how many, amount) of what is sold without a piece. sums: as the paper has
    them. papers: (words, address) of what is printed for the customer.
    """

    section: str = "Quotes"
    wide: bool = True
    id: int
    heading: str
    customer_name: str
    pieces: tuple[CustomerPiece, ...]
    lines: tuple[tuple[str, str, Money], ...]
    sums: tuple[Sum, ...]
    papers: tuple[tuple[str, str], ...]
    may_add_piece: bool


def customer_page(
    here: RequestContext, order: Order, faults: tuple[Fault, ...] = ()
) -> CustomerPage:
    """Return the page of an order for its customer. faults: why something was not done."""
    totals = totals_of(order) if order.sold else None
    heading = f"{'Order' if order.order_number else 'Quote'} {order.number}"
    return CustomerPage(
        title=heading,
        faults=faults,
        id=order.id,
        heading=heading,
        customer_name=order.customer_name,
        pieces=tuple(
            _piece(here, order, piece, drawn=place < IN_FULL)
            for place, piece in enumerate(order.counting)
        ),
        lines=tuple((each.what, each.quantity, each.amount) for each in totals.lines)
        if totals
        else (),
        sums=(*totals.sums, *totals.payments) if totals else (),
        papers=tuple(_papers(here, order, heading_of(order) if totals else "")),
        may_add_piece=may_add_piece(order),
    )


def _papers(here: RequestContext, order: Order, quoted: str) -> tuple[tuple[str, str], ...]:
    """quoted: what the paper with all prices is called; "" for none."""
    issued = invoice_views(invoices.of_order(here.store, order).issued)
    handed = handed_over(order)
    return (
        *(((quoted, f"/orders/{order.id}/quote.pdf"),) if quoted else ()),
        *((each.words, each.href) for each in issued),
        *((f"Receipt {each.number}", receipt_address(order.id, each)) for each in handed),
    )


def _piece(here: RequestContext, order: Order, piece: Piece, *, drawn: bool) -> CustomerPiece:
    """Return a piece: while no design is taken, all of them drawn, and the least and the most that it comes to."""
    at = f"/orders/{order.id}/pieces/{piece.number}"
    prices = [each.agreed.price.customer_view() for each in open_designs(piece)]
    least, most = prices[0].total, prices[-1].total
    return CustomerPiece(
        number=piece.number,
        title=piece.artwork.title or f"Piece {piece.number}",
        drawing=_drawing(here, piece) if drawn and not piece.undecided else None,
        open=_open(here, piece, at) if drawn and piece.undecided else (),
        least=least,
        most=most if most != least else None,
        mode=mode_of(prices[0]),
        designs=len(piece.designs),
        undecided=piece.undecided,
        may_change=is_changeable(piece),
        may_add_design=may_add_design(order),
        at=at,
    )


def _open(here: RequestContext, piece: Piece, at: str) -> tuple[OpenDesign, ...]:
    """Return the designs to choose from, drawn to one scale."""
    drawings = drawings_of(piece, [each.number for each in piece.designs], here.shop)
    return tuple(
        OpenDesign(
            letter=each.letter,
            drawing=drawings[each.number],
            price=each.agreed.price.customer_view().total,
            at=f"{at}/show?design={each.number}",
        )
        for each in piece.designs
    )


def _drawing(here: RequestContext, piece: Piece) -> Markup:
    found = findings(piece.artwork, piece.agreed, here.shop)
    return draw(DrawingView.SEEN, piece.artwork, piece.agreed, found)
