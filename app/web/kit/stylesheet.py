"""Serves the style sheets of the pages as one file, put together when it is first asked for.

The files stay small, one component each; a browser that had to fetch each of them showed its first
page three times later. Every file names its own cascade layer, so only the first has to be first.
"""

import hashlib
from functools import cache

from fastapi import APIRouter
from starlette.responses import Response

from app.files import STATIC

CSS = STATIC / "css"

ADDRESS = "/static/css/all.css"
"""Beside the files: an address within them is written as seen from static/css."""

SHEETS = (
    "layers",
    "reset",
    "fonts",
    "tokens",
    "base",
    "layout",
    "components/buttons",
    "components/fields",
    "components/choices",
    "components/finder",
    "components/steps",
    "components/windows",
    "components/notices",
    "components/sheet",
    "components/overview",
    "components/price",
    "components/badges",
    "components/tables",
    "components/lists",
    "components/drawing",
    "components/match",
    "components/icons",
    "components/photo",
    "pages/quote",
    "pages/order",
    "pages/designs",
    "pages/wall",
    "pages/desk",
    "pages/bench",
    "pages/forms",
    "pages/materials",
    "pages/plans",
    "pages/stock",
    "pages/settings",
    "pages/cutters",
    "pages/buying",
    "pages/words",
    "pages/handbook",
    "utilities",
)
"""In the order in which they are read; of two rules of one layer and weight the later one holds."""

router = APIRouter(include_in_schema=False)


@cache
def style_text() -> str:
    """Join all style sheets into one."""
    return "\n".join((CSS / f"{name}.css").read_text(encoding="utf-8") for name in SHEETS)


@cache
def style_address() -> str:
    """Return the address of the one style sheet, which changes with its content."""
    return f"{ADDRESS}?v={hashlib.sha256(style_text().encode()).hexdigest()[:10]}"


@router.get(ADDRESS)
def get_style() -> Response:
    """Answer with the one style sheet, to be kept for a year: its address changes with it."""
    headers = {"cache-control": "public, max-age=31536000, immutable"}
    return Response(style_text(), media_type="text/css", headers=headers)
