"""Routes of the price book: find, list, add, change and copy materials, take them off offer and out."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted
from app.errors import Fault, Invalid
from app.forms.reader import faults_while_typing
from app.forms.rows import edited_rows
from app.forms.table import Typed
from app.orders import Shop
from app.pricing import Kind, Material
from app.services import price_book, stock
from app.storage import Stale, Versioned
from app.web.kit.common_fields import read_version
from app.web.kit.context import Here, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import FormView
from app.web.kit.listing import items_of, part_of, search_field
from app.web.kit.templating import render, render_part, see
from app.web.materials import form_page as form_of
from app.web.materials import page as list_of
from app.web.materials import starting as start_of
from app.web.materials.fields import form_for
from app.web.materials.form import read_material, typed_of, usual_typed
from app.web.materials.material_field import MaterialTyped, kind_of

router = APIRouter(prefix="/materials")


@router.get("")
def show_list(here: Here) -> HTMLResponse:
    """Show the price book, one kind of it, or what matches."""
    wanted = list_of.MaterialQuery.read(here.request.query_params)
    selection = price_book.Selection(kind=wanted.kind, text=wanted.text)
    materials = price_book.listed(here.store, selection, inactive=wanted.retired)
    counts = price_book.counts(here.store)
    listed = wanted.part(lambda part: part_of(materials, part))
    page = list_of.MaterialsPage(
        listing=wanted.listing(
            listed,
            list_of.rows_of(listed.rows, here.shop),
            fields=(search_field(wanted.text, "Part of code, name, finish, supplier"),),
            chips=(wanted.chips(counts, here.shop),),
        ),
        new=tuple((list_of.kind_word(kind, here.shop), kind.value) for kind in Kind),
        empty_book=not sum(counts.values()) and not wanted.text and not wanted.retired,
    )
    return render(here, "pages/materials/list.html", page)


@router.get("/find")
def find(here: Here, q: str = "", kind: str = "") -> HTMLResponse:
    """Show the matches under a field that finds a material."""
    wanted = Kind(kind) if kind in set(Kind) else None
    found = price_book.find(here.store, q, kind=wanted, limit=12)
    return render_part("pages/materials/find.html", list_of.options(found, here.shop))


@router.get("/new")
def new(here: Here, kind: str = "", copy: str = "") -> HTMLResponse:
    """Show the form of a new material, empty or filled from another."""
    if copy:
        kept = price_book.get(here.store, copy)
        return _form(here, form_of.as_new(_begun(kept.value, here.shop)), None)
    return _form(here, usual_typed(kind_of({"kind": kind}), here.shop), None)


@router.post("/new")
def add(here: Here, form: TypedForm, live: str = "") -> Response:
    """Add a material, or work out what it would sell for."""
    if only_asks(form, live):
        return _worked_out(here, form, None, live)
    try:
        material = read_material(form, here.shop)
        price_book.add(here.store, material, here.act)
    except Invalid as invalid:
        return _form(here, form, None, _with_code(here, form, invalid))
    return see(f"/materials?kind={material.kind}", f"{material.code} is in the price book.")


def _with_code(here: RequestContext, form: Typed, invalid: Invalid) -> tuple[Fault, ...]:
    """Return what is wrong with a new material, and with it that its code is taken, which comes first."""
    try:
        price_book.check_free(here.store, form.get("code", "").strip())
    except Invalid as taken:
        return tuple(dict.fromkeys((*taken.faults, *invalid.faults)))
    return invalid.faults


@router.get("/start")
def start(here: Here) -> HTMLResponse:
    """Show the starting list of a price book, with the costs to fill in."""
    return _start(here, {})


@router.post("/start")
def add_start(here: Here, form: TypedForm) -> Response:
    """Add the materials whose cost was filled in."""
    try:
        materials = start_of.read_start(form, here.shop)
        price_book.add_all(here.store, materials, here.act)
    except Invalid as invalid:
        return _start(here, form, invalid.faults)
    count = counted(len(materials), "material")
    if form.get("action") == "more":
        return see("/materials/start", f"{count} added. Fill in the next.")
    return see("/materials", f"{count} added to the price book.")


def _start(here: RequestContext, form: Typed, faults: tuple[Fault, ...] = ()) -> HTMLResponse:
    kept = frozenset(
        material.code.casefold() for material in price_book.listed(here.store, inactive=True)
    )
    page = start_of.start_page(form, here.shop, kept, faults)
    return render(here, "pages/materials/start.html", page, 422 if faults else 200)


@router.get("/{code:path}/edit")
def edit(here: Here, code: str) -> HTMLResponse:
    """Show the form of a material."""
    kept = price_book.get(here.store, code)
    return _form(here, _begun(kept.value, here.shop), kept)


@router.post("/{code:path}/edit")
def save(here: Here, code: str, form: TypedForm, live: str = "") -> Response:
    """Keep what was changed, or work out what it would sell for."""
    kept = price_book.get(here.store, code)
    if only_asks(form, live):
        return _worked_out(here, form, kept, live)
    try:
        material = read_material(form, here.shop)
        price_book.save(here.store, code, material, read_version(form), here.act)
    except Invalid as invalid:
        return _form(here, form, kept, invalid.faults)
    except Stale as stale:
        return _two_tabs(here, form, stale)
    return see(f"/materials?kind={material.kind}", f"{material.code} is saved.")


@router.post("/{code:path}/offer")
def set_offer(here: Here, code: str, form: TypedForm) -> Response:
    """Take a material off offer, or offer it again."""
    offered = form.get("offer") == "1"
    change = price_book.reactivate if offered else price_book.retire
    change(here.store, code, read_version(form), here.act)
    word = "offered again" if offered else "discontinued; quotes that use it keep it"
    return see(f"/materials/{code}/edit", f"{code} is {word}.")


@router.get("/{code:path}/remove")
def ask_to_remove(here: Here, code: str) -> HTMLResponse:
    """Show what taking a material out means, before it is done."""
    kept = price_book.get(here.store, code)
    page = list_of.RemoveMaterialPage(
        title=f"Take {kept.value.code} out",
        material=kept.value,
        version=kept.version,
    )
    return render(here, "pages/materials/remove.html", page)


@router.post("/{code:path}/remove")
def remove(here: Here, code: str, form: TypedForm) -> Response:
    """Take a material out of the price book."""
    kind = price_book.get(here.store, code).value.kind
    price_book.remove(here.store, code, read_version(form))
    return see(f"/materials?kind={kind}", f"{code} is out of the price book.")


def only_asks(form: Typed, live: str) -> bool:
    """Tell whether a post asks what the material sells for, or for a row, without keeping it."""
    return bool(live) or form.get("action") != "save"


def _worked_out(
    here: RequestContext, form: Typed, kept: Versioned[Material] | None, live: str
) -> HTMLResponse:
    rows = edited_rows(form, form.get("action", ""))
    if rows is not None or form.get("action") == "edit":
        return _form(here, rows or form, kept)
    if live:
        faults = faults_while_typing(lambda: read_material(form, here.shop), form)
        return _form(here, form, kept, faults)
    try:
        read_material(form, here.shop)
    except Invalid as invalid:
        return _form(here, form, kept, invalid.faults)
    return _form(here, form, kept)


def _form(
    here: RequestContext,
    typed: Typed,
    kept: Versioned[Material] | None,
    faults: tuple[Fault, ...] = (),
) -> HTMLResponse:
    """Show the form with what was typed.

    kept: the material that it changes, if any.
    """
    kind = kind_of(typed)
    heading = (
        f"{kept.value.code} {kept.value.name}" if kept else form_of.heading_of(kind, here.shop)
    )
    action = f"/materials/{kept.value.code}/edit" if kept else "/materials/new"
    fields = form_of.form_fields(typed, faults, here.shop)
    page = form_of.MaterialPage(
        title=heading,
        faults=faults,
        heading=heading,
        code=kept.value.code if kept else "",
        kind=kind.value,
        is_sheet=kind.is_sheet,
        has_profile=kind in (Kind.MOULDING, Kind.EXTRA),
        hangs=kind is Kind.HARDWARE,
        is_frame=kind is Kind.READY_MADE,
        rules=tuple(value for value, _ in fields["charge.by"].options),
        fields=fields,
        traits=form_of.trait_fields(fields, kind),
        preview=form_of.preview_of(typed, here.shop),
        action=action,
        live=f"{action}?live=1",
        version=typed.get("version", str(kept.version if kept else "")),
        on_offer=kept is None or kept.value.active,
        on_rack=list_of.on_rack(stock.standing(here.store, kept.value.code)) if kept else "",
        rack=items_of(kept.value.code) if kept else "",
    )
    return render(here, "pages/materials/edit.html", page, 422 if faults else 200)


def _two_tabs(here: RequestContext, form: Typed, stale: Stale) -> HTMLResponse:
    stored = stale.stored
    assert isinstance(stored, Versioned)
    known = MaterialTyped(here.shop, form)
    return two_versions(
        here,
        stale,
        _begun(stored.value, here.shop),
        form,
        lambda make: FormView(form_for(known.kind), known, make),
        title=f"Two versions of {stored.value.code}",
        section="Materials",
        action=f"/materials/{stored.value.code}/edit",
    )


def _begun(material: Material, shop: Shop) -> dict[str, str]:
    """Return what the form of a material begins with. Of prices by size it has as many lines as the material has."""
    return {path: text for path, text in typed_of(material, shop).items() if text}
