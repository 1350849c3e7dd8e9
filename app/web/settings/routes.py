"""Routes of the settings: sections of the shop, and its data as a whole."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import UploadFile
from starlette.responses import Response

from app.errors import Fault, Invalid, NotFound, quoted
from app.forms.reader import faults_while_typing
from app.forms.rows import edited_rows
from app.forms.table import Typed
from app.lengths import Unit
from app.orders import Shop
from app.services import pictures, price_book, sample
from app.services import shop as shops
from app.services.picture_making import LARGEST_FILE
from app.storage import Stale, Versioned
from app.web.kit.common_fields import read_version
from app.web.kit.context import ONCE_ONLY, Here, RequestContext, TypedForm
from app.web.kit.edit_conflict import two_versions
from app.web.kit.fields import Fields
from app.web.kit.sent_once import note_sent
from app.web.kit.templating import render, see
from app.web.papers.logo import logo_of
from app.web.settings import page as page_of

router = APIRouter(prefix="/settings")


async def get_logo(request: Request) -> bytes | None:
    """Return the file of a logo; None where none was chosen. Raises: AnsweredBefore."""
    async with request.form(max_fields=20, max_files=1) as form:
        file = form.get("logo")
        await note_sent(
            request, {name: each for name, each in form.items() if isinstance(each, str)}
        )
        named = isinstance(file, UploadFile) and file.filename
        return await file.read(LARGEST_FILE + 1) if isinstance(file, UploadFile) and named else None


@router.post("/shop/logo")
def take_logo(here: Here, content: Annotated[bytes | None, Depends(get_logo)]) -> Response:
    """Keep the logo that was chosen."""
    section = _section("shop")
    try:
        if content is None:
            raise Invalid.at("logo", "No file was chosen.")
        logo = pictures.read(content, logo=True)
    except Invalid as invalid:
        fault = Fault(path="logo", message=invalid.faults[0].message.replace("photo", "picture"))
        return _show(here, section, section.typed(here.shop), (fault,))
    shops.set_logo(here.store, pictures.keep(here.store, logo, by=here.act).id, here.act)
    return see("/settings/shop", "The logo is saved.")


@router.post("/shop/logo/remove", dependencies=[ONCE_ONLY])
def remove_logo(here: Here) -> Response:
    """Let the name stand in the place of the logo again."""
    shops.set_logo(here.store, "", here.act)
    return see("/settings/shop", "The logo is removed; papers show the name.")


@router.get("")
def show_first(here: Here) -> HTMLResponse:
    """Show the first section."""
    section = page_of.SECTIONS[0]
    return _show(here, section, section.typed(here.shop))


@router.get("/data/remove-sample")
def ask_to_remove_sample(here: Here) -> HTMLResponse:
    """Show what removing the sample means, before it is done."""
    if not here.shop.sample:
        raise NotFound("This shop is no sample; there is nothing to remove.")
    page = page_of.RemoveSamplePage(contents=sample.contents(here.store))
    return render(here, "pages/settings/remove_sample.html", page)


@router.post("/data/remove-sample", dependencies=[ONCE_ONLY])
def remove_sample(here: Here) -> Response:
    """Take the sample out and begin with a shop of one's own."""
    copy = sample.remove(here.store, here.act)
    return see("/welcome", f"The sample is deleted; a copy of it is stored as {copy}.")


@router.get("/{slug}")
def show(here: Here, slug: str) -> HTMLResponse:
    """Show a section."""
    section = _section(slug)
    return _show(here, section, section.typed(here.shop))


@router.post("/{slug}")
def save(here: Here, slug: str, form: TypedForm, live: str = "") -> Response:
    """Keep a section, add or drop one of its rows, or tell what its amounts are the other way."""
    section = _section(slug)
    if live or form.get("action") == "recalculate":
        uses = price_book.uses(here.store)
        faults = faults_while_typing(lambda: section.read(form, here.shop, uses, here.today), form)
        return _show(here, section, form, faults)
    rows = edited_rows(form, form.get("action", ""))
    if rows is not None or form.get("action") == "edit":
        return _show(here, section, rows or form)
    try:
        shop = section.read(form, here.shop, price_book.uses(here.store), here.today)
        _check_rules(shop)
        asks = page_of.questions(here.shop, shop, sample.contents(here.store))
        if asks and not form.get("confirm"):
            return _show(here, section, form, (_CONFIRM,), asks)
        shops.save(here.store, shop, read_version(form), here.act)
    except Invalid as invalid:
        return _show(here, section, form, invalid.faults)
    except Stale as stale:
        return _two_tabs(here, section, form, stale)
    return see(f"/settings/{slug}", "Saved.")


_CONFIRM = Fault(
    path="confirm", message="This changes more than one field; say yes beneath, or put it back."
)


def _check_rules(shop: Shop) -> None:
    """Raises: Invalid where what pricing asks for does not hold together."""
    _ = shop.rules


def _section(slug: str) -> page_of.SettingsSection:
    section = page_of.section_of(slug)
    if section is None:
        raise NotFound(f"There are no settings called {quoted(slug)}.")
    return section


def _show(
    here: RequestContext,
    section: page_of.SettingsSection,
    typed: Typed,
    faults: tuple[Fault, ...] = (),
    asks: tuple[str, ...] = (),
) -> HTMLResponse:
    """Show the section with what was typed."""
    kept = shops.get(here.store)
    make = Fields(typed, faults, rules=page_of.rules_of(section.slug))
    page = page_of.SettingsPage(
        title=section.title,
        faults=faults,
        nav_sections=page_of.nav_sections(section.slug),
        slug=section.slug,
        about=section.about,
        live=f"/settings/{section.slug}?live=1" if section.slug in page_of.WITH_AMOUNTS else "",
        version=typed.get("version", str(kept.version)),
        unit="inches" if here.shop.unit is Unit.IN else "mm",
        fields=section.fields(make, here.shop, here.today),
        confirm=make.field("confirm", "Yes, change it"),
        asks=asks,
        logo=logo_of(here, small=True) if section.slug == "shop" else "",
        logo_fault=" ".join(fault.message for fault in faults if fault.path == "logo"),
    )
    return render(here, f"pages/settings/{section.template}.html", page, 422 if faults else 200)


def _two_tabs(
    here: RequestContext, section: page_of.SettingsSection, form: Typed, stale: Stale
) -> HTMLResponse:
    stored = stale.stored
    assert isinstance(stored, Versioned)
    return two_versions(
        here,
        stale,
        section.typed(stored.value),
        form,
        lambda make: section.fields(make, here.shop, here.today),
        title=f"Two versions: {section.title}",
        section="Settings",
        action=f"/settings/{section.slug}",
    )
