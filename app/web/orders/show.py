"""Shows a quote or order as it stands, after an act and where one was refused; what its routes share."""

from collections.abc import Callable, Sequence
from types import MappingProxyType

from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid, quoted
from app.forms.table import Typed
from app.money import show_money
from app.orders import Order, Piece, Stage
from app.orders.designs import with_taken
from app.services import (
    customers,
    cut_by_hand,
    deleted_quotes,
    invoices,
    orders,
    spoiling,
    ticket_prints,
)
from app.services import telling as told
from app.services.consumption import sold_by_lines, used_by_pieces
from app.services.on_rack import free_for
from app.services.order_transaction import OrderAt, account_now
from app.services.plan_bench import planned_pieces
from app.services.price_book import hardware
from app.services.shortages import states_of_pieces
from app.web.kit.common_fields import read_version
from app.web.kit.context import RequestContext
from app.web.kit.errors import RefusedAct
from app.web.kit.templating import WithPaper, render, render_part, see
from app.web.orders import form as forms
from app.web.orders import handing_over, money, telling
from app.web.orders import page as page_of
from app.web.orders.customer_page import customer_page
from app.web.orders.invoices_page import invoices_view
from app.web.orders.line_cards import line_cards
from app.web.orders.materials import materials_of_order, stock_state
from app.web.orders.next_act import Known, next_act
from app.web.orders.parts import open_part, opened_by
from app.web.orders.target import TargetView
from app.web.pictures.fitting import notices_of_pieces
from app.web.pieces.cut_asks import cut_asks
from app.web.pieces.material_states import MaterialStand, stands_of, stands_of_cut, stands_of_used
from app.web.pieces.planned import PlannedView, planned_view
from app.web.pieces.printed import PrintedView, printed_views
from app.web.pieces.spoiled import SpoiledView, spoiled_view

NOTHING_TYPED: Typed = MappingProxyType({})


def show_order(
    here: RequestContext,
    order_id: int,
    refused: RefusedAct | None = None,
    target: TargetView | None = None,
    asked: Typed = NOTHING_TYPED,
) -> HTMLResponse:
    """Return the page as things stand now; with what was typed in one of its forms and why it was refused, or what a
    target price leaves. asked: what the address fills in. Of a long order the part with the piece that it is about is open.
    Beside the customer it is the customer's version.
    """
    order = orders.get(here.store, order_id)
    if here.visitor.beside_customer:
        told_why = customer_page(here, order, refused.faults if refused else ())
        return render(
            here, "pages/orders/customer.html", told_why, refused.status if refused else 200
        )
    opened = open_part(order.pieces, opened_by(here))
    uncut = (
        design.agreed.chosen
        for piece in opened
        for design in piece.designs
        if piece.stage in orders.CHANGEABLE
    )
    rack = free_for(here.store, *uncut)
    faults = refused.faults if refused else ()
    typed = refused.typed if refused else asked
    known = forms.of_order(order, here.shop, here.today)
    stands = stands_of_pieces(here, order.pieces)
    planned, spoiled = planned_now(here, order.pieces), spoiled_now(here, order.pieces)
    customer = customers.get(here.store, order.customer_id).value
    noted = told.of_order(here.store, order_id)
    telling_of = telling.telling_view(known, noted, typed, faults, has_email=bool(customer.email))
    materials = materials_of_order(stands)
    asks = cut_asks(here.store, order.pieces, stands)
    page = page_of.OrderPage(
        title=f"{order.number} {order.customer_name}",
        section="Orders" if order.order_number else "Quotes",
        faults=faults,
        customer=customer,
        next=next_act(
            order,
            Known(
                account=known.account,
                materials=materials,
                planned=planned,
                spoiled=spoiled,
                told=telling_of.stands,
                asks=asks,
            ),
        ),
        materials=materials,
        stands=stands,
        stock={number: stock_state(of_piece) for number, of_piece in stands.items()},
        planned=planned,
        printed=printed_now(here, order, order.pieces),
        spoiled=spoiled,
        asks=asks.of_piece,
        lines=line_cards(order, _sold_by(here, order)),
        hand_over=handing_over.hand_over_view(known, typed, faults),
        telling=telling_of,
        invoices=invoices_view(
            known,
            invoices.of_order(here.store, order),
            invoices.later_day(here.store, order, here.today),
            typed,
            faults,
        ),
        target=target,
        may_delete=deleted_quotes.may_be_deleted(here.store, order),
        **page_of.order_fields(
            order,
            here.shop,
            here.today,
            rack,
            orders.agreed_anew(here.store, order_id),
            opened=opened,
            hardware=hardware(here.store),
            noted=spoiling.noted_of_parts(here.store, [piece.id for piece in order.pieces]),
            of_photos=notices_of_pieces(here.store, opened),
        ),
        **page_of.form_fields(known, typed, faults),
    )
    return render(here, "pages/orders/show.html", page, refused.status if refused else 200)


