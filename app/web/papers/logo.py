"""The shop's logo as papers and its settings show it: an image that they carry themselves."""

from base64 import b64encode

from app.errors import NotFound
from app.services import pictures
from app.web.kit.context import RequestContext

_PNG = b"\x89PNG"


def logo_of(here: RequestContext, *, small: bool = False) -> str:
    """Return the address of the logo; blank where the shop has none. small: as it is listed."""
    if not here.shop.logo:
        return ""
    try:
        picture = pictures.get(here.store, here.shop.logo)
    except NotFound:
        return ""
    content = picture.small if small else picture.content
    kind = "png" if content.startswith(_PNG) else "jpeg"
    return f"data:image/{kind};base64,{b64encode(content).decode()}"
