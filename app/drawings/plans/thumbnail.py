"""A stick or sheet as it is cut up, so small that only its parts and what is kept are seen, without words."""

from collections.abc import Iterable

from app.drawings.canvas.boxes import Box, coordinate, rectangle
from app.drawings.canvas.canvas import INK, in_view
from app.drawings.canvas.svg import Markup, element
from app.drawings.plans.sheet import SheetToCut
from app.drawings.plans.stick import StickToCut
from app.lengths import Length, Size

_ACROSS = 100
"""Units along the longer side. Source: ours."""


def stick_thumbnail(stick: StickToCut) -> str:
    """Return a stick as an element of SVG, a sixth as high as it is long."""
    scale = _ACROSS / coordinate(stick.length)
    high = _ACROSS / 6
    rest = stick.opened.offcut

    def along(at: Length, length: Length) -> Box:
        return Box(round(coordinate(at) * scale, 1), 0, round(coordinate(length) * scale, 1), high)

    return _drawn(
        Box(0, 0, _ACROSS, high),
        (along(each.at, each.length) for each in stick.opened.parts),
        () if rest is None else (along(rest.at, rest.length),),
    )


def sheet_thumbnail(sheet: SheetToCut) -> str:
    """Return a sheet as an element of SVG, in its proportions."""
    longer = max(sheet.size.width, sheet.size.height)
    scale = _ACROSS / coordinate(longer)

    def lying(x: Length, y: Length, size: Size) -> Box:
        left, top, wide, high = (
            round(coordinate(each) * scale, 1) for each in (x, y, size.width, size.height)
        )
        return Box(left, top, wide, high)

    return _drawn(
        Box(0, 0, coordinate(sheet.size.width) * scale, coordinate(sheet.size.height) * scale),
        (lying(each.x, each.y, each.size) for each in sheet.opened.parts),
        (lying(each.x, each.y, each.size) for each in sheet.opened.offcuts),
    )


def _drawn(whole: Box, parts: Iterable[Box], kept: Iterable[Box]) -> str:
    """Draw parts shaded and what is kept in dashes. It says nothing that the row beside it does not: hidden to readers."""
    seen = whole.inset(-1)
    shapes: list[Markup] = [rectangle(whole)]
    shapes += [rectangle(each, fill=INK, fill_opacity=0.2) for each in parts]
    shapes += [rectangle(each, stroke_dasharray="3") for each in kept]
    return element(
        "svg",
        *shapes,
        viewBox=in_view(seen),
        aria_hidden="true",
        class_="thumb",
        fill="none",
        stroke=INK,
    )
