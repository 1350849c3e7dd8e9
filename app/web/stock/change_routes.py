"""Routes that change the stock: receive, keep, take, take back, edit, set levels."""

from collections.abc import Mapping

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Fault, Invalid
from app.forms.table import Typed, values_in
from app.services import price_book, stock
from app.stock.items import Item
from app.stock.wording import counted
from app.storage import Stale, Versioned
from app.web.kit.common_fields import read_version
from app.web.kit.context import ONCE_ONLY, Here, Id, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.listing import items_of
from app.web.kit.templating import render, see
from app.web.stock import form_page as form_of
from app.web.stock.fields import EDIT, LEVELS, RECEIVED, OfMaterial, offcut_form
from app.web.stock.form import (
    read_edit,
    read_ids,
    read_levels,
    read_offcut,
    read_received,
    read_taken,
)
from app.web.stock.items_page import heading_of
from app.web.stock.routes import item_page

router = APIRouter(prefix="/stock")


@router.get("/receive")
def ask_received(here: Here, material: str = "") -> HTMLResponse:
    """Show the form of what came in."""
    return _receive_form(here, {"material": material}, ())


@router.post("/receive")
def receive(here: Here, form: TypedForm) -> Response:
    """Take in whole stock."""
    try:
        received = read_received(form, here.shop, lambda text: stock.meant(here.store, text))
    except Invalid as invalid:
        return _receive_form(here, form, invalid.faults)
    item_id = stock.receive(here.store, received, here.act)
    material = price_book.get(here.store, received.item.material).value
    words = counted(received.count, material)
    return see(f"/stock/items/{item_id}", f"{words} of {material.code} received.")


def _receive_form(here: RequestContext, typed: Typed, faults: tuple[Fault, ...]) -> HTMLResponse:
    known = _known(here, typed)
    page = form_of.StockFormPage(
        title="Receive stock",
        faults=faults,
        heading="Receive stock",
        lead="What came from a supplier, or what you find on the rack when you begin. What is the same "
        "as something there is added to it.",
        action="/stock/receive",
        yes="Put it on the rack",
        back="/stock",
        fields=FormView(RECEIVED, OfMaterial(here.shop, known), Fields(typed, faults)),
        focus=_focus(typed, faults, "count"),
    )
    return render(here, "pages/stock/edit.html", page, 422 if faults else 200)


def _focus(typed: Typed, faults: tuple[Fault, ...], after: str) -> str:
    """Return the path of the field to begin at: the material, or the one named once that is typed; "" with faults."""
    return "" if faults else after if typed.get("material") else "material"


def _known(here: RequestContext, typed: Mapping[str, str]) -> stock.Meant | None:
    """Return the material that was typed; None where it cannot be told."""
    if not typed.get("material", "").strip():
        return None
    try:
        return stock.meant(here.store, typed["material"])
    except Invalid:
        return None


@router.get("/offcuts/new")
def ask_offcut(here: Here, material: str = "", item: str = "", taken: str = "") -> HTMLResponse:
    """Show the form of an offcut. item: what it was cut from; taken: where that has left the rack already."""
    source = _source(here, item)
    if source is None:
        return _offcut_form(here, {"material": material, "item": ""}, ())
    typed = {
        "material": source.material,
        "batch": source.batch,
        "place": source.place,
        "item": item,
        "cut_up": "" if taken else "1",
    }
    return _offcut_form(here, typed, ())


@router.post("/offcuts/new")
def keep_offcut(here: Here, form: TypedForm) -> Response:
    """Keep an offcut under the next label."""
    source = _source(here, form.get("item", ""))
    try:
        offcut = read_offcut(
            form,
            here.shop,
            lambda text: stock.meant(here.store, text),
            source,
            costs=here.visitor.sees_money,
        )
    except Invalid as invalid:
        return _offcut_form(here, form, invalid.faults)
    cut_up = read_ids(form["item"], 1)[0] if source and form.get("cut_up") else None
    item_id = stock.keep_offcut(here.store, offcut, here.act, cut_up=cut_up)
    (line,) = stock.lines(here.store, (item_id,))
    return see(f"/stock/items/{item_id}", f"Saved as {line.kept.item.label}.")


def _cut_up_field(here: RequestContext, typed: Mapping[str, str]) -> FieldView | None:
    """Return the box that says one of what it was cut from is used up; None where that is not known."""
    source = _source(here, typed.get("item", ""))
    if source is None:
        return None
    heading = heading_of(source, here.shop.unit)
    return Fields(typed).field("cut_up", f"One of {heading} is cut up by this")


def _source(here: RequestContext, item: str) -> Item | None:
    """Return the item that an offcut was cut from; None where nothing readable was said."""
    try:
        (item_id,) = read_ids(item, 1)
    except Invalid:
        return None
    return stock.look(here.store, item_id).kept.item


def _offcut_form(here: RequestContext, typed: Typed, faults: tuple[Fault, ...]) -> HTMLResponse:
    asked = offcut_form(costs=here.visitor.sees_money)
    page = form_of.StockFormPage(
        title="Keep an offcut",
        faults=faults,
        heading="Keep an offcut",
        lead="A part of a stick or sheet that is worth keeping. It gets a label of its own, and "
        "cutting plans use it before anything new.",
        action="/stock/offcuts/new",
        yes="Save",
        back="/stock",
        fields=FormView(asked, OfMaterial(here.shop, _known(here, typed)), Fields(typed, faults)),
        focus=_focus(typed, faults, "size"),
        hidden=(("item", typed.get("item", "")),),
        cut_up=_cut_up_field(here, typed),
    )
    return render(here, "pages/stock/edit.html", page, 422 if faults else 200)


