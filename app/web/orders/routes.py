"""Routes of a quote or order: its page, and every act on it."""

from collections.abc import Callable, Sequence
from types import MappingProxyType

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid, quoted
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.money import show_money
from app.orders import EntryKind, Order, Piece, Stage
from app.orders.designs import with_taken
from app.services import (
    customers,
    cut_by_hand,
    deleted_quotes,
    invoices,
    lines,
    orders,
    payments,
    reductions,
    ticket_prints,
)
from app.services import stages as progress
from app.services import telling as told
from app.services.consumption import sold_by_lines, used_by_pieces
from app.services.on_rack import free_for
from app.services.order_transaction import OrderAt, account_now, piece_of
from app.services.plan_bench import planned_pieces
from app.services.price_book import hardware
from app.services.shortages import states_of_piece
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.errors import RefusedAct
from app.web.kit.templating import render, render_part, see
from app.web.orders import form as forms
from app.web.orders import handing_over, telling
from app.web.orders import page as page_of
from app.web.orders.invoices_page import invoices_view
from app.web.orders.line_cards import line_cards
from app.web.orders.target import TargetView
from app.web.pieces.material_states import (
    MaterialStand,
    not_taken_words,
    put_back_words,
    sold_words,
    stands_of,
    stands_of_cut,
    stands_of_used,
    took_words,
)
from app.web.pieces.planned import PlannedView, planned_view
from app.web.pieces.printed import PrintedView, printed_views
from app.web.pieces.spoiled import SpoiledView, spoiled_view

router = APIRouter(prefix="/orders/{order_id}")

NOTHING_TYPED: Typed = MappingProxyType({})


def show_order(
    here: RequestContext,
    order_id: int,
    refused: RefusedAct | None = None,
    target: TargetView | None = None,
) -> HTMLResponse:
    """Return the page as things stand now; with what was typed in one of its forms and why it was refused, or what a
    target price leaves.
    """
    order = orders.get(here.store, order_id)
    uncut = (
        design.agreed.chosen
        for piece in order.pieces
        for design in piece.designs
        if piece.stage in orders.CHANGEABLE
    )
    rack = free_for(here.store, *uncut)
    faults = refused.faults if refused else ()
    typed = refused.typed if refused else {}
    known = forms.of_order(order, here.shop, here.today)
    page = page_of.OrderPage(
        title=f"{order.number} {order.customer_name}",
        section="Orders" if order.order_number else "Quotes",
        faults=faults,
        customer=customers.get(here.store, order.customer_id).value,
        stands={piece.number: stands_now(here, piece) for piece in order.pieces},
        planned=planned_now(here, order.pieces),
        printed=printed_now(here, order, order.pieces),
        spoiled=spoiled_now(here, order.pieces),
        lines=line_cards(order, _sold_by(here, order)),
        hand_over=handing_over.hand_over_view(known, typed, faults),
        telling=telling.telling_view(known, told.of_order(here.store, order_id), typed, faults),
        invoices=invoices_view(known, invoices.of_order(here.store, order), typed, faults),
        target=target,
        may_delete=deleted_quotes.may_be_deleted(here.store, order),
        **page_of.order_fields(
            order,
            here.shop,
            here.today,
            rack,
            orders.agreed_anew(here.store, order_id),
            hardware=hardware(here.store),
            noted=cut_by_hand.noted_of_parts(here.store, [piece.id for piece in order.pieces]),
        ),
        **page_of.form_fields(known, typed, faults),
    )
    return render(here, "pages/orders/show.html", page, refused.status if refused else 200)


def _sold_by(here: RequestContext, order: Order) -> dict[int, tuple[MaterialStand, ...]]:
    """Return what each line took off the rack, by its id."""
    ids = [line.id for line in order.lines]
    found = sold_by_lines(here.store, ids) if ids else {}
    return {line_id: stands_of_used(used, "sold") for line_id, used in found.items()}


def planned_now(here: RequestContext, pieces: Sequence[Piece]) -> dict[int, PlannedView | None]:
    """Return which cutting plans hold the parts of pieces, by their numbers."""
    found = planned_pieces(here.store, [piece.id for piece in pieces])
    return {
        piece.number: planned_view(piece.id, piece.stage, found.get(piece.id)) for piece in pieces
    }


def printed_now(
    here: RequestContext, order: Order, pieces: Sequence[Piece]
) -> dict[int, PrintedView]:
    """Return of which pieces a ticket was printed, and whether it still holds, by their numbers."""
    found = ticket_prints.printed_tickets(here.store, order, pieces, here.shop)
    return printed_views(found, order.id, here.context.now())


def spoiled_now(here: RequestContext, pieces: Sequence[Piece]) -> dict[int, SpoiledView]:
    """Return which pieces have parts that are spoiled and not cut anew, by their numbers."""
    found = cut_by_hand.spoiled_now(here.store, [piece.id for piece in pieces])
    views = {piece.number: spoiled_view(piece, found.get(piece.id, ())) for piece in pieces}
    return {number: view for number, view in views.items() if view is not None}


