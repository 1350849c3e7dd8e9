"""Works out the form of a quote page: what the piece comes to, or what can be told of it and what is wrong with it."""

from dataclasses import replace

from app.errors import Fault, Invalid
from app.forms.table import Typed
from app.orders import Agreed, ArtworkRecord
from app.orders.dimensions_memo import worked_out
from app.orders.quoting.artwork import same_design
from app.orders.quoting.form import piece_typed
from app.orders.quoting.overruled import unsettled
from app.orders.quoting.piece_typed import PieceTyped
from app.orders.quoting.reader import NEEDED
from app.orders.quoting.said_units import as_likely, open_questions
from app.orders.quoting.standard_sizes import even_sizes, standard_sizes
from app.pricing import Material
from app.services import quotes
from app.services.boxes import from_price_book
from app.services.colour_matches import Needed
from app.services.on_rack import free_for
from app.services.orders import NewPiece
from app.services.price_book import hardware
from app.web.kit.context import RequestContext
from app.web.pictures import brought
from app.web.pictures.fitting import shows_photo
from app.web.pieces.piece import DrawingView, PieceView, piece_view
from app.web.pieces.price import PriceView
from app.web.pieces.price_steps import with_steps
from app.web.pieces.stock import FromRack, from_rack, really_used
from app.web.quotes import page as page_of
from app.web.quotes import repricing, usual
from app.web.quotes.new_moulding import with_new
from app.web.quotes.sheets import TODAYS, QuoteForm
from app.web.quotes.sizes import OffersView, next_sizes, sizes_that_would_do
from app.web.quotes.windows import came_out


def view_of(form: Typed) -> DrawingView:
    """Return the view of the drawing that is wanted."""
    return DrawingView(form["view"]) if form.get("view") in set(DrawingView) else DrawingView.SEEN


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
