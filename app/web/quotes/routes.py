"""Routes of the quote page: a new quote, a further piece, a piece to change; live while one types."""

from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid, NotFound, quoted
from app.forms.reader import whole_number
from app.forms.table import Typed
from app.orders import Agreed, ArtworkRecord, Customer, Order, Piece, design_letter
from app.orders.copies import in_words
from app.orders.designs import undecided
from app.orders.dimensions_memo import worked_out
from app.orders.quoting.artwork import same_design
from app.orders.quoting.form import PHOTO, PieceTyped, is_object, piece_typed, unit_of
from app.orders.quoting.overruled import overruled, unsettled
from app.orders.quoting.reader import NEEDED
from app.orders.quoting.said_units import as_likely, open_questions
from app.orders.quoting.standard_sizes import even_sizes, standard_sizes
from app.pricing import Material
from app.services import customers, designs, orders, quotes, who_is_meant
from app.services.boxes import from_price_book
from app.services.colour_matches import Needed
from app.services.material_names import names_of
from app.services.material_offers import KIND_AT, OfferTerms
from app.services.on_rack import free_for
from app.services.order_transaction import DesignAt, OrderAt, piece_of
from app.services.orders import NewPiece
from app.services.price_book import hardware
from app.storage import Stale
from app.web.kit.common_fields import read_version
from app.web.kit.context import LARGEST_ID, Here, Id, RequestContext
from app.web.kit.facing import TURN, turn, turn_at_once
from app.web.kit.fields import Fields, FieldView, FormView, OfShop
from app.web.kit.templating import render, render_part, see, wants_part
from app.web.orders.piece_rows import may_add_design
from app.web.pictures import brought
from app.web.pictures.block import photo_block
from app.web.pieces.piece import DrawingView, PieceView, PriceView, piece_view
from app.web.pieces.place import on_order, order_with
from app.web.pieces.price_steps import with_steps
from app.web.pieces.stock import FromRack, from_rack, really_used
from app.web.quotes import choosing, repricing, straightening, usual
from app.web.quotes import facing as facing_customer
from app.web.quotes import page as page_of
from app.web.quotes.going_on import Onward, go_on, keeps, onward
from app.web.quotes.matching import match_view
from app.web.quotes.new_moulding import NEW_MOULDING, with_new
from app.web.quotes.partial import so_far_view
from app.web.quotes.said import SAY, choices_at, not_used_at, questions_at, said, taken_for
from app.web.quotes.sizes import TAKE, OffersView, next_sizes, sizes_that_would_do, taken
from app.web.quotes.units import MARKED, PieceForm
from app.web.quotes.windows import came_out, windows_view

router = APIRouter()

TODAYS = "todays_prices"
"""The box by which a changed piece is priced at today's price book."""

SEEN = "seen"
"""What is to pay by the page from which a change is saved."""

CHANGED_MEANWHILE = (
    "It was changed elsewhere meanwhile. Turn the screen back and save again to see both versions."
)

PAGE = "pages/quotes/edit.html"
PARTS = "pages/quotes/parts.html"

