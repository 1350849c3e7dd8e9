"""Handing over on an order's page: what is framed leaves, the balance is taken, and there is a receipt."""

from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.responses import Response

from app.counting import counted
from app.documents.receipt import receipt_page, receipt_pdf
from app.errors import Conflict, Fault, Invalid, NotFound, quoted
from app.forms.reader import whole_number
from app.forms.table import Typed, values_in
from app.money import Money, show_money
from app.orders import Method, Order, Stage
from app.orders.handing_over import HandedOver, handed_over, lines_waiting, waiting
from app.services import customers, orders
from app.services import handing_over as handing
from app.services.order_transaction import OrderAt, account_now
from app.web.kit.context import Here, Id, RequestContext
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import WithPaper
from app.web.orders import form as forms
from app.web.orders.form import HAND_OVER, OfOrder
from app.web.papers.logo import logo_of
from app.web.papers.printing import printed
from app.web.pieces.material_states import took_words

OWED = "owed"
"""What the button says by which the balance stays owed."""

REST_OWED = "rest owed"
"""The same of what is left after the amount that is typed."""

PIECE = "handover.piece"
"""The field that names the one piece that is handed over; blank for all that are framed."""

COUNT = "handover.count"
"""The field that says how many of those that are alike; blank for all."""

receipts = APIRouter(prefix="/orders/{order_id}")


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedView:
    """One handing over that stands. titles: of what went. receipt: the address of its paper."""

    titles: str
    receipt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverView:
    """What may be handed over and what was.

    asked: the fields; None where nothing is framed. titles: of what would go. piece: its number where it is
    asked about one alone, else ""; count: of how many of those that are alike, "" for all. rest: what is still to pay
    for what stays. short: what would be left to pay after the amount that is typed, None where that is enough for what goes.
    done: the oldest first. may_take_back: whether the last act on the
    order was a handing over.
    """

    asked: FormView[OfOrder] | None
    titles: str
    piece: str
    count: str
    balance: Money
    rest: Money
    short: Money | None
    done: tuple[HandedView, ...]
    may_take_back: bool


def hand_over_view(known: OfOrder, typed: Typed, faults: tuple[Fault, ...]) -> HandOverView:
    """Return the part of the order's page that is about handing over."""
    order, balance = known.order, known.account.balance
    going = waiting(order)
    only = [each for each in going if str(each.piece.number) == typed.get(PIECE, "")]
    count = typed.get(COUNT, typed.get("count", "")) if only else ""
    some = whole_number(count, digits=4)
    if only and some:
        only = [replace(only[0], count=some)]
    titles = [each.title for each in only or going]
    if not only:
        titles += [line.agreed.what for line in lines_waiting(order)]
    part = handing.asked_for(order, only[0].piece.number if only else None, some if only else None)
    begin = HAND_OVER.typed(
        values_in({"amount": part if part.minor > 0 else None, "method": Method.CASH}), known
    )
    received = _amount_in(typed, known)
    done = handed_over(order)
    return HandOverView(
        asked=FormView(HAND_OVER, known, Fields({**begin, **typed}, faults))
        if going or lines_waiting(order)
        else None,
        titles="; ".join(titles),
        piece=typed.get(PIECE, "") if only else "",
        count=count,
        balance=balance,
        rest=balance - part if part.minor > 0 else balance - balance,
        short=balance - received if received and received < part else None,
        done=tuple(_handed(order, each) for each in done),
        may_take_back=bool(done) and done[-1].at == _last_act(order),
    )


def _amount_in(typed: Typed, known: OfOrder) -> Money | None:
    """Return the amount that is typed as received; None for none, and where it cannot be read."""
    try:
        amount: Money | None = HAND_OVER.read({**typed}, known)["amount"]
    except Invalid:
        return None
    return amount


def _last_act(order: Order) -> datetime | None:
    return max((last.at for piece in order.pieces if (last := piece.last_change)), default=None)


def _handed(order: Order, handed: HandedOver) -> HandedView:
    return HandedView(
        titles="; ".join(handed.titles),
        receipt=receipt_address(order.id, handed),
    )


def receipt_address(order_id: int, handed: HandedOver) -> str:
    """Return the address of the receipt of a handing over."""
    return f"/orders/{order_id}/receipts/{handed.number}.pdf"


