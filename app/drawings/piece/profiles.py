"""Shapes of a moulding's face, each declared once as its height over the face.

The front is shaded by how the face slopes, the section cuts through the same outline. Across, 0 is
the outside edge and 1 the sight edge; heights are above the rebate, in shares of the face's width.
Source: common practice for the shapes; the heights are ours, since a price book has none.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from app.drawings.canvas.svg import Point
from app.framing import ProfileShape

type Run = tuple[Point, ...]
"""A straight run to a point, or a bend to the second of two points, which the first one draws it towards."""


@dataclass(frozen=True, slots=True)
class Profile:
    """The outline of a face. parts: into how many each bend is divided where the light on it is drawn.

    lip: the outline of a lip that is set off from the face, across which 1 is the sight edge; the face then ends at the rebate.
    """

    start: Point
    runs: tuple[Run, ...]
    parts: int = 1
    lip: tuple[Point, ...] = ()

    def outline(self, parts: int) -> Iterator[Point]:
        """Yield the points of the face, each bend in so many straight parts."""
        at = self.start
        yield at
        for run in self.runs:
            towards, to = run[0], run[-1]
            for part in range(1, parts + 1) if len(run) > 1 else (parts,):
                yield _bent(at, towards, to, part / parts)
            at = to

    def across(self, wall: float, lip: float, parts: int) -> tuple[Run, Run]:
        """Return the face and the lip that is set off from it, none where there is none: millimetres across, heights in shares.

        wall, lip: widths outside the rebate and over it.
        """
        face = wall if self.lip else wall + lip
        return (
            tuple((x * face, height) for x, height in self.outline(parts)),
            tuple((wall + x * lip, height) for x, height in self.lip if lip),
        )

    def highest(self, parts: int) -> float:
        """Return the height of the highest point of the face, in shares."""
        return max(height for _, height in self.outline(parts))


def _bent(first: Point, towards: Point, last: Point, share: float) -> Point:
    """Return a point of a quadratic Bézier curve."""
    a, b, c = (1 - share) ** 2, 2 * share * (1 - share), share**2
    x, y = (a * f + b * t + c * e for f, t, e in zip(first, towards, last, strict=True))
    return (x, y)


_PLAIN = Profile(
    (0, 0.3),
    (((0.09, 0.4),), ((0.72, 0.4),), ((1, 0.24),)),
    lip=((0, 0.2), (1, 0.14)),
)
"""Where nobody said the shape: an arris, a face, a hollow before the lip."""

_SHAPES = {
    ProfileShape.FLAT: Profile((0, 0.4), (((0.03, 0.43),), ((0.97, 0.43),), ((1, 0.4),))),
    ProfileShape.ROUNDED: Profile(
        (0, 0.14), (((0.05, 0.4), (0.5, 0.4)), ((0.95, 0.4), (1, 0.14))), parts=6
    ),
    ProfileShape.BEVELLED: Profile((0, 0.5), (((0.05, 0.56),), ((0.95, 0.22),), ((1, 0.18),))),
    ProfileShape.SCOOP: Profile(
        (0, 0.48),
        (
            ((0.04, 0.53),),
            ((0.12, 0.53),),
            ((0.3, 0.13), (0.82, 0.13)),
            ((0.86, 0.18),),
            ((0.96, 0.18),),
            ((1, 0.15),),
        ),
        parts=8,
    ),
    ProfileShape.OGEE: Profile(
        (0, 0.4),
        (
            ((0.03, 0.54), (0.18, 0.54)),
            ((0.38, 0.54), (0.5, 0.35)),
            ((0.62, 0.16), (0.82, 0.16)),
            ((0.86, 0.21),),
            ((0.97, 0.21),),
            ((1, 0.18),),
        ),
        parts=4,
    ),
    ProfileShape.REVERSE: Profile(
        (0, 0.12),
        (
            ((0.05, 0.17),),
            ((0.5, 0.18), (0.76, 0.46)),
            ((0.84, 0.55), (0.91, 0.55)),
            ((0.99, 0.55), (1, 0.42)),
        ),
        parts=4,
    ),
    ProfileShape.STEPPED: Profile(
        (0, 0.5),
        (
            ((0.04, 0.54),),
            ((0.36, 0.54),),
            ((0.4, 0.39),),
            ((0.68, 0.39),),
            ((0.72, 0.25),),
            ((0.97, 0.25),),
            ((1, 0.22),),
        ),
    ),
    ProfileShape.REEDED: Profile(
        (0, 0.22),
        (
            ((0.125, 0.5), (0.25, 0.22)),
            ((0.375, 0.5), (0.5, 0.22)),
            ((0.625, 0.5), (0.75, 0.22)),
            ((0.875, 0.5), (1, 0.22)),
        ),
        parts=3,
    ),
}


_LEVEL = 0.05
"""The sine of the steepest slope that is taken for level."""


@dataclass(frozen=True, slots=True)
class Facet:
    """A part of the face that slopes one way. start, end: millimetres from the outside edge.

    tilt: sine of its slope, positive where it faces outwards. height: of its middle, 1 for the highest point. crisp: how much of the
    light that it mirrors is seen as a line, which is less on a broad part. lip: whether it is a lip that is set off.
    """

    start: float
    end: float
    tilt: float
    height: float
    crisp: float = 1.0
    lip: bool = False

    @property
    def width(self) -> float:
        """How far it reaches across, in millimetres."""
        return self.end - self.start

    @property
    def level(self) -> bool:
        """Whether it lies as good as level."""
        return abs(self.tilt) < _LEVEL


def profile_of_shape(shape: ProfileShape | None) -> Profile:
    """Return the outline of a shape; the plain one for None."""
    return _PLAIN if shape is None else _SHAPES[shape]


def facets(
    shape: ProfileShape | None, wall: float, lip: float, *, fine: bool = True
) -> tuple[Facet, ...]:
    """Return the face from the outside in, without gaps. wall, lip: widths outside the rebate and over it.

    fine: bends in as many parts as look round; else in half of them.
    """
    profile, whole = profile_of_shape(shape), wall + lip
    parts = profile.parts if fine else (profile.parts + 1) // 2
    face, edge = profile.across(wall, lip, parts)
    most = profile.highest(parts)
    return (
        *(_facet(first, last, whole, most, lip=False) for first, last in pairwise(face)),
        *(_facet(first, last, whole, most, lip=True) for first, last in pairwise(edge)),
    )


_CRISP = 0.16
"""The share of the face that mirrors the light as a line; a broader part mirrors it less."""


def _facet(first: Point, last: Point, whole: float, most: float, *, lip: bool) -> Facet:
    """whole: the width of the face and its lip. most: the height of the highest point, as the heights of the points in shares of it."""
    across, rise = last[0] - first[0], (last[1] - first[1]) * whole
    return Facet(
        start=first[0],
        end=last[0],
        tilt=rise / hypot(across, rise) if across or rise else 0.0,
        height=(first[1] + last[1]) / 2 / most,
        crisp=min(1.0, _CRISP * whole / across) if across else 1.0,
        lip=lip,
    )


_SECTION_PARTS = 8
"""Into how many parts each bend is divided in a section."""


def cut_through(
    shape: ProfileShape | None, wall: float, lip: float, front: float
) -> tuple[Point, ...]:
    """Return the face as a section shows it, from the outside to the sight edge. wall, lip: as of `facets`.

    x runs from the outside edge inwards; y is the depth, 0 at the highest point, `front` at the rebate.
    """
    profile = profile_of_shape(shape)
    face, edge = profile.across(wall, lip, _SECTION_PARTS)
    most = profile.highest(_SECTION_PARTS)
    return tuple((x, front * (1 - height / most)) for x, height in (*face, *edge))
