"""Routes of a quote or order: its page, and every act that moves it or its pieces."""

from collections.abc import Callable, Sequence

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Invalid, quoted
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.orders import OrderLine, Piece, Stage
from app.services import cut_by_hand, lines, orders
from app.services import stages as progress
from app.services import telling as told
from app.services.bench import PieceAt
from app.services.order_transaction import piece_of
from app.web.kit.access import NotForVisitor, may_ask
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.templating import WithPaper, render_error, see
from app.web.orders import form as forms
from app.web.orders import handing_over, telling
from app.web.orders.acts import may_move, moved_by
from app.web.orders.show import (
    act_on,
    at_version,
    only_asks,
    order_of,
    show_order,
    stage_asked,
    tell,
)
from app.web.pieces.material_states import not_taken_words, put_back_words, sold_words, took_words
from app.web.pieces.place import order_with

router = APIRouter(prefix="/orders/{order_id}")


@router.get("")
def show(here: Here, order_id: Id) -> HTMLResponse:
    """Show the quote or order; where its address names a piece, with the form of handing that over."""
    here.expect_paper()
    asked = here.request.query_params
    fields = (handing_over.PIECE, handing_over.COUNT)
    return show_order(here, order_id, asked={each: asked[each] for each in fields if each in asked})


@router.post("/take")
def take(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Take the quote as an order: number, date and deposit in one."""
    if only_asks(form, live):
        return tell(here, order_id, form, live)
    if form.get("action") == "sell":
        return _sell_at_once(here, order_id, form)
    known = order_of(here, order_id, form)

    def act() -> str:
        values = forms.read_taking(form, known)
        terms = progress.Terms(
            due=values["due"],
            deposit=values["deposit"] or None,
            method=values["method"],
            designs=forms.taken_in(form, known.order),
        )
        number = progress.take_order(here.store, at_version(order_id, form), terms, here.act)
        return f"Order {number} is taken.{forms.closed_then(here.shop, terms.due)}"

    return act_on(here, order_id, form, act)


def _sell_at_once(here: RequestContext, order_id: int, form: Typed) -> Response:
    """Sell a quote of lines alone over the counter."""
    known = order_of(here, order_id)

    def act() -> str:
        method = forms.TAKE.read(form, known)["method"]
        sold = lines.sell_quote(here.store, at_version(order_id, form), method, here.act)
        return sold_words(sold.used, sold.jobs)

    return act_on(here, order_id, form, act)


def _to_be_cut(here: RequestContext, order_id: int, stage: Stage) -> cut_by_hand.OpenParts:
    """Return the open parts of an order's pieces, where some of these are to be cut by hand."""
    if stage is not Stage.CUT:
        return {}
    pieces = orders.get(here.store, order_id).pieces
    return cut_by_hand.open_parts_of(here.store, [piece.id for piece in pieces])


def _not_taken(here: RequestContext, before: cut_by_hand.OpenParts) -> str:
    return not_taken_words(cut_by_hand.not_on_rack(here.store, before)) if before else ""


@router.post("/stage")
def move_all(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Bring every piece that may come there to a stage."""

    def act() -> str | WithPaper:
        stage = stage_asked(form)
        at = at_version(order_id, form)
        if stage is Stage.COLLECTED:
            return handing_over.collect(here, at, None)
        cutting = _to_be_cut(here, order_id, stage)
        moved = moved_by(orders.get(here.store, order_id), stage)
        used = progress.move_order(here.store, at, stage, here.act)
        return f"{_they_are(moved)} {stage}.{took_words(used)}{_not_taken(here, cutting)}"

    return act_on(here, order_id, form, act)


@router.post("/told")
def tell_customer(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Note that the customer was told that the work is ready."""
    known = order_of(here, order_id)
    return act_on(
        here, order_id, form, lambda: telling.tell(here, at_version(order_id, form), known, form)
    )


@router.post("/told/{told_id}/take-back")
def take_back_telling(here: Here, form: TypedForm, order_id: Id, told_id: Id) -> Response:
    """Write a contrary entry where the customer was not told after all."""

    def act() -> str:
        told.take_back(here.store, at_version(order_id, form), told_id, here.act)
        return "Undone: the customer was not told."

    return act_on(here, order_id, form, act)


@router.post("/take-back")
def take_all_back(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Undo the last act on the order; both stay in the record. A quote that was deleted comes back."""
    order = orders.get(here.store, order_id)

    def act() -> str:
        back = progress.take_back(here.store, at_version(order_id, form), here.act)
        if order.deleted:
            return f"Quote {order.number} is brought back."
        return f"The last change is undone.{put_back_words(back)}"

    return act_on(here, order_id, form, act)


@router.post("/pieces/{number}/stage")
def move_piece(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Bring one piece to a stage."""

    def act() -> str | WithPaper:
        stage = stage_asked(form)
        at = at_version(order_id, form)
        move = progress.PieceMove(
            number=number, stage=stage, count=_how_many(form), anew=form.get("anew") == "1"
        )
        if stage is Stage.COLLECTED:
            return handing_over.collect(here, at, number, move.count)
        cutting = _to_be_cut(here, order_id, stage)
        used = progress.move_some(here.store, at, move, here.act)
        done = f"{_moved(here, order_id, move)} {stage}."
        return f"{done}{took_words(used)}{_not_taken(here, cutting)}"

    if not may_move(here.visitor, form.get("stage", "")):
        raise NotForVisitor(here.visitor)
    if address := handing_over.prepared(here, order_id, number, form):
        return see(address)
    asked = {**form, handing_over.PIECE: str(number)}
    return _of_piece(here, PieceAt(order_id=order_id, number=number), asked, act)


@router.post("/hand-over")
def hand_over(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Hand over what is framed, take what is paid for it, and tell of the receipt."""
    if only_asks(form, live):
        return tell(here, order_id, form, live)
    return act_on(
        here,
        order_id,
        form,
        lambda: handing_over.hand_over(here, at_version(order_id, form), form),
        f"/orders/{order_id}#hand-over",
    )


@router.post("/pieces/{number}/take-back")
def take_back(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Undo the last change of a piece's stage; both stay in the record."""

    def act() -> str:
        last = piece_of(orders.get(here.store, order_id), number).last_change
        if last is not None and not may_move(here.visitor, last.new):
            raise NotForVisitor(here.visitor)
        back = progress.take_back(here.store, at_version(order_id, form), here.act, number)
        return f"The last change of piece {number} is undone.{put_back_words(back)}"

    return _of_piece(here, PieceAt(order_id=order_id, number=number), form, act)


@router.post("/pieces/{number}/remove")
def remove_piece(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Take a quoted piece off its quote."""

    def act() -> str:
        orders.remove_piece(here.store, at_version(order_id, form), number, here.act)
        return f"Piece {number} is deleted."

    return act_on(here, order_id, form, act, order_with(order_id, number))


@router.post("/terms")
def set_terms(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Keep the due date and the note."""
    known = order_of(here, order_id)

    def act() -> str:
        terms = forms.read_terms(form, known)
        at = at_version(order_id, form)
        orders.set_due_and_note(here.store, at, terms["due"], terms["note"], here.act)
        return f"Date and note are saved.{forms.closed_then(here.shop, terms['due'])}"

    return act_on(here, order_id, form, act)


def _how_many(form: Typed) -> int | None:
    """Read of how many that are alike a button speaks; None for all. Raises: Invalid at "count"."""
    text = form.get("count", "").strip()
    if not text:
        return None
    count = whole_number(text, digits=4)
    if count is None:
        raise Invalid.at(
            "count", f"How many is {quoted(text)}; a whole number is read, and blank for all."
        )
    return count


def _they_are(moved: Sequence[Piece | OrderLine]) -> str:
    """Say what has moved of a whole order: "The piece is", "The pieces are", "The pieces and lines are"."""
    pieces = sum(isinstance(each, Piece) for each in moved)
    lines = len(moved) - pieces
    named = [word for count, word in ((pieces, "piece"), (lines, "line")) if count]
    if len(moved) == 1:
        return f"The {named[0]} is"
    return f"The {' and '.join(f'{word}s' for word in named) or 'pieces'} are"


def _moved(here: RequestContext, order_id: int, move: progress.PieceMove) -> str:
    """Say what has moved: "Piece 2 is", "8 of the 20 of piece 2 are"."""
    piece = piece_of(orders.get(here.store, order_id), move.number)
    if move.count in (None, piece.copies):
        return f"Piece {move.number} is"
    return f"{move.count} of the {piece.copies} of piece {move.number} {'is' if move.count == 1 else 'are'}"


def _of_piece(
    here: RequestContext, at: PieceAt, form: Typed, act: Callable[[], str | WithPaper]
) -> Response:
    """Do something to a piece and show the page on which the button was pressed: its own page, or its order's.

    Whoever is not shown the order is told why it cannot be done with the way back to the piece.
    """
    order = f"/orders/{at.order_id}"
    piece = f"{order}/pieces/{at.number}"
    if may_ask(here.request, "GET", order):
        back = piece if form.get("back") == "piece" else order_with(at.order_id, at.number)
        return act_on(here, at.order_id, form, act, back)
    try:
        said = act()
    except (Invalid, Conflict) as refused:
        return render_error(
            here.request,
            422 if isinstance(refused, Invalid) else 409,
            refused.message,
            own="not-moved",
            leads_to=piece,
        )
    return see(piece, said)
