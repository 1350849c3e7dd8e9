"""What the face of a moulding shows: grain, the joints of leaf, brush strokes, a weave, rubbed edges.

Few and fine lines, each kind in one path. They are placed by a fixed sequence, so that a piece looks
the same each time it is drawn; along neighbouring rails they meet at the mitre.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import dist

from app.colours import Colour
from app.drawings.canvas.boxes import Box, ring
from app.drawings.canvas.svg import Markup, Point, number, part_way, path
from app.drawings.piece.appearance import Finish, FrameLook, Surface
from app.drawings.piece.layout import FramePlace
from app.drawings.piece.profiles import Facet

LEAF = 80.0
"""Millimetres along a leaf of gold or silver. Source: common practice."""

_BOLE, _UNDER = Colour(red=122, green=52, blue=36), Colour(red=84, green=62, blue=44)
"""The red ground beneath leaf, and the wood beneath paint."""

_GOLDEN_SHINE = Colour(red=255, green=220, blue=122)
"""What gold turns to where it mirrors the light: it keeps its hue, which white light on wood does not."""

type _Lap = tuple[Point, ...]
"""Where the edge of a leaf crosses a rail."""

_GOLDEN = 0.6180339887
"""Its multiples, less their whole parts, spread evenly and never fall in step."""


def surface(place: FramePlace, look: FrameLook, face: tuple[Facet, ...]) -> Iterator[Markup]:
    """Yield what shows on the four rails of a frame, over their shades."""
    rail = _Rails(place.outside, face[-1].end)
    match look.surface:
        case Surface.WOOD | Surface.LIMED:
            yield from _grain(rail, look)
        case Surface.LEAF:
            yield from _leaves(rail, look, face)
        case Surface.BRUSHED:
            yield from _strokes(rail, look)
        case Surface.CLOTH:
            yield from _weave(rail, look)
        case Surface.PLAIN:
            pass
    if look.finish in (Finish.GLOSS, Finish.METAL) and look.surface is not Surface.LEAF:
        yield from _gleam(place.outside, face)
    if look.rubbed:
        yield from _rubbed(place.outside, look, face)


@dataclass(frozen=True, slots=True)
class _Rails:
    """Four rails about an outside, so wide as their face."""

    outside: Box
    face: float

    @property
    def hair(self) -> float:
        """The width of the finest line that is seen."""
        return max((self.outside.width + self.outside.height) * 0.0004, 0.12)

    def along(self, share: float, drift: float = 0.0, seed: int = 0) -> Iterator[tuple[Point, ...]]:
        """Yield a line along each rail, from mitre to mitre. drift: how far it wanders in between, as a share of the face."""
        for side, (start, end) in enumerate(self.outside.inset(share * self.face).sides):
            line = [start]
            for part in (1, 2) if drift else ():
                away = (_spread(seed + 4 * part + side) - 0.5) * 2 * drift * self.face
                x, y = part_way(start, end, part / 3)
                line.append((x, y + away) if side % 2 == 0 else (x + away, y))
            yield (*line, end)

    def laps(self, every: float, breaks: tuple[float, ...]) -> Iterator[tuple[_Lap, ...]]:
        """Yield lines over each rail, clear of the mitres, rail by rail: unevenly far from one another, and shifted at each break.

        every: how far from one another they are on the whole. breaks: insets of the steps of the face, from the first to the last.
        """
        box = self.outside
        shift = min(every * 0.2, self.face * 0.4)
        clear = self.face + shift
        for side, long in enumerate((box.width, box.height, box.width, box.height)):
            places = [
                (step - 0.8 + 0.6 * _spread(7 * side + 3 * step)) * every
                for step in range(1, int(long / every) + 2)
            ]
            yield tuple(
                tuple(self._over(side, at, breaks, shift, 11 * side + n))
                for n, at in enumerate(places)
                if clear < at < long - clear
            )

    def _over(
        self, side: int, at: float, breaks: tuple[float, ...], shift: float, seed: int
    ) -> Iterator[Point]:
        box = self.outside
        for n, (start, end) in enumerate(pairwise(breaks)):
            for inset, slant in ((start, 0.0), (end, 0.35)):
                along = at + (2 * _spread(seed + 5 * n + slant) - 1) * shift
                match side:
                    case 0:
                        yield box.x + along, box.y + inset
                    case 1:
                        yield box.right - inset, box.y + along
                    case 2:
                        yield box.right - along, box.bottom - inset
                    case _:
                        yield box.x + inset, box.bottom - along


def _spread(index: float) -> float:
    """Return one of a sequence of shares from 0 to 1 without an order that is seen."""
    return (index * _GOLDEN * 5 + 0.31) % 1


def _dashes(*lengths: float) -> str:
    return " ".join(number(length) for length in lengths)


def _grain(rail: _Rails, look: FrameLook) -> Iterator[Markup]:
    """Pores in broken lines, and a few longer lines between them."""
    colour, dark = look.colour, look.colour.luma < 62
    lines = max(4, min(7, round(rail.face / 4)))
    shares = [(index * _GOLDEN + 0.4) % 0.86 + 0.07 for index in range(lines + 2)]
    pores = colour.lit(60 if look.surface is Surface.LIMED else 26 if dark else -48)
    veins = colour.lit(14 if dark else -30)
    yield path(
        *(line for n, at in enumerate(shares[:lines]) for line in rail.along(at, 0.03, n * 17)),
        fill="none",
        stroke=pores.hex,
        stroke_opacity=0.34,
        stroke_width=rail.hair * 0.7,
        stroke_dasharray=_dashes(64, 7, 23, 5, 110, 9, 38, 13, 12, 4),
    )
    yield path(
        *(line for n, at in enumerate(shares[lines:]) for line in rail.along(at, 0.05, n * 29)),
        fill="none",
        stroke=veins.hex,
        stroke_opacity=0.2,
        stroke_width=rail.hair * 2.4,
    )


def _leaves(rail: _Rails, look: FrameLook, face: tuple[Facet, ...]) -> Iterator[Markup]:
    """Leaves that took the light each in its own way, faint laps where one lies over the next, and the shine along each step."""
    ground = _BOLE if look.golden else look.colour.lit(-60)
    shine = _GOLDEN_SHINE if look.golden else look.colour.lit(70)
    steps = _steps(face)
    laps = tuple(rail.laps(LEAF, (*(start for start, _ in steps), steps[-1][1])))
    leaves = tuple(leaf for of_rail in laps for leaf in pairwise(of_rail))
    for colour, first, opacity in ((shine, 0, 0.06), (ground, 1, 0.03)):
        if leaves[first::3]:
            yield path(
                *((*one, *reversed(other)) for one, other in leaves[first::3]),
                closed=True,
                fill=colour.hex,
                fill_opacity=opacity,
            )
    if any(laps):
        yield path(
            *(lap for of_rail in laps for lap in of_rail),
            fill="none",
            stroke=ground.hex,
            stroke_opacity=0.09,
            stroke_width=rail.hair,
        )
    yield from _shine(rail, shine, steps)


def _steps(face: tuple[Facet, ...]) -> tuple[tuple[float, float], ...]:
    """Return from where to where the level steps of a face reach, each as far as the next; the whole face where it has none."""
    end = face[-1].end
    level = [each.start for each in face if each.level and not each.lip]
    starts = (0.0, *level[1:], end)
    return tuple(pairwise(starts))


def _shine(rail: _Rails, shine: Colour, steps: tuple[tuple[float, float], ...]) -> Iterator[Markup]:
    """Yield the light that lies softly along each step, and sharply on its outer edge."""
    for share in (0.12, 0.27, 0.39):
        bands = (
            rail.outside.inset(at).corners
            for start, end in steps
            for at in (start + (end - start) * share, end - (end - start) * share)
        )
        yield path(*bands, closed=True, fill=shine.hex, fill_opacity=0.2, fill_rule="evenodd")
    yield path(
        *(rail.outside.inset(start + rail.hair * 1.5).corners for start, _ in steps),
        closed=True,
        fill="none",
        stroke=shine.lit(55).hex,
        stroke_opacity=0.6,
        stroke_width=rail.hair * 1.5,
    )


def _strokes(rail: _Rails, look: FrameLook) -> Iterator[Markup]:
    """Fine strokes along each rail, some in the light and some in the shade."""
    for percent, first in ((38, 0), (-38, 1)):
        shares = ((index * _GOLDEN + 0.1) % 0.96 + 0.02 for index in range(first, 8, 2))
        yield path(
            *(line for share in shares for line in rail.along(share)),
            fill="none",
            stroke=look.colour.lit(percent).hex,
            stroke_opacity=0.3,
            stroke_width=rail.hair * 0.8,
        )


def _weave(rail: _Rails, look: FrameLook) -> Iterator[Markup]:
    """Threads along each rail, broken by those across it."""
    threads = max(4, min(9, round(rail.face / 3)))
    thread = rail.face / threads / 2
    yield path(
        *(line for index in range(threads) for line in rail.along((index + 0.5) / threads)),
        fill="none",
        stroke=look.colour.lit(-30).hex,
        stroke_opacity=0.3,
        stroke_width=thread,
        stroke_dasharray=_dashes(thread, thread),
    )


def _gleam(outside: Box, face: tuple[Facet, ...]) -> Iterator[Markup]:
    """Yield the light that a level part of a bright face mirrors, along its middle."""
    levels = (facet for facet in face if facet.level and facet.width > face[-1].end * 0.3)
    widest = max(levels, key=lambda facet: facet.width, default=None)
    if widest is not None:
        outer = outside.inset(widest.start + widest.width * 0.28)
        inner = outside.inset(widest.start + widest.width * 0.42)
        yield ring(outer, inner, fill="#f8fbff", fill_opacity=0.26)


RUBBED_EVERY = 110.0
"""Millimetres of an edge on which a hand has left about one mark. Source: ours."""


def _rubbed(outside: Box, look: FrameLook, face: tuple[Facet, ...]) -> Iterator[Markup]:
    """Yield the ground along the edges that a hand wears first: those where the face turns down most.

    It shows in few and short marks, paler than itself, each of its own length and at its own place.
    """
    ground = _BOLE if look.surface is Surface.LEAF else _UNDER
    wide = face[-1].end * 0.02
    edges = sorted((last.tilt - first.tilt, last.start) for first, last in pairwise(face))
    for seed, (_, at) in enumerate(edges[:2]):
        yield path(
            *_marks(outside.inset(max(at - wide / 2, wide / 2)), seed),
            fill="none",
            stroke=ground.mixed(look.colour, 50).hex,
            stroke_opacity=0.5,
            stroke_width=wide,
            stroke_linecap="round",
        )


def _marks(edge: Box, seed: int) -> Iterator[tuple[Point, Point]]:
    """Yield short strokes along the four sides of an edge. seed: so that two edges are not worn alike."""
    for side, (first, last) in enumerate(edge.sides):
        long = dist(first, last)
        count = max(1, round(long / RUBBED_EVERY))
        for mark in range(count):
            place = 31 * seed + 7 * side + mark
            start = (mark + 0.8 * _spread(place)) / count
            end = min(start + (2 + 9 * _spread(3 * place + 1)) / long, 1)
            yield part_way(first, last, start), part_way(first, last, end)