def stands_now(here: RequestContext, piece: Piece) -> tuple[MaterialStand, ...]:
    """Return how it stands with the materials of a piece in work, and what one that is framed took off the rack."""
    if piece.stage in (Stage.FRAMED, Stage.COLLECTED, Stage.CANCELLED):
        return stands_of_used(used_by_pieces(here.store, [piece.id]).get(piece.id, ()))
    if piece.stage not in (Stage.ORDERED, Stage.CUT):
        return ()
    stands = stands_of(piece.agreed.chosen, states_of_piece(here.store, piece.id))
    cut = cut_by_hand.cut_up(here.store, [piece.id]).get(piece.id, ())
    return (*stands, *stands_of_cut(cut))


def act_on(
    here: RequestContext, order_id: int, form: Typed, act: Callable[[], str], back: str = ""
) -> Response:
    """Do something to an order and say what was done.

    Where it cannot be done the order's page says why, with everything typed. back: where to go after.
    """
    try:
        said = act()
    except Invalid as invalid:
        return show_order(here, order_id, RefusedAct(typed=form, faults=invalid.faults, status=422))
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return show_order(here, order_id, RefusedAct(typed=form, faults=(fault,), status=409))
    return see(back or f"/orders/{order_id}", said)


def only_asks(form: Typed, live: str) -> bool:
    """Tell whether a post asks what its amounts are the other way, without doing anything."""
    return bool(live) or form.get("action") == "recalculate"


def tell(here: RequestContext, order_id: int, form: Typed, live: str) -> HTMLResponse:
    """Return the amounts of a form as typed, each beside what it is the other way (M5); nothing is done."""
    known = order_of(here, order_id, form)
    faults = forms.faults_of_amounts(form, known)
    if not live:
        return show_order(
            here, order_id, RefusedAct(typed=form, faults=faults, status=422 if faults else 200)
        )
    page = page_of.AmountsPart(amounts=page_of.amounts_there(known, form, faults))
    return render_part("pages/orders/amounts.html", page)


def order_of(here: RequestContext, order_id: int, form: Typed = NOTHING_TYPED) -> forms.OfOrder:
    """Return the order with what its forms follow from. form: may take designs of its pieces. Raises: NotFound."""
    order = orders.get(here.store, order_id)
    taken = with_taken(order, forms.taken_in(form, order))
    return forms.of_order(taken, here.shop, here.today)


@router.get("")
def show(here: Here, order_id: Id) -> HTMLResponse:
    """Show the quote or order."""
    return show_order(here, order_id)


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
        received = known.account.as_paid(values["deposit"]) if values["deposit"] else None
        terms = progress.Terms(
            due=values["due"],
            deposit=received,
            method=values["method"],
            designs=forms.taken_in(form, known.order),
        )
        number = progress.take_order(here.store, at_version(order_id, form), terms, here.act)
        said = f"Order {number} is taken.{forms.closed_then(here.shop, terms.due)}"
        if received and not known.account.with_tax:
            said += f" {show_money(received)} is received, with tax."
        return said

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

    def act() -> str:
        stage = stage_asked(form)
        at = at_version(order_id, form)
        if stage is Stage.COLLECTED:
            return handing_over.collect(here, at, None)
        cutting = _to_be_cut(here, order_id, stage)
        used = progress.move_order(here.store, at, stage, here.act)
        return f"The pieces are {stage}.{took_words(used)}{_not_taken(here, cutting)}"

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
        return "Taken back: the customer was not told."

    return act_on(here, order_id, form, act)


