"""The designs of a piece on a paper of their own, for the customer to take home and choose from (P10)."""

from dataclasses import dataclass
from datetime import date

from app.documents.kit.party import PartyPaper
from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.printing import page_html
from app.documents.quote.comparison import Comparison, across_on, compare_designs
from app.documents.quote.quote import head_of, out_of_date
from app.orders import Customer, Order, Paper, Piece, Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignsPaper(PartyPaper):
    """Everything that the paper says. across: how many designs stand beside each other at most."""

    warning: str
    compared: Comparison
    across: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """Some designs of a piece of an order, by their numbers; all of them where none is named."""

    order: Order
    piece: Piece
    numbers: tuple[int, ...] = ()


def designs_pdf(
    offered: Offered, customer: Customer, shop: Shop, *, paper: Paper, today: date
) -> bytes:
    """Print designs beside each other as a PDF. Raises: PdfUnavailable."""
    html = page_html(
        "designs.html", designs_page(offered, customer, shop, paper=paper, today=today)
    )
    return to_pdf(html, sheets_for(paper, "quote", "quote-piece", "designs"))


def designs_page(
    offered: Offered, customer: Customer, shop: Shop, *, paper: Paper, today: date
) -> DesignsPaper:
    """Return the page model of that paper."""
    order, piece = offered.order, offered.piece
    return DesignsPaper(
        **head_of("Designs to choose from", order, customer, shop),
        warning=out_of_date(order, today),
        currency=piece.agreed.price.currency.code,
        compared=compare_designs(piece, shop, offered.numbers),
        across=across_on(paper),
    )
