"""The route of the page that describes the JSON, with examples that this very shop answers."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.errors import Invalid
from app.pricing import Kind
from app.services import price_book
from app.web.api import day, dimensions, price
from app.web.api.cutting import sheet_plan_json, stick_plan_json
from app.web.api.reading_cutting import read_sheets, read_sticks
from app.web.api.requests_cutting import SheetsRequested, SticksRequested
from app.web.api.requests_day import DayAsked
from app.web.api.requests_price import PriceAsked
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

_MATTED: dict[str, Any] = {
    "artwork": {"width": "297", "height": "420"},
    "presentation": "window",
    "overlap": "5",
    "mats": [{"thickness": "1.4"}],
}

DAY: dict[str, Any] = {
    "unit": "mm",
    "cutter": {"stops": {"near": True, "far": True}},
    "pieces": [
        {"id": "A", **_MATTED, "borders": dict.fromkeys(("left", "right", "top", "bottom"), "60")},
        {
            "id": "B",
            **_MATTED,
            "borders": {"left": "60", "right": "60", "top": "60", "bottom": "70"},
            "copies": 3,
        },
    ],
}

STICKS: dict[str, Any] = {
    "unit": "mm",
    "kerf": "3",
    "keep": "300",
    "stock": [
        {"id": "new", "length": "3000", "cost": "24.50"},
        {"id": "rest 7", "length": "740", "copies": 1, "cost": "0"},
    ],
    "parts": [
        {"id": "wide", "length": "712", "copies": 2, "group": "piece 1"},
        {"id": "high", "length": "512", "copies": 2, "group": "piece 1"},
        {"id": "cleat", "length": "730"},
        {"id": "fence", "length": "3200"},
    ],
}

SHEETS: dict[str, Any] = {
    "unit": "in",
    "keep": {"width": "8", "height": "10"},
    "stock": [{"id": "board", "width": "40", "height": "32", "cost": "9.80"}],
    "parts": [
        {"id": "mat A", "width": "16", "height": "20", "copies": 2},
        {"id": "mat B", "width": "63/8", "height": "10", "turn": False},
    ],
}


@router.get("/docs")
def show(here: Here) -> HTMLResponse:
    """Show every address under /api: its fields, an example, how errors look."""
    examples = {
        "/api/dimensions": _dimensions(),
        "/api/bench/day": page_of.RequestExample.of(DAY, day.day(DayAsked.model_validate(DAY))),
        "/api/cutting/sticks": _sticks(),
        "/api/cutting/sheets": _sheets(),
        "/api/price": _price(here),
    }
    page = page_of.DocsPage(
        endpoints=page_of.endpoints(here.request.app.openapi(), examples),
        refusal=page_of.as_text(page_of.REFUSAL),
    )
    return render(here, "pages/docs/show.html", page)


def _dimensions() -> page_of.RequestExample:
    answer = dimensions.dimensions(dimensions.DimensionsAsked.model_validate(DIMENSIONS))
    return page_of.RequestExample.of(DIMENSIONS, answer)


def _sticks() -> page_of.RequestExample:
    """Planned by the simple rule, as is best here: no page waits for a solver."""
    asked = read_sticks(SticksRequested.model_validate(STICKS))
    return page_of.RequestExample.of(STICKS, stick_plan_json(simple_stick_plan(asked)))


def _sheets() -> page_of.RequestExample:
    """Ask for sheets what the example above asks for sticks."""
    asked = read_sheets(SheetsRequested.model_validate(SHEETS))
    return page_of.RequestExample.of(SHEETS, sheet_plan_json(simple_sheet_plan(asked)))


def _price(here: RequestContext) -> page_of.RequestExample:
    """Ask for a price with the first materials of this shop's own price book."""
    mats = _first(here, Kind.MAT)
    sheets = {"glazing": _first(here, Kind.GLAZING), "backing": _first(here, Kind.BOARD)}
    asked: dict[str, Any] = {
        "artwork": {"size": "A3", "kind": "print"},
        "presentation": "window" if mats else "close",
        "mats": mats,
        "frames": _first(here, Kind.MOULDING),
        **{name: one[0] for name, one in sheets.items() if one},
    }
    try:
        answer = price.price(here, PriceAsked.model_validate(asked))
    except Invalid:
        return page_of.RequestExample.of(asked)
    return page_of.RequestExample.of(asked, answer)


def _first(here: RequestContext, kind: Kind) -> list[dict[str, str]]:
    """Name the first material of a kind, as a request does; nothing where there is none."""
    found = price_book.find(here.store, "", kind=kind, limit=1)
    return [{"material": material.code} for material in found]
