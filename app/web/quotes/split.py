"""Splits a piece of several that are alike into two; what each comes to is shown before it is done."""

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Fault, Invalid, quoted
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.money import Money
from app.orders import Order, Piece
from app.services import orders, quotes
from app.services.order_transaction import OrderAt, piece_of
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.fields import Fields, FieldView
from app.web.kit.templating import render, see
from app.web.pieces.piece_page import PiecePage
from app.web.pieces.price import each_in_words

router = APIRouter(prefix="/orders/{order_id}/pieces/{number}/split")


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitRow:
    """One of the pieces as it is, or as it would be. each: "12 × 41.50"."""

    words: str
    each: str
    to_pay: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitPage(PiecePage):
    """rows: what it is now, then the two that it would become; empty until a number is typed."""

    section: str = "Orders"
    heading: str
    copies: int
    count: FieldView
    rows: tuple[SplitRow, ...]
    difference: Money | None
    chosen: int


@router.get("")
def ask(here: Here, order_id: Id, number: Id, count: str = "") -> HTMLResponse:
    """Show how many can be split off; with a number what both come to. Raises: Conflict for a piece that is cut."""
    order = orders.get(here.store, order_id)
    orders.check_piece_changeable(piece_of(order, number))
    if not count.strip():
        return _shown(here, order, piece_of(order, number), {})
    try:
        looked = quotes.look_at_split(
            here.store,
            quotes.PieceSplit(order_id=order_id, number=number, count=_count(count)),
            here.shop,
            today=here.today,
        )
    except Invalid as invalid:
        return _shown(here, order, piece_of(order, number), {"count": count}, invalid.faults)
    return _shown(here, order, looked.piece, {"count": count}, looked=looked)


@router.post("")
def split(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Make two pieces of it, at today's prices."""
    try:
        which = quotes.PieceSplit(
            order_id=order_id, number=number, count=_count(form.get("count", ""))
        )
        at = OrderAt(id=order_id, version=read_version(form))
        new = quotes.split_in_two(here.store, at, which, here.shop, here.act)
    except Invalid as invalid:
        order = orders.get(here.store, order_id)
        return _shown(here, order, piece_of(order, number), form, invalid.faults)
    return see(f"/orders/{order_id}", f"{which.count} of piece {number} are piece {new} now.")


def _count(text: str) -> int:
    """Read how many are to be split off. Raises: Invalid at "count"."""
    text = text.strip()
    count = whole_number(text.removeprefix("-"), digits=4)
    if count is None:
        raise Invalid.at("count", f"How many is {quoted(text)}; a whole number is read.")
    return -count if text.startswith("-") else count


def _shown(
    here: RequestContext,
    order: Order,
    piece: Piece,
    typed: Typed,
    faults: tuple[Fault, ...] = (),
    *,
    looked: quotes.SplitInTwo | None = None,
) -> HTMLResponse:
    make = Fields({"count": typed.get("count", "")}, faults)
    page = SplitPage(
        title=f"Split a piece: {order.number}",
        faults=faults,
        order_id=order.id,
        order_number=order.number,
        version=order.version,
        number=piece.number,
        heading=piece.artwork.title or f"Piece {piece.number}",
        copies=piece.copies,
        count=make.field("count", "How many become a piece of their own", required=True),
        rows=_rows(looked) if looked else (),
        difference=looked.difference if looked else None,
        chosen=looked.split.apart.agreed.copies if looked else 0,
    )
    return render(here, "pages/quotes/split.html", page, 422 if faults else 200)


def _rows(looked: quotes.SplitInTwo) -> tuple[SplitRow, ...]:
    number, split = looked.piece.number, looked.split
    named = (
        (f"Piece {number} as agreed", looked.piece.agreed),
        (f"Piece {number} then", split.stays.agreed),
        ("The new piece", split.apart.agreed),
    )
    return tuple(
        SplitRow(
            words=words,
            each=each_in_words(agreed.price),
            to_pay=agreed.price.to_pay,
        )
        for words, agreed in named
    )