type OfDesign = Annotated[int | None, Query(ge=1, le=LARGEST_ID)]
"""The number of a design of a piece; the one that counts where none is named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteForm:
    """Which quote page it is: a new quote, a further piece of one, or a piece changed.

    who: may be meant by what was typed of a customer. agreed: what a piece that is changed
    keeps as long as only its artwork is described anew. closed: why it is only looked at, "" where it may be saved. grown: fields that the posted form had not and
    that were filled in as usual.
    onward: the buttons that save and go on.
    """

    heading: str
    subheading: str
    action: str
    save_label: str
    onward: Onward = ()
    version: int = 0
    customer: Customer | None = None
    asks_customer: bool = False
    who: page_of.Who = page_of.Who()
    agreed: Agreed | None = None
    closed: str = ""
    grown: frozenset[str] = frozenset()

    @property
    def tax_free(self) -> bool:
        """Whether the piece is priced without tax."""
        return bool(self.customer and self.customer.tax_free)


def view_of(form: Typed) -> DrawingView:
    """Return the view of the drawing that is wanted."""
    return DrawingView(form["view"]) if form.get("view") in set(DrawingView) else DrawingView.SEEN


def show_untouched(here: RequestContext, sheet: QuoteForm, form: Typed) -> HTMLResponse:
    """Return the page before anything was typed."""
    return render(here, PAGE, _page(here, sheet, form))


def show_refused(
    here: RequestContext, sheet: QuoteForm, form: Typed, conflict: Conflict
) -> HTMLResponse:
    """Return the page with what was typed, which the order as it stands now does not take.

    It goes on from the order's present version, so that saving again is a choice.
    """
    fault = Fault(path="", message=conflict.message, code=conflict.code)
    return show_typed(here, sheet, {**form, "version": str(sheet.version)}, (fault,), 409)


def show_typed(
    here: RequestContext,
    sheet: QuoteForm,
    form: Typed,
    faults: tuple[Fault, ...] = (),
    refused: int = 422,
) -> HTMLResponse:
    """Return the page with what was typed, worked out where it can be. refused: the status with faults.

    One that is only looked at says why, whatever is typed in it.
    """
    if sheet.closed and all(fault.path for fault in faults):
        refused = refused if faults else 200
        faults = (Fault(path="", message=sheet.closed, code=Conflict.code), *faults)
    outcome = _outcome(here, sheet, form, faults)
    outcome = replace(
        outcome, faults=tuple(dict.fromkeys((*outcome.faults, *brought.refused(here))))
    )
    page = _page(here, sheet, form, outcome)
    wrong = outcome.faults or outcome.needed
    if wants_part(here) and brought.only_photo((*outcome.faults, *outcome.needed)):
        wrong = ()  # the piece is worked out all the same
    status = refused if wrong else 200
    return (
        render_part(PARTS, page, status) if wants_part(here) else render(here, PAGE, page, status)
    )


def show_asked(here: RequestContext, sheet: QuoteForm, form: Typed) -> Response:
    """Return the page with what was typed and, where a button filled fields, with these."""
    if straightening.asked_for(form):
        done = straightening.answered(here, form, heading=sheet.heading, action=sheet.action)
        if isinstance(done, HTMLResponse):
            return done
        form = {**done, "action": "recalculate"}
    action = form.get("action", "")
    posted = {**form, **said(action)}
    form = usual.renewed(here, posted)
    sheet = replace(sheet, grown=frozenset(form.keys() - posted.keys()))
    if action == TURN:
        to_customer = turn_at_once(here.request)
        return turn(show_typed(here, sheet, form), to_customer=to_customer)
    chosen_for = choosing.asked_for(action)
    if chosen_for is not None:
        return _show_mouldings(here, sheet, form, chosen_for)
    if action.partition(":")[0] != TAKE:
        return show_typed(here, sheet, form)
    offered = form | taken(action, _outcome(here, sheet, form).offers)
    return show_typed(here, sheet, usual.renewed(here, offered))


def _show_mouldings(
    here: RequestContext, sheet: QuoteForm, form: Typed, chosen_for: tuple[str, int]
) -> HTMLResponse:
    """Return the page on which a moulding is chosen for a field, so many passed over."""
    path, skip = chosen_for
    terms = _offer_terms(here, form, path, tax_free=sheet.tax_free)
    page = choosing.mouldings_page(
        here, form, terms, skip, heading=sheet.heading, action=sheet.action
    )
    if here.visitor.beside_customer:
        page = page.for_customer(names_of(here.store))
    return render(here, "pages/quotes/mouldings.html", page)


def _offer_terms(here: RequestContext, form: Typed, path: str, *, tax_free: bool) -> OfferTerms:
    return OfferTerms(
        typed=piece_typed(form),
        path=path,
        shop=here.shop,
        today=here.today,
        before=usual.carried(form),
        tax_free=tax_free,
    )


@router.post("/quotes/materials")
def find_material(
    here: Here, form: PieceForm, at: str = "", q: str = "", free: str = ""
) -> HTMLResponse:
    """Show the materials under a field that finds one, each with the price of the piece and what lies on the rack."""
    if at not in KIND_AT:
        raise NotFound(f"No material is chosen for {quoted(at)}.")
    terms = _offer_terms(here, form, at, tax_free=bool(free))
    found = choosing.options(here, q, terms)
    if here.visitor.beside_customer:
        found = choosing.for_customer(found, terms, names_of(here.store))
    return render_part("pages/materials/find.html", found)


def _outcome(
    here: RequestContext, sheet: QuoteForm, form: Typed, faults: tuple[Fault, ...] = ()
) -> page_of.Outcome:
    """Work out the form.

    faults: those for which it was refused; what is needed or asked is then a fault as well.
    """
    try:
        typed, brings = with_new(here, piece_typed(form), form)
    except Invalid as invalid:
        return _faulty(here, piece_typed(form), faults, invalid.faults)
    try:
        piece = _priced(here, sheet, {**form, **typed}, brings)
    except Invalid as invalid:
        asked = open_questions(invalid.faults)
        if not asked:
            return _faulty(here, typed, faults, invalid.faults, brings)
        refused = tuple(dict.fromkeys((*faults, *asked))) if faults else ()
        likely = _outcome(here, sheet, as_likely(form, asked), refused)
        return replace(likely, asked=(*asked, *likely.asked))
    same = sheet.agreed is not None and same_design(sheet.agreed, typed)
    kept = sheet.agreed if same and not form.get(TODAYS) else None
    agreed = kept or piece.agreed
    dimensions = worked_out(agreed.spec)
    view = _viewed(here, piece.artwork, agreed, view_of(form), kept=kept is not None)
    sees_costs = here.visitor.sees_costs
    return page_of.Outcome(
        faults=faults,
        result=view,
        stock=_stock_for(here, agreed) if sees_costs else None,
        used=really_used(agreed, here.shop) if sees_costs else None,
        names=page_of.names_of(agreed.chosen, form)
        | came_out(dimensions, typed)
        | page_of.sizes_that_followed(dimensions, typed)
        | page_of.depth_of_spacers(agreed.spec, typed)
        | page_of.weight_guessed(view, typed),
        takes=Needed.by(dimensions),
        echoes=page_of.borders_that_followed(agreed),
        offers=_offers(here, agreed),
        kept_since=kept.priced_on if kept else None,
        change=_change(sheet.agreed, agreed, sees_costs=sees_costs) if not kept else None,
    )


def _stock_for(here: RequestContext, agreed: Agreed) -> FromRack:
    return from_rack(agreed, here.shop, free_for(here.store, agreed.chosen))


def _change(
    before: Agreed | None, agreed: Agreed, *, sees_costs: bool
) -> repricing.ChangeView | repricing.CustomerChange | None:
    change = repricing.change_view(before, agreed) if before else None
    return change.for_customer if change and not sees_costs else change


def _offers(here: RequestContext, agreed: Agreed) -> OffersView:
    """Standard sizes of the package; where the outside is given, those that make the borders equal."""
    dimensions, spec = worked_out(agreed.spec), agreed.spec
    if spec.outside is not None or spec.given_frame is not None:
        return next_sizes(even_sizes(dimensions, agreed.steps), matted=False)
    return next_sizes(standard_sizes(dimensions, here.shop), matted=bool(spec.mats))


def _entered(
    here: RequestContext, sheet: QuoteForm, form: Typed
) -> tuple[NewPiece, Material | None]:
    """Work out what was typed, and return with it a moulding that was entered with it. Raises: Invalid."""
    typed, brings = with_new(here, piece_typed(form), form)
    return _priced(here, sheet, {**form, **typed}, brings), brings


def _check_settled(here: RequestContext, sheet: QuoteForm, form: Typed) -> None:
    """Raises: Invalid where the photo is refused or text would be kept that is not used, with all else that is wrong with
    the piece.
    """
    before = sheet.agreed.typed if sheet.agreed else {}
    asked = (
        *brought.refused(here),
        *unsettled(PieceTyped(here.shop, piece_typed(form)), before, usual.there(form)),
    )
    if not asked:
        return
    try:
        _entered(here, sheet, form)
    except Invalid as invalid:
        raise Invalid((*asked, *invalid.faults)) from invalid
    raise Invalid(asked)


def _priced(
    here: RequestContext, sheet: QuoteForm, form: Typed, brings: Material | None
) -> NewPiece:
    """Work a piece out: what stays of an agreed one at its price, unless today's are asked for. Raises: Invalid."""
    store, shop, today, tax_free = here.store, here.shop, here.today, sheet.tax_free
    typed = piece_typed(form)
    if sheet.agreed is None or form.get(TODAYS):
        return quotes.worked_out(store, typed, shop, today=today, tax_free=tax_free, brings=brings)
    change = quotes.Change(agreed=sheet.agreed, typed=typed, brings=brings)
    return quotes.worked_out_changed(store, change, shop, today=today, tax_free=tax_free)


