"""Routes of the price book as a file: give it out, and bring one in after a look at what that would do."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import UploadFile
from starlette.responses import Response

from app.errors import AppError, Invalid
from app.services import price_book
from app.web.kit.cleaning import cleaned
from app.web.kit.context import Here, RequestContext
from app.web.kit.sent_once import note_sent
from app.web.kit.templating import render, see
from app.web.kit.text_table import decoded
from app.web.materials import price_file_page as page_of
from app.web.materials.price_columns import COLUMNS
from app.web.materials.price_file import (
    LARGEST_FILE,
    Book,
    FileRead,
    RowFault,
    read_file,
    write_file,
)

router = APIRouter(prefix="/materials")

PAGE = "/price-book"


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What was posted. fault: why it cannot be read at all, "" where it can.

    seen: the mark of the look at it, "" where nobody looked.
    """

    text: str = ""
    keep: bool = False
    seen: str = ""
    fault: str = ""


async def get_brought(request: Request) -> Brought:
    """Return the file that was chosen, or the text that the look at it posted back. Raises: AnsweredBefore."""
    async with request.form(max_fields=20, max_files=1, max_part_size=LARGEST_FILE * 2) as form:
        file, text = form.get("file"), form.get("text")
        await note_sent(
            request, {name: each for name, each in form.items() if isinstance(each, str)}
        )
        if isinstance(file, UploadFile) and file.filename:
            return _decoded(await file.read(LARGEST_FILE + 1))
        if isinstance(text, str) and text.strip():
            keep, seen = form.get("action") == "save", form.get("seen")
            return Brought(
                text=cleaned(text), keep=keep, seen=seen if isinstance(seen, str) else ""
            )
    return Brought(fault="No file was chosen.")


def _decoded(content: bytes) -> Brought:
    try:
        text = cleaned(decoded(content)) if len(content) <= LARGEST_FILE else ""
    except Invalid as invalid:
        return Brought(fault=invalid.message)
    if len(content) > LARGEST_FILE or len(text.encode()) > LARGEST_FILE:
        return Brought(fault="The file is too large; up to 1 MB is read.")
    return Brought(text=text)


@router.get(PAGE)
def show(here: Here) -> HTMLResponse:
    """Show the page of the file, before one was read."""
    return _show(here, Brought())


@router.get(f"{PAGE}.csv")
def give(here: Here) -> Response:
    """Give the whole price book, what is discontinued too."""
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
        return _show(here, brought, FileRead(faults=(_fault(brought.fault),)))
    book = price_book.by_code(here.store)
    read = read_file(brought.text, here.shop, book)
    if read.faults or not brought.keep:
        return _show(here, brought, read, book)
    if brought.seen not in ("", read.mark):
        return _show(here, brought, read, book, again=CHANGED)
    try:
        price_book.bring_in(here.store, [row.arriving for row in read.does], here.act)
    except AppError:  # somebody changed the price book since it was read, a moment ago
        return bring_again(here, brought)
    added = sum(row.is_new for row in read.does)
    return see("/materials", f"{added} added, {len(read.does) - added} changed.")


CHANGED = (
    "The price book was changed since this list was made. Nothing was brought in: look at the new list "
    "and bring it in again."
)


def bring_again(here: RequestContext, brought: Brought) -> HTMLResponse:
    """Look anew at a file that did not fit the price book any more."""
    book = price_book.by_code(here.store)
    return _show(here, brought, read_file(brought.text, here.shop, book), book, again=CHANGED)


def _fault(sentence: str) -> RowFault:
    return RowFault(row=0, column="", message=sentence)


def _show(
    here: RequestContext,
    brought: Brought,
    read: FileRead | None = None,
    book: Book | None = None,
    again: str = "",
) -> HTMLResponse:
    faults = read.faults if read else ()
    preview = page_of.preview_of(read, book) if read and book is not None and not faults else None
    first, folded, more = page_of.shown(faults)
    page = page_of.PriceFilePage(
        title="Error: price book as a file" if faults else "Price book as a file",
        columns=COLUMNS,
        tally=preview.tally if preview else page_of.refused_tally(faults),
        row_faults=first,
        folded=folded,
        more=more,
        preview=preview,
        again=again,
        text=brought.text if preview else "",
    )
    status = 422 if faults else 409 if again else 200
    return render(here, "pages/materials/file.html", page, status)
