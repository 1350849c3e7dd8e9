"""Where the windows of the top mat lie, and how large that makes the package: rules G3 to G6, G9.

Owns the places, exact and seen from the front, from the package's left and top edges. A spec may
still be impossible: places can come out anywhere, and `checks` says what is wrong with them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from app.framing.arrangement import MOST_WINDOWS, Align, Arrangement, Opening, Point, split_in_rows
from app.framing.axis import Axis, Line, Room, solve
from app.framing.blocks import Block, Hole, block_of
from app.framing.openings import arrangement_of, artwork_opening, openings_of, package_asked
from app.framing.spec import Edges, Spec
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The package and the windows of the top mat in it, in the order of the openings.

    across, down: how the rows were solved; None where there are none, or places were given.
    """

    package: Size
    holes: tuple[Hole, ...] = ()
    across: Axis | None = None
    down: Axis | None = None

    @property
    def borders(self) -> Edges:
        """From each edge of the package to the nearest window; zero where there is none."""
        if not self.holes:
            return Edges.equal(ZERO)
        return Edges(
            left=min(hole.x for hole in self.holes),
            right=self.package.width - max(hole.right for hole in self.holes),
            top=min(hole.y for hole in self.holes),
            bottom=self.package.height - max(hole.bottom for hole in self.holes),
        )


@lru_cache(maxsize=64)
def lay_out(spec: Spec) -> Layout | None:
    """Return the windows in place; None where too little, or what contradicts itself, was given.

    Checks, dimensions and standard sizes ask for it in turn, so the last few are remembered.
    """
    if not spec.mats:
        return Layout(package=package_asked(spec) or artwork_opening(spec))
    openings = openings_of(spec)
    if not 1 <= len(openings) <= MOST_WINDOWS or not _each_is_sized(openings):
        return None
    if spec.borders is None and package_asked(spec) is None:
        return None
    blocks = tuple(block_of(spec, index, opening) for index, opening in enumerate(openings))
    if spec.arrangement is None and all(opening.at for opening in openings):
        return _by_places(spec, blocks)
    if any(opening.at for opening in openings):
        return None
    return _in_rows(spec, blocks)


def _each_is_sized(openings: tuple[Opening, ...]) -> bool:
    return all((opening.artwork is None) != (opening.window is None) for opening in openings)


def _by_places(spec: Spec, blocks: tuple[Block, ...]) -> Layout:
    """Positions as typed; without a package the right and the bottom border end it."""
    holes = tuple(
        hole for block in blocks if block.opening.at for hole in block.placed(block.opening.at)
    )
    package = package_asked(spec)
    if package is not None:
        return Layout(package=package, holes=holes)
    assert spec.borders is not None
    package = Size(
        width=max(hole.right for hole in holes) + spec.borders.right,
        height=max(hole.bottom for hole in holes) + spec.borders.bottom,
    )
    return Layout(package=package, holes=holes)


def _in_rows(spec: Spec, blocks: tuple[Block, ...]) -> Layout | None:
    """Rows centred in the field; the field between the borders."""
    asked = arrangement_of(spec)
    if not _can_be_filled(asked, len(blocks), package_asked(spec) is not None):
        return None
    rows = tuple(split_in_rows(blocks, asked.rows))
    across = solve(
        (Line(count=len(row), total=sum((b.width for b in row), ZERO)) for row in rows),
        asked.across,
        _room_across(spec),
    )
    heights = tuple(_height(row, asked.align) for row in rows)
    down = solve((Line(count=len(rows), total=sum(heights, ZERO)),), asked.down, _room_down(spec))
    holes: list[Hole] = []
    y = down.start
    for row, height in zip(rows, heights, strict=True):
        holes.extend(_row(row, asked.align, y, across))
        y = y + height + (down.gap or ZERO)
    return Layout(
        package=Size(width=across.whole, height=down.whole),
        holes=tuple(holes),
        across=across,
        down=down,
    )


def _can_be_filled(asked: Arrangement, count: int, has_package: bool) -> bool:
    if min(asked.rows, default=0) < 1 or sum(asked.rows) != count:
        return False
    across_known = has_package or asked.across is not None or max(asked.rows) == 1
    return across_known and (has_package or asked.down is not None or len(asked.rows) == 1)


def _height(row: Sequence[Block], align: Align) -> Length:
    return max(block.above(align) for block in row) + max(block.below(align) for block in row)


def _row(row: Sequence[Block], align: Align, y: Length, across: Axis) -> Iterator[Hole]:
    gap = across.gap or ZERO
    long = Line(count=len(row), total=sum((block.width for block in row), ZERO)).long(gap)
    x = across.start + (across.field - long) / 2
    meet = y + max(block.above(align) for block in row)
    for block in row:
        left = x + (block.width - block.window.width) / 2
        yield from block.placed(Point(x=left, y=meet - block.above(align)))
        x = x + block.width + gap


def _room_across(spec: Spec) -> Room:
    borders, package = spec.borders, package_asked(spec)
    return Room(
        whole=package.width if package else None,
        before=borders.left if borders else ZERO,
        after=borders.right if borders else ZERO,
        open_borders=borders is None,
    )


def _room_down(spec: Spec) -> Room:
    borders, package = spec.borders, package_asked(spec)
    return Room(
        whole=package.height if package else None,
        before=borders.top if borders else ZERO,
        after=borders.bottom if borders else spec.weighting,
        open_borders=borders is None,
    )
