"""The mitred rails of a frame, each shaded as its profile takes the light.

The profile is told by four bands from the outside edge to the lip: an arris, the slope of the face,
the hollow before the lip, and the lip itself at its true width. What a real moulding looks like
in between is not known, only its face, its lip, its colour and its finish.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.colours import Colour
from app.drawings.canvas.boxes import Box
from app.drawings.canvas.shading import FALL, SHADOW, Side, between
from app.drawings.canvas.svg import Markup, group, path, polygon
from app.drawings.piece.appearance import Finish, FrameLook
from app.drawings.piece.layout import FilletPlace, FramePlace


@dataclass(frozen=True, slots=True)
class Band:
    """A part of the profile. start, end: shares of the face outside the lip, in percent.

    level: percent lighter or darker than the base everywhere. slope: percent that it turns to
    the outside (lit at the top) or, negative, to the inside (lit at the bottom).
    """

    start: int
    end: int
    level: int
    slope: int


_BANDS = (Band(0, 9, 6, 12), Band(9, 74, 0, 7), Band(74, 100, -6, -13))
_LIP = Band(0, 100, 9, -8)
_GLEAM = Band(30, 44, 22, 6)
_STRENGTH = {Finish.MATT: 7, Finish.SATIN: 10, Finish.GLOSS: 14, Finish.METAL: 18}
"""Tenths by which a finish strengthens the light on the slopes."""


def rails(place: FramePlace, look: FrameLook) -> Markup:
    """Return the four rails of one frame with the lines of their mitres and of the lip."""
    return group(_parts(place, look), class_="frame")


def fillet_rails(place: FilletPlace, look: FrameLook) -> Markup:
    """Return the four rails of a fillet: its flat lip, most of it hidden by the mat, and its raised face."""
    face = FramePlace(outside=place.raised, rebate=place.sight, sight=place.sight)
    return group(
        (*_band(place.outside, place.raised, _LIP, look, class_="lip"), *_parts(face, look)),
        class_="fillet",
    )


def _parts(place: FramePlace, look: FrameLook) -> Iterator[Markup]:
    yield from _band(place.outside, place.sight, Band(0, 100, 0, 7), look)
    for band in _bands(look.finish):
        yield from _band(*_edges(place, band), band, look)
    if place.rebate.width > place.sight.width:
        yield from _band(place.rebate, place.sight, _LIP, look, class_="lip")
    yield _lines(place, look.colour)


def _bands(finish: Finish) -> tuple[Band, ...]:
    return (*_BANDS, _GLEAM) if finish in (Finish.GLOSS, Finish.METAL) else _BANDS


def _edges(place: FramePlace, band: Band) -> tuple[Box, Box]:
    """Return the band's outer and inner rectangle, between the outside and the rebate's walls."""
    wall = (place.outside.width - place.rebate.width) / 2
    return place.outside.inset(wall * band.start / 100), place.outside.inset(wall * band.end / 100)


def _band(
    outer: Box, inner: Box, band: Band, look: FrameLook, class_: str = "rail"
) -> Iterator[Markup]:
    for side in Side:
        yield polygon(between(outer, inner, side), class_=class_, fill=shade(look, band, side).hex)


def shade(look: FrameLook, band: Band, side: Side) -> Colour:
    """Return the colour of a band on one side, in whole percent of light.

    Very dark mouldings are lifted a little, so that a black frame still shows its mitres.
    """
    lift = max(0, (60 - look.colour.luma) // 6)
    slope = band.slope * FALL[side] * _STRENGTH[look.finish] // 100
    return look.colour.lit(lift + band.level + slope)


def _lines(place: FramePlace, colour: Colour) -> Markup:
    """Mitres from corner to corner, the profile line where the lip begins, and the edges."""
    hair = place.outside.width + place.outside.height
    mitres = zip(place.outside.corners, place.sight.corners, strict=True)
    return group(
        (
            path(*mitres, class_="mitre", stroke_opacity=0.45),
            path(place.rebate.corners, closed=True, class_="profile", stroke_opacity=0.5),
            path(place.sight.corners, closed=True, stroke_opacity=0.6),
            path(place.outside.corners, closed=True, stroke_opacity=0.6),
        ),
        fill="none",
        stroke=colour.mixed(Colour.parse(SHADOW), 75).hex,
        stroke_width=hair * 0.0005,
    )
