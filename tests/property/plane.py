"""A second way to the dimensions of a piece: rectangles laid on a plane in whole numbers.

A piece is drawn as a framer would lay it out on the bench: the artwork first, then windows, package and
frames around it as rectangles with coordinates. All numbers are quarters of a grain, a grain being
0.1 mm or 1/64 in, so every half and every quarter is a whole number and nothing can drift. Nothing
here uses the program's lengths or its arithmetic; only the words of the handbook.
"""

from dataclasses import dataclass
from fractions import Fraction

from app.lengths import Length, Unit

QUARTERS = 4
GRAINS_PER_UNIT = {Unit.MM: 10, Unit.IN: 64}


def as_length(grains: int, unit: Unit) -> Length:
    """A whole number of grains as the program's length."""
    return Length.of(Fraction(grains, GRAINS_PER_UNIT[unit]), unit)


def as_quarters(length: Length, unit: Unit) -> int:
    """The program's length as quarters of a grain; it must come out whole."""
    quarters = length.in_unit(unit) * GRAINS_PER_UNIT[unit] * QUARTERS
    assert quarters.denominator == 1, f"{length} has drifted off the grid"
    return quarters.numerator


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: x from left to right, y from top to bottom."""

    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def size(self) -> tuple[int, int]:
        return (self.x1 - self.x0, self.y1 - self.y0)

    def out(self, by: int) -> "Box":
        """Every edge moved outwards."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def out_by_sides(self, left: int, right: int, top: int, bottom: int) -> "Box":
        return Box(self.x0 - left, self.y0 - top, self.x1 + right, self.y1 + bottom)

    def margins_of(self, inner: "Box") -> tuple[int, int, int, int]:
        """Distances from our edges in to another's: left, right, top, bottom."""
        return (inner.x0 - self.x0, self.x1 - inner.x1, inner.y0 - self.y0, self.y1 - inner.y1)


@dataclass(frozen=True, slots=True)
class Moulding:
    """A profile in grains."""

    face: int
    lip: int
    allowance: int


@dataclass(frozen=True, slots=True)
class Plan:
    """What is asked for, in whole grains. borders: left, right, top, bottom. reveals: of layers 2 on.

    With borders and package both, the artwork does not set the window.
    """

    unit: Unit
    presentation: str
    artwork: tuple[int, int]
    overlap: int
    gap: int
    layers: int
    reveals: tuple[int, ...]
    thicknesses: tuple[int, ...]
    borders: tuple[int, int, int, int] | None
    package: tuple[int, int] | None
    weighting: int
    own_edges: bool
    trim: int
    mouldings: tuple[Moulding, ...]
    panel_trim: int
    spacer_width: int


@dataclass(frozen=True, slots=True)
class Laid:
    """The piece on the plane. Layers top first, frames inner first."""

    windows: tuple[Box, ...]
    faces: tuple[Box, ...]
    package: Box
    blanks: tuple[Box, ...]
    borders: tuple[tuple[int, int, int, int], ...]
    rebates: tuple[Box, ...]
    sights: tuple[Box, ...]
    outsides: tuple[Box, ...]
    panel: Box
    spacers: tuple[int, int]


def lay(plan: Plan) -> Laid:
    """Lay a piece out, from the artwork outwards. Source: handbook G1 to G18 in their words."""
    opening = _opening(plan)
    if plan.borders is not None and plan.package is not None:
        package = _sheet(plan.package)
        windows = _windows_cut_in(plan, package)
    else:
        windows = _windows(plan, opening)
        package = _package(plan, windows, opening)
    blanks, borders = _blanks_and_borders(plan, windows, package)
    rebates, sights, outsides = _frames(plan, package)
    width, height = package.size
    return Laid(
        windows=windows,
        faces=tuple(
            window.out(QUARTERS * thick)
            for window, thick in zip(windows, plan.thicknesses, strict=True)
        ),
        package=package,
        blanks=blanks,
        borders=borders,
        rebates=rebates,
        sights=sights,
        outsides=outsides,
        panel=package.out(-QUARTERS * plan.panel_trim),
        spacers=(width, height - 2 * QUARTERS * plan.spacer_width),
    )


def _opening(plan: Plan) -> Box:
    """The hole around the artwork: in by the overlap, out by the gap, or the artwork itself."""
    artwork = _sheet(plan.artwork)
    by = {"window": -plan.overlap, "float": plan.gap, "canvas-float": plan.gap}
    return artwork.out(QUARTERS * by.get(plan.presentation, 0))


def _windows(plan: Plan, opening: Box) -> tuple[Box, ...]:
    """From the innermost out, each layer above steps back by the reveal of the one below (G3)."""
    if not plan.layers:
        return ()
    windows = [opening]
    for reveal in reversed(plan.reveals):
        windows.insert(0, windows[0].out(QUARTERS * reveal))
    return tuple(windows)


def _sheet(size: tuple[int, int]) -> Box:
    return Box(0, 0, QUARTERS * size[0], QUARTERS * size[1])


def _windows_cut_in(plan: Plan, package: Box) -> tuple[Box, ...]:
    """Borders marked in from the edges, then each layer below steps in by its reveal (G6)."""
    assert plan.borders is not None
    left, right, above, below = (-QUARTERS * border for border in plan.borders)
    windows = [package.out_by_sides(left, right, above, below)]
    for reveal in plan.reveals:
        windows.append(windows[-1].out(-QUARTERS * reveal))
    return tuple(windows)


def _package(plan: Plan, windows: tuple[Box, ...], opening: Box) -> Box:
    if not windows:
        return opening
    top = windows[0]
    if plan.borders is not None:
        left, right, above, below = (QUARTERS * border for border in plan.borders)
        return top.out_by_sides(left, right, above, below)
    assert plan.package is not None
    width, height = QUARTERS * plan.package[0], QUARTERS * plan.package[1]
    spare_x, spare_y = width - top.size[0], height - top.size[1] - QUARTERS * plan.weighting
    assert spare_x % 2 == 0
    assert spare_y % 2 == 0
    x0, y0 = top.x0 - spare_x // 2, top.y0 - spare_y // 2
    return Box(x0, y0, x0 + width, y0 + height)


def _blanks_and_borders(
    plan: Plan, windows: tuple[Box, ...], package: Box
) -> tuple[tuple[Box, ...], tuple[tuple[int, int, int, int], ...]]:
    """Under blanks lie trimmed inside the package; borders are read off the edge they refer to."""
    under = package.out(-QUARTERS * plan.trim)
    blanks = tuple(package if layer == 0 else under for layer in range(plan.layers))
    edges = blanks if plan.own_edges else (package,) * plan.layers
    borders = tuple(edge.margins_of(hole) for edge, hole in zip(edges, windows, strict=True))
    return blanks, borders


def _frames(plan: Plan, package: Box) -> tuple[tuple[Box, ...], tuple[Box, ...], tuple[Box, ...]]:
    """Each frame's walls stand off by half its allowance; the lip reaches in, the rest of the
    face out. A tray's walls stand at its inside."""
    rebates: list[Box] = []
    sights: list[Box] = []
    outsides: list[Box] = []
    inside = package
    for number, moulding in enumerate(plan.mouldings):
        tray = number == 0 and plan.presentation == "canvas-float"
        lip, allowance = (0, 0) if tray else (moulding.lip, moulding.allowance)
        walls = inside.out(QUARTERS * allowance // 2)
        rebates.append(walls)
        sights.append(walls.out(-QUARTERS * lip))
        outsides.append(walls.out(QUARTERS * (moulding.face - lip)))
        inside = outsides[-1]
    return tuple(rebates), tuple(sights), tuple(outsides)
