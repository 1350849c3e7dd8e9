"""The page that describes the JSON, with examples that this very shop answers."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.errors import Invalid
from app.pricing import Kind
from app.services import price_book
from app.web.api import dimensions, price
from app.web.docs import cutting as docs_cutting
from app.web.docs import page as page_of
from app.web.kit.context import Here, RequestContext
from app.web.kit.templating import render

router = APIRouter()

DIMENSIONS: dict[str, Any] = {
    "unit": "mm",
    "artwork": {"width": "297", "height": "420", "thickness": "0.3"},
    "presentation": "window",
    "overlap": "5",
    "mats": [{"thickness": "1.4"}, {"thickness": "1.4", "reveal": "6"}],
    "borders": {"left": "60", "right": "60", "top": "60", "bottom": "70"},
    "frames": [{"face": "20", "lip": "6", "rebate_depth": "14", "allowance": "3"}],
    "glazing": {"thickness": "2"},
    "backing": {"thickness": "3"},
}


@router.get("/docs")
def show(here: Here) -> HTMLResponse:
    """Every address under /api: its fields, an example, how errors look."""
    examples = {
        "/api/dimensions": _dimensions(),
        "/api/cutting/sticks": _told(docs_cutting.STICKS, docs_cutting.STICKS_ANSWER),
        "/api/cutting/sheets": _told(docs_cutting.SHEETS, docs_cutting.SHEETS_ANSWER),
        "/api/price": _price(here),
    }
    page = page_of.DocsPage(
        endpoints=page_of.endpoints(here.request.app.openapi(), examples),
        refusal=page_of.as_text(page_of.REFUSAL),
    )
    return render(here, "pages/docs/show.html", page)


def _dimensions() -> page_of.RequestExample:
    answer = dimensions.dimensions(dimensions.DimensionsAsked.model_validate(DIMENSIONS))
    return page_of.RequestExample(
        request=page_of.as_text(DIMENSIONS), answer=page_of.as_text(answer)
    )


def _told(asked: dict[str, Any], answer: dict[str, Any]) -> page_of.RequestExample:
    """An example whose answer is written down: no page waits for a solver."""
    return page_of.RequestExample(request=page_of.as_text(asked), answer=page_of.as_text(answer))


def _price(here: RequestContext) -> page_of.RequestExample:
    """With the first materials of this shop's own price book."""
    mats = _first(here, Kind.MAT)
    asked: dict[str, Any] = {
        "artwork": {"size": "A3", "kind": "print"},
        "presentation": "window" if mats else "close",
        "mats": mats,
        "frames": _first(here, Kind.MOULDING),
        **{name: one[0] for name, one in _sheets(here).items() if one},
    }
    try:
        answer = page_of.as_text(price.price(here, price.PriceAsked.model_validate(asked)))
    except Invalid:
        answer = ""
    return page_of.RequestExample(request=page_of.as_text(asked), answer=answer)


def _sheets(here: RequestContext) -> dict[str, list[dict[str, str]]]:
    return {"glazing": _first(here, Kind.GLAZING), "backing": _first(here, Kind.BOARD)}


def _first(here: RequestContext, kind: Kind) -> list[dict[str, str]]:
    """The first material of a kind, as a request names it; none where there is none."""
    found = price_book.find(here.store, "", kind=kind, limit=1)
    return [{"material": material.code} for material in found]
