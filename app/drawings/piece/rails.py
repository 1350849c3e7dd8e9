"""The mitred rails of a frame, each shaded as the shape of its profile takes the light."""

from collections.abc import Iterator

from app.colours import Colour
from app.drawings.canvas.boxes import Box
from app.drawings.canvas.shading import SHADOW, mitred
from app.drawings.canvas.svg import Markup, element, group, path
from app.drawings.piece.appearance import FrameLook
from app.drawings.piece.layout import FilletPlace, FramePlace
from app.drawings.piece.light import shade
from app.drawings.piece.profiles import Facet, facets
from app.drawings.piece.surfaces import surface


def rails(place: FramePlace, look: FrameLook, *, fine: bool = True) -> Markup:
    """Return the four rails of one frame with the lines of their mitres and of the lip.

    fine: with grain, leaf or strokes, and bends in as many parts as look round.
    """
    return group(_parts(place, look, fine=fine), class_="frame")


def fillet_rails(place: FilletPlace, look: FrameLook, *, fine: bool = True) -> Markup:
    """Return the four rails of a fillet: its flat lip, most of it hidden by the mat, and its raised face."""
    face = FramePlace(outside=place.raised, rebate=place.sight, sight=place.sight)
    lip = _band(place.outside, place.raised, Facet(0, 1, -0.1, 1), look, "lip")
    return group((*lip, *_parts(face, look, fine=fine)), class_="fillet")


def _parts(place: FramePlace, look: FrameLook, *, fine: bool) -> Iterator[Markup]:
    wall = (place.outside.width - place.rebate.width) / 2
    lip = (place.rebate.width - place.sight.width) / 2
    found = facets(look.shape, wall, lip, fine=fine)
    for facet, after in zip(found, (None, *found), strict=False):
        if after is None or facet.tilt != after.tilt or facet.lip != after.lip:
            kind = "lip" if facet.lip else "rail"
            yield from _band(place.outside.inset(facet.start), place.sight, facet, look, kind)
    if fine:
        yield from surface(place, look, found)
    yield _lines(place, look.colour, lip=found[-1].lip)


def _band(outer: Box, inner: Box, facet: Facet, look: FrameLook, class_: str) -> Iterator[Markup]:
    """Yield a part of the face on each side, as far as the sight edge: what lies further in is drawn over it, so that no seam shows."""
    for side, strip in mitred(outer, inner):
        fill = shade(look, facet, side).hex
        yield element("polygon", points=strip, class_=class_, fill=fill)


def _lines(place: FramePlace, colour: Colour, *, lip: bool) -> Markup:
    """Mitres from corner to corner, the line where a lip is set off, and the edges."""
    hair = place.outside.width + place.outside.height
    mitres = zip(place.outside.corners, place.sight.corners, strict=True)
    edge = path(place.rebate.corners, closed=True, class_="profile", stroke_opacity=0.5)
    return group(
        (
            path(*mitres, class_="mitre", stroke_opacity=0.45),
            *((edge,) if lip else ()),
            path(place.sight.corners, place.outside.corners, closed=True, stroke_opacity=0.6),
        ),
        fill="none",
        stroke=colour.mixed(Colour.parse(SHADOW), 75).hex,
        stroke_width=hair * 0.0005,
    )
