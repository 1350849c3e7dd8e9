"""The workshop ticket: one page a piece, from which every part can be cut right.

Owns the ticket's page model. All figures are in the piece's one unit; cut sizes in the shop's
steps (L2, L3). Prices do not stand on a ticket.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

import segno

from app.documents.benchchecks import Check, checks_of, hardware_to_take
from app.documents.benchwork import Bench, StationWork, order_of_work
from app.documents.columns import in_two_columns, lines_in
from app.documents.cutlist import CutGroup, Cutting, cut_list
from app.documents.densities import ROOMY, Density, densities_for
from app.documents.look import front_image, in_words
from app.documents.matplans import MatPlan, mat_plans
from app.documents.pdf import fit, joined, sheets_for
from app.documents.printing import Figures, page_html
from app.errors import Conflict, NotFound
from app.orders import LEFT_THE_WAY, Order, Paper, Piece, Shop
from app.orders.findings import Findings, findings


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketPage:
    """Everything that one piece's ticket says. classes, checks_across: see `densities.Density`."""

    lang: str
    title: str
    classes: str
    checks_across: bool
    number: str
    count: str
    customer: str
    artwork: str
    artwork_size: str
    place: str
    due: date | None
    rush: bool
    unit: str
    unit_name: str
    check_name: str
    front: str
    front_words: str
    front_height: int
    plans: tuple[MatPlan, ...]
    cuts: tuple[CutGroup, ...]
    checks: tuple[tuple[Check, ...], ...]
    work: tuple[tuple[StationWork, ...], tuple[StationWork, ...]]
    qr: str
    address: str
    printed: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """Whose ticket, where its QR leads, and the day it is printed."""

    shop: Shop
    base_url: str
    today: date


def ticket_pdf(  # noqa: PLR0913 - each is one plain word of what is printed, and where
    order: Order,
    shop: Shop,
    pieces: Sequence[int] | None,
    *,
    paper: Paper,
    base_url: str,
    today: date,
) -> bytes:
    """The tickets of an order's pieces, in their order; None is every piece still on the way.

    base_url: where the app is reached, for the QR. Raises: Conflict where no piece is left to
    print; NotFound for a number that the order has not; PdfUnavailable.
    """
    printing = Printing(shop=shop, base_url=base_url, today=today)
    sheets = sheets_for(paper, "ticket", "ticket-cut", "ticket-work", "ticket-tight")
    return joined(
        [
            fit(_settings_of(order, piece, printing), sheets)
            for piece in pieces_to_print(order, pieces)
        ]
    )


def pieces_to_print(order: Order, pieces: Sequence[int] | None) -> tuple[Piece, ...]:
    """The pieces asked for. Raises: Conflict, NotFound."""
    if pieces is None:
        chosen = tuple(piece for piece in order.pieces if piece.stage not in LEFT_THE_WAY)
        if not chosen:
            raise Conflict(f"{order.number} has no piece that is still to be made; add one first.")
        return chosen
    numbers = {piece.number: piece for piece in order.pieces}
    missing = [number for number in pieces if number not in numbers]
    if missing or not pieces:
        has = ", ".join(map(str, numbers)) or "none"
        asked = ", ".join(map(str, missing)) or "none"
        raise NotFound(f"Piece {asked} of {order.number} was asked for; it has: {has}.")
    return tuple(numbers[number] for number in pieces)


def _settings_of(order: Order, piece: Piece, printing: Printing) -> list[Callable[[], str]]:
    found = findings(piece.artwork, piece.agreed)

    def html(density: Density) -> Callable[[], str]:
        return lambda: page_html(
            "ticket.html", ticket_page(order, piece, printing, found=found, density=density)
        )

    return [html(density) for density in densities_for(found.cut)]


def ticket_page(
    order: Order,
    piece: Piece,
    printing: Printing,
    *,
    found: Findings | None = None,
    density: Density = ROOMY,
) -> TicketPage:
    """The ticket of one piece as a page model."""
    agreed, shop = piece.agreed, printing.shop
    found = found or findings(piece.artwork, agreed)
    figures, word = Figures(agreed.steps), shop.mat_word.value
    cutting = Cutting(
        agreed=agreed, cut=found.cut, figures=figures, mat_word=word, saw_loss=shop.saw_loss
    )
    checks = (*checks_of(agreed, found, figures), *_reminders(order, piece, figures, found))
    path = f"/orders/{order.id}/pieces/{piece.number}"
    count = f"piece {piece.number} of {len(order.pieces)}"
    return TicketPage(
        lang="en",
        title=f"Workshop ticket {order.number}, {count}",
        classes=density.classes,
        checks_across=density.checks_across,
        number=order.number,
        count=count,
        customer=order.customer_name,
        artwork=" · ".join(filter(None, (piece.artwork.title, piece.artwork.kind.value))),
        artwork_size=figures.size(agreed.spec.artwork),
        place=piece.artwork.place,
        due=order.due,
        rush=bool(agreed.price.rush),
        unit=figures.unit.value,
        unit_name=figures.unit_name,
        check_name=figures.check_name,
        front=front_image(piece.artwork, agreed.chosen, found.exact),
        front_words=in_words(found.exact),
        front_height=density.front,
        plans=mat_plans(found.cut, figures, word, room=density.plan),
        cuts=cut_list(cutting),
        checks=in_two_columns(checks, _check_height) if density.checks_across else (checks,),
        work=in_two_columns(
            order_of_work(Bench(agreed=agreed, found=found, figures=figures, mat_word=word)),
            _station_height,
        ),
        qr=qr_image(printing.base_url.rstrip("/") + path),
        address=path,
        printed=printing.today,
    )


def _reminders(order: Order, piece: Piece, figures: Figures, found: Findings) -> Iterator[Check]:
    """What to take from the drawers, and what was written down."""
    take = hardware_to_take(piece.agreed, found.cut, figures)
    for name, text in (
        ("Take", " · ".join(take)),
        ("Condition", piece.artwork.condition),
        ("Note", order.note),
    ):
        if text:
            yield Check(name=name, text=text)


_LETTERS = 58
"""That fit a line of one of two columns, about."""


def _check_height(check: Check) -> int:
    return lines_in(check.text + check.detail, _LETTERS - 12)


def _station_height(station: StationWork) -> int:
    steps = lines_in(station.name + "".join(f"    {step}" for step in station.steps), _LETTERS - 8)
    remarks = (lines_in(remark.text, _LETTERS) for remark in station.remarks)
    return steps + sum(remarks) + sum(lines_in(text, _LETTERS) for text in station.cautions)


def qr_image(address: str) -> str:
    """A QR code of an address as an image, without a margin: the page leaves it."""
    code = segno.make(address, error="m", micro=False)
    return code.svg_data_uri(border=0, xmldecl=False, svgns=True, omitsize=True)
