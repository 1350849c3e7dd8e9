"""The customer's quote, and the confirmation of an order: one document at two times.

Its page model has no field for cost, margin or codes (P9): what a customer may not see cannot be
printed by mistake.
"""

from dataclasses import dataclass
from datetime import date

from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.pictures import front_image, in_words
from app.documents.kit.printing import day, page_html
from app.documents.kit.total_lines import Sum, is_mixed, payments_of, sums_of_account, sums_of_piece
from app.documents.quote.details import Detail, details_of, good_to_know
from app.errors import Conflict
from app.money import Money, show_money, show_percent
from app.orders import Customer, Order, Paper, Piece, Shop, Stage
from app.orders.invoices.lines import charged_for
from app.orders.piece_report import findings
from app.orders.totals import account_of


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedPiece:
    """One piece as its customer sees it. front: address of its picture."""

    number: int
    title: str
    front: str
    front_words: str
    details: tuple[Detail, ...]
    notes: tuple[str, ...]
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotePaper:
    """Everything that a quote or a confirmation says. dates: (what, day) beside the address."""

    lang: str
    title: str
    heading: str
    number: str
    shop_name: str
    shop_lines: tuple[str, ...]
    customer: str
    customer_lines: tuple[str, ...]
    dates: tuple[tuple[str, str], ...]
    currency: str
    warning: str
    pieces: tuple[QuotedPiece, ...]
    sums: tuple[Sum, ...]
    payments: tuple[Sum, ...]
    terms: tuple[str, ...]
    to_sign: bool


def quote_pdf(order: Order, customer: Customer, shop: Shop, *, paper: Paper, today: date) -> bytes:
    """Make the PDF of an order's quote, or of its confirmation once it is ordered.

    Raises: Conflict where no piece is left to quote; PdfUnavailable.
    """
    html = page_html("quote.html", quote_page(order, customer, shop, today=today))
    return to_pdf(html, sheets_for(paper, "quote", "quote-piece"))


def quote_page(order: Order, customer: Customer, shop: Shop, *, today: date) -> QuotePaper:
    """Return the page model of a quote or confirmation. Raises: Conflict where no piece is left."""
    pieces = order.counting
    if not pieces:
        raise Conflict(f"{order.number} has no piece to quote; add one, or quote one again.")
    account = account_of(order, Money.zero(shop.currency))
    stated = _stated(order, account.to_pay) if is_mixed(order) else {}
    quoted = order.stage is Stage.QUOTED
    heading = "Quote" if quoted else "Order confirmation"
    return QuotePaper(
        lang="en",
        title=f"{heading} {order.number}, {shop.name}",
        heading=heading,
        number=order.number,
        shop_name=shop.name,
        shop_lines=_lines(shop.address, shop.contact),
        customer=customer.name,
        customer_lines=_lines(customer.address, customer.phone, customer.email),
        dates=_dates(order, quoted=quoted),
        currency=account.to_pay.currency.code,
        warning=_out_of_date(order, today),
        pieces=tuple(_piece(piece, shop, stated.get(piece.number)) for piece in pieces),
        sums=sums_of_account(order, account),
        payments=payments_of(order, account),
        terms=_terms(order, shop, account.to_pay, holds=quoted and not order.out_of_date(today)),
        to_sign=quoted and not order.out_of_date(today),
    )


def _lines(*texts: str) -> tuple[str, ...]:
    return tuple(line.strip() for text in texts for line in text.splitlines() if line.strip())


def _dates(order: Order, *, quoted: bool) -> tuple[tuple[str, str], ...]:
    named = (
        ("Quoted on", order.quoted_on),
        ("Valid until", order.valid_until if quoted else None),
        ("Ordered on", order.ordered_on),
        ("Due", order.due),
    )
    return tuple((name, day(value)) for name, value in named if value is not None)


def _out_of_date(order: Order, today: date) -> str:
    """Say that a quote is past its validity (P7); empty while it is not."""
    if not order.out_of_date(today):
        return ""
    return f"This quote was valid until {day(order.valid_until)}; ask us whether its prices still hold."


def _stated(order: Order, like: Money) -> dict[int, Money]:
    """Return what each piece comes to with tax, as an invoice would state it, by the piece's number."""
    zero = Money.zero(like.currency)
    stated: dict[int, Money] = {}
    for line in charged_for(order, zero).lines:
        stated[line.piece] = stated.get(line.piece, zero) + line.amount
    return stated


def _piece(piece: Piece, shop: Shop, stated: Money | None) -> QuotedPiece:
    found = findings(piece.artwork, piece.agreed, shop)
    mat_word = shop.mat_word.value
    return QuotedPiece(
        number=piece.number,
        title=piece.artwork.title or "Untitled",
        front=front_image(piece.artwork, piece.agreed.chosen, found.exact),
        front_words=in_words(found.exact),
        details=details_of(piece, found, mat_word),
        notes=good_to_know(found),
        sums=sums_of_piece(piece.agreed.price.customer_view(), mat_word, stated),
    )


def _terms(order: Order, shop: Shop, to_pay: Money, *, holds: bool) -> tuple[str, ...]:
    """The terms line. holds: whether it is a quote whose prices still stand."""
    share = shop.promise.deposit
    deposit = show_money(to_pay.times(share), code=True)
    said = []
    if holds:
        said.append(f"These prices hold until {day(order.valid_until)}.")
        if share:
            said.append(f"A deposit of {deposit} ({show_percent(share)}) is asked with the order.")
    said.append("Outside sizes are rounded to the step we cut in; weights are estimates.")
    said.append("Wall fixings are to suit the wall and the weight; local building rules decide.")
    return tuple(said)
