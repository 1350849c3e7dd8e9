"""Colours of a section: every part as it looks, its hatching in a tone that shows on it."""

from collections.abc import Iterator
from dataclasses import replace

from app.colours import Colour
from app.drawings.canvas.hatch import (
    BACKING,
    FILLET,
    MOUNT_BOARD,
    WOOD,
    HatchMaterial,
    cut,
)
from app.drawings.canvas.svg import Markup, Point, part_way, polygon
from app.drawings.piece.appearance import DEFAULT_FILLET, Look
from app.drawings.piece.cores import core_of
from app.drawings.section.strips import Strip
from app.framing import Dimensions

_FACE = 0.3
"""The share of a mat's thickness that is drawn as its face; paper on a board is thinner than a line."""


def moulding_in_colour(look: Look) -> HatchMaterial:
    """Return how the moulding is cut through."""
    return _in(WOOD, look.frame(0).colour)


def strip_in_colour(
    strip: Strip, dimensions: Dimensions, look: Look, least: float, font: float
) -> Iterator[Markup]:
    """Yield a part cut through; a mat in the colour of its core, with its face in front. least: how thick it is drawn at least."""
    outline = strip.outline(least)
    if strip.mat is None:
        yield cut(outline, _material(strip.material, look), font)
        return
    core = core_of(dimensions, look, strip.mat)
    face = tuple(_face(outline))
    coloured = polygon(face, fill=look.mat(strip.mat).hex, stroke="none")
    yield cut(outline, _in(strip.material, core), font, coloured)


def _material(material: HatchMaterial, look: Look) -> HatchMaterial:
    """Return a material in the colour that it has in the look, where a look says it."""
    if material is BACKING:
        return _in(material, look.backing)
    if material is MOUNT_BOARD:
        return _in(material, look.mount_board)
    if material is FILLET:
        return _in(material, (look.fillet or DEFAULT_FILLET).colour)
    return material


def _in(material: HatchMaterial, colour: Colour) -> HatchMaterial:
    hatching = colour.lit(-34 if colour.luma > 96 else 34)
    return replace(material, fill=colour.hex, stroke=hatching.hex)


def _face(outline: tuple[Point, ...]) -> Iterator[Point]:
    """Yield the front part of a mat, whose end follows the bevel."""
    front_start, front_end, back_end, back_start = outline
    yield front_start
    yield front_end
    yield part_way(front_end, back_end, _FACE)
    yield part_way(front_start, back_start, _FACE)
