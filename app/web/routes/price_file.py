"""The price book as a file: given out, and brought in after a look at what that would do."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import UploadFile
from starlette.responses import Response

from app.services import price_book
from app.web.context import Here, Visit
from app.web.forms.price_file import COLUMNS, LARGEST_FILE, RowFault, read_file, write_file
from app.web.pages import price_file as page_of
from app.web.templating import chrome, render, see

router = APIRouter(prefix="/materials")

PAGE = "/price-book"


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What was posted. fault: why it cannot be read at all, "" where it can."""

    text: str
    keep: bool
    fault: str = ""


async def get_brought(request: Request) -> Brought:
    """The file that was chosen, or the text that the look at it posted back."""
    async with request.form(max_fields=20, max_files=1) as form:
        file, text = form.get("file"), form.get("text")
        if isinstance(file, UploadFile) and file.filename:
            content = await file.read(LARGEST_FILE + 1)
            return _decoded(content)
        if isinstance(text, str) and text.strip():
            return Brought(text=text, keep=form.get("action") == "save")
    return Brought(text="", keep=False, fault="No file was chosen.")


def _decoded(content: bytes) -> Brought:
    if len(content) > LARGEST_FILE:
        return Brought(text="", keep=False, fault="The file is too large; up to 1 MB is read.")
    try:
        return Brought(text=content.decode("utf-8-sig"), keep=False)
    except UnicodeDecodeError:
        fault = "The file is not in UTF-8; save it from the spreadsheet as CSV UTF-8."
        return Brought(text="", keep=False, fault=fault)


@router.get(PAGE)
def show(here: Here) -> HTMLResponse:
    """The page."""
    return _show(here, Brought(text="", keep=False))


@router.get(f"{PAGE}.csv")
def give(here: Here) -> Response:
    """The whole price book, what is off offer too."""
    materials = price_book.listed(here.store, inactive=True)
    name = f"price-book-{here.today.isoformat()}.csv"
    return Response(
        # The mark at the start is how spreadsheets know UTF-8.
        "\ufeff" + write_file(materials, here.shop),
        media_type="text/csv; charset=utf-8",
        headers={
            "content-disposition": f'attachment; filename="{name}"',
            "cache-control": "no-store",
        },
    )


@router.post(PAGE)
def bring(here: Here, brought: Annotated[Brought, Depends(get_brought)]) -> Response:
    """Read a file: say what is wrong or what it would do, and at a second post do it."""
    if brought.fault:
        return _show(here, brought, (RowFault(row=0, column="", message=brought.fault),))
    materials, faults = read_file(brought.text, here.shop)
    if faults:
        return _show(here, brought, faults)
    if not brought.keep:
        return _show(here, brought, arrival=price_book.preview_arrival(here.store, materials))
    done = price_book.bring_in(here.store, materials, here.act)
    return see("/materials", f"{len(done.added)} added, {len(done.changed)} changed.")


def _show(
    here: Visit,
    brought: Brought,
    faults: tuple[RowFault, ...] = (),
    arrival: price_book.Arrival | None = None,
) -> HTMLResponse:
    first, more = page_of.shown(faults)
    page = page_of.PriceFilePage(
        title="Error: price book as a file" if faults else "Price book as a file",
        section="Materials",
        columns=COLUMNS,
        row_faults=first,
        more=more,
        arrival=arrival,
        text=brought.text if arrival else "",
        **chrome(here.request, here.shop),
    )
    return render("pages/materials/file.html", page, 422 if faults else 200)
