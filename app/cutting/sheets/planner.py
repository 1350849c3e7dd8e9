"""The plan for sheets: the solver's where that is better, our own simple one otherwise (C2, C3, C6).

Owns the order of work: what fits nowhere is put aside, the simple plan is made, the solver looks for a
cheaper one, and then, with the same sheets, for one that leaves a larger rest. The best that can be
cut is taken.
"""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from app.cutting.plan import Maker, SheetPlan
from app.cutting.problem import SheetProblem
from app.cutting.sheets.bound import lower_bound
from app.cutting.sheets.drafts import (
    Draft,
    DraftSheet,
    LaidDraft,
    cost_of,
    laid,
    on_grid_of,
    parts_of,
    placed_in,
    plan_of,
)
from app.cutting.sheets.simple import best_on_shelves, on_spare_sheets
from app.cutting.sheets.solver import MOST_TICKS, Aim, SheetRun, SolveSheets, draft_from
from app.cutting.sheets.task import SheetTask, exact_task, small_task

_USUAL_STAGES = 3
"""Where any number is allowed: more find less in the same time. Source: ours, measured."""

_FEW, _MANY = 16, 128
"""Choices that the solver keeps open. Source: ours, measured; 128 is the solver's own."""

_FULL_TIME = 12
"""From how many parts on a run takes its whole share of the time, fewer take less in proportion: the solver
finds what it finds for a few at once, and looks on to its limit for what there is not. Source: ours,
measured."""

_MOST_FILLED = 8
"""How many owned sheets are filled one by one. Source: ours."""

_MOST_AGAIN = 40
"""How many parts are laid anew for a larger rest, those of the emptiest sheets. Source: ours."""


def plan_sheets(
    asked: SheetProblem, seconds: int, *, solve: SolveSheets | None = None
) -> SheetPlan:
    """Return the best plan that is found in so many seconds; a whole one in any case.

    Parts that fit no sheet, or for which none is left, come back under `unplaced`. It never costs more
    than the simple plan. solve: in place of the solver library, as `with_library`.
    """
    search = _SheetSearch(asked, seconds, solve)
    search.run()
    return search.plan()


class _SheetSearch:
    """The best draft so far, and the runs that look for a better one.

    The shares of the time add up to four fifths; the rest is for what is reckoned here, on a busy
    machine too.
    """

    def __init__(self, asked: SheetProblem, seconds: float, solve: SolveSheets | None) -> None:
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
        in_order = replace(self._small, offers=(*self._small.owned, *self._small.to_buy[:1]))
        self._try(self._draft(Aim.IN_ORDER, in_order, 0.1))
        if not self._whole:
            self._try(self._draft(Aim.MOST, self._small, 0.25))
            self._try(self._draft(Aim.CHEAPEST, self._small.only(self._placed), 0.25))
        elif self._may_cost_less:
            self._try(self._owned_first())
        if self._whole and self._may_cost_less:
            self._try(self._draft(Aim.CHEAPEST, self._small, 0.2, _MANY))
        self._try(self._again())

    def plan(self) -> SheetPlan:
        return plan_of(self._asked, self._task, self._best, self._bound, self._maker)

    @property
    def _placed(self) -> Counter[int]:
        return placed_in(self._best.draft)

    @property
    def _whole(self) -> bool:
        return sum(self._placed.values()) == self._task.parts

    @property
    def _may_cost_less(self) -> bool:
        return cost_of(self._best.draft) > self._bound

    def _draft(self, aim: Aim, task: SheetTask, share: float, choices: int = _FEW) -> Draft | None:
        """Return what the solver finds in a share of the time, on the exact grid."""
        if not task.wanted or not task.offers:
            return ()
        run = SheetRun(
            task=task,
            aim=aim,
            stages=self._task.stages or _USUAL_STAGES,
            seconds=self._seconds * share * min(1, task.parts / _FULL_TIME),
            choices=choices,
        )
        draft = draft_from(self._solve, run)
        return None if draft is None else on_grid_of(self._task, draft)

    def _try(self, draft: Draft | None) -> None:
        """Take a draft where it is better than the best so far; what it left out goes on spare sheets."""
        if draft is None:
            return
        made = laid(self._asked, self._task, on_spare_sheets(self._task, draft))
        if made and self._is_sound(made) and made.rank(self._task) < self._best.rank(self._task):
            if placed_in(made.draft) != self._placed:
                self._bound = self._bound_of(made)
            self._best, self._maker = made, Maker.SOLVER

    def _is_sound(self, made: LaidDraft) -> bool:
        """Tell whether no more parts are placed than wanted and no more sheets opened than there are."""
        placed = placed_in(made.draft)
        opened = Counter(sheet.offer.index for sheet in made.draft)
        return all(placed[each.index] <= each.copies for each in self._task.wanted) and all(
            opened[offer.index] <= offer.copies for offer in self._task.offers
        )

    def _owned_first(self) -> Draft | None:
        """Owned sheets filled one by one, the largest first; then the rest on sheets to buy."""
        owned = [offer for offer in self._small.owned[::-1] for _ in range(offer.copies)]
        filled: Draft = ()
        for offer in owned[:_MOST_FILLED]:
            task = replace(self._left_by(filled), offers=(replace(offer, copies=1),))
            filled += self._draft(Aim.FULLEST, task, 0.1 / min(len(owned), _MOST_FILLED)) or ()
        task = replace(self._left_by(filled), offers=self._small.to_buy)
        bought = self._draft(Aim.CHEAPEST, task, 0.25)
        return None if bought is None else (*filled, *bought)

    def _left_by(self, draft: Draft) -> SheetTask:
        placed = placed_in(draft)
        return self._small.only(
            {each.index: each.copies - placed[each.index] for each in self._small.wanted}
        )

    def _again(self) -> Draft | None:
        """Return the emptiest sheets laid anew for one large rest; the others stay as they are.

        The largest comes last: that is the one to leave a rest of. One more of it is on offer, so that
        the search has room to begin in.
        """
        again, stay = self._emptiest()
        opened = Counter(sheet.offer.index for sheet in again)
        spare = {offer.index: offer.copies for offer in self._task.offers}
        for sheet in stay:
            spare[sheet.offer.index] -= 1
        offers = sorted(
            (offer for offer in self._small.offers if opened[offer.index]),
            key=lambda offer: (offer.cost > 0, offer.area),
        )
        same = [replace(offer, copies=opened[offer.index]) for offer in offers]
        if same:
            last = offers[-1]
            most = min(opened[last.index] + 1, spare[last.index])
            same[-1] = replace(last, copies=most)
        task = replace(self._small.only(placed_in(again)), offers=tuple(same))
        found = self._draft(Aim.LARGEST_REST, task, 0.15)
        return None if found is None else (*stay, *found)

    def _emptiest(self) -> tuple[Draft, Draft]:
        """Return the sheets with the most room that hold up to so many parts, and the others."""

        def room(sheet: DraftSheet) -> int:
            return sheet.offer.area - sum(areas[part] for part in parts_of(sheet.block))

        areas = {each.index: each.area for each in self._task.wanted}
        order = sorted(self._best.draft, key=room, reverse=True)
        count = parts = 0
        for sheet in order:
            parts += sum(1 for _ in parts_of(sheet.block))
            if count and parts > _MOST_AGAIN:
                break
            count += 1
        return tuple(order[:count]), tuple(order[count:])

    def _bound_of(self, made: LaidDraft) -> Fraction:
        return lower_bound(self._task.only(placed_in(made.draft)), reached=cost_of(made.draft))