def hand_over(here: RequestContext, at: OrderAt, typed: Typed) -> WithPaper:
    """Hand over as the form says and tell what was done. Raises: Invalid at the form's fields."""
    known = forms.of_order(orders.get(here.store, at.id), here.shop, here.today)
    wanted = handing.HandOver(
        number=_piece(typed.get(PIECE, "")),
        count=_piece(typed.get(COUNT, "")),
        stays_owed=typed.get("action") == OWED,
        rest_owed=typed.get("action") == REST_OWED,
        **HAND_OVER.read(typed, known),
    )
    return _done(here, at, wanted)


def _piece(text: str) -> int | None:
    """Read the number of the one piece, or how many of it; None for all. Raises: Conflict where it is no number."""
    number = whole_number(text, digits=6) if text else None
    if text and number is None:
        raise Conflict(f"{quoted(text)} is not the number of a piece, nor of some that are alike.")
    return number


def collect(
    here: RequestContext, at: OrderAt, number: int | None, count: int | None = None
) -> WithPaper:
    """Hand over without a word of money, as the button of a stage does.

    count: how many of those that are alike; None for all. Raises: Invalid at the form's amount where a balance is open.
    """
    return _done(here, at, handing.HandOver(number=number, count=count))


def prepared(here: RequestContext, order_id: int, number: int, typed: Typed) -> str:
    """Return the page with the form of handing over one piece, where money is to be spoken of first; else ""."""
    order = orders.get(here.store, order_id)
    count = typed.get("count", "").strip()
    readable = not count or whole_number(count, digits=4)
    ready = any(each.piece.number == number for each in waiting(order))
    if typed.get("stage") != Stage.COLLECTED or account_now(order).balance.minor <= 0:
        return ""
    if not (ready and readable):
        return ""
    which = urlencode({PIECE: number, **({COUNT: count} if count else {})})
    return f"/orders/{order_id}?{which}#hand-over"


def _done(here: RequestContext, at: OrderAt, wanted: handing.HandOver) -> WithPaper:
    try:
        done = handing.hand_over(here.store, at, wanted, here.act)
    except Invalid as invalid:
        raise invalid.under("handover") from invalid
    balance = account_now(orders.get(here.store, at.id)).balance
    said = f"{_which(done.handed)} collected.{took_words(done.used)}"
    if wanted.amount and not wanted.stays_owed:
        said += f" {show_money(wanted.amount)} received is recorded."
    if balance.minor > 0:
        said += f" {show_money(balance)} is still to pay."
    elif balance.minor < 0:
        said += f" {show_money(-balance)} is to refund."
    return WithPaper(f"{said} The receipt can be printed.", receipt_address(at.id, done.handed))


def _which(handed: HandedOver) -> str:
    """Say what went: "Piece 1 is", "8 of the 20 of piece 2 are", "Pieces 1, 2 and 1 line are"."""
    numbers = [str(each.piece.number) for each in handed.pieces]
    if len(numbers) == 1 and not handed.lines:
        (each,) = handed.pieces
        if each.count != each.piece.copies:
            verb = "is" if each.count == 1 else "are"
            return f"{each.count} of the {each.piece.copies} of piece {numbers[0]} {verb}"
        return f"Piece {numbers[0]} is"
    lines = counted(len(handed.lines), "line")
    if not numbers:
        return f"{lines} {'is' if len(handed.lines) == 1 else 'are'}"
    pieces = f"{'Piece' if len(numbers) == 1 else 'Pieces'} {', '.join(numbers)}"
    return f"{pieces} and {lines} are" if handed.lines else f"{pieces} are"


@receipts.get("/receipts/{number}.pdf")
def receipt(here: Here, order_id: Id, number: Id) -> Response:
    """Give the receipt of a handing over, by its number within the order."""
    order = orders.get(here.store, order_id)
    done = handed_over(order)
    if number > len(done):
        raise NotFound(
            f"{order.number} was handed over {len(done)} times; there is no receipt {number}."
        )
    customer = customers.get(here.store, order.customer_id).value
    page = receipt_page(order, done[number - 1], customer, here.shop, today=here.today)
    page = replace(page, logo=logo_of(here))
    make = partial(receipt_pdf, page, paper=here.shop.paper)
    return printed(here, make, f"{order.number} receipt {number}.pdf")
