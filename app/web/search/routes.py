"""The route that finds from anywhere."""

from fastapi import APIRouter
from starlette.responses import Response

from app.services.search import search
from app.web.kit.context import Here
from app.web.kit.templating import FIND, render, see
from app.web.search import page as page_of

router = APIRouter()

LONGEST = 200


@router.get(FIND)
def find(here: Here, q: str = "") -> Response:
    """Go to the one thing that is meant, or show everything that it may be."""
    found = search(here.store, q[:LONGEST])
    if found.meant is not None:
        return see(page_of.address_of(found.meant))
    page = page_of.search_page(found, here.shop, today=here.today)
    return render(here, "pages/search/found.html", page)
