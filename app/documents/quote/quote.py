"""The customer's quote, and the confirmation of an order: one document at two times.

Its page model has no field for cost, margin or codes (P9): what a customer may not see cannot be
printed by mistake.
"""

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from app.documents.kit.party import PartyPaper
from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.pictures import front_image, in_words
from app.documents.kit.printing import day, page_html
from app.documents.kit.total_lines import (
    Sum,
    from_to,
    is_mixed,
    payments_of,
    sums_of_account,
    sums_of_piece,
)
from app.documents.quote.comparison import ComparedDesign, Comparison, across_on, compare_designs
from app.documents.quote.details import Detail, details_of, good_to_know
from app.drawings import FrontView
from app.errors import Conflict
from app.lengths import show
from app.money import Money, show_money, show_percent
from app.orders import Customer, Order, OrderLine, Paper, Piece, Shop, Stage
from app.orders.designs import at_least, at_most
from app.orders.invoices.lines import charged_for
from app.orders.piece_report import findings
from app.orders.totals import PriceRange, range_of


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedPiece:
    """One piece as its customer sees it. front: address of its picture. compared: its designs, where one is still to
    be taken; details, notes and sums are then what they have in common, and their prices (P10).
    """

    number: int
    title: str
    front: str
    front_words: str
    details: tuple[Detail, ...]
    notes: tuple[str, ...]
    sums: tuple[Sum, ...]
    compared: Comparison | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedLine:
    """What is sold without a piece. quantity: how many at what price. rate: of tax."""

    what: str
    quantity: str
    rate: str
    amount: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotePaper(PartyPaper):
    """Everything that a quote or a confirmation says.

    compared: the pieces of which a design is still to be taken, each on a page of its own; across: how many
    designs stand beside each other there at most. taxed: whether the rate of tax stands beside each line without
    a piece.
    """

    warning: str
    pieces: tuple[QuotedPiece, ...]
    lines: tuple[QuotedLine, ...]
    taxed: bool
    sums: tuple[Sum, ...]
    payments: tuple[Sum, ...]
    terms: tuple[str, ...]
    to_sign: bool
    across: int = 3

    @property
    def compared(self) -> tuple[Comparison, ...]:
        """Return the designs of each piece of which none is taken yet."""
        return tuple(piece.compared for piece in self.pieces if piece.compared is not None)


def quote_pdf(order: Order, customer: Customer, shop: Shop, *, paper: Paper, today: date) -> bytes:
    """Make the PDF of an order's quote, or of its confirmation once it is ordered.

    Raises: Conflict where nothing is left to quote; PdfUnavailable.
    """
    page = replace(quote_page(order, customer, shop, today=today), across=across_on(paper))
    designs = ("designs",) if page.compared else ()
    sold = ("sold",) if page.lines else ()
    return to_pdf(
        page_html("quote.html", page), sheets_for(paper, "quote", "quote-piece", *designs, *sold)
    )


def quote_page(order: Order, customer: Customer, shop: Shop, *, today: date) -> QuotePaper:
    """Return the page model of a quote or confirmation. Raises: Conflict where nothing is left."""
    pieces = order.counting
    if not order.sold:
        if order.deleted:
            raise Conflict(f"{order.number} is deleted; undo that on its page to print it.")
        raise Conflict(f"{order.number} has no piece to quote; add one, or quote one again.")
    found = range_of(order, Money.zero(shop.currency))
    account = found.least
    stated = _stated(order, account.to_pay) if is_mixed(order) else {}
    quoted = order.stage is Stage.QUOTED
    heading = "Quote" if quoted else "Order confirmation"
    return QuotePaper(
        **head_of(heading, order, customer, shop),
        currency=account.to_pay.currency.code,
        warning=out_of_date(order, today),
        pieces=tuple(_piece(piece, shop, stated.get((0, piece.number))) for piece in pieces),
        lines=tuple(
            _line(line, stated.get((line.number, 0))) for line in order.lines if line.counts
        ),
        taxed=bool(account.agreed.tax),
        sums=from_to(
            sums_of_account(at_least(order), account), sums_of_account(at_most(order), found.most)
        ),
        payments=from_to(payments_of(order, account), payments_of(order, found.most)),
        terms=_terms(order, shop, found, holds=quoted and not order.out_of_date(today)),
        to_sign=quoted and not order.out_of_date(today),
    )