def _viewed(
    here: RequestContext, artwork: ArtworkRecord, agreed: Agreed, view: DrawingView, *, kept: bool
) -> PieceView:
    """Return the view of a piece, with what the price book has for an object in a box.

    kept: whether the price is one that was agreed before; only one of today is said to jump.
    """
    to_come = PieceTyped(here.shop, agreed.typed).frame_to_come
    for_customer = here.visitor.beside_customer
    seen = piece_view(
        artwork,
        agreed,
        here.shop,
        view,
        hardware=hardware(here.store),
        frame_to_come=to_come,
        for_customer=for_customer,
    )
    if for_customer:
        return seen
    if not kept and isinstance(seen.price, PriceView):
        seen = replace(seen, price=with_steps(seen.price, agreed, here.shop))
    return replace(seen, notices=(*seen.notices, *from_price_book(here.store, agreed)))


def _faulty(
    here: RequestContext,
    typed: Typed,
    refused: tuple[Fault, ...],
    of_piece: tuple[Fault, ...],
    brings: Material | None = None,
) -> page_of.Outcome:
    """Return what can be told of a piece that cannot be worked out."""
    found = tuple(dict.fromkeys((*refused, *of_piece)))
    needed = () if refused else tuple(fault for fault in found if fault.code == NEEDED)
    told = quotes.told_so_far(here.store, typed, of_piece, here.shop, brings)
    return page_of.Outcome(
        faults=tuple(fault for fault in found if fault not in needed),
        needed=needed,
        so_far=told,
        takes=Needed.by(told.dimensions if told else None),
        names=page_of.names_so_far(told) if told else {},
        offers=sizes_that_would_do(found),
    )


