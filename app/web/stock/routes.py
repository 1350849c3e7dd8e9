"""Routes of the stock: what is on the rack of each material, its items, and one with its record."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.errors import Fault
from app.services import price_book, stock
from app.stock.balances import notices_of
from app.web.kit.context import Here, Id, RequestContext
from app.web.kit.fields import Fields, FormView
from app.web.kit.listing import items_of, part_of, search_field
from app.web.kit.templating import render, see
from app.web.stock import items_page as item_of
from app.web.stock import page as list_of
from app.web.stock.fields import TAKING
from app.web.stock.stock_file import write_stock

router = APIRouter(prefix="/stock")


@router.get("")
def show_list(here: Here) -> Response:
    """Show what is on the rack, by material; a label that was typed leads to its offcut."""
    wanted = list_of.StockQuery.read(here.request.query_params)
    offcut = stock.labelled(here.store, wanted.text) if wanted.text else None
    if offcut is not None:
        return see(f"/stock/items/{offcut.id}")
    balances = list_of.wanted_of(stock.balances(here.store, wanted.filter), wanted)
    listed = wanted.part(lambda part: part_of(balances, part))
    costs = here.visitor.sees_money
    page = list_of.StockListPage(
        listing=wanted.listing(
            listed,
            (list_of.row_of(each, costs=costs) for each in listed.rows),
            fields=(
                search_field(wanted.text, "Part of a material, or a label"),
                list_of.place_field(wanted.place, stock.places(here.store)),
            ),
            chips=wanted.chips(here.shop),
        ),
        value=list_of.value_of(balances, here.shop.currency) if costs else None,
        file=wanted.href("/stock/stock.csv", low=False),
        empty_rack=not balances and not wanted.narrowed,
        empty_book=not any(price_book.counts(here.store).values()),
    )
    return render(here, "pages/stock/list.html", page)


@router.get("/stock.csv")
def give(here: Here) -> Response:
    """Give the items that are wanted as a file for a spreadsheet."""
    wanted = item_of.ItemQuery.read(here.request.query_params)
    text = write_stock(
        stock.every(here.store, wanted.filter), stock.reserved_items(here.store), here.shop
    )
    name = f"stock-{here.today.isoformat()}.csv"
    return Response(
        # The mark at the start is how spreadsheets know UTF-8.
        "\ufeff" + text,
        media_type="text/csv; charset=utf-8",
        headers={
            "content-disposition": f'attachment; filename="{name}"',
            "cache-control": "no-store",
        },
    )


@router.get("/items")
def show_items(here: Here) -> HTMLResponse:
    """Show the items of one material or of all."""
    wanted = item_of.ItemQuery.read(here.request.query_params)
    listed = wanted.part(lambda part: stock.listed(here.store, wanted.filter, part))
    costs = here.visitor.sees_money
    reserved = stock.reserved_items(here.store)
    rows = item_of.rows_of(listed.rows, reserved, here.shop.unit, costs=costs)
    known = stock.standing(here.store, wanted.material) if wanted.material else None
    page = item_of.ItemsPage(
        title=f"{known.material.code} on the rack" if known else "Items of the stock",
        heading=f"{known.material.code} {known.material.name}" if known else "Items of the stock",
        code=known.material.code if known else "",
        notices=notices_of(known) if known else (),
        figures=item_of.figures_of(known, costs=costs) if known else (),
        listing=wanted.listing(
            listed,
            rows,
            fields=(
                search_field(wanted.text, "Part of a material, label, batch"),
                list_of.place_field(wanted.place, stock.places(here.store)),
            ),
            chips=(wanted.chips(),),
        ),
        labels=item_of.labels_href(rows),
        costs=costs,
    )
    return render(here, "pages/stock/items.html", page)


@router.get("/items/{item_id}")
def show_item(here: Here, item_id: Id) -> HTMLResponse:
    """Show one item with its record."""
    return item_page(here, item_id, {"count": "1"}, ())


def item_page(
    here: RequestContext, item_id: int, typed: dict[str, str], faults: tuple[Fault, ...]
) -> HTMLResponse:
    """Return one item, with what was typed of what leaves the rack."""
    looked = stock.look(here.store, item_id)
    item, unit = looked.kept.item, here.shop.unit
    heading = item_of.heading_of(item, unit)
    page = item_of.ItemPage(
        title=heading,
        faults=faults,
        id=item_id,
        heading=heading,
        name=looked.material.name,
        code=looked.material.code,
        items_href=items_of(looked.material.code),
        on_hand=item_of.on_hand_of(looked),
        facts=item_of.facts_of(looked, unit, costs=here.visitor.sees_money),
        notices=item_of.notices_about(looked),
        movements=item_of.movement_rows(looked),
        taking=FormView(TAKING, here.shop, Fields(typed, faults)),
        cuttable=item.length is not None or item.size is not None,
    )
    return render(here, "pages/stock/item.html", page, 422 if faults else 200)
