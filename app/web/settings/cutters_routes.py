"""Routes of the shop's mat cutters: list, describe, put first and remove them."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.bench import Cutter, doubtful, usual_cutter
from app.errors import Fault, Invalid, NotFound
from app.forms.kinds import In
from app.forms.table import Typed
from app.lengths import Unit
from app.orders import Shop
from app.services import shop as shops
from app.storage import Stale, Versioned
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import Fields, FormView
from app.web.kit.templating import render, see
from app.web.settings import cutter_form as forms
from app.web.settings import cutters_page as page_of
from app.web.settings.cutter_fields import CUTTER, second_unit
from app.web.settings.page import nav_sections

router = APIRouter(prefix="/settings/cutters")

LIST = "/settings/cutters"


@router.get("")
def show_all(here: Here) -> HTMLResponse:
    """Give every cutter, the one that tickets speak of first."""
    kept = shops.get(here.store)
    page = page_of.CuttersPage(
        nav_sections=nav_sections("cutters"),
        version=kept.version,
        cutters=tuple(
            page_of.cutter_card(number, cutter)
            for number, cutter in enumerate(kept.value.cutters, start=1)
        ),
        usual=page_of.cutter_card(1, usual_cutter(kept.value.unit)),
        full=forms.no_room(kept.value),
    )
    return render(here, "pages/settings/cutters.html", page)


@router.get("/new")
def show_new(here: Here, unit: str = "") -> HTMLResponse:
    """Show a cutter to describe, as the usual one in a unit to begin with."""
    scale = Unit(unit) if unit in set(Unit) else here.shop.unit
    begun = forms.cutter_typed(usual_cutter(scale), here.shop) | {"name": "", "was": ""}
    return _show(here, None, begun)


@router.post("/new")
def add(here: Here, form: TypedForm) -> Response:
    """Keep a new cutter; the first one that is described is the one that tickets speak of."""
    if form.get("action") == "edit":
        return _show(here, None, form)
    kept = shops.get(here.store)
    if form.get("action") in set(Unit):
        return _show(here, None, forms.begun_in(Unit(form["action"]), form, kept.value))
    try:
        cutter = forms.read_cutter(form, kept.value)
        shops.save(here.store, forms.with_added(kept.value, cutter), kept.version, here.act)
    except Invalid as invalid:
        return _show(here, None, forms.with_units(form, kept.value), invalid.faults)
    return see(LIST, _kept(cutter))


@router.get("/{number}")
def show(here: Here, number: Id) -> HTMLResponse:
    """Show a cutter to change."""
    return _show(here, number, forms.cutter_typed(cutter_at(here.shop, number), here.shop))


@router.post("/{number}")
def change(here: Here, form: TypedForm, number: Id) -> Response:
    """Keep a cutter as it is described now."""
    if form.get("action") == "edit":
        return _show(here, number, form)
    kept = shops.get(here.store)
    if read_version(form) != kept.version:
        return _two_tabs(here, form, Stale("The shop's settings", kept), kept)
    cutter_at(kept.value, number)
    try:
        cutter = forms.read_cutter(form, kept.value, was=form.get("was", ""))
        changed = forms.with_changed(kept.value, number, cutter)
        shops.save(here.store, changed, kept.version, here.act)
    except Invalid as invalid:
        return _show(here, number, forms.with_units(form, kept.value), invalid.faults)
    return see(LIST, _kept(cutter))


def _kept(cutter: Cutter) -> str:
    """Say that a cutter is kept, and what of it is worth another look."""
    return " ".join((f"{cutter.name} is saved.", *doubtful(cutter)))


@router.post("/{number}/first")
def put_first(here: Here, form: TypedForm, number: Id) -> Response:
    """Let tickets speak of this cutter."""
    kept = shops.get(here.store)
    cutter = cutter_at(kept.value, number)
    shops.save(here.store, forms.with_first(kept.value, number), read_version(form), here.act)
    return see(LIST, f"Tickets speak of {cutter.name} now.")


@router.get("/{number}/remove")
def ask_to_remove(here: Here, number: Id) -> HTMLResponse:
    """Show what removing a cutter means, before it is done."""
    kept = shops.get(here.store)
    page = page_of.RemoveCutterPage(
        number=number,
        name=cutter_at(kept.value, number).name,
        version=kept.version,
        then=page_of.after_removal(kept.value, number),
    )
    return render(here, "pages/settings/remove_cutter.html", page)


@router.post("/{number}/remove")
def remove(here: Here, form: TypedForm, number: Id) -> Response:
    """Take a cutter out of the shop."""
    kept = shops.get(here.store)
    cutter = cutter_at(kept.value, number)
    shops.save(here.store, forms.without(kept.value, number), read_version(form), here.act)
    return see(LIST, f"{cutter.name} is deleted.")


def cutter_at(shop: Shop, number: int) -> Cutter:
    """Return the cutter of a number, from 1. Raises: NotFound."""
    if number > len(shop.cutters):
        raise NotFound(f"There is no cutter {number}; the shop has {len(shop.cutters)}.")
    return shop.cutters[number - 1]


def _show(
    here: RequestContext, number: int | None, typed: Typed, faults: tuple[Fault, ...] = ()
) -> HTMLResponse:
    """Show the form with what was typed."""
    bare = forms.bare_unit(typed, here.shop)
    second = second_unit(typed, bare)
    page = page_of.CutterPage(
        title="A new cutter" if number is None else "Change a cutter",
        faults=faults,
        nav_sections=nav_sections("cutters"),
        heading="A new cutter" if number is None else typed.get("was", "") or "The cutter",
        action=f"{LIST}/{number or 'new'}",
        version=typed.get("version", str(shops.get(here.store).version)),
        number=number,
        was=typed.get("was", ""),
        bare=bare.value,
        bare_word=bare.word,
        second_word=second.word,
        full=forms.no_room(here.shop) if number is None else "",
        other_scale=None if number or faults else bare.other.value,
        fields=FormView(CUTTER, In(bare, here.shop.currency), Fields(typed, faults)),
    )
    return render(here, "pages/settings/cutter.html", page, 422 if faults else 200)


def _two_tabs(
    here: RequestContext, form: Typed, stale: Stale, kept: Versioned[Shop]
) -> HTMLResponse:
    """Show both versions; a cutter that is gone can be kept as a new one."""
    was = form.get("was", "").casefold()
    found = [n for n, each in enumerate(kept.value.cutters, 1) if each.name.casefold() == was]
    stored = forms.cutter_typed(cutter_at(kept.value, found[0]), kept.value) if found else {}
    known = In(forms.bare_unit(form, kept.value), kept.value.currency)
    return two_versions(
        here,
        stale,
        stored,
        form,
        lambda make: FormView(CUTTER, known, make),
        title="Two versions: the cutter",
        section="Settings",
        action=f"{LIST}/{found[0] if found else 'new'}",
        back=LIST,
    )
