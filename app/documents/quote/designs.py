"""The designs of a piece on a paper of their own, for the customer to take home and choose from (P10)."""

from dataclasses import dataclass, replace
from datetime import date

from app.documents.quote.comparison import compare_designs
from app.documents.quote.page import QuotePaper
from app.documents.quote.quote import head_of, out_of_date, printed, to_choose
from app.orders import Customer, Order, Paper, Piece, Shop


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
    return printed(designs_page(offered, customer, shop, today=today), paper)


def designs_page(offered: Offered, customer: Customer, shop: Shop, *, today: date) -> QuotePaper:
    """Return the page model of that paper: a quote of one piece that is not to be signed yet."""
    order, piece = offered.order, offered.piece
    compared = compare_designs(piece, shop, offered.numbers)
    return QuotePaper(
        **head_of("Designs" if compared.taken else "Designs to choose from", order, customer, shop),
        currency=piece.agreed.price.currency.code,
        warning=out_of_date(order, today),
        pieces=(replace(to_choose(compared), alone=True),),
        lines=(),
        taxed=False,
        sums=(),
        payments=(),
        terms=(),
        small_print=(),
        to_sign=False,
    )
