"""Notes who is working at this screen, in a cookie of the browser."""

from urllib.parse import quote

from fastapi import APIRouter
from starlette.responses import Response

from app.web.kit.context import WHO_COOKIE, OurShop, TypedForm
from app.web.kit.listing import LONGEST_ADDRESS
from app.web.kit.templating import see

router = APIRouter()

A_YEAR = 365 * 24 * 3600


@router.post("/who")
def set_who(shop: OurShop, form: TypedForm) -> Response:
    """Note who is working; a name that the shop does not know is nobody."""
    answer = see(page_of_ours(form.get("next", "")))
    who = form.get("who", "")
    if who in shop.people:
        answer.set_cookie(WHO_COOKIE, quote(who), max_age=A_YEAR, httponly=True, samesite="strict")
    else:
        answer.delete_cookie(WHO_COOKIE)
    return answer


def page_of_ours(path: str) -> str:
    """Return the page to go back to; it is the desk where the path could lead away from this app."""
    ours = (
        len(path) <= LONGEST_ADDRESS
        and path.startswith("/")
        and not path.startswith(("//", "/\\"))
        and path.isprintable()
    )
    return path if ours else "/"
