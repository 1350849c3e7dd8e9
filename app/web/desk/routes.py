"""The route of the desk."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.services import backups, pictures, telling, ticket_prints
from app.services import desk as service
from app.web.desk import bench_page
from app.web.desk.page import desk_page, heading_of, to_print_again
from app.web.kit.context import Here, RequestContext
from app.web.kit.listing import part_of
from app.web.kit.templating import render
from app.web.kit.visitor import Role

router = APIRouter()


@router.get("/")
def show_desk(here: Here) -> HTMLResponse:
    """Show what is due, what can be cut, what waits for collection, who owes money; at the bench the open pieces alone."""
    if here.visitor.role is Role.BENCH:
        return _at_bench(here)
    desk = service.view(here.store, today=here.today)
    told = telling.last_days(here.store, [order.id for order in desk.to_collect.orders])
    again = ticket_prints.changed_since_printed(here.store, here.shop)
    copies = backups.to_say(here.context.keeper.state, here.context.now())
    page = desk_page(desk, again, here.today, told, copies)
    photos = pictures.of_orders(here.store, page.orders)
    return render(here, "pages/desk/show.html", page.with_photos(photos))


def _at_bench(here: RequestContext) -> HTMLResponse:
    wanted = bench_page.BenchDeskQuery.read(here.request.query_params)
    pieces = service.at_bench(here.store, wanted.stage)
    listed = wanted.part(lambda part: part_of(pieces, part))
    photos = pictures.of_pieces(here.store, (piece.ref.piece_id for piece in listed.rows))
    rows = bench_page.piece_lines(listed.rows, here.today, photos)
    page = bench_page.BenchDeskPage(
        heading=heading_of(here.today),
        listing=wanted.listing(listed, rows, chips=(wanted.chips(),)),
        print_again=to_print_again(ticket_prints.changed_since_printed(here.store, here.shop)),
    )
    return render(here, "pages/desk/bench.html", page)
