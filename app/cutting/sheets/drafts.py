"""Drafts of a plan for sheets, and how one becomes a plan.

Owns what the planners hand over, blocks on sheets, its turning into places and cuts in exact
lengths, and which of two plans is the better one (C3). It finds no plan.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from heapq import nlargest

from app.cutting.plan import LaidPart, Maker, OpenedSheet, SheetCut, SheetPlan, SheetRest, Way
from app.cutting.problem import SheetProblem
from app.cutting.sheets.cut_tree import CutLayout, Keep, Region, Slab, TreeCut, lay, row_of
from app.cutting.sheets.task import SheetOffer, SheetTask, left_out
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftSheet:
    """A sheet that is opened and what is cut from it."""

    offer: SheetOffer
    block: Slab


type Draft = tuple[DraftSheet, ...]


def parts_of(block: Slab) -> Iterator[int]:
    """Yield the index of each part of a block."""
    if not block.blocks:
        yield block.part
    for each in block.blocks:
        yield from parts_of(each)


def placed_in(draft: Draft) -> Counter[int]:
    """Tell how many of each part a draft holds, by index."""
    return Counter(part for sheet in draft for part in parts_of(sheet.block))


def cost_of(draft: Draft) -> Fraction:
    """Return what the opened sheets cost."""
    return sum((sheet.offer.cost for sheet in draft), Fraction(0))


def on_grid_of(task: SheetTask, draft: Draft) -> Draft:
    """Return a draft of another grid on that of a task: the same order of parts, each as large as here."""
    offers = {offer.index: offer for offer in task.offers}
    sides = {each.index: (each.width, each.height) for each in task.wanted}

    def resized(block: Slab) -> Slab:
        if block.way:
            return row_of(block.way, tuple(map(resized, block.blocks)))
        width, height = sides[block.part][::-1] if block.turned else sides[block.part]
        return replace(block, width=width, height=height)

    return tuple(
        DraftSheet(offer=offers[sheet.offer.index], block=resized(sheet.block)) for sheet in draft
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidDraft:
    """A draft with its cuts. layouts: one for each sheet, or none for a draft that cannot be cut."""

    draft: Draft
    layouts: tuple[CutLayout, ...]

    def rank(self, task: SheetTask) -> tuple[object, ...]:
        """Return the key by which plans are compared: the better of two has the smaller one.

        In this order: the most parts placed, the least cost, the largest single pieces on the rack
        afterwards (offcuts, and owned sheets that stay whole), the least opened, the fewest settings
        of the guide, the fewest cuts. Source: C3.
        """
        cuts = [cut for each in self.layouts for cut in each.cuts]
        return (
            -sum(len(each.parts) for each in self.layouts),
            cost_of(self.draft),
            tuple(-area for area in self._rack(task)),
            sum(sheet.offer.area for sheet in self.draft),
            len({cut.setting for cut in cuts}),
            len(cuts),
        )

    def _rack(self, task: SheetTask) -> list[int]:
        """Return the areas of the three largest pieces afterwards; 0 for each that there is not."""
        opened = Counter(sheet.offer.index for sheet in self.draft)
        whole = [
            offer.area
            for offer in task.offers
            if offer.owned
            for _ in range(min(3, offer.copies - opened[offer.index]))
        ]
        kept = (area for each in self.layouts for area in each.areas)
        return nlargest(3, (*whole, *kept, 0, 0, 0))


def laid(asked: SheetProblem, task: SheetTask, draft: Draft) -> LaidDraft | None:
    """Return a draft with its cuts; None where a sheet cannot be cut as drafted, by room or by stages."""
    keep = _keep_of(asked, task)
    layouts = tuple(
        lay(sheet.block, sheet.offer.width, sheet.offer.height, task.stages, keep)
        for sheet in draft
    )
    whole = tuple(each for each in layouts if each is not None)
    return LaidDraft(draft=draft, layouts=whole) if len(whole) == len(layouts) else None


def _keep_of(asked: SheetProblem, task: SheetTask) -> Keep:
    kerf = task.ticks.up(asked.kerf)
    least = None
    if asked.keep:
        least = sorted(map(task.ticks.up, (asked.keep.width, asked.keep.height)))

    def area(box: Region) -> int:
        short, long = sorted((box.width - kerf, box.height - kerf))
        if short <= 0 or (least and (short < least[0] or long < least[1])):
            return 0
        return short * long

    return area


def plan_of(
    asked: SheetProblem, task: SheetTask, made: LaidDraft, bound: Fraction, maker: Maker
) -> SheetPlan:
    """Return the plan in exact lengths."""
    drawing = _Draft(asked, task)
    together = zip(made.draft, made.layouts, strict=True)
    order = sorted(together, key=lambda pair: (not pair[0].offer.owned, pair[0].offer.index))
    bins = tuple(drawing.opened(sheet.offer, layout) for sheet, layout in order)
    unplaced = left_out(asked, task, placed_in(made.draft))
    return SheetPlan(asked=asked, bins=bins, unplaced=unplaced, lower_bound=bound, maker=maker)


class _Draft:
    """Layouts drawn one after another; copies are counted on."""

    def __init__(self, asked: SheetProblem, task: SheetTask) -> None:
        self._asked, self._ticks = asked, task.ticks
        self._sheets: Counter[int] = Counter()
        self._copies: defaultdict[int, int] = defaultdict(int)

    def opened(self, offer: SheetOffer, layout: CutLayout) -> OpenedSheet:
        sheet = self._asked.stock[offer.index]
        self._sheets[offer.index] += 1
        return OpenedSheet(
            stock=sheet.id,
            copy=self._sheets[offer.index],
            cuts=(*_trims(self._asked, sheet.size), *map(self._cut, layout.cuts)),
            parts=tuple(
                self._part(each.part, each.turned, self._at(each.x), self._at(each.y))
                for each in layout.parts
            ),
            offcuts=tuple(map(self._rest, layout.rests)),
        )

    def _at(self, ticks: int) -> Length:
        return self._ticks.length(ticks) + self._asked.trim

    def _cut(self, cut: TreeCut) -> SheetCut:
        box, kerf = cut.box, self._asked.kerf
        across = cut.way is Way.ACROSS
        begin, start = (box.y, box.x) if across else (box.x, box.y)
        end = start + (box.width if across else box.height)
        return SheetCut(
            stage=cut.stage,
            way=cut.way,
            at=self._at(begin + cut.ends) - kerf,
            start=self._at(start),
            end=self._at(end) - kerf,
        )

    def _part(self, index: int, turned: bool, x: Length, y: Length) -> LaidPart:
        part = self._asked.parts[index]
        self._copies[index] += 1
        size = part.size.turned() if turned else part.size
        return LaidPart(id=part.id, copy=self._copies[index], x=x, y=y, size=size, turned=turned)

    def _rest(self, box: Region) -> SheetRest:
        kerf = self._asked.kerf
        width, height = map(self._ticks.length, (box.width, box.height))
        return SheetRest(
            x=self._at(box.x), y=self._at(box.y), size=Size(width - kerf, height - kerf)
        )


def _trims(asked: SheetProblem, sheet: Size) -> Iterable[SheetCut]:
    """Return the four edges trimmed first. The kerf of the left and top cuts lies within the trim."""
    trim, width, height = asked.trim, sheet.width, sheet.height
    if not trim:
        return ()
    first = max(trim - asked.kerf, ZERO)
    spans: Sequence[tuple[Way, Length, Length, Length]] = (
        (Way.DOWN, first, ZERO, height),
        (Way.DOWN, width - trim, ZERO, height),
        (Way.ACROSS, first, trim, width - trim),
        (Way.ACROSS, height - trim, trim, width - trim),
    )
    return tuple(
        SheetCut(stage=0, way=way, at=at, start=start, end=end) for way, at, start, end in spans
    )
