"""Routes of a stock count: choose what to count, type it, look at the differences, write them down."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.counting import counted as counted_words
from app.documents.count_sheet import CountPrinting, ToCount, count_sheet_pdf
from app.errors import Conflict, Fault, Invalid
from app.pricing import Kind
from app.services import price_book, stock
from app.stock.wording import named, unit_word
from app.storage import PageRequest, StockLine
from app.web.kit.context import Here, RequestContext, TypedForm
from app.web.kit.fields import Fields, FieldView
from app.web.kit.listing import Chip
from app.web.kit.templating import render, see
from app.web.materials.page import kind_word
from app.web.papers.printing import printed
from app.web.stock import form_page as form_of
from app.web.stock.form import read_counts, read_ids, read_seen, seen_text
from app.web.stock.items_page import ItemQuery
from app.web.stock.page import place_field

router = APIRouter(prefix="/stock")

PATH = "/stock/count"
SHEET = "/stock/count/sheet.pdf"
MOST_ON_A_SHEET = 200
MOST_PRINTED = 1000
"""Lines of a printed sheet: forty pages. Source: ours."""


@router.get("/count")
def show(here: Here) -> HTMLResponse:
    """Show what is to be counted, and its sheet once that is chosen."""
    query = here.request.query_params
    wanted = ItemQuery.read(query)
    chosen = any(name in query for name in ("place", "kind", "material"))
    if not chosen:
        return _page(here, wanted, (), {}, ())
    listed = stock.listed(here.store, wanted.filter, PageRequest(size=MOST_ON_A_SHEET))
    more = listed.total - len(listed.rows)
    return _page(here, wanted, listed.rows, {}, (), more=more, chosen=True)


@router.get("/count/sheet.pdf")
def sheet(here: Here) -> Response:
    """Give the sheet that is carried past the racks: of all that the page shows, or of more than it can."""
    wanted = ItemQuery.read(here.request.query_params)
    listed = stock.listed(here.store, wanted.filter, PageRequest(size=MOST_PRINTED))
    if listed.total > len(listed.rows):
        raise Conflict(
            f"{listed.total} items are to be counted; a count sheet holds {MOST_PRINTED}. Print place by place."
        )
    printing = CountPrinting(
        paper=here.shop.paper,
        unit=here.shop.unit,
        shop_name=here.shop.name,
        what=_what(here, wanted),
        today=here.today,
        noted=here.request.query_params.get("noted") == "1",
    )
    items = _to_count(here, listed.rows)
    return printed(here, partial(count_sheet_pdf, items, printing), "count sheet.pdf")


def _to_count(here: RequestContext, rows: Sequence[StockLine]) -> list[ToCount]:
    """Name each item with what it is and what is counted of it, as an order to a supplier does."""
    book = price_book.several(here.store, {line.kept.item.material for line in rows})
    unit, mat_word = here.shop.unit, here.shop.mat_word.value
    materials = [book[line.kept.item.material] for line in rows]
    return [
        ToCount(kept=line.kept, name=named(of, unit, mat_word), unit=unit_word(of))
        for line, of in zip(rows, materials, strict=True)
    ]


def _sheets(wanted: ItemQuery) -> tuple[str, str]:
    """Return the addresses of the sheet without what is noted, and with it."""
    address = wanted.href(SHEET)
    return address, f"{address}{'&' if '?' in address else '?'}noted=1"


def _what(here: RequestContext, wanted: ItemQuery) -> str:
    """Say what is counted: "Mouldings at Rack A", "All stock"."""
    if wanted.material:
        what = wanted.material
    elif wanted.kind is not None:
        what = kind_word(wanted.kind, here.shop, many=True).capitalize()
    else:
        what = "All stock"
    return f"{what} at {wanted.place}" if wanted.place else what


@router.post("/count")
def count(here: Here, form: TypedForm) -> Response:
    """Look at the differences; at a second post write them down."""
    lines = stock.lines(here.store, read_ids(form.get("items", ""), stock.MOST_AT_ONCE))
    sheet = _CountForm(ItemQuery.read(form), lines, form)
    if form.get("action") == "edit":
        return _page(here, sheet.wanted, lines, form, ())
    try:
        counts = read_counts(form, here.shop, (line.kept.id for line in lines))
    except Invalid as invalid:
        return _page(here, sheet.wanted, lines, form, invalid.faults)
    if form.get("action") != "save":
        return _differences(here, sheet, counts)
    return _write_down(here, sheet, counts)


def _write_down(here: RequestContext, sheet: "_CountForm", counts: dict[int, int]) -> Response:
    seen, note = read_seen(sheet.typed.get("seen", "")), sheet.typed.get("note", "").strip()
    try:
        done = stock.count(here.store, counts, seen, here.act, note=note)
    except Conflict as conflict:
        fault = Fault(path="", message=conflict.message, code=conflict.code)
        return _differences(here, sheet, counts, (fault,))
    words = counted_words(len(done.items), "item", "items")
    changed = counted_words(len(done.changed), "difference", "differences")
    return see("/stock", f"{words} counted, {changed} corrected.")


def _page(
    here: RequestContext,
    wanted: ItemQuery,
    lines: tuple[StockLine, ...],
    typed: dict[str, str],
    faults: tuple[Fault, ...],
    *,
    more: int = 0,
    chosen: bool = False,
) -> HTMLResponse:
    """Show the choice of what to count, with the sheet of what was chosen."""
    gone = wanted.href(PATH, gone=not wanted.gone)
    page = form_of.CountPage(
        title="Count the stock",
        faults=faults,
        choice=_choice(here, wanted),
        ready=bool(lines) or chosen,
        rows=form_of.count_rows(lines, typed, faults, here.shop.unit),
        more=more,
        note=Fields(typed, faults).field("note", "Note"),
        hidden=_carried(wanted, lines),
        sheets=_sheets(wanted),
        everything=Chip(label="show used-up items", href=gone, current=wanted.gone),
    )
    return render(here, "pages/stock/count.html", page, 422 if faults else 200)


@dataclass(frozen=True, slots=True)
class _CountForm:
    """A count sheet that was posted: of what, and what was typed."""

    wanted: ItemQuery
    lines: tuple[StockLine, ...]
    typed: dict[str, str]


def _differences(
    here: RequestContext, sheet: _CountForm, counts: dict[int, int], faults: tuple[Fault, ...] = ()
) -> HTMLResponse:
    """Show what the count would change, before anything is changed."""
    found = stock.preview_count(here.store, counts)
    seen = {each.kept.id: each.kept.on_hand for each in found.items}
    costs = here.visitor.sees_money
    counted = tuple((f"count.{item_id}", str(number)) for item_id, number in counts.items())
    page = form_of.CountPage(
        title="What the count found",
        faults=faults,
        choice=(),
        ready=True,
        hidden=(
            *_carried(sheet.wanted, sheet.lines),
            *counted,
            ("seen", seen_text(seen)),
            ("note", sheet.typed.get("note", "")),
        ),
        differences=form_of.differences_of(found, sheet.lines, here.shop.unit, costs=costs),
        agreed=len(found.items) - len(found.changed),
        found=found.found if costs else None,
        missing=found.missing if costs else None,
    )
    return render(here, "pages/stock/count.html", page, 409 if faults else 200)


def _choice(here: RequestContext, wanted: ItemQuery) -> tuple[FieldView, ...]:
    words = {kind: kind_word(kind, here.shop, many=True) for kind in Kind}
    kind = FieldView(
        path="kind",
        label="What",
        value=wanted.kind.value if wanted.kind else "",
        options=form_of.kind_options(words),
    )
    return (place_field(wanted.place, stock.places(here.store)), kind)


def _carried(wanted: ItemQuery, lines: tuple[StockLine, ...]) -> tuple[tuple[str, str], ...]:
    """Return the choice that the sheet was made for, as hidden fields."""
    items = ",".join(str(line.kept.id) for line in lines)
    return (*((("items", items),) if items else ()), *wanted.carried())
