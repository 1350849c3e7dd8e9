"""The receipt of a handing over: what the customer took along, what was paid, what is still owed.

It says how things stand when it is printed, so that a payment that was corrected is not on it; the day of the
handing over is told apart from what was paid before and since. It is no invoice, and says so.
"""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from app.documents.kit.party import PartyPaper
from app.documents.kit.pdf import sheets_for, to_fewest_pages
from app.documents.kit.printing import day, page_html
from app.documents.kit.total_lines import Sum
from app.lengths import show_size
from app.orders import Customer, EntryKind, Order, Paper, Piece, Shop
from app.orders.handing_over import HandedOver, HandedPiece, Receipt, receipt_of
from app.orders.order_line import OrderLine
from app.orders.stages import LEFT_THE_WAY, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedLine:
    """One piece that was handed over."""

    number: str
    title: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReceiptPage(PartyPaper):
    """Everything that a receipt says. left: words on what is still in the shop, "" for nothing."""

    lines: tuple[HandedLine, ...]
    left: str
    sums: tuple[Sum, ...]


def receipt_pdf(page: ReceiptPage, *, paper: Paper) -> bytes:
    """Make the PDF of a receipt. Raises: PdfUnavailable."""
    return to_fewest_pages(
        page_html("receipt.html", page), sheets_for(paper, "quote", "quote-piece", "receipt")
    )


def receipt_page(
    order: Order, handed: HandedOver, customer: Customer, shop: Shop, *, today: date
) -> ReceiptPage:
    """Return the page model of a receipt."""
    receipt = receipt_of(order, handed)
    printed = (("Printed on", day(today)),) if today != handed.day else ()
    return ReceiptPage(
        lang="en",
        title=f"Receipt {order.number}, {shop.name}",
        heading="Receipt",
        number=order.number,
        shop_name=shop.name,
        shop_lines=_lines(shop.address, shop.contact),
        customer=customer.name,
        customer_lines=_lines(customer.address),
        dates=(("Handed over on", day(handed.day)), *printed),
        currency=receipt.comes_to.currency.code,
        lines=(*map(_line, handed.pieces), *map(_of_line, handed.lines)),
        left=_left(order),
        sums=tuple(_sums(receipt, handed.day)),
    )


def _lines(*texts: str) -> tuple[str, ...]:
    return tuple(line.strip() for text in texts for line in text.splitlines() if line.strip())


def _line(handed: HandedPiece) -> HandedLine:
    piece = handed.piece
    spec = piece.agreed.spec
    size = show_size(spec.artwork, spec.unit, mark=True)
    return HandedLine(
        number=str(piece.number),
        title=handed.title if piece.artwork.title or piece.copies > 1 else "Untitled",
        what=f"{piece.artwork.kind.value}, {size}, framed",
    )


def _of_line(line: OrderLine) -> HandedLine:
    return HandedLine(number="", title=line.agreed.what, what=line.agreed.quantity)


def _left(order: Order) -> str:
    """Say what of the order is still in the shop."""
    gone = LEFT_THE_WAY | {Stage.COLLECTED}
    left = [
        f"{piece.artwork.title or f'piece {piece.number}'}{_how_many(piece, count)} ({how})"
        for piece in order.pieces
        for how, count in _still_there(piece, gone).items()
    ]
    return f"Still with us: {'; '.join(left)}." if left else ""


def _still_there(piece: Piece, gone: Collection[Stage]) -> Mapping[str, int]:
    """Tell how many of a piece are in work and how many are ready, whatever stage of the work they are at."""
    found: Counter[str] = Counter()
    for stage, count in piece.stands.items():
        if stage not in gone:
            found["ready" if stage is Stage.FRAMED else "in work"] += count
    return found


def _how_many(piece: Piece, count: int) -> str:
    return "" if count == piece.copies else f", {count} of {piece.copies}"


_NAMED = {
    EntryKind.DEPOSIT: "Deposit received",
    EntryKind.PAYMENT: "Received",
    EntryKind.REFUND: "Refunded",
}


def _sums(receipt: Receipt, on: date) -> Iterator[Sum]:
    """Return the lines from what the order comes to, to what is still owed; each adds to the one before."""
    yield Sum(label="Order total", amount=receipt.comes_to)
    if receipt.before:
        yield Sum(label="Paid before", amount=-receipt.before)
    for each in receipt.received:
        entry = each.entry
        label = f"{_NAMED[entry.kind]} {day(on)}, {entry.method.value}"
        yield Sum(label=label, amount=-entry.amount)
    if not receipt.received:
        yield Sum(label=f"Received {day(on)}", amount=receipt.owed - receipt.owed)
    if receipt.since:
        yield Sum(label="Paid since", amount=-receipt.since)
    label = "To refund" if receipt.owed.minor < 0 else "Still owed"
    yield Sum(label=label, amount=abs(receipt.owed), strong=True)