def _page(
    here: RequestContext, sheet: QuoteForm, form: Typed, outcome: page_of.Outcome | None = None
) -> page_of.QuotePage:
    outcome, aside = outcome or page_of.Outcome(), ""
    names = names_of(here.store) if here.visitor.beside_customer else None
    if names:
        facing = facing_customer.shown(form, names)
        form, aside = facing.form, facing.aside
        outcome = facing_customer.outcome_told(outcome, facing, names)
        sheet = _beside_customer(sheet, form)
    typed = piece_typed(form)
    faults, asked = outcome.faults, outcome.asked
    understood = page_of.understood(as_likely(typed, asked), here.shop) | dict(outcome.names)
    known = PieceTyped(here.shop, typed)
    questions = choices_at(faults) | not_used_at(overruled(known)) | questions_at(asked)
    habit = (usual.there(form), sheet.grown)
    piece = page_of.piece_fields(
        known,
        faults,
        understood,
        questions,
        echoes=outcome.echoes,
        habit=habit,
        finds_at=f"/quotes/materials?{'free=1&' if sheet.tax_free else ''}at=",
    )
    so_far = None
    if outcome.so_far is not None:
        wrong = (*faults, *outcome.needed)
        so_far = so_far_view(
            outcome.so_far, view_of(form), wrong, piece.values(), frame_to_come=known.frame_to_come
        )
        if names:
            so_far = so_far.for_customer(names.in_words)
    return page_of.QuotePage(
        title=sheet.heading,
        faults=faults,
        heading=sheet.heading,
        subheading=sheet.subheading,
        action=sheet.action,
        live=f"{sheet.action}{'&' if '?' in sheet.action else '?'}live=1",
        save_label="" if sheet.closed else sheet.save_label,
        onward=sheet.onward,
        version=form.get("version", str(sheet.version)),
        unit=unit_of(typed, here.shop).value,
        customer=(
            page_of.customer_fields(here.shop, form, faults, sheet.who)
            if sheet.asks_customer
            else None
        ),
        piece=piece,
        photo=photo_block(
            here,
            form.get(PHOTO, ""),
            windows=whole_number(form.get("windows.count", ""), digits=2) or 1,
        ),
        mat=here.shop.mat_word.value,
        is_object=is_object(typed),
        windows=windows_view(piece, typed),
        needed=outcome.needed,
        frame_to_come=known.frame_to_come,
        taken=taken_for(asked),
        result=outcome.result,
        stock=outcome.stock,
        used=outcome.used,
        so_far=so_far,
        offers=outcome.offers,
        views=page_of.views(view_of(form)),
        tax_word=page_of.tax_word(here.shop, tax_free=sheet.tax_free),
        kept_since=outcome.kept_since,
        change=outcome.change,
        todays_prices=(
            None
            if sheet.agreed is None or names
            else FieldView(
                path=TODAYS, label="Today’s prices for all of it", value=form.get(TODAYS, "")
            )
        ),
        new_moulding=None
        if names
        else FormView(NEW_MOULDING, OfShop(here.shop), Fields(form, faults)),
        for_customer=names is not None,
        aside=aside,
        match=match_view(here, form, known, outcome.takes),
        marked=form.get(MARKED, "{}"),
        usual=form.get(usual.USUAL),
        filled=usual.fills(form),
    )