def _sold_by(here: RequestContext, order: Order) -> dict[int, tuple[MaterialStand, ...]]:
    """Return what each line took off the rack, by its id."""
    ids = [line.id for line in order.lines]
    found = sold_by_lines(here.store, ids) if ids else {}
    return {
        line_id: stands_of_used(used, here.shop.unit, "sold") for line_id, used in found.items()
    }


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
    found = spoiling.spoiled_now(here.store, [piece.id for piece in pieces])
    views = {piece.number: spoiled_view(piece, found.get(piece.id, ())) for piece in pieces}
    return {number: view for number, view in views.items() if view is not None}


type Stands = dict[int, tuple[MaterialStand, ...]]
"""How it stands with the materials of pieces, by their numbers."""


def stands_now(here: RequestContext, piece: Piece) -> tuple[MaterialStand, ...]:
    """Return how it stands with the materials of a piece in work, and what one that is framed took off the rack."""
    return stands_of_pieces(here, (piece,))[piece.number]


def stands_of_pieces(here: RequestContext, pieces: Sequence[Piece]) -> Stands:
    """Return how it stands with the materials of several pieces."""
    done = [each.id for each in pieces if each.stage in _TOOK_ITS_MATERIAL]
    in_work = [each.id for each in pieces if each.stage in (Stage.ORDERED, Stage.CUT)]
    used = used_by_pieces(here.store, done) if done else {}
    cut = cut_by_hand.cut_up(here.store, in_work) if in_work else {}
    states = states_of_pieces(here.store, in_work) if in_work else {}
    found: Stands = {}
    for piece in pieces:
        found[piece.number] = stands_of_used(used.get(piece.id, ()), here.shop.unit)
        if piece.id in in_work:
            stands = stands_of(piece.agreed.chosen, states.get(piece.id, {}))
            found[piece.number] = (*stands, *stands_of_cut(cut.get(piece.id, ())))
    return found


_TOOK_ITS_MATERIAL = (Stage.FRAMED, Stage.COLLECTED, Stage.CANCELLED)


def act_on(
    here: RequestContext,
    order_id: int,
    form: Typed,
    act: Callable[[], str | WithPaper],
    back: str = "",
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
    page = money.AmountsPart(amounts=money.amounts_there(known, form, faults))
    return render_part("pages/orders/amounts.html", page)


def order_of(here: RequestContext, order_id: int, form: Typed = NOTHING_TYPED) -> forms.OfOrder:
    """Return the order with what its forms follow from. form: may take designs of its pieces. Raises: NotFound."""
    order = orders.get(here.store, order_id)
    taken = with_taken(order, forms.taken_in(form, order))
    return forms.of_order(taken, here.shop, here.today)


def stage_asked(form: Typed) -> Stage:
    """Read the stage that a button asks for. Raises: Conflict where it is none."""
    if form.get("stage") in set(Stage):
        return Stage(form["stage"])
    raise Conflict(f"{quoted(form.get('stage', ''))} is not a stage.")


def at_version(order_id: int, form: Typed) -> OrderAt:
    """Return the order at the version that a form was made from."""
    return OrderAt(id=order_id, version=read_version(form))


def still_owed(here: RequestContext, order_id: int, stage: Stage) -> str:
    """Say what is still owed, where work leaves the shop before it is paid."""
    if stage is not Stage.COLLECTED:
        return ""
    balance = account_now(orders.get(here.store, order_id)).balance
    return f" {show_money(balance)} is still to pay." if balance.minor > 0 else ""
