"""The sheet that a drawing stands on: its frame of view, its words and its pencils."""

import re
from collections.abc import Iterable, Sequence
from enum import Enum

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.svg import Markup, Point, element, group, number, words

FONT = "Bevelbook Sans,DejaVu Sans,Verdana,sans-serif"
"""Where no style sheet sets a font, as on paper: our face, which papers carry; where it is not known a wide one, for which the room
kept for words is enough. Without blanks, which the layout of papers would take for a part of the names."""

INK = "currentColor"
"""Every mark takes the colour of its group: the page's text, or the pencil's."""


class Pencil(Enum):
    """What a mark is drawn with, as (class, colour). The colour stands as the attribute `color`
    of a group, so that a dark page can lighten all of a pencil's marks by one rule for its class.
    """

    MEASURE = ("measure", "#b23a2e")
    ROOM = ("room", "#24508a")
    OVERRUN = ("overrun", "#b23a2e")
    PLAIN = ("ink", None)

    def draws(self, *marks: Markup) -> Markup:
        """Return the marks in this pencil."""
        kind, colour = self.value
        return group(marks, class_=kind, color=colour)


ACROSS = 42
"""Letter heights that fit along the longer side of a measured drawing: 12 px in 500 px."""


def drawing(view: Box, *parts: Markup, class_: str, title: str, desc: str) -> str:
    """Return an SVG document that shows the box `view`, with its title and description for a reader."""
    return element(
        "svg",
        element("title", words(title)),
        element("desc", words(desc)),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=in_view(view),
        role="img",
        class_=class_,
        font_family=FONT,
    )


def in_view(view: Box) -> str:
    """Return what a drawing shows as its `viewBox` says it."""
    return " ".join(number(value) for value in (view.x, view.y, view.width, view.height))


_VIEW = re.compile(r'viewBox="(\S+) (\S+) (\S+) (\S+)"')


def view_of(svg: str) -> Box:
    """Return what a drawing of ours shows. Raises: ValueError where it does not say that."""
    found = _VIEW.search(svg)
    if found is None:
        raise ValueError("a drawing says what it shows in its viewBox")
    return Box(*map(float, found.groups()))


def to_one_scale(drawings: Sequence[str]) -> tuple[str, ...]:
    """Give drawings views of one size, each about its own middle, so that in places of one size all are drawn to one scale."""
    views = [view_of(each) for each in drawings]
    wide = max((view.width for view in views), default=0)
    high = max((view.height for view in views), default=0)
    return tuple(
        _VIEW.sub(f'viewBox="{in_view(_about(view, wide, high))}"', each, count=1)
        for each, view in zip(drawings, views, strict=True)
    )


def _about(view: Box, wide: float, high: float) -> Box:
    x, y = view.centre
    return Box(x - wide / 2, y - high / 2, wide, high)


def lettering(
    text: str, at: Point, font: float, *, anchor: str = "middle", turned: bool = False, **more: str
) -> Markup:
    """Return a line of text with its baseline at a point; turned reads from the right-hand side."""
    return element(
        "text",
        words(text),
        x=at[0],
        y=at[1],
        font_size=font,
        text_anchor=anchor,
        transform=f"rotate(-90 {number(at[0])} {number(at[1])})" if turned else None,
        **more,
    )


def union(boxes: Iterable[Box]) -> Box:
    """Return the smallest rectangle around all."""
    every = tuple(boxes)
    return Box.between(
        min(box.x for box in every),
        min(box.y for box in every),
        max(box.right for box in every),
        max(box.bottom for box in every),
    )