@router.post("/items/{item_id}/take")
def take(here: Here, item_id: Id, form: TypedForm) -> Response:
    """Write down what was spoiled or cut."""
    try:
        taken = read_taken(form, here.shop)
    except Invalid as invalid:
        return item_page(here, item_id, form, invalid.faults)
    stock.take(here.store, item_id, taken, here.act)
    return see(f"/stock/items/{item_id}", f"{taken.count} written down as {taken.kind.value}.")


@router.post("/items/{item_id}/movements/{movement_id}/take-back", dependencies=[ONCE_ONLY])
def take_back(here: Here, item_id: Id, movement_id: Id) -> Response:
    """Undo a movement by its contrary."""
    undone = stock.take_back(here.store, item_id, movement_id, here.act)
    return see(f"/stock/items/{item_id}", f"Undone: {undone.entry.kind.value}.")


@router.get("/items/{item_id}/edit")
def ask_edit(here: Here, item_id: Id) -> HTMLResponse:
    """Show the form of what may be changed of an item."""
    looked = stock.look(here.store, item_id)
    return _edit_form(here, looked, _typed_of(here, looked), ())


@router.post("/items/{item_id}/edit")
def edit(here: Here, item_id: Id, form: TypedForm) -> Response:
    """Put an item elsewhere, or correct what is noted."""
    try:
        stock.edit(here.store, item_id, read_version(form), read_edit(form, here.shop))
    except Invalid as invalid:
        return _edit_form(here, stock.look(here.store, item_id), form, invalid.faults)
    except Stale as stale:
        looked = stock.look(here.store, item_id)
        known = OfMaterial(here.shop, of=looked.material)
        return two_versions(
            here,
            stale,
            _typed_of(here, looked),
            form,
            lambda make: FormView(EDIT, known, make),
            title="Two versions",
            section="Stock",
            action=f"/stock/items/{item_id}/edit",
        )
    return see(f"/stock/items/{item_id}", "Saved.")


def _typed_of(here: RequestContext, looked: stock.Looked) -> dict[str, str]:
    """Return the text that the form of an item begins with."""
    return EDIT.typed(values_in(looked.kept.item), OfMaterial(here.shop))


def _edit_form(
    here: RequestContext, looked: stock.Looked, typed: Mapping[str, str], faults: tuple[Fault, ...]
) -> HTMLResponse:
    heading = heading_of(looked.kept.item, here.shop.unit)
    address = f"/stock/items/{looked.kept.id}"
    page = form_of.StockFormPage(
        title=f"Change {heading}",
        faults=faults,
        heading=f"Change {heading}",
        lead="Where it lies and what it cost. The size cannot be changed: undo the entry and enter it again.",
        action=f"{address}/edit",
        yes="Save",
        back=address,
        fields=FormView(EDIT, OfMaterial(here.shop, of=looked.material), Fields(typed, faults)),
        hidden=(("version", typed.get("version", str(looked.kept.version))),),
    )
    return render(here, "pages/stock/edit.html", page, 422 if faults else 200)


@router.get("/levels/{code:path}")
def ask_levels(here: Here, code: str) -> HTMLResponse:
    """Show the form of a material's levels."""
    kept = stock.levels(here.store, code)
    return _levels_form(here, code, LEVELS.typed(values_in(kept.value), here.shop), ())


@router.post("/levels/{code:path}")
def set_levels(here: Here, code: str, form: TypedForm) -> Response:
    """Keep the levels of a material."""
    try:
        levels = read_levels(form, here.shop)
        stock.set_levels(here.store, code, levels, read_version(form))
    except Invalid as invalid:
        return _levels_form(here, code, form, invalid.faults)
    except Stale as stale:
        stored = stale.stored
        assert isinstance(stored, Versioned)
        return two_versions(
            here,
            stale,
            LEVELS.typed(values_in(stored.value), here.shop),
            form,
            lambda make: FormView(LEVELS, here.shop, make),
            title="Two versions",
            section="Stock",
            action=f"/stock/levels/{code}",
        )
    return see(items_of(code), f"The levels of {code} are kept.")


def _levels_form(
    here: RequestContext, code: str, typed: Mapping[str, str], faults: tuple[Fault, ...]
) -> HTMLResponse:
    material = price_book.get(here.store, code).value
    page = form_of.StockFormPage(
        title=f"Levels of {material.code}",
        faults=faults,
        heading=f"Levels of {material.code}",
        lead=f"{material.name}: when to buy, how it comes, where it lies.",
        action=f"/stock/levels/{material.code}",
        yes="Save",
        back=items_of(material.code),
        fields=FormView(LEVELS, here.shop, Fields(typed, faults)),
        hidden=(("version", typed.get("version", str(stock.levels(here.store, code).version))),),
    )
    return render(here, "pages/stock/edit.html", page, 422 if faults else 200)
