"""The plan for sheets: the solver's where that is better, our own simple one otherwise (C2, C3, C6).

Owns the order of work: what fits nowhere is put aside, the simple plan is made, the solver looks for a
cheaper one, and then, with the same sheets, for one that leaves a larger rest. The best that can be
cut is taken.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from app.cutting.asked import SheetsAsked
from app.cutting.bound_sheets import lower_bound
from app.cutting.plan import Maker, SheetPlan
from app.cutting.sheet_drafts import LaidDraft, cost_of, laid, on_grid_of, placed_in, plan_of
from app.cutting.sheet_task import SheetTask, exact_task, small_task
from app.cutting.simple_sheets import best_on_shelves, on_spare_sheets
from app.cutting.solver_sheets import MOST_TICKS, Aim, SheetRun, SolveSheets, draft_from

_USUAL_STAGES = 3
"""Where any number is allowed: more find less in the same time. Source: ours, measured."""

_FIRST_SHARE, _SECOND_SHARE, _REST_SHARE = 0.25, 0.45, 0.2
"""Of the time, for a first and a second search for less cost and one for a larger rest; the last tenth is
for what is reckoned here."""


def plan_sheets(asked: SheetsAsked, seconds: int, *, solve: SolveSheets | None = None) -> SheetPlan:
    """The best plan that is found in so many seconds; a whole one in any case.

    Parts that fit no sheet, or for which none is left, come back under `unplaced`. It never costs more
    than the simple plan. solve: in place of the solver library, as `with_library`.
    """
    search = _Search(asked, seconds, solve)
    search.run()
    return search.plan()


class _Search:
    """The best draft so far, and the runs that look for a better one."""

    def __init__(self, asked: SheetsAsked, seconds: float, solve: SolveSheets | None) -> None:
        self._asked, self._seconds, self._solve = asked, seconds, solve
        self._task = exact_task(asked)
        self._small = small_task(asked, MOST_TICKS)
        self._best = best_on_shelves(asked, self._task)
        self._maker = Maker.SIMPLE
        self._bound = self._bound_of(self._best)

    def run(self) -> None:
        """Every run that may still gain something."""
        if not self._small.wanted:
            return
        self._try(Aim.CHEAPEST, _FIRST_SHARE)
        if not self._whole:
            self._try(Aim.MOST, _SECOND_SHARE / 2)
            self._try(Aim.CHEAPEST, _SECOND_SHARE / 2, self._small.only(self._placed))
        elif cost_of(self._best.draft) > self._bound:
            self._try(Aim.CHEAPEST, _SECOND_SHARE)
        self._try(Aim.LARGEST_REST, _REST_SHARE, self._same_sheets())

    def plan(self) -> SheetPlan:
        return plan_of(self._asked, self._task, self._best, self._bound, self._maker)

    @property
    def _placed(self) -> Counter[int]:
        return placed_in(self._best.draft)

    @property
    def _whole(self) -> bool:
        return sum(self._placed.values()) == self._task.parts

    def _try(self, aim: Aim, share: float, task: SheetTask | None = None) -> None:
        run = SheetRun(
            task=task or self._small,
            aim=aim,
            stages=self._task.stages or _USUAL_STAGES,
            seconds=self._seconds * share,
        )
        draft = draft_from(self._solve, run)
        if draft is None:
            return
        draft = on_spare_sheets(self._task, on_grid_of(self._task, draft))
        made = laid(self._asked, self._task, draft)
        if made and self._is_sound(made) and made.rank(self._task) < self._best.rank(self._task):
            if placed_in(made.draft) != self._placed:
                self._bound = self._bound_of(made)
            self._best, self._maker = made, Maker.SOLVER

    def _is_sound(self, made: LaidDraft) -> bool:
        """Whether no more parts are placed than wanted and no more sheets opened than there are."""
        placed = placed_in(made.draft)
        opened = Counter(sheet.offer.index for sheet in made.draft)
        return all(placed[each.index] <= each.copies for each in self._task.wanted) and all(
            opened[offer.index] <= offer.copies for offer in self._task.offers
        )

    def _same_sheets(self) -> SheetTask:
        """The parts and sheets of the best draft, the largest last: that is the one to leave a rest of.

        One more of the last is on offer, so that a search has room to begin in.
        """
        opened = Counter(sheet.offer.index for sheet in self._best.draft)
        offers = sorted(
            (offer for offer in self._small.offers if opened[offer.index]),
            key=lambda offer: (offer.cost > 0, offer.area),
        )
        same = [replace(offer, copies=opened[offer.index]) for offer in offers]
        if offers:
            last = opened[offers[-1].index] + 1
            same[-1] = replace(offers[-1], copies=min(last, offers[-1].copies))
        return replace(self._small.only(self._placed), offers=tuple(same))

    def _bound_of(self, made: LaidDraft) -> Fraction:
        return lower_bound(self._task.only(placed_in(made.draft)))
