"""Placeholders for photographs: a few compositions in greys, so that a set does not look stamped."""

from collections.abc import Callable, Iterator

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.relative import at, part
from app.drawings.canvas.svg import Markup, Point, element, path, polygon


def photograph(box: Box) -> Iterator[Markup]:
    """Slopes under a light sky."""
    yield rectangle(box, fill="#a9aaa8")
    yield polygon((at(box, 0, 0), at(box, 1, 0), at(box, 0, 0.8)), fill="#c3c3c0")
    yield polygon((at(box, 0, 1), at(box, 1, 0.45), at(box, 1, 1)), fill="#7c7e7e")
    yield polygon((at(box, 0.35, 1), at(box, 1, 0.66), at(box, 1, 1)), fill="#626566")


def _shore(box: Box) -> Iterator[Markup]:
    """Yield a low sun over water."""
    yield rectangle(box, fill="#b9b9b5")
    yield rectangle(part(box, 0, 0.36, 1, 0.62), fill="#c9c8c2")
    x, y = at(box, 0.64, 0.45)
    yield element("circle", cx=x, cy=y, r=min(box.width, box.height) * 0.1, fill="#e2e0d6")
    yield rectangle(part(box, 0, 0.62, 1, 1), fill="#75797b")
    yield polygon((at(box, 0, 0.84), at(box, 0.55, 1), at(box, 0, 1)), fill="#55595b")


def _person(box: Box) -> Iterator[Markup]:
    """Head and shoulders, out of focus."""
    yield rectangle(box, fill="#b3b1ac")
    yield rectangle(part(box, 0, 0, 0.46, 1), fill="#a3a29e")
    side = min(box.width, box.height)
    x, foot = at(box, 0.5, 1)
    top = foot - side * 0.36
    shoulders = _hill(x, foot, side * 0.37, side * 0.36)
    yield polygon(shoulders, fill="#5f6263")
    yield element(
        "ellipse", cx=x, cy=top - side * 0.12, rx=side * 0.145, ry=side * 0.185, fill="#7a7b7a"
    )


def _hill(x: float, foot: float, half: float, height: float) -> tuple[Point, ...]:
    """Return an eased hump that stands on a line."""
    shares = ((-1, 0), (-0.92, 0.5), (-0.62, 0.86), (-0.2, 1), (0.2, 1), (0.62, 0.86), (0.92, 0.5))
    return (*((x + half * a, foot - height * b) for a, b in shares), (x + half, foot))


def _trees(box: Box) -> Iterator[Markup]:
    """Trunks in a mist."""
    yield rectangle(box, fill="#c2c2be")
    yield rectangle(part(box, 0, 0.74, 1, 1), fill="#8d8f8d")
    for left, wide, fill in (
        (0.10, 0.05, "#a2a3a0"),
        (0.30, 0.08, "#6c6f6f"),
        (0.55, 0.045, "#969795"),
        (0.70, 0.11, "#565a5b"),
        (0.90, 0.05, "#898b89"),
    ):
        yield polygon(
            (
                at(box, left + wide * 0.15, 0),
                at(box, left + wide * 0.85, 0),
                at(box, left + wide, 0.86),
                at(box, left, 0.86),
            ),
            fill=fill,
        )


def _house(box: Box) -> Iterator[Markup]:
    """Yield a gable against the sky."""
    yield rectangle(box, fill="#bcbdbb")
    yield polygon(
        (
            at(box, 0.12, 1),
            at(box, 0.12, 0.52),
            at(box, 0.42, 0.26),
            at(box, 0.72, 0.52),
            at(box, 0.72, 1),
        ),
        fill="#6d7071",
    )
    yield polygon(
        (
            at(box, 0.72, 0.52),
            at(box, 0.42, 0.26),
            at(box, 1, 0.34),
            at(box, 1, 1),
            at(box, 0.72, 1),
        ),
        fill="#8c8e8d",
    )
    yield rectangle(part(box, 0.24, 0.60, 0.34, 0.74), fill="#d0cfc8")
    yield rectangle(part(box, 0.50, 0.60, 0.60, 0.74), fill="#d0cfc8")
    yield path(
        (at(box, 0, 1), at(box, 1, 1)),
        stroke="#4d5152",
        stroke_width=min(box.width, box.height) * 0.05,
        fill="none",
    )


PHOTOGRAPHS: tuple[Callable[[Box], Iterator[Markup]], ...] = (
    photograph,
    _shore,
    _person,
    _trees,
    _house,
)
"""Compositions, the one for a single photograph first."""
