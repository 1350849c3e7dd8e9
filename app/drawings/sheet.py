"""The sheet that a drawing stands on: its frame of view, its words and its pencils."""

from app.drawings.boxes import Box
from app.drawings.svg import Markup, element, number, words

FONT = "DejaVu Sans, Verdana, sans-serif"
"""Where no style sheet sets a font, as in a PDF; a wide face, so the room kept for words is enough."""


def drawing(view: Box, *parts: Markup, class_: str, title: str, desc: str) -> str:
    """An SVG document that shows the box `view`, with its title and description for a reader."""
    return element(
        "svg",
        element("title", words(title)),
        element("desc", words(desc)),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=" ".join(number(value) for value in (view.x, view.y, view.width, view.height)),
        role="img",
        class_=class_,
        font_family=FONT,
    )
