"""The shop's logo as papers and its settings show it: an image that they carry themselves."""

from app.documents.kit.pictures import picture_uri
from app.errors import NotFound
from app.services import pictures
from app.web.kit.context import RequestContext


def logo_of(here: RequestContext, *, small: bool = False) -> str:
    """Return the address of the logo; blank where the shop has none. small: as it is listed."""
    if not here.shop.logo:
        return ""
    try:
        return picture_uri(pictures.content_of(here.store, here.shop.logo, small=small))
    except NotFound:
        return ""
