"""From which part stands beside which to the cuts that free them, edge to edge (C2).

Owns blocks, the bare order of a plan without places, and the laying of a block into a sheet: where
each cut runs, in which order, and which rests are left over. Of the ways to cut the same block from
a sheet it takes the one that leaves the largest single offcut (C3). It decides nothing about which
parts share a sheet. Everything is in ticks, a kerf larger than life.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from app.cutting.plan import Way

_ACROSS, _DOWN = Way.ACROSS, Way.DOWN
_OTHER = {_ACROSS: _DOWN, _DOWN: _ACROSS}


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """One part, or blocks in a row that cuts of one way separate; as small as it can be.

    part: the index of the part where it is one, with `turned`. way: of the cuts between `blocks`; two or
    more, none of which is cut the same way again. depth: how many stages free its parts, last trims
    of single parts not counted.
    """

    width: int
    height: int
    part: int = -1
    turned: bool = False
    way: Way | None = None
    blocks: tuple["Slab", ...] = ()
    depth: int = 0

    def along(self, way: Way) -> int:
        """Tell how far it reaches in the direction that cuts of a way divide."""
        return self.height if way is _ACROSS else self.width


def row_of(way: Way, blocks: Sequence[Slab]) -> Slab:
    """Blocks in a row as one: below one another where cuts across separate them."""
    flat = tuple(part for each in blocks for part in (each.blocks if each.way is way else (each,)))
    if len(flat) == 1:
        return flat[0]
    widths, heights = [each.width for each in flat], [each.height for each in flat]
    across = way is _ACROSS
    return Slab(
        width=max(widths) if across else sum(widths),
        height=sum(heights) if across else max(heights),
        way=way,
        blocks=flat,
        depth=1 + max(each.depth for each in flat),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPart:
    """A part somewhere on a sheet, as a solver gives it."""

    part: int
    turned: bool
    x: int
    y: int
    width: int
    height: int


def block_of(placed: Sequence[PlacedPart], first: Way) -> Slab | None:
    """Return the block of parts that lie somewhere, parted by cuts of the first way wherever these can be.

    None where no edge-to-edge cuts free them. Gaps are closed: the block is as small as it can be.
    """
    if len(placed) == 1:
        one = placed[0]
        return Slab(width=one.width, height=one.height, part=one.part, turned=one.turned)
    for way in (first, _OTHER[first]):
        groups = _parted(placed, way)
        if len(groups) > 1:
            blocks = [block_of(group, _OTHER[way]) for group in groups]
            whole = [each for each in blocks if each is not None]
            return row_of(way, whole) if len(whole) == len(blocks) else None
    return None


def _parted(placed: Sequence[PlacedPart], way: Way) -> list[list[PlacedPart]]:
    """Groups that straight cuts of a way part, from the left or top on."""

    def span(each: PlacedPart) -> tuple[int, int]:
        if way is _ACROSS:
            return each.y, each.y + each.height
        return each.x, each.x + each.width

    groups: list[list[PlacedPart]] = []
    reached = 0
    for each in sorted(placed, key=span):
        begin, end = span(each)
        if not groups or begin >= reached:
            groups.append([])
        groups[-1].append(each)
        reached = max(reached, end)
    return groups


@dataclass(frozen=True, slots=True)
class Region:
    """A region of a sheet, a kerf larger than life."""

    x: int
    y: int
    width: int
    height: int

    def along(self, way: Way) -> int:
        """Tell how far it reaches in the direction that cuts of a way divide."""
        return self.height if way is _ACROSS else self.width

    def band(self, way: Way, offset: int, extent: int) -> "Region":
        """Return what lies between two cuts of a way."""
        if way is _ACROSS:
            return Region(self.x, self.y + offset, self.width, extent)
        return Region(self.x + offset, self.y, extent, self.height)


@dataclass(frozen=True, slots=True)
class TreeCut:
    """A cut through a box from edge to edge. ends: where the first of its two sides ends, kerf included."""

    stage: int
    way: Way
    box: Region
    ends: int
    setting: int
    """How wide the piece is that the cut frees: what a guide is set to, kerf included."""


@dataclass(frozen=True, slots=True)
class TreePart:
    """A part where it lies."""

    part: int
    turned: bool
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class CutLayout:
    """A sheet cut up: cuts in the order of work, parts, rests worth keeping. areas: of those, largest first."""

    cuts: tuple[TreeCut, ...] = ()
    parts: tuple[TreePart, ...] = ()
    rests: tuple[Region, ...] = ()
    areas: tuple[int, ...] = ()

    @property
    def merit(self) -> tuple[int, int, int, int]:
        """The merit by which layouts of the same parts compare: one large rest, much of it, few cuts.
        Greater is better.
        """
        settings = len({cut.setting for cut in self.cuts})
        largest = self.areas[0] if self.areas else 0
        return (largest, sum(self.areas), -settings, -len(self.cuts))


type Keep = Callable[[Region], int]
"""The area of a rest in life, 0 where it is not worth keeping."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laying:
    """What holds for a whole sheet. stages: the last that may part parts."""

    stages: int
    keep: Keep

    def best(self, block: Slab, box: Region, stage: int, ways: Iterable[Way]) -> CutLayout | None:
        """Return a block laid in a box. stage: of its first cuts. None where the stages do not allow it."""
        if (block.width, block.height) == (box.width, box.height) and not block.blocks:
            return CutLayout(parts=(TreePart(block.part, block.turned, box.x, box.y),))
        last = stage + block.depth - 1 if block.blocks else stage - 1
        if last > self.stages:
            return None
        found = [each for way in ways for each in self._options(block, box, stage, way) if each]
        return max(found, key=lambda each: each.merit, default=None)

    def _options(
        self, block: Slab, box: Region, stage: int, way: Way
    ) -> Iterable[CutLayout | None]:
        rest = box.along(way) - block.along(way)
        blocks = _in_order(block.blocks, way) if block.way is way else (block,)
        if len(blocks) > 1 or rest:
            yield self._divided(blocks, box, stage, way, rest)
        if rest and len(blocks) > 1:
            last = min(range(len(blocks)), key=lambda each: blocks[each].along(_OTHER[way]))
            order = (*blocks[:last], *blocks[last + 1 :], blocks[last])
            yield self._divided(order, box, stage, way, 0)
            if box.along(_OTHER[way]) > block.along(_OTHER[way]):
                yield self._divided((block,), box, stage, way, rest)

    def _divided(
        self, blocks: Sequence[Slab], box: Region, stage: int, way: Way, rest: int
    ) -> CutLayout | None:
        """Blocks one after another, then the rest; what there is without one is left to the last."""
        cuts: list[TreeCut] = []
        within: list[CutLayout] = []
        offset, whole = 0, box.along(way)
        for index, block in enumerate(blocks):
            is_last = index == len(blocks) - 1
            extent = whole - offset - rest if is_last else block.along(way)
            band = box.band(way, offset, extent)
            laid = self.best(block, band, stage + 1, (_OTHER[way],))
            if laid is None:
                return None
            within.append(laid)
            offset += extent
            if rest or not is_last:
                cuts.append(TreeCut(stage, way, box, offset, extent))
        beyond = box.band(way, offset, rest)
        area = self.keep(beyond) if rest else 0
        return _joined(
            cuts, within, CutLayout(rests=(beyond,), areas=(area,)) if area else CutLayout()
        )


def _in_order(blocks: Sequence[Slab], way: Way) -> tuple[Slab, ...]:
    """Widest first, so that like settings of the guide follow one another."""
    cross = _OTHER[way]
    return tuple(sorted(blocks, key=lambda each: (-each.along(way), -each.along(cross))))


def _joined(cuts: Sequence[TreeCut], within: Sequence[CutLayout], rest: CutLayout) -> CutLayout:
    every = (*within, rest)
    return CutLayout(
        cuts=(*cuts, *(cut for each in within for cut in each.cuts)),
        parts=tuple(part for each in within for part in each.parts),
        rests=tuple(box for each in every for box in each.rests),
        areas=tuple(sorted((area for each in every for area in each.areas), reverse=True)),
    )


def lay(block: Slab, width: int, height: int, stages: int | None, keep: Keep) -> CutLayout | None:
    """Return the best layout of a block on a sheet; None where that takes more stages or more room.

    width, height: what can be used of the sheet.
    """
    if block.width > width or block.height > height:
        return None
    most = max(block.depth + 1, 3) if stages is None else stages
    return _Laying(stages=most, keep=keep).best(block, Region(0, 0, width, height), 1, Way)