@router.post("/take-back")
def take_all_back(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Undo the last act on the order; both stay in the record. A quote that was deleted comes back."""
    order = orders.get(here.store, order_id)

    def act() -> str:
        back = progress.take_back(here.store, at_version(order_id, form), here.act)
        if order.deleted:
            return f"Quote {order.number} is brought back."
        return f"The last change is taken back.{put_back_words(back)}"

    return act_on(here, order_id, form, act)


@router.post("/pieces/{number}/stage")
def move_piece(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Bring one piece to a stage."""

    def act() -> str:
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

    asked = {**form, handing_over.PIECE: str(number)}
    return act_on(here, order_id, asked, act, _back(order_id, number, form))


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
        back = progress.take_back(here.store, at_version(order_id, form), here.act, number)
        return f"The last change of piece {number} is taken back.{put_back_words(back)}"

    return act_on(here, order_id, form, act, _back(order_id, number, form))


@router.post("/pieces/{number}/remove")
def remove_piece(here: Here, form: TypedForm, order_id: Id, number: Id) -> Response:
    """Take a quoted piece off its quote."""

    def act() -> str:
        orders.remove_piece(here.store, at_version(order_id, form), number, here.act)
        return f"Piece {number} is removed."

    return act_on(here, order_id, form, act)


@router.post("/terms")
def set_terms(here: Here, form: TypedForm, order_id: Id) -> Response:
    """Keep the due date and the note."""
    known = order_of(here, order_id)

    def act() -> str:
        terms = forms.TERMS.read(form, known)
        at = at_version(order_id, form)
        orders.set_due_and_note(here.store, at, terms["due"], terms["note"], here.act)
        return f"Date and note are kept.{forms.closed_then(here.shop, terms['due'])}"

    return act_on(here, order_id, form, act)


@router.post("/entries")
def add_entry(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Write down money that was received or given back."""
    if only_asks(form, live):
        return tell(here, order_id, form, live)
    known = order_of(here, order_id)

    def act() -> str:
        payment = payments.Payment(**forms.PAYMENT.read(form, known))
        return _keep_entry(here, at_version(order_id, form), payment)

    return act_on(here, order_id, form, act)


def _keep_entry(here: RequestContext, at: OrderAt, payment: payments.Payment) -> str:
    """Write an entry down and say which. Raises: Invalid at the form's fields."""
    amount = show_money(payment.amount)
    try:
        if payment.kind is EntryKind.REFUND:
            payments.refund(here.store, at, payment, here.act)
            return f"{amount} given back is written down."
        payments.add_payment(here.store, at, payment, here.act)
    except Invalid as invalid:
        raise invalid.under("payment") from invalid
    return f"{amount} received is written down."


@router.post("/entries/{entry_id}/correct")
def correct_entry(here: Here, form: TypedForm, order_id: Id, entry_id: Id) -> Response:
    """Write a contrary entry for one that was a mistake."""

    def act() -> str:
        payments.correct_entry(here.store, at_version(order_id, form), entry_id, here.act)
        return "Corrected by a contrary entry."

    return act_on(here, order_id, form, act)


@router.post("/reductions")
def reduce(here: Here, form: TypedForm, order_id: Id, live: str = "") -> Response:
    """Take an amount off as goodwill, so that the order comes to less from now on."""
    if only_asks(form, live):
        return tell(here, order_id, form, live)
    known = order_of(here, order_id)

    def act() -> str:
        goodwill = reductions.Goodwill(**forms.GOODWILL.read(form, known))
        try:
            reductions.reduce(here.store, at_version(order_id, form), goodwill, here.act)
        except Invalid as invalid:
            raise invalid.under("goodwill") from invalid
        return f"{show_money(goodwill.amount)} is taken off.{_to_return(here, order_id)}"

    return act_on(here, order_id, form, act)


@router.post("/reductions/{reduction_id}/undo")
def undo_reduction(here: Here, form: TypedForm, order_id: Id, reduction_id: Id) -> Response:
    """Write a contrary entry for a reduction that was a mistake."""

    def act() -> str:
        reductions.undo(here.store, at_version(order_id, form), reduction_id, here.act)
        return "Undone by a contrary entry."

    return act_on(here, order_id, form, act)


def _to_return(here: RequestContext, order_id: int) -> str:
    """Say how much is to be returned, where more was received than the order now comes to."""
    balance = account_now(orders.get(here.store, order_id)).balance
    if balance.minor >= 0:
        return ""
    return f" {show_money(-balance)} is to return; write it down as a refund when it is given back."


def still_owed(here: RequestContext, order_id: int, stage: Stage) -> str:
    """Say what is still owed, where work leaves the shop before it is paid."""
    if stage is not Stage.COLLECTED:
        return ""
    balance = account_now(orders.get(here.store, order_id)).balance
    return f" {show_money(balance)} is still to pay." if balance.minor > 0 else ""


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


def _moved(here: RequestContext, order_id: int, move: progress.PieceMove) -> str:
    """Say what has moved: "Piece 2 is", "8 of the 20 of piece 2 are"."""
    piece = piece_of(orders.get(here.store, order_id), move.number)
    if move.count in (None, piece.copies):
        return f"Piece {move.number} is"
    return f"{move.count} of the {piece.copies} of piece {move.number} {'is' if move.count == 1 else 'are'}"


def stage_asked(form: Typed) -> Stage:
    """Read the stage that a button asks for. Raises: Conflict where it is none."""
    if form.get("stage") in set(Stage):
        return Stage(form["stage"])
    raise Conflict(f"{quoted(form.get('stage', ''))} is not a stage.")


def at_version(order_id: int, form: Typed) -> OrderAt:
    """Return the order at the version that a form was made from."""
    return OrderAt(id=order_id, version=read_version(form))


def _back(order_id: int, number: int, form: Typed) -> str:
    """Return the page on which a button of a piece was pressed: its own page, or its order's."""
    order = f"/orders/{order_id}"
    return f"{order}/pieces/{number}" if form.get("back") == "piece" else order
