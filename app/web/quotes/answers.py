"""What the quote page answers: to a form that is untouched, that is being typed, that cannot be kept, or that is asked about."""

from dataclasses import replace
from typing import Annotated

from fastapi import Query
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Conflict, Fault, NotFound
from app.forms.table import Typed
from app.orders.quoting.form import PHOTO, piece_typed
from app.orders.quoting.overruled import overruled
from app.orders.quoting.piece_typed import PieceTyped, is_object, unit_of
from app.orders.quoting.said_units import as_likely
from app.orders.quoting.windows import window_count
from app.services import pictures
from app.services.material_names import names_of
from app.services.material_offers import OfferTerms
from app.web.kit.context import LARGEST_ID, RequestContext
from app.web.kit.facing import TURN
from app.web.kit.fields import Fields, FieldView, FormView, OfShop
from app.web.kit.templating import render, render_part, wants_part
from app.web.pictures import brought
from app.web.pictures.block import photo_block
from app.web.quotes import choosing, straightening, turning, usual
from app.web.quotes import facing as facing_customer
from app.web.quotes import page as page_of
from app.web.quotes.going_on import keeps
from app.web.quotes.matching import match_view
from app.web.quotes.new_moulding import NEW_MOULDING
from app.web.quotes.partial import so_far_view
from app.web.quotes.said import choices_at, not_used_at, questions_at, said, taken_for
from app.web.quotes.sheets import TODAYS, QuoteForm
from app.web.quotes.sizes import TAKE, taken
from app.web.quotes.units import MARKED
from app.web.quotes.windows import windows_view
from app.web.quotes.working_out import outcome_of, view_of

SEEN = "seen"
"""What is to pay by the page from which a change is saved."""

CHANGED_MEANWHILE = (
    "It was changed elsewhere meanwhile. Turn the screen back and save again to see both versions."
)

PAGE = "pages/quotes/edit.html"
PARTS = "pages/quotes/parts.html"

type OfDesign = Annotated[int | None, Query(ge=1, le=LARGEST_ID)]
"""The number of a design of a piece; the one that counts where none is named."""


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
        form, sheet = done.form, replace(sheet, of_photo=done.said)
    action = form.get("action", "")
    posted = {**form, **said(action)}
    form = usual.renewed(here, posted)
    sheet = replace(sheet, grown=frozenset(form.keys() - posted.keys()))
    if action == TURN and not brought.refused(here):
        return turning.turned_with(here, sheet, form)
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


def _page(
    here: RequestContext, sheet: QuoteForm, form: Typed, outcome: page_of.Outcome | None = None
) -> page_of.QuotePage:
    outcome, aside, whole_form = outcome or page_of.Outcome(), "", form
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
            said=sheet.of_photo,
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
        told=sheet.who.told,
        aside=aside,
        match=match_view(
            here,
            form,
            known,
            outcome.takes,
            lambda path: offer_terms(here, whole_form, path, tax_free=sheet.tax_free),
        ),
        marked=form.get(MARKED, "{}"),
        usual=form.get(usual.USUAL),
        filled=usual.fills(form),
    )


def _beside_customer(sheet: QuoteForm, form: Typed) -> QuoteForm:
    """Return a quote page without what is said of customers who may be meant: it is for whom was typed, known or not."""
    if not sheet.asks_customer:
        return sheet
    named = form.get("customer", "").strip()
    subheading = f"for {named}" if named else "for whom, and what"
    return replace(sheet, who=page_of.Who(untold=True), subheading=subheading)


def only_asks(form: Typed, live: str) -> bool:
    """Tell whether a post asks what the piece comes to, without keeping it."""
    return bool(live) or not keeps(form.get("action", ""))
