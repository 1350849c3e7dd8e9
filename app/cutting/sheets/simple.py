"""Our own simple plan for sheets: parts side by side on shelves (C2).

Owns the rule that needs no library, answers at once and always gives a whole plan. Parts come
largest first; each goes to the first shelf that has room, else to a new shelf on the first sheet that
has room, else to a new sheet: the smallest owned one that holds it, else the cheapest. Shelves run
across or down and parts lie or stand; the best of these plans counts. Two stages free every part.
Source: first-fit decreasing height, common practice.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

from app.cutting.first_fit import FirstSheet
from app.cutting.plan import Maker, SheetPlan, Way
from app.cutting.problem import SheetProblem
from app.cutting.sheets.bound import lower_bound
from app.cutting.sheets.cut_tree import Slab, row_of
from app.cutting.sheets.drafts import (
    Draft,
    DraftSheet,
    LaidDraft,
    cost_of,
    laid,
    placed_in,
    plan_of,
)
from app.cutting.sheets.task import SheetOffer, SheetTask, TaskPart, exact_task, rate_among


def simple_sheet_plan(asked: SheetProblem) -> SheetPlan:
    """Return a whole plan at once, without the solver."""
    task = exact_task(asked)
    made = best_on_shelves(asked, task)
    bound = lower_bound(task.only(placed_in(made.draft)), reached=cost_of(made.draft))
    return plan_of(asked, task, made, bound, Maker.SIMPLE)


def sheets_hold_all(asked: SheetProblem) -> bool:
    """Tell whether a simple plan leaves no part out; nothing is laid out for it, and no bound is worked out."""
    wanted = sum(part.copies for part in asked.parts)
    drafts = drafts_on_shelves(exact_task(asked))
    return any(sum(placed_in(draft).values()) == wanted for draft in drafts)


def settled_sheet_plan(asked: SheetProblem) -> SheetPlan | None:
    """Return the simple plan where no plan ranks before it; None where a search may find one.

    So it is where no sheet holds any part, and for a part alone where one sheet is the cheapest that holds
    it: in a corner, turned or not, with the first cut across or down, it leaves the most there is, since
    whatever a sheet leaves lies to one side of the part.
    """
    task = exact_task(asked)
    cheapest = min((offer.cost for offer in task.offers), default=None)
    if task.parts > 1 or sum(offer.cost == cheapest for offer in task.offers) > 1:
        return None
    made = best_on_shelves(asked, task)
    return plan_of(asked, task, made, cost_of(made.draft), Maker.SIMPLE)


def best_on_shelves(asked: SheetProblem, task: SheetTask) -> LaidDraft:
    """Return the best draft that shelves give."""
    drafts = list(drafts_on_shelves(task))

    def worth(draft: Draft) -> tuple[int, Fraction]:
        return (-sum(placed_in(draft).values()), cost_of(draft))

    least = min(map(worth, drafts))
    candidates = (laid(asked, task, draft) for draft in drafts if worth(draft) == least)
    found = [each for each in candidates if each is not None]
    return min(found, key=lambda each: each.rank(task))


def drafts_on_shelves(task: SheetTask) -> Iterator[Draft]:
    """Yield one draft for each rule; each holds all that the rule can place."""
    orders = (_cheapest(task.offers), _cheapest_by_area(task.offers))
    rules = product(Way, (True, False), orders)
    yield from dict.fromkeys(
        _Shelves(task, way, lying, offers).draft() for way, lying, offers in rules
    )


def on_spare_sheets(task: SheetTask, draft: Draft) -> Draft:
    """Return a draft with the parts it left out on sheets that it left closed, as far as they go."""
    placed, opened = placed_in(draft), Counter(sheet.offer.index for sheet in draft)
    missing = {each.index: each.copies - placed[each.index] for each in task.wanted}
    if not any(missing.values()):
        return draft
    rule = _Shelves(task.only(missing), Way.ACROSS, True, _cheapest(task.offers), opened)
    return (*draft, *rule.draft())


def _cheapest(offers: Iterable[SheetOffer]) -> list[SheetOffer]:
    """Owned ones first, the smallest; then by cost, of these the largest."""
    return sorted(offers, key=lambda each: (each.units, -each.area if each.units else each.area))


def _cheapest_by_area(offers: Sequence[SheetOffer]) -> list[SheetOffer]:
    """Owned ones first; then by what an area costs; of equals the smallest."""
    rate = rate_among(offers)
    return sorted(offers, key=lambda each: (rate(each), each.area))


@dataclass(slots=True)
class _Shelf:
    """depth: of the shelf; parts are no deeper. room: along it."""

    depth: int
    room: int
    blocks: list[Slab] = field(default_factory=list)


@dataclass(slots=True)
class _OpenSheet:
    """room: what is left for further shelves."""

    offer: SheetOffer
    room: int
    shelves: list[_Shelf] = field(default_factory=list)


class _Shelves:
    """One rule at work. way: of the cuts between shelves. lying: the longer side along the shelf.

    offers: of the sheets that hold a part the first one is opened.
    """

    def __init__(
        self,
        task: SheetTask,
        way: Way,
        lying: bool,
        offers: Sequence[SheetOffer],
        opened: Counter[int] | None = None,
    ) -> None:
        self._task, self._way, self._lying = task, way, lying
        self._sheets: list[_OpenSheet] = []
        self._shelves: list[tuple[_OpenSheet, _Shelf]] = []
        self._offers = offers
        opened = opened or Counter[int]()
        self._left = [each.copies - opened[each.index] for each in self._offers]
        self._closed = FirstSheet(
            [
                (each.width, each.height) if left > 0 else (0, 0)
                for each, left in zip(self._offers, self._left, strict=True)
            ]
        )

    def draft(self) -> Draft:
        kinds = [(self._ways(each), each) for each in self._task.wanted]
        kinds.sort(key=lambda kind: (-kind[0][0][1], -kind[0][0][0], kind[1].index))
        for ways, wanted in kinds:
            shelf = sheet = 0  # a like part finds no room where the one before found none
            for _ in range(wanted.copies):
                shelf = self._on_shelf(ways, shelf)
                if shelf < len(self._shelves):
                    continue
                sheet = self._on_sheet(ways, sheet)
                if sheet == len(self._sheets) and not self._on_new(ways):
                    break
                shelf = len(self._shelves) - 1
        other = Way.DOWN if self._way is Way.ACROSS else Way.ACROSS
        return tuple(
            DraftSheet(
                offer=sheet.offer,
                block=row_of(self._way, [row_of(other, each.blocks) for each in sheet.shelves]),
            )
            for sheet in self._sheets
        )

    def _ways(self, wanted: TaskPart) -> Sequence[tuple[int, int, Slab]]:
        """As along, deep and block, the preferred way first."""
        across = self._way is Way.ACROSS
        ways = []
        for turned, (width, height) in enumerate(wanted.ways):
            along, deep = (width, height) if across else (height, width)
            block = Slab(width=width, height=height, part=wanted.index, turned=bool(turned))
            ways.append((along, deep, block))
        return sorted(ways, key=lambda each: (each[0] >= each[1]) is not self._lying)

    def _on_shelf(self, ways: Sequence[tuple[int, int, Slab]], start: int) -> int:
        """Put it on the first shelf from a number on that has room; that shelf's number."""
        for number in range(start, len(self._shelves)):
            _, shelf = self._shelves[number]
            for along, deep, block in ways:
                if along <= shelf.room and deep <= shelf.depth:
                    shelf.room -= along
                    shelf.blocks.append(block)
                    return number
        return len(self._shelves)

    def _on_sheet(self, ways: Sequence[tuple[int, int, Slab]], start: int) -> int:
        """Put it on a new shelf of the first sheet from a number on that has room; its number."""
        for number in range(start, len(self._sheets)):
            if self._shelved(self._sheets[number], ways):
                return number
        return len(self._sheets)

    def _on_new(self, ways: Sequence[tuple[int, int, Slab]]) -> bool:
        place = self._closed.first((block.width, block.height) for _, _, block in ways)
        if place is None:
            return False
        offer = self._offers[place]
        sheet = _OpenSheet(offer, offer.height if self._way is Way.ACROSS else offer.width)
        self._shelved(sheet, ways)
        self._sheets.append(sheet)
        self._left[place] -= 1
        if not self._left[place]:
            self._closed.gone(place)
        return True

    def _shelved(self, sheet: _OpenSheet, ways: Sequence[tuple[int, int, Slab]]) -> bool:
        whole = sheet.offer.width if self._way is Way.ACROSS else sheet.offer.height
        for along, deep, block in ways:
            if along <= whole and deep <= sheet.room:
                shelf = _Shelf(deep, whole - along, [block])
                sheet.room -= deep
                sheet.shelves.append(shelf)
                self._shelves.append((sheet, shelf))
                return True
        return False
