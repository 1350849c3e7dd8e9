"""What the quote page answers: to a form that is untouched, that is being typed, that cannot be kept, or that is asked about."""

from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, Invalid, NotFound
from app.forms.table import Typed
from app.orders import Agreed, ArtworkRecord, Customer
from app.orders.dimensions_memo import worked_out
from app.orders.quoting.artwork import same_design
from app.orders.quoting.form import PHOTO, piece_typed
from app.orders.quoting.overruled import overruled, unsettled
from app.orders.quoting.piece_typed import PieceTyped, is_object, unit_of
from app.orders.quoting.reader import NEEDED
from app.orders.quoting.said_units import as_likely, open_questions
from app.orders.quoting.standard_sizes import even_sizes, standard_sizes
from app.orders.quoting.windows import window_count
from app.pricing import Material
from app.services import pictures, quotes
from app.services.boxes import from_price_book
from app.services.colour_matches import Needed
from app.services.material_names import names_of
from app.services.material_offers import OfferTerms
from app.services.on_rack import free_for
from app.services.orders import NewPiece
from app.services.price_book import hardware
from app.web.kit.context import LARGEST_ID, RequestContext
from app.web.kit.facing import TURN, turn, turn_at_once
from app.web.kit.fields import Fields, FieldView, FormView, OfShop
from app.web.kit.templating import render, render_part, wants_part
from app.web.pictures import brought
from app.web.pictures.block import photo_block
from app.web.pictures.fitting import shows_photo
from app.web.pieces.piece import DrawingView, PieceView, piece_view
from app.web.pieces.price import PriceView
from app.web.pieces.price_steps import with_steps
from app.web.pieces.stock import FromRack, from_rack, really_used
from app.web.quotes import choosing, repricing, straightening, usual
from app.web.quotes import facing as facing_customer
from app.web.quotes import page as page_of
from app.web.quotes.going_on import Onward, keeps
from app.web.quotes.matching import match_view
from app.web.quotes.new_moulding import NEW_MOULDING, with_new
from app.web.quotes.partial import so_far_view
from app.web.quotes.said import choices_at, not_used_at, questions_at, said, taken_for
from app.web.quotes.sizes import TAKE, OffersView, next_sizes, sizes_that_would_do, taken
from app.web.quotes.units import MARKED
from app.web.quotes.windows import came_out, windows_view

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
    keeps as long as only its artwork is described anew. quoted: whether that is a quote still. closed: why it is only looked at, "" where it may be saved. grown: fields that the posted form had not and
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
    quoted: bool = False
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
    outcome = outcome_of(here, sheet, form, faults)
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
        try:
            done = straightening.answered(here, form, heading=sheet.heading, action=sheet.action)
        except NotFound:
            gone = Fault(path=PHOTO, message=pictures.GONE)
            return show_typed(here, sheet, straightening.without(form), (gone,))
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
    offered = form | taken(action, outcome_of(here, sheet, form).offers)
    return show_typed(here, sheet, usual.renewed(here, offered))


def _show_mouldings(
    here: RequestContext, sheet: QuoteForm, form: Typed, chosen_for: tuple[str, int]
) -> HTMLResponse:
    """Return the page on which a moulding is chosen for a field, so many passed over."""
    path, skip = chosen_for
    terms = offer_terms(here, form, path, tax_free=sheet.tax_free)
    page = choosing.mouldings_page(
        here, form, terms, skip, heading=sheet.heading, action=sheet.action
    )
    if here.visitor.beside_customer:
        page = page.for_customer(names_of(here.store))
    return render(here, "pages/quotes/mouldings.html", page)


def offer_terms(here: RequestContext, form: Typed, path: str, *, tax_free: bool) -> OfferTerms:
    """Return what a moulding in a field is offered for: the piece as it is typed."""
    return OfferTerms(
        typed=piece_typed(form),
        path=path,
        shop=here.shop,
        today=here.today,
        before=usual.carried(form),
        tax_free=tax_free,
    )


def outcome_of(
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
        likely = outcome_of(here, sheet, as_likely(form, asked), refused)
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
        photo_drawn=shows_photo(dimensions),
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


def entered(
    here: RequestContext, sheet: QuoteForm, form: Typed
) -> tuple[NewPiece, Material | None]:
    """Work out what was typed, and return with it a moulding that was entered with it. Raises: Invalid."""
    typed, brings = with_new(here, piece_typed(form), form)
    return _priced(here, sheet, {**form, **typed}, brings), brings


def check_settled(here: RequestContext, sheet: QuoteForm, form: Typed) -> None:
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
        entered(here, sheet, form)
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
            page_of.customer_fields(
                here.shop,
                form,
                faults,
                sheet.who,
                page_of.BESIDE_CUSTOMER if names else page_of.CUSTOMER,
            )
            if sheet.asks_customer
            else None
        ),
        piece=piece,
        photo=photo_block(
            here,
            form.get(PHOTO, ""),
            drawn=window_count(typed) == 1 if outcome.photo_drawn is None else outcome.photo_drawn,
            size=straightening.size_typed(form, here.shop),
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
        kept_word="quoted" if names and sheet.quoted else "agreed",
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
    return replace(sheet, who=page_of.Who(untold=True), subheading=subheading)


def only_asks(form: Typed, live: str) -> bool:
    """Tell whether a post asks what the piece comes to, without keeping it."""
    return bool(live) or not keeps(form.get("action", ""))
