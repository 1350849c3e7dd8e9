"""The workshop ticket as PDF, against a bare page in our faces."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import partial
from time import process_time

from app.documents.kit.pdf import PAGES_AT_ONCE, PageSetting, StyleSheets, fit, to_pdf
from app.documents.ticket.ticket import ticket_pdf
from app.orders import Order, Paper, Piece, Stage, sole_design
from app.orders.quoting.agreement import agree
from seed_demo.price_book import price_book
from seed_demo.quoting import finder
from seed_demo.shop import quillmoor
from tests.benchmarks.sample import PIECE, Plan
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import Act, Times, alternating
from tests.builders.ordered import order_of

TODAY = date(2026, 11, 25)

FACES = """<p style="font: 600 10pt 'Bevelbook Sans'">One line of text.</p>
<p style="font: 600 10pt 'Bevelbook Serif'">One line of text.</p>"""
SIX = 6
"""Pieces of an order whose tickets somebody waits for."""

WINDOWS: Mapping[str, str] = {
    **PIECE,
    "artwork.size": "100 x 150",
    "windows.count": "24",
    "arrangement.rows": "4",
}
"""The same piece with as many windows as a mat may have, in four rows."""

A_LONG_ORDER = 300
"""Pieces of an order for a whole house."""

SENTENCE = "A mat is a window board in front of the artwork that holds it off the glass. "
A_PAGE = 48
"""Sentences that fill an A4 page."""


def measure(plan: Plan) -> Section:
    """All through the same engine: one font configuration, tagged PDF."""
    printing = partial(
        ticket_pdf,
        _order(),
        quillmoor(),
        None,
        paper=Paper.A4,
        phone_url=None,
        today=TODAY,
    )
    ticket, page, lines = alternating(
        (printing, _plain(SENTENCE * A_PAGE), _plain(SENTENCE)),
        rounds=plan.documents,
        warm=3,
        clock=process_time,
    )
    return Section(
        title=f"Workshop ticket as PDF, median of {plan.documents}, processor's time",
        base="one page without a style sheet, in the same faces, in turn",
        rows=(
            _row("to a page full of text", ticket, page, most_ratio=5),
            _row("to a page of three lines", ticket, lines),
            _waited_for(f"{SIX} tickets in one print", partial(printed, SIX), most=1.5),
            _waited_for("a ticket of 24 windows", partial(printed, 1, WINDOWS), most=3),
            _of_many(min(plan.tickets, A_LONG_ORDER)),
        ),
    )


def _of_many(pieces: int) -> Row:
    """Many tickets in one print, laid out in parts and joined, a piece, beside one print for as many as a part holds."""
    few, many = alternating(
        (partial(printed, PAGES_AT_ONCE), partial(printed, pieces)),
        rounds=1,
        warm=0,
        clock=process_time,
    )
    return Row(
        what=f"{pieces} tickets in one print, a piece; base: of {PAGES_AT_ONCE}",
        measured=many.median / pieces,
        unit="ms",
        base=few.median / PAGES_AT_ONCE,
        most_ratio=1.2,
    )


def _waited_for(what: str, printing: Act, most: float) -> Row:
    """What somebody waits for, in seconds. most: aimed at."""
    (times,) = alternating((printing,), rounds=5, warm=1, clock=process_time)
    return Row(what=what, measured=times.median / 1000, unit="s", most=most)


def printed(pieces: int, typed: Mapping[str, str] = PIECE) -> bytes:
    """So many tickets of one piece in one print."""
    order = _order(typed)
    (piece,) = order.pieces
    many = tuple(replace(piece, id=number, number=number) for number in range(1, pieces + 1))
    return ticket_pdf(
        replace(order, pieces=many), quillmoor(), None, paper=Paper.A4, phone_url=None, today=TODAY
    )


def _plain(text: str) -> Act:
    html = (
        '<!doctype html><html lang="en"><head><title>Plain</title></head><body>'
        f"<p style=\"font: 400 10pt 'Bevelbook Sans'\">{text}</p>{FACES}</body></html>"
    )
    document = fit((PageSetting(html=html),), StyleSheets(names=()))
    if len(document.pages) != 1:
        raise ValueError(f"the plain page takes {len(document.pages)} pages")
    return lambda: to_pdf(html, StyleSheets(names=()))


def _row(what: str, ticket: Times, base: Times, most_ratio: float | None = None) -> Row:
    return Row(
        what=what, measured=ticket.median, unit="ms", base=base.median, most_ratio=most_ratio
    )


def _order(typed: Mapping[str, str] = PIECE) -> Order:
    artwork, agreed = agree(typed, quillmoor(), finder(price_book()), today=TODAY)
    piece = Piece(id=1, number=1, artwork=artwork, designs=sole_design(agreed), stage=Stage.ORDERED)
    return order_of(
        piece, id=12, quote_number="Q-2026-0148", order_number="2026-0148", due=date(2026, 12, 10)
    )