def _beside_customer(sheet: QuoteForm, form: Typed) -> QuoteForm:
    """Return a quote page without what is said of customers who may be meant, until the name is typed in full."""
    if not sheet.asks_customer:
        return sheet
    named = form.get("customer", "").strip().casefold()
    known = sheet.customer is not None and named.startswith(sheet.customer.name.casefold())
    subheading = sheet.subheading if known else "for whom, and what"
    return replace(sheet, who=page_of.Who(), subheading=subheading)


def only_asks(form: Typed, live: str) -> bool:
    """Tell whether a post asks what the piece comes to, without keeping it."""
    return bool(live) or not keeps(form.get("action", ""))


def _new_quote(who: page_of.Who) -> QuoteForm:
    """Make the quote for the only known customer who may be meant."""
    customer = who.fitting[0] if len(who.fitting) == 1 else None
    return QuoteForm(
        heading="A new quote",
        subheading=f"for {customer.name}" if customer else "for whom, and what",
        action="/quotes",
        save_label="Save the quote",
        onward=onward(None),
        customer=customer,
        asks_customer=True,
        who=who,
    )


@router.get("/quotes/new")
def new_quote(
    here: Here, customer: Annotated[int | None, Query(le=LARGEST_ID)] = None
) -> HTMLResponse:
    """Show an empty quote page, for a customer where one is named."""
    form = usual.begun(here, page_of.default_typed(here.shop))
    if customer is None:
        return show_untouched(here, _new_quote(page_of.Who()), form)
    known = customers.get(here.store, customer).value
    form["customer"] = who_is_meant.label(customer, known.name)
    return show_untouched(here, _new_quote(page_of.Who(fitting=(known,))), form)


