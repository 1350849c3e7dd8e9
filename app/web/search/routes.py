"""The routes that find from anywhere: what is typed is posted, and the page of what was found bears an id in its place."""

from fastapi import APIRouter
from starlette.responses import Response

from app.services.search import search
from app.web.kit.context import Here, TypedForm
from app.web.kit.listing import FOUND, with_query
from app.web.kit.sought import LONGEST, MEMORY, SOUGHT, read_sought
from app.web.kit.templating import FIND, render, see
from app.web.search import page as page_of

router = APIRouter()

IN = "in"
LISTS = frozenset({"/orders", "/quotes", "/customers"})
"""The lists in which is looked for persons too; a form that looks in one of them is posted here with its other filters."""


@router.get(FIND)
def find(here: Here, q: str = "", s: str = "") -> Response:
    """Go to the one thing that is meant, or show everything that it may be. q: what an address of old asks for."""
    words = read_sought(q, s)
    found = search(here.store, words)
    if found.meant is not None:
        return see(page_of.address_of(found.meant))
    page = page_of.search_page(found, here.shop, today=here.today, forgotten=words.forgotten)
    return render(here, "pages/search/found.html", page)


@router.post(FIND)
def look(here: Here, form: TypedForm) -> Response:
    """Look for what was typed, everywhere or in a list: go to the one thing that is meant, else to the page with all of it."""
    words = form.get(FOUND, "").strip()[:LONGEST]
    if (path := form.get(IN, "")) in LISTS:
        others = {name: text for name, text in form.items() if name not in (FOUND, IN, SOUGHT)}
        return see(with_query(path, {**others, SOUGHT: words and MEMORY.id_of(words)}))
    meant = search(here.store, words).meant
    if meant is not None:
        return see(page_of.address_of(meant))
    return see(with_query(FIND, {SOUGHT: words and MEMORY.id_of(words)}))
