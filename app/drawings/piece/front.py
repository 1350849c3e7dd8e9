"""The piece from the front, to scale, as it will look."""

from collections.abc import Iterator
from dataclasses import replace
from enum import StrEnum

from app.colours import Colour
from app.drawings.canvas.boxes import Box, coordinate, rectangle
from app.drawings.canvas.canvas import drawing
from app.drawings.canvas.shading import SHADOW, inner_shadow, shadow_in, soft_shadow
from app.drawings.canvas.shapes import Outline, outlined
from app.drawings.canvas.svg import Markup, group, path
from app.drawings.piece.appearance import DEFAULT_FILLET, Look
from app.drawings.piece.artwork import artwork, title_card
from app.drawings.piece.bevels import bevel
from app.drawings.piece.cores import core_of
from app.drawings.piece.glass import reflection
from app.drawings.piece.layout import DrawingLayout, is_tray, lay_out
from app.drawings.piece.rails import fillet_rails, rails
from app.drawings.piece.weave import weave
from app.drawings.piece.wording import outside_in_words, piece_in_words
from app.framing import Dimensions, Presentation

GROOVE_WIDTH = 1.1
"""Millimetres; from memory, what a V-shaped blade leaves in the face of a board."""


class FrontView(StrEnum):
    """How the front is shown: on a wall with its shadow, or alone, for paper, where it is small and
    goes without what is finer than a line.
    """

    SEEN = "seen"
    ALONE = "alone"


FACE_TO_COME, LIP_TO_COME = 20.0, 6.0
"""Millimetres; the frame that an outline stands for where none is chosen yet. Common practice, a plain narrow moulding."""


def front(
    dimensions: Dimensions,
    look: Look,
    *,
    view: FrontView = FrontView.SEEN,
    frame_to_come: bool = False,
) -> str:
    """Return the piece from the front as an SVG document; one unit of the drawing is one millimetre.

    The left-top corner of the piece is 0, 0; parts lie one over the other as in the frame, so what
    a lip or a mat covers is drawn and hidden. frame_to_come: whether a piece without a frame is to have one, which a
    thin outline then stands for.
    """
    layout = lay_out(dimensions)
    around = layout.outside.inset(LIP_TO_COME - FACE_TO_COME) if frame_to_come else layout.outside
    margin = max(around.width, around.height) * (0.035 if view is FrontView.SEEN else 0.004)
    return drawing(
        around.inset(-margin),
        *_seen(dimensions, look, layout, view),
        *((_outline_to_come(around, layout.outside),) if frame_to_come else ()),
        class_="drawing drawing-front",
        title=f"{outside_in_words(dimensions, dimensions.spec.unit)}, seen from the front",
        desc=piece_in_words(dimensions, dimensions.spec.unit),
    )


def hung(dimensions: Dimensions, look: Look) -> Markup:
    """Return the piece as it hangs on a wall, with its shadow, to be placed in a larger drawing.

    The left-top corner of the piece is 0, 0; one unit is one millimetre.
    """
    layout = lay_out(dimensions)
    return group(_seen(dimensions, look, layout, FrontView.SEEN), class_="hung")


def _seen(
    dimensions: Dimensions, look: Look, layout: DrawingLayout, view: FrontView
) -> Iterator[Markup]:
    """Yield the piece from the wall to its frame."""
    fine = view is FrontView.SEEN
    reach = max(layout.outside.width, layout.outside.height)
    yield group(soft_shadow(layout.outside, reach * 0.016, 0.34) if fine else (), class_="cast")
    yield from _package(dimensions, look, layout, fine=fine)
    for index, place in enumerate(layout.frames):
        if index and fine:
            depth = (place.rebate.width - place.sight.width) * 0.2
            yield group(inner_shadow(place.sight, depth, 0.3), class_="shade")
        yield rails(place, look.frame(index), fine=fine)


def _outline_to_come(outer: Box, package: Box) -> Markup:
    """Return the edges of a frame that is not chosen yet, with its mitres."""
    inner = package.inset(LIP_TO_COME)
    mitres = zip(outer.corners, inner.corners, strict=True)
    return group(
        (
            path(outer.corners, inner.corners, closed=True),
            path(*mitres),
        ),
        class_="frame-to-come",
        fill="none",
        stroke="currentColor",
        stroke_width=(outer.width + outer.height) * 0.0012,
        stroke_dasharray=f"{(outer.width + outer.height) * 0.008:.1f}",
    )


def _package(
    dimensions: Dimensions, look: Look, layout: DrawingLayout, *, fine: bool
) -> Iterator[Markup]:
    """Yield what lies in the frame, from the back to the front. fine: with the light on every edge."""
    yield _ground(dimensions, look, layout)
    yield from _artworks(dimensions, look, layout)
    yield from _titles(layout)
    yield from _fillets(dimensions, look, layout, fine=fine)
    for index in reversed(range(len(layout.mats))):
        yield _mat(dimensions, look, layout, index, fine=fine)
    if layout.mats:
        yield _grooves(layout, look.mat(0), core_of(dimensions, look, 0))
    if fine and dimensions.spec.glazing is not None:
        yield reflection(layout.sight, low=look.low_reflection)
    if layout.frames:
        yield group(inner_shadow(layout.sight, _lip_height(dimensions), 0.26), class_="shade")
    else:
        yield _bare_edge(layout.package)