@router.post("/quotes")
def save_quote(here: Here, form: PieceForm, live: str = "") -> Response:
    """Work a quote out, or keep it and go to it."""
    if only_asks(form, live):
        answered = {**form, **said(form.get("action", ""))}
        return show_asked(here, _quote_typed(here, answered), answered)
    form = usual.renewed(here, form)
    asked = who_is_meant.CustomerRequest.of(form)
    try:
        _check_settled(here, _new_quote(page_of.Who()), form)
        typed, brings = with_new(here, piece_typed(form), form)
        order_id = quotes.save_new(here.store, asked, typed, here.shop, here.act, brings)
    except Invalid as invalid:
        return show_typed(here, _quote_typed(here, form), form, invalid.faults)
    done = f"The quote is saved as {orders.get(here.store, order_id).number}.{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, f"/orders/{order_id}#take")


def _came(here: RequestContext, brings: Material | None) -> str:
    """Say to the shop that a moulding came into the price book, in a sentence to follow another."""
    if brings is None or not here.visitor.sees_costs:
        return ""
    return f" {brings.code} is in the price book now; complete it there."


def _quote_typed(here: RequestContext, form: Typed) -> QuoteForm:
    return _new_quote(page_of.Who.typed(here.store, form))


def _further_piece(here: RequestContext, order: Order) -> QuoteForm:
    customer = customers.get(here.store, order.customer_id).value
    return QuoteForm(
        heading="A further piece",
        subheading=f"for {customer.name} · {order.number}",
        action=f"/orders/{order.id}/pieces",
        save_label="Add the piece",
        onward=onward(order, undecided=bool(undecided(order))),
        version=order.version,
        customer=customer,
    )


@router.get("/orders/{order_id}/pieces/new")
def new_piece(here: Here, order_id: Id, like: OfDesign = None) -> HTMLResponse:
    """Show a further piece for a quote that is there: empty, or one that begins as a piece of it.

    Raises: Conflict for one like a piece of what is ordered.
    """
    order = orders.get(here.store, order_id)
    if like is not None and not may_add_design(order):
        raise Conflict(
            f"{order.number} is {order.stage}, so one like it would be made and charged as one more "
            "piece. Change the piece, or add a further one."
        )
    sheet = _further_piece(here, order)
    if like is None:
        return show_untouched(here, sheet, usual.begun(here, page_of.default_typed(here.shop)))
    agreed = quotes.typed_as_agreed(here.store, piece_of(order, like), here.shop)
    return show_typed(here, sheet, page_of.default_typed(here.shop) | dict(agreed.typed))


@router.post("/orders/{order_id}/pieces")
def add_piece(
    here: Here,
    form: PieceForm,
    order_id: Id,
    live: str = "",
) -> Response:
    """Work a further piece out, or add it to its quote."""
    sheet = _further_piece(here, orders.get(here.store, order_id))
    if only_asks(form, live):
        return show_asked(here, sheet, form)
    form = usual.renewed(here, form)
    try:
        _check_settled(here, sheet, form)
        piece, brings = _entered(here, sheet, form)
        number = orders.add_piece(here.store, _at(order_id, form), piece, here.act)
    except Invalid as invalid:
        return show_typed(here, sheet, form, invalid.faults)
    except Conflict as conflict:
        return show_refused(here, sheet, form, conflict)
    done = f"The piece is added.{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, order_with(order_id, number))


def _another_design(here: RequestContext, order: Order, number: int) -> QuoteForm:
    """Return the form of another design. Raises: Conflict for a piece that is not only quoted."""
    piece = piece_of(order, number)
    designs.check_open(order, piece)
    customer = customers.get(here.store, order.customer_id).value
    return QuoteForm(
        heading=f"Another design of {piece.artwork.title or f'piece {number}'}",
        subheading=f"for {customer.name} · {order.number} · piece {number}",
        action=f"/orders/{order.id}/pieces/{number}/designs",
        save_label="Add the design",
        onward=onward(order, undecided=True),
        version=order.version,
        customer=customer,
    )