def head_of(heading: str, order: Order, customer: Customer, shop: Shop) -> dict[str, Any]:
    """Return the head of a paper of an order, as fields of `PartyPaper`."""
    return {
        "lang": "en",
        "title": f"{heading} {order.number}, {shop.name}",
        "heading": heading,
        "number": order.number,
        "shop_name": shop.name,
        "shop_lines": _lines(shop.address, shop.contact),
        "customer": customer.name,
        "customer_lines": _lines(customer.address, customer.phone, customer.email),
        "dates": _dates(order, quoted=order.stage is Stage.QUOTED),
    }


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


def out_of_date(order: Order, today: date) -> str:
    """Say that a quote is past its validity (P7); empty while it is not."""
    if not order.out_of_date(today):
        return ""
    return f"This quote was valid until {day(order.valid_until)}; ask us whether its prices still hold."


def _stated(order: Order, like: Money) -> dict[tuple[int, int], Money]:
    """Return what each piece and line comes to with tax, as an invoice would state it, by `InvoiceLine.of`."""
    zero = Money.zero(like.currency)
    stated: dict[tuple[int, int], Money] = {}
    for line in charged_for(order, zero).lines:
        stated[line.of] = stated.get(line.of, zero) + line.amount
    return stated


def _line(line: OrderLine, stated: Money | None) -> QuotedLine:
    """stated: what it comes to as the sums are stated, where prices are stated both ways."""
    agreed = line.agreed
    return QuotedLine(
        what=agreed.what,
        quantity=agreed.quantity,
        rate="not charged" if agreed.tax_free else show_percent(agreed.rate.percent),
        amount=agreed.price.total if stated is None else stated,
    )


def _piece(piece: Piece, shop: Shop, stated: Money | None) -> QuotedPiece:
    if piece.undecided:
        return _to_choose(piece, shop)
    found = findings(piece.artwork, piece.agreed, shop)
    mat_word = shop.mat_word.value
    return QuotedPiece(
        number=piece.number,
        title=_titled(piece),
        front=front_image(piece.artwork, piece.agreed.chosen, found.exact, FrontView.SEEN),
        front_words=in_words(found.exact),
        details=details_of(piece, found, mat_word),
        notes=good_to_know(found),
        sums=sums_of_piece(piece.agreed.price.customer_view(), mat_word, stated),
    )


def _to_choose(piece: Piece, shop: Shop) -> QuotedPiece:
    """Describe a piece of which a design is still to be taken: what its designs have in common, and their prices."""
    compared = compare_designs(piece, shop)
    prices = sorted((each.price for each in compared.designs), key=lambda price: price.minor)
    ranged = prices[-1] if prices[-1] != prices[0] else None
    return QuotedPiece(
        number=piece.number,
        title=compared.title,
        front="",
        front_words="",
        details=compared.same,
        notes=compared.notes,
        sums=(
            *(
                Sum(label=f"Design {each.letter}, {_framed(piece, each)}", amount=each.price)
                for each in compared.designs
            ),
            Sum(label="Subtotal", amount=prices[0], most=ranged, strong=True),
        ),
        compared=compared,
    )


def _framed(piece: Piece, design: ComparedDesign) -> str:
    """Return the name of what frames a design."""
    chosen = piece.by_design(design.number).agreed.chosen
    frames = (*chosen.frames, *((chosen.ready_made,) if chosen.ready_made else ()))
    return " and ".join(each.name for each in frames) or "without a frame"


def _titled(piece: Piece) -> str:
    """Name a piece as "20 × Harbour at dawn"; a single one by its title alone."""
    title = piece.artwork.title or "Untitled"
    return title if piece.copies == 1 else f"{piece.copies} × {title}"


def _steps(order: Order) -> str:
    """Return by how much outside sizes are rounded at most, which is a cutting step: "0.5 mm or 1/32 in" where pieces differ."""
    steps = (piece.agreed.steps for piece in order.counting)
    return " or ".join(dict.fromkeys(show(each.step, each.unit, mark=True) for each in steps))


def _terms(order: Order, shop: Shop, found: PriceRange, *, holds: bool) -> tuple[str, ...]:
    """Return the terms line. holds: whether it is a quote whose prices still stand."""
    share = shop.promise.deposit
    deposit = show_money(found.least.to_pay.times(share), code=True)
    if found.is_open:
        deposit += f" to {show_money(found.most.to_pay.times(share))}"
    said = []
    if holds:
        said.append(f"These prices hold until {day(order.valid_until)}.")
        if share:
            said.append(f"A deposit of {deposit} ({show_percent(share)}) is asked with the order.")
    if order.counting:
        said.append(f"Outside sizes are ±{_steps(order)}; weights are estimates.")
        said.append(
            "Wall fixings are to suit the wall and the weight; local building rules decide."
        )
    return tuple(said)
