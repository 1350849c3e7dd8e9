"""Routes of a test cut: propose it, compare what was measured, and keep the corrections by an act of their own."""

from dataclasses import dataclass

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.bench import Correction, Cutter, MatToCut, Measured, correct
from app.errors import Fault, Invalid
from app.forms.kinds import In
from app.forms.table import Typed
from app.lengths import Unit
from app.services import shop as shops
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import posted_again
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import render, see
from app.web.settings import test_cut_form as forms
from app.web.settings import test_cut_page as page_of
from app.web.settings.cutter_form import with_changed
from app.web.settings.cutters_routes import cutter_at
from app.web.settings.page import nav_sections

router = APIRouter(prefix="/settings/cutters/{number}/test")


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """A test cut with what it comes to."""

    mat: MatToCut
    measured: Measured
    correction: Correction


@router.get("")
def propose(here: Here, number: Id, scale: str = "") -> HTMLResponse:
    """Show a test mat that this cutter can cut, and its settings on one of its scales."""
    cutter = _read_on(cutter_at(here.shop, number), scale)
    mat = forms.proposed(cutter, here.shop.currency)
    return _show(here, number, mat | {"scale": cutter.unit.value})


@router.post("")
def compare(here: Here, form: TypedForm, number: Id) -> Response:
    """Show the settings of another test mat or the corrections, or keep the corrections."""
    kept = shops.get(here.store)
    cutter = cutter_at(kept.value, number)
    if form.get("action") == "propose":
        return _show(here, number, form, asked_to_compare=False)
    if form.get("action") != "keep":
        return _show(here, number, form)
    if read_version(form) != kept.version:
        return _show(here, number, form, (_CHANGED,), status=409)
    try:
        read = _read_on(cutter, form.get("scale", ""))
        corrected = _compared(here, read, form).correction.cutter.read_in(cutter.unit)
    except Invalid:
        return _show(here, number, form)
    shops.save(here.store, with_changed(kept.value, number, corrected), kept.version, here.act)
    return see("/settings/cutters", f"{corrected.name} is corrected; tickets say it from now on.")


_CHANGED = Fault(
    path="",
    message="The settings changed in the meantime, so nothing was saved. Check the corrections once "
    "more, beside the cutter as it is described now.",
)


def _read_on(cutter: Cutter, scale: str) -> Cutter:
    """Return the cutter read on the scale that the page names; on the one in use where it names none."""
    return cutter.read_in(Unit(scale)) if scale in set(Unit) else cutter


def _compared(here: RequestContext, cutter: Cutter, form: Typed) -> Compared:
    """Raises: Invalid with every fault, at the fields of the page."""
    currency = here.shop.currency
    mat = forms.read_test_mat(form, cutter, currency)
    measured = forms.read_measured(form, cutter, currency)
    try:
        correction = correct(cutter, mat, measured)
    except Invalid as invalid:
        raise Invalid(forms.at_the_page(invalid)) from invalid
    return Compared(mat=mat, measured=measured, correction=correction)


def _show(
    here: RequestContext,
    number: int,
    typed: Typed,
    faults: tuple[Fault, ...] = (),
    *,
    asked_to_compare: bool = True,
    status: int = 422,
) -> HTMLResponse:
    """Show the page with what was typed: settings once the mat can be read, corrections once they are asked for."""
    kept = shops.get(here.store)
    cutter = _read_on(cutter_at(kept.value, number), typed.get("scale", ""))
    known = In(cutter.unit, here.shop.currency)
    mat, found = None, None
    try:
        read = forms.read_test_mat(typed, cutter, here.shop.currency)
        mat = page_of.mat_shown(read, cutter, here.shop.mat_word.value)
        if asked_to_compare and "borders.left" in typed:
            found = _found(here, cutter, typed)
    except Invalid as invalid:
        faults = (*faults, *invalid.faults)
    make = Fields(typed, faults)
    page = page_of.TestCutPage(
        title=f"Test cut: {cutter.name}",
        faults=faults,
        nav_sections=nav_sections("cutters"),
        number=number,
        name=cutter.name,
        version=str(kept.version),
        scale=cutter.unit,
        other_scale=cutter.scales[1].unit if len(cutter.scales) > 1 else None,
        mat=mat,
        found=found,
        typed=posted_again(typed),
        mat_fields=FormView(forms.TEST_MAT, known, make),
        measured=FormView(forms.MEASURED, known, make),
    )
    return render(here, "pages/settings/test_cut.html", page, status if faults else 200)


def _found(here: RequestContext, cutter: Cutter, typed: Typed) -> page_of.CorrectionResult:
    compared = _compared(here, cutter, typed)
    return page_of.found_by(cutter, compared.mat, compared.correction)