@router.get("/orders/{order_id}/pieces/{number}/designs/new")
def new_design(here: Here, order_id: Id, number: Id, like: OfDesign = None) -> HTMLResponse:
    """Show another design of a quoted piece, which begins as one that it has. Raises: Conflict."""
    order = orders.get(here.store, order_id)
    sheet = _another_design(here, order, number)
    piece = DesignAt(piece=number, design=like).of(order)
    return show_typed(here, sheet, _typed_of(here, piece))


@router.post("/orders/{order_id}/pieces/{number}/designs")
def add_design(here: Here, form: PieceForm, order_id: Id, number: Id, live: str = "") -> Response:
    """Work another design out, or put it beside those that are there."""
    sheet = _another_design(here, orders.get(here.store, order_id), number)
    if only_asks(form, live):
        return show_asked(here, sheet, form)
    try:
        _check_settled(here, sheet, form)
        piece, brings = _entered(here, sheet, form)
        added = designs.add(here.store, _at(order_id, form), number, piece, here.act)
    except Invalid as invalid:
        return show_typed(here, sheet, form, invalid.faults)
    except Conflict as conflict:
        return show_refused(here, sheet, form, conflict)
    done = f"Design {design_letter(added)} of piece {number} is added.{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, on_order(order_id, number))


def _typed_of(here: RequestContext, piece: Piece) -> Typed:
    """Return what a form of the design that counts begins with: as typed, of the artwork as it is known now."""
    typed = dict(quotes.typed_as_agreed(here.store, piece, here.shop).typed)
    if len(piece.designs) > 1:
        typed["artwork.kind"] = piece.artwork.kind.value
    return page_of.default_typed(here.shop) | typed


def _changed_piece(
    here: RequestContext, order: Order, number: int, design: int | None
) -> QuoteForm:
    customer = customers.get(here.store, order.customer_id).value
    piece = DesignAt(piece=number, design=design).of(order)
    which = f" · design {piece.counted.letter}" if len(piece.designs) > 1 else ""
    return QuoteForm(
        heading=piece.artwork.title or f"Piece {number}",
        subheading=f"for {customer.name} · {order.number} · piece {number}{which}",
        action=f"/orders/{order.id}/pieces/{number}{_of(design)}",
        save_label="Save the change",
        onward=onward(order, undecided=bool(undecided(order))),
        version=order.version,
        customer=customer,
        agreed=quotes.typed_as_agreed(here.store, piece, here.shop),
        closed="" if orders.is_changeable(piece) else _closed(piece),
    )


def _of(design: int | None) -> str:
    """Return the design of an address, where one is named."""
    return f"?design={design}" if design else ""


@router.get("/orders/{order_id}/pieces/{number}/change")
def change_piece(
    here: Here, order_id: Id, number: Id, design: OfDesign = None, take: str = ""
) -> HTMLResponse:
    """Show a piece as it was typed, to be changed: one of its designs, or the one that counts.

    One that is cut is shown with the reason why it is not changed any more.
    take: a field that is filled, before a colon, and with what.
    """
    order = orders.get(here.store, order_id)
    sheet = _changed_piece(here, order, number, design)
    piece = DesignAt(piece=number, design=design).of(order)
    typed = {**_typed_of(here, piece), **said(f"{SAY}:{take}")}
    return show_typed(here, sheet, typed)


def _closed(piece: Piece) -> str:
    """Say why a piece is only looked at."""
    if piece.deleted:
        return "This piece is deleted with its quote, so it is only looked at here. Bring the quote back to change it."
    stands = in_words(piece.stands) if len(piece.stands) > 1 else piece.stage_word
    return (
        f"This piece is {stands}, so it is only looked at here: a piece can be changed until the first cut. Undo the "
        "last change, or make a new quote."
    )


