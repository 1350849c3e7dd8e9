"""A sheet of outlines as SVG for machines: one unit is one millimetre, groups are layers.

No fills, styles, dashes or words that a machine could take for something to cut; every outline is a
plain element of its own, named in its title.
"""

from app.drawings.canvas.svg import Markup, element, group, words
from app.drawings.mats.outlines import CutOutline, MatOutlines, OutlineSheet, thousandths
from app.framing import Shape
from app.lengths import Length

HAIR = "0.1"
"""Millimetres; the line itself has no width to a machine, but some programs need one to show it."""


def outlines_svg(sheet: OutlineSheet, *, title: str) -> str:
    """Return the sheet as an SVG document.

    Ids: "mat-1" holds "mat-1-blank", "mat-1-windows" and, on a top mat with grooves, "mat-1-grooves".
    """
    width, height = _text(sheet.size.width), _text(sheet.size.height)
    return element(
        "svg",
        element("title", words(title)),
        *(_mat(mat) for mat in sheet.mats),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width} {height}",
        width=f"{width}mm",
        height=f"{height}mm",
        fill="none",
        stroke="#000000",
        stroke_width=HAIR,
    )


def _mat(mat: MatOutlines) -> Markup:
    name = f"mat-{mat.layer}"
    return group(
        (
            group((_outline(mat.blank),), id=f"{name}-blank"),
            group((_outline(one) for one in mat.windows), id=f"{name}-windows"),
            group((_outline(one) for one in mat.grooves), id=f"{name}-grooves"),
        ),
        id=name,
    )


def _outline(one: CutOutline) -> Markup:
    """Return a rectangle, an ellipse, or a path for an arch."""
    named = (element("title", words(one.name)),) if one.name else ()
    match one.shape:
        case Shape.RECTANGLE:
            return element(
                "rect",
                *named,
                x=_text(one.x),
                y=_text(one.y),
                width=_text(one.width),
                height=_text(one.height),
            )
        case Shape.OVAL:
            return element(
                "ellipse",
                *named,
                cx=_text(one.x + one.width / 2),
                cy=_text(one.y + one.height / 2),
                rx=_text(one.width / 2),
                ry=_text(one.height / 2),
            )
        case Shape.ARCH:
            return element("path", *named, d=_arch(one))


def _arch(one: CutOutline) -> str:
    """From the left end of the round top clockwise."""
    assert one.rise is not None
    left, right, foot = _text(one.x), _text(one.x + one.width), _text(one.y + one.height)
    spring = _text(one.y + one.rise)
    radii = f"{_text(one.width / 2)} {_text(one.rise)}"
    return f"M {left} {spring} A {radii} 0 0 1 {right} {spring} L {right} {foot} L {left} {foot} Z"


def _text(length: Length) -> str:
    """Millimetres with three decimals at most."""
    value = thousandths(length)
    return f"{float(value):.3f}".rstrip("0").rstrip(".")
