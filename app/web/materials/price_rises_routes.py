"""Routes that raise many prices by a percentage: look first, then carry it out."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted
from app.errors import Conflict, Fault, Invalid
from app.services import price_book
from app.web.kit.context import Here, LongTypedForm, RequestContext
from app.web.kit.tally import Tally
from app.web.kit.templating import render, see
from app.web.materials import price_rises_page as page_of

router = APIRouter(prefix="/materials/raise")


@router.get("")
def look(here: Here) -> HTMLResponse:
    """Show the question; once it is asked, what would change."""
    typed = dict(here.request.query_params)
    return _show(here, typed, asked="percent" in typed)


@router.post("")
def carry_out(here: Here, form: LongTypedForm) -> Response:
    """Raise the prices that were looked at and are ticked; or tick all or none of them."""
    if form.get("action", "").partition(":")[0] in ("all", "none"):
        return _show(here, form, asked=True)
    try:
        asked, seen = page_of.read_raise(form, here.shop), page_of.read_seen(form.get("seen", ""))
        left = page_of.without(price_book.preview_raise(here.store, asked), form)
        if seen and left >= set(seen):
            return _show(here, form, asked=True, faults=(_NONE,), status=422)
        count = price_book.raise_prices(here.store, asked, seen, here.act, without=left)
    except Invalid as invalid:
        return _show(here, form, asked=False, faults=invalid.faults)
    except Conflict as conflict:
        return _show(here, form, asked=True, faults=(Fault(path="", message=conflict.message),))
    word = counted(count, "material is", "materials are")
    return see("/materials", f"The prices of {word} changed. Quotes keep the old ones.")


_NONE = Fault(path="", message="Nothing is ticked; tick the materials whose prices are to change.")


def _show(
    here: RequestContext,
    typed: dict[str, str],
    *,
    asked: bool,
    faults: tuple[Fault, ...] = (),
    status: int = 0,
) -> HTMLResponse:
    raising: tuple[price_book.Raising, ...] | None = None
    tally: tuple[Tally, ...] = ()
    left: frozenset[str] = frozenset()
    status = status or (409 if asked and faults else 422)
    if asked:
        try:
            wanted = page_of.read_raise(typed, here.shop)
            raising = price_book.preview_raise(here.store, wanted)
            left = page_of.without(raising, typed)
            tally = page_of.tally_of(raising, here.shop, wanted, left)
        except Invalid as invalid:
            faults = (*faults, *invalid.faults)
    materials = price_book.listed(here.store, inactive=True)
    known = page_of.OfSuppliers(here.shop, page_of.suppliers_of(materials))
    begun = page_of.begun(typed, here.shop)
    page = page_of.RaisePage(
        faults=faults,
        fields=page_of.form_fields(typed, faults, known),
        kinds=None
        if raising is None
        else page_of.kinds_of(raising, here.shop, left, typed.get("action", "")),
        tally=tally,
        seen=page_of.seen_text(raising or ()),
        asked=tuple((name, begun.get(name, "")) for name in page_of.RAISE.paths),
    )
    return render(here, "pages/materials/raise.html", page, status if faults else 200)
