"""The customer's quote, and the confirmation of an order: one document at two times.

Its page model (`page`) has no field for cost, margin or codes (P9); `sheets` says how it is set.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

from app.documents.kit.pdf import PageSetting, fit, joined, sheets_for
from app.documents.kit.pictures import hung_picture, in_words
from app.documents.kit.printing import day, page_html
from app.documents.kit.total_lines import PriceWords, Sum, sums_of_piece
from app.documents.quote.advice import FIXINGS, advice_of
from app.documents.quote.comparison import Comparison, compare_designs
from app.documents.quote.details import details_of, glazing_word, in_a_line
from app.documents.quote.page import QuotedPiece, QuotePaper
from app.documents.quote.sheets import settings_for
from app.documents.quote.totals import heading_of, totals_of
from app.errors import Conflict
from app.lengths import show
from app.money import Money, show_money, show_percent
from app.orders import Customer, Order, Paper, Piece, QuotePrices, Shop, Stage
from app.orders.piece_report import findings
from app.orders.totals import PriceRange


def quote_pdf(order: Order, customer: Customer, shop: Shop, *, paper: Paper, today: date) -> bytes:
    """Make the PDF of an order's quote, or of its confirmation once it is ordered.

    Raises: Conflict where nothing is left to quote; PdfUnavailable.
    """
    return printed(quote_page(order, customer, shop, today=today), paper)


def with_logo(make_page: Callable[[], QuotePaper], logo: str, paper: Paper) -> bytes:
    """Make the PDF of such a page under the shop's logo. logo: its address; blank for the name. Raises as `quote_pdf`."""
    return printed(replace(make_page(), logo=logo), paper)


def printed(page: QuotePaper, paper: Paper) -> bytes:
    """Make the PDF of a quote, a confirmation, or designs to choose from. Raises: PdfUnavailable."""
    settings = (
        PageSetting(html=page_html("quote.html", replace(page, sheets=sheets)), pages=len(sheets))
        for sheets in settings_for(page, paper)
    )
    return joined([fit(settings, sheets_for(paper, "quote", "quote-piece", "hung", "sold"))])


def quote_page(order: Order, customer: Customer, shop: Shop, *, today: date) -> QuotePaper:
    """Return the page model of a quote or confirmation. Raises: Conflict where nothing is left."""
    pieces = order.counting
    if not order.sold:
        if order.deleted:
            raise Conflict(f"{order.number} is deleted; undo that on its page to print it.")
        raise Conflict(f"{order.number} has no piece to quote; add one, or quote one again.")
    totals = totals_of(order)
    account = totals.found.least
    quoted = order.stage is Stage.QUOTED
    return QuotePaper(
        **head_of(heading_of(order), order, customer, shop),
        currency=account.to_pay.currency.code,
        warning=out_of_date(order, today),
        pieces=tuple(
            replace(
                _piece(piece, shop, totals.stated.get((0, piece.number))),
                totals_only=shop.quote_prices is QuotePrices.TOTAL,
                alone=len(order.sold) == 1,
            )
            for piece in pieces
        ),
        lines=totals.lines,
        taxed=bool(account.agreed.tax),
        sums=totals.sums,
        payments=totals.payments,
        terms=_terms(order, shop, totals.found) if quoted and not order.out_of_date(today) else (),
        small_print=_small_print(order),
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


def _piece(piece: Piece, shop: Shop, stated: Money | None) -> QuotedPiece:
    if piece.undecided:
        return to_choose(compare_designs(piece, shop))
    found = findings(piece.artwork, piece.agreed, shop)
    mat_word, chosen = shop.mat_word.value, piece.agreed.chosen
    words = PriceWords(mat=mat_word, glazing=glazing_word(chosen))
    return QuotedPiece(
        number=piece.number,
        title=_titled(piece),
        line=in_a_line(piece, found),
        front=hung_picture(piece.artwork, chosen, found.exact),
        front_words=in_words(found.exact),
        details=details_of(piece, found, mat_word),
        notes=advice_of(found),
        sums=sums_of_piece(piece.agreed.price.customer_view(), words, stated),
    )


def to_choose(compared: Comparison) -> QuotedPiece:
    """Describe a piece of which a design is still to be chosen: what its designs have in common, and from what to what they come."""
    prices = sorted((each.price for each in compared.designs), key=lambda price: price.minor)
    ranged = prices[-1] if prices[-1] != prices[0] else None
    return QuotedPiece(
        number=compared.piece,
        title=compared.title,
        line="",
        front=None,
        front_words="",
        details=compared.same,
        notes=compared.notes,
        sums=(Sum(label="Subtotal", amount=prices[0], most=ranged, strong=True),),
        compared=compared,
    )


def _titled(piece: Piece) -> str:
    """Name a piece as "20 × Harbour at dawn"; a single one by its title alone."""
    title = piece.artwork.title or "Untitled"
    return title if piece.copies == 1 else f"{piece.copies} × {title}"


def _steps(order: Order) -> str:
    """Return by how much outside sizes are rounded at most, which is a cutting step: "0.5 mm or 1/32 in" where pieces differ."""
    steps = (piece.agreed.steps for piece in order.counting)
    return " or ".join(dict.fromkeys(show(each.step, each.unit, mark=True) for each in steps))


def _terms(order: Order, shop: Shop, found: PriceRange) -> tuple[str, ...]:
    """Return what a quote whose prices still stand promises, and what it asks."""
    share = shop.promise.deposit
    deposit = show_money(found.least.to_pay.times(share), code=True)
    if found.is_open:
        deposit += f" to {show_money(found.most.to_pay.times(share))}"
    asked = f"A deposit of {deposit} ({show_percent(share)}) is asked with the order."
    holds = f"These prices hold until {day(order.valid_until)}."
    return (asked, holds) if share else (holds,)


def _small_print(order: Order) -> tuple[str, ...]:
    """Return what is said of sizes, weights and walls; nothing where there is no piece."""
    if not order.counting:
        return ()
    return (f"Outside sizes are ±{_steps(order)}; weights are estimates. {FIXINGS}",)
