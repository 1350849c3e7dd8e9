"""The QR code of a page, printed where a phone can open that page and nowhere else.

Every paper is handed the address by which phones reach the app, None while they do not; from it follows a
code with its address in words beneath; without one nothing is said of it.
"""

from dataclasses import dataclass

import segno


@dataclass(frozen=True, slots=True, kw_only=True)
class PageCode:
    """image: the code as an image, without a margin, which the paper leaves. path: the page in words."""

    image: str
    path: str


def page_code(phone_url: str | None, path: str) -> PageCode | None:
    """Make the QR code of a page of ours; None where phones do not reach the app.

    phone_url: the address at which they do.

    Source: ISO/IEC 18004, error correction level M.
    """
    if phone_url is None:
        return None
    code = segno.make(phone_url.rstrip("/") + path, error="m", micro=False)
    image = code.svg_data_uri(border=0, xmldecl=False, svgns=True, omitsize=True)
    return PageCode(image=image, path=path)