def _ground(dimensions: Dimensions, look: Look, layout: DrawingLayout) -> Markup:
    """Return what shows where nothing lies on it: the mount board, or the floor of a tray."""
    if is_tray(dimensions):
        floor = look.frame(0).colour.mixed(look.frame(0).colour.parse(SHADOW), 62)
        return rectangle(layout.package, fill=floor.hex, class_="tray")
    return rectangle(layout.package, fill=look.mount_board.hex, class_="mount-board")


def _artworks(dimensions: Dimensions, look: Look, layout: DrawingLayout) -> Iterator[Markup]:
    """Yield every artwork where it lies; the picture, where there is one, is of a single artwork, behind all windows too."""
    canvas = dimensions.spec.presentation is Presentation.CANVAS
    strength = 0.75 if is_tray(dimensions) else 0.42
    shown = look if len(layout.artworks) == 1 else replace(look, image=None)
    lies = dimensions.spec.boxed is None
    for index, place in enumerate(layout.artworks):
        if place.floats and lies:
            drop = min(coordinate(place.gap) * 0.55, max(place.box.width, place.box.height) * 0.03)
            yield group(soft_shadow(place.box, drop, strength), class_="float")
        yield artwork(place.box, shown, index)
        if (place.floats and lies) or canvas:
            yield _edge_light(place.box)


def _edge_light(box: Box) -> Markup:
    """Return a lit edge at the left and top, a dark one at the right and bottom."""
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


def _titles(layout: DrawingLayout) -> Iterator[Markup]:
    """Yield a card with a line of writing behind each title slot."""
    for hole in layout.mats[-1].holes if layout.mats else ():
        if hole.slot:
            yield title_card(hole.window.box.inset(-2))


def _fillets(
    dimensions: Dimensions, look: Look, layout: DrawingLayout, *, fine: bool
) -> Iterator[Markup]:
    """Yield the rails of each fillet, with the shadow that they throw on the artwork."""
    fillet = dimensions.spec.fillet
    for place in layout.fillets if fillet else ():
        assert fillet is not None
        if fine:
            depth = coordinate(fillet.thickness) * 0.8
            yield group(inner_shadow(place.sight, depth, 0.3), class_="shade")
        yield fillet_rails(place, look.fillet or DEFAULT_FILLET, fine=fine)


def _mat(
    dimensions: Dimensions, look: Look, layout: DrawingLayout, index: int, *, fine: bool
) -> Markup:
    """Return one mat: its face with the windows cut out over their shadows, and the bevels on it."""
    place, colour, core = layout.mats[index], look.mat(index), core_of(dimensions, look, index)
    faces = tuple(hole.face for hole in place.holes)
    depth = coordinate(dimensions.spec.mats[index].thickness) * 1.1
    shadows = (m for hole in place.holes for m in shadow_in(hole.seen, depth, 0.3))
    face = outlined(
        (Outline(place.blank), *faces), fill_rule="evenodd", fill=colour.hex, class_="mat-face"
    )
    edges = outlined(
        faces,
        fill="none",
        stroke=colour.lit(-45).hex,
        stroke_opacity=0.5,
        stroke_width=(place.blank.width + place.blank.height) * 0.0004,
    )
    return group(
        (
            *(shadows if fine else ()),
            face,
            *((weave(place.blank, faces, colour),) if fine and look.is_woven(index) else ()),
            *(m for hole in place.holes for m in bevel(hole, core, fine=fine)),
            edges,
        ),
        class_=f"mat mat-{index + 1}",
    )


def _grooves(layout: DrawingLayout, face: Colour, core: Colour) -> Markup:
    """Lines cut into the face of the top mat: a dark side and a lit one."""
    return group(
        (
            outlined(layout.grooves, stroke=core.hex, stroke_width=GROOVE_WIDTH),
            outlined(
                (
                    groove.moved(-GROOVE_WIDTH * 0.3, -GROOVE_WIDTH * 0.3)
                    for groove in layout.grooves
                ),
                stroke=face.mixed(Colour.parse(SHADOW), 45).hex,
                stroke_width=GROOVE_WIDTH * 0.5,
            ),
        )
        if layout.grooves
        else (),
        class_="grooves",
        fill="none",
    )


def _lip_height(dimensions: Dimensions) -> float:
    """Tell how far the lip's shadow reaches: the less of a third of the rebate's depth and the face."""
    frame = dimensions.spec.profiles[0]
    return min(coordinate(frame.rebate_depth) * 0.35, coordinate(frame.face) * 0.5)


def _bare_edge(package: Box) -> Markup:
    """Return the edge of a package that has no frame around it."""
    return path(
        package.corners,
        closed=True,
        fill="none",
        stroke=SHADOW,
        stroke_opacity=0.45,
        stroke_width=(package.width + package.height) * 0.0008,
    )