@router.post("/orders/{order_id}/pieces/{number}")
def save_piece(
    here: Here,
    form: PieceForm,
    order_id: Id,
    number: Id,
    *,
    live: str = "",
    design: OfDesign = None,
) -> Response:
    """Work a changed piece out, or agree it anew; a second tab is shown both."""
    sheet = _changed_piece(here, orders.get(here.store, order_id), number, design)
    if only_asks(form, live):
        return show_asked(here, sheet, form)
    if sheet.version == read_version(form) and not _was_seen(here, sheet, form):
        return show_typed(here, sheet, form)
    try:
        _check_settled(here, sheet, form)
        typed, brings = with_new(here, piece_typed(form), form)
        retyped = quotes.Retyped(
            which=DesignAt(piece=number, design=design),
            typed=typed,
            brings=brings,
            todays_prices=bool(form.get(TODAYS)),
        )
        at = _at(order_id, form)
        kept = quotes.change_piece(here.store, at, retyped, here.shop, here.act)
    except Invalid as invalid:
        return show_typed(here, sheet, form, invalid.faults)
    except Stale as stale:
        return _two_versions(here, sheet, form, stale, DesignAt(piece=number, design=design))
    except Conflict as conflict:
        return show_refused(here, sheet, form, conflict)
    anew = "at today's prices" if form.get(TODAYS) else "at today's prices for what is new in it"
    said = "is saved; its price stays as agreed." if kept else f"is changed, {anew}."
    which = f"Piece {number}, design {design_letter(design)}," if design else f"Piece {number}"
    done = f"{which} {said}{_came(here, brings)}"
    return go_on(here, order_id, form["action"], done, order_with(order_id, number))


def _two_versions(
    here: RequestContext, sheet: QuoteForm, form: Typed, stale: Stale, which: DesignAt
) -> HTMLResponse:
    """Return both versions; beside a customer the form, which goes on from the version that it began with."""
    if here.visitor.beside_customer:
        return show_typed(here, sheet, form, (Fault(path="", message=CHANGED_MEANWHILE),), 409)
    page = repricing.two_versions(stale, which.piece, form, here.shop, which.design)
    return render(here, "pages/quotes/two_versions.html", page, 409)


def _was_seen(here: RequestContext, sheet: QuoteForm, form: Typed) -> bool:
    """Tell whether the form was sent from a page that showed the price which would be kept.

    A form that does not say what was seen, as that of two versions, is not held back.
    """
    outcome = _outcome(here, sheet, form) if SEEN in form else None
    return outcome is None or outcome.change is None or outcome.change.seen == form[SEEN]


@router.get("/orders/{order_id}/pieces/{number}/price-again")
def price_again(here: Here, order_id: Id, number: Id, design: OfDesign = None) -> Response:
    """Show the old price beside today's; a piece that needs a change first is shown to be changed."""
    which = DesignAt(piece=number, design=design)
    try:
        priced = quotes.price_again(here.store, order_id, which, here.shop, today=here.today)
    except Invalid:
        return _to_be_changed(order_id, number, design)
    page = repricing.price_again_page(priced, _of(design))
    return render(here, "pages/quotes/price_again.html", page)


@router.post("/orders/{order_id}/pieces/{number}/price-again")
def keep_new_price(
    here: Here, form: PieceForm, order_id: Id, number: Id, design: OfDesign = None
) -> Response:
    """Agree today's price in place of the old one, which stays in the record."""
    at, which = _at(order_id, form), DesignAt(piece=number, design=design)
    try:
        quotes.keep_new_price(here.store, at, which, here.shop, here.act)
    except Invalid:
        return _to_be_changed(order_id, number, design)
    return see(order_with(order_id, number), f"Piece {number} has today's price.")


def _to_be_changed(order_id: int, number: int, design: int | None) -> Response:
    """Send to the form of a piece that can no longer be made as typed, which says why at its fields."""
    return see(f"/orders/{order_id}/pieces/{number}/change{_of(design)}")


def _at(order_id: int, form: Typed) -> OrderAt:
    return OrderAt(id=order_id, version=read_version(form))
