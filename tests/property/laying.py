"""Random mats with several windows, in whole grains, and the same as the program's specs."""

from dataclasses import dataclass, replace

from hypothesis import strategies as st

from app.framing import (
    Align,
    Arrangement,
    Edges,
    Mat,
    Opening,
    Point,
    Presentation,
    Slot,
    Spec,
    UnderMats,
    UnderWay,
    window_letter,
)
from app.lengths import ZERO, Length, Size, Unit
from tests.property.plane import GRAINS_PER_UNIT, as_length


@dataclass(frozen=True, slots=True)
class Grid:
    """Windows of the innermost mat in rows. borders: left, right, top, bottom. All in grains.

    sizes: (width, height) of every window, row by row. slots: (width, height, gap) by window, None
    where it has no title slot.
    """

    unit: Unit
    rows: tuple[int, ...]
    sizes: tuple[tuple[int, int], ...]
    slots: tuple[tuple[int, int, int] | None, ...]
    align: str
    across: int
    down: int
    borders: tuple[int, int, int, int]
    reveals: tuple[int, ...]
    own_edges: bool
    trim: int

    @property
    def grown(self) -> int:
        """What all reveals add to a window of the top mat, in each dimension."""
        return 2 * sum(self.reveals)


@st.composite
def grids(draw: st.DrawFn, *, alike: bool = False, slots: bool = True) -> Grid:
    """One to nine windows whose figures a shop could meet. alike: all of one size, rows alike."""
    unit = draw(st.sampled_from(Unit))
    per_mm = GRAINS_PER_UNIT[unit] / (1 if unit is Unit.MM else 25.4)

    def grains(least_mm: float, most_mm: float) -> int:
        return draw(st.integers(int(least_mm * per_mm) + 1, int(most_mm * per_mm)))

    counts = draw(st.lists(st.integers(1, 3), min_size=1, max_size=3))
    rows = (counts[0],) * len(counts) if alike else tuple(counts)
    one = (grains(30, 200), grains(30, 200))
    sizes = tuple(one if alike else (grains(30, 200), grains(30, 200)) for _ in range(sum(rows)))
    slotted = [
        (grains(15, 220), grains(8, 30), grains(8, 30))
        if slots and not alike and draw(st.booleans())
        else None
        for _ in sizes
    ]
    return Grid(
        unit=unit,
        rows=rows,
        sizes=sizes,
        slots=tuple(slotted),
        align=draw(st.sampled_from(("top", "centre", "bottom"))),
        across=grains(8, 60),
        down=grains(8, 60),
        borders=(grains(20, 150), grains(20, 150), grains(20, 150), grains(20, 150)),
        reveals=tuple(grains(2, 15) for _ in range(draw(st.integers(0, 2)))),
        own_edges=draw(st.booleans()),
        trim=draw(st.integers(0, int(10 * per_mm))),
    )


def spec_of(grid: Grid) -> Spec:
    """The grid as the program reads it: gaps and borders given, the package open."""
    unit = grid.unit

    def length(grains: int) -> Length:
        return as_length(grains, unit)

    def size(pair: tuple[int, int]) -> Size:
        return Size(width=length(pair[0]), height=length(pair[1]))

    left, right, top, bottom = map(length, grid.borders)
    return Spec(
        unit=unit,
        artwork=size(grid.sizes[0]),
        presentation=Presentation.WINDOW,
        overlap=ZERO,
        gap=ZERO,
        mats=(
            Mat(thickness=as_length(8, unit)),
            *(Mat(thickness=as_length(8, unit), reveal=length(r)) for r in grid.reveals),
        ),
        borders=Edges(left=left, right=right, top=top, bottom=bottom),
        under=UnderMats(
            way=UnderWay.OWN_EDGES if grid.own_edges else UnderWay.ATTACHED,
            trim=length(grid.trim),
        ),
        openings=tuple(
            Opening(
                name=window_letter(index),
                window=size(sides),
                slot=Slot(size=size(slot[:2]), gap=length(slot[2])) if slot else None,
            )
            for index, (sides, slot) in enumerate(zip(grid.sizes, grid.slots, strict=True))
        ),
        arrangement=Arrangement(
            rows=grid.rows,
            align=Align(grid.align),
            across=length(grid.across),
            down=length(grid.down),
        ),
    )


def placed(spec: Spec, places: list[Point]) -> Spec:
    """The same windows, each with its own place and no rows."""
    return replace(
        spec,
        arrangement=None,
        openings=tuple(
            replace(opening, at=at) for opening, at in zip(spec.openings, places, strict=True)
        ),
    )
