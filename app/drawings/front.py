"""The piece from the front, to scale, as it will look."""

from collections.abc import Iterator
from enum import StrEnum

from app.drawings.artwork import artwork
from app.drawings.boxes import Box, coordinate, rectangle, ring
from app.drawings.layout import Layout, MatPlace, is_tray, lay_out
from app.drawings.light import FALL, SHADOW, Side, between, inner_shadow, soft_shadow
from app.drawings.look import Look
from app.drawings.rails import rails
from app.drawings.sheet import drawing
from app.drawings.svg import Markup, group, path, polygon
from app.drawings.wording import outside_in_words, piece_in_words
from app.framing import Dimensions, Presentation


class View(StrEnum):
    """How the front is shown: on a wall with its shadow, or alone, for paper."""

    SEEN = "seen"
    ALONE = "alone"


def front(dimensions: Dimensions, look: Look, *, view: View = View.SEEN) -> str:
    """The piece from the front as an SVG document; one unit of the drawing is one millimetre.

    The left-top corner of the piece is 0, 0; parts lie one over the other as in the frame, so what
    a lip or a mat covers is drawn and hidden.
    """
    layout = lay_out(dimensions)
    reach = max(layout.outside.width, layout.outside.height)
    margin = reach * (0.035 if view is View.SEEN else 0.004)
    shadow = soft_shadow(layout.outside, reach * 0.016, 0.34) if view is View.SEEN else ()
    return drawing(
        layout.outside.inset(-margin),
        group(shadow, class_="cast"),
        *_package(dimensions, look, layout),
        *(rails(place, look.frame(index)) for index, place in enumerate(layout.frames)),
        class_="drawing drawing-front",
        title=f"{outside_in_words(dimensions, dimensions.spec.unit)}, seen from the front",
        desc=piece_in_words(dimensions, dimensions.spec.unit),
    )


def _package(dimensions: Dimensions, look: Look, layout: Layout) -> Iterator[Markup]:
    """What lies in the frame, from the back to the front."""
    yield _ground(dimensions, look, layout)
    yield from _artwork(dimensions, look, layout)
    for index in reversed(range(len(layout.mats))):
        thickness = coordinate(dimensions.spec.mats[index].thickness)
        yield _mat(layout.mats[index], look, index, thickness)
    if layout.frames:
        yield group(inner_shadow(layout.sight, _lip_height(dimensions), 0.26), class_="shade")
    else:
        yield _bare_edge(layout.package)


def _ground(dimensions: Dimensions, look: Look, layout: Layout) -> Markup:
    """What shows where nothing lies on it: the mount board, or the floor of a tray."""
    if is_tray(dimensions):
        floor = look.frame(0).colour.mixed(look.frame(0).colour.parse(SHADOW), 62)
        return rectangle(layout.package, fill=floor.hex, class_="tray")
    return rectangle(layout.package, fill=look.mount_board.hex, class_="mount-board")


def _artwork(dimensions: Dimensions, look: Look, layout: Layout) -> Iterator[Markup]:
    spec = dimensions.spec
    raised = spec.presentation in (Presentation.FLOAT, Presentation.CANVAS_FLOAT)
    if raised:
        gap = coordinate(spec.gap)
        strength = 0.75 if is_tray(dimensions) else 0.42
        drop = min(gap * 0.55, max(layout.artwork.width, layout.artwork.height) * 0.03)
        yield group(soft_shadow(layout.artwork, drop, strength), class_="float")
    yield artwork(layout.artwork, look)
    if raised or spec.presentation is Presentation.CANVAS:
        yield _edge_light(layout.artwork)


def _edge_light(box: Box) -> Markup:
    """A lit edge at the left and top, a dark one at the right and bottom."""
    left_top, right_top, right_bottom, left_bottom = box.corners
    hair = (box.width + box.height) * 0.0012
    return group(
        (
            path((left_bottom, left_top, right_top), stroke="#fffdf6", stroke_opacity=0.7),
            path((right_top, right_bottom, left_bottom), stroke=SHADOW, stroke_opacity=0.4),
        ),
        fill="none",
        stroke_width=hair,
    )


def _mat(place: MatPlace, look: Look, index: int, thickness: float) -> Markup:
    """One mat: its face with the window cut out, and the bevel where it is seen."""
    hair = (place.blank.width + place.blank.height) * 0.0004
    colour = look.mat(index)
    outline = path(
        place.seen.corners if place.seen is place.face else place.face.corners,
        closed=True,
        fill="none",
        stroke=colour.lit(-45).hex,
        stroke_opacity=0.5,
        stroke_width=hair,
    )
    return group(
        (
            *inner_shadow(place.seen, thickness * 1.1, 0.3),
            ring(place.blank, place.face, fill=colour.hex, class_="mat-face"),
            *_bevel(place, look),
            outline,
        ),
        class_=f"mat mat-{index + 1}",
    )


def _bevel(place: MatPlace, look: Look) -> Iterator[Markup]:
    """The cut core of the board on each side; a reverse or a straight cut hides it (G8)."""
    if place.face.width <= place.window.width:
        return
    for side in Side:
        # A window's bevel faces inward: it is lit where a slope facing outward is in shade.
        shade = look.core.lit(-FALL[side] - 8)
        yield polygon(between(place.face, place.window, side), fill=shade.hex, class_="bevel")


def _lip_height(dimensions: Dimensions) -> float:
    """How far the lip's shadow reaches: the less of a third of the rebate's depth and the face."""
    frame = dimensions.spec.frames[0]
    return min(coordinate(frame.rebate_depth) * 0.35, coordinate(frame.face) * 0.5)


def _bare_edge(package: Box) -> Markup:
    """The edge of a package that has no frame around it."""
    return path(
        package.corners,
        closed=True,
        fill="none",
        stroke=SHADOW,
        stroke_opacity=0.45,
        stroke_width=(package.width + package.height) * 0.0008,
    )
