"""What is proven alike of sticks and sheets: every copy once, stock that there is, an honest bound."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping

from app.cutting.plan import (
    LaidPart,
    LaidRail,
    OpenedSheet,
    OpenedStick,
    SheetPlan,
    StickPlan,
    Unplaced,
)
from app.cutting.problem import Sheet, SheetPart, Stick, StickPart
from app.errors import quoted


def named(laid: LaidRail | LaidPart) -> str:
    """Return a placed part as messages name it."""
    return f"{quoted(laid.id)} copy {laid.copy}"


def named_bin(opened: OpenedStick | OpenedSheet) -> str:
    """Return an opened stick or sheet as messages name it."""
    return f"{quoted(opened.stock)} no. {opened.copy}"


def faults_of_parts(plan: StickPlan | SheetPlan) -> Iterator[str]:
    """Check that every wanted copy of each part is either placed, once, or under unplaced."""
    wanted = {part.id: part.copies for part in plan.asked.parts}
    placed: defaultdict[str, list[int]] = defaultdict(list)
    for opened in plan.bins:
        for laid in opened.parts:
            placed[laid.id].append(laid.copy)
    left_out: Counter[str] = Counter()
    for each in plan.unplaced:
        left_out[each.id] += each.copies
        yield from _faults_of_unplaced(each)
    for id in dict.fromkeys((*placed, *left_out)):
        if id not in wanted:
            yield f"The part {quoted(id)} is in the plan, but nobody asked for it."
    for id, copies in wanted.items():
        yield from _faults_of_copies(id, copies, placed[id])
        if len(placed[id]) + left_out[id] != copies:
            yield (
                f"Of {quoted(id)} {copies} are wanted, but {len(placed[id])} are placed and "
                f"{left_out[id]} left out."
            )


def _faults_of_unplaced(unplaced: Unplaced) -> Iterator[str]:
    if unplaced.copies < 1:
        yield f"Of {quoted(unplaced.id)} {unplaced.copies} are left out; 1 or more can be."
    if not unplaced.code.strip() or not unplaced.reason.strip():
        yield f"{quoted(unplaced.id)} is left out without a reason."


def _faults_of_copies(id: str, copies: int, placed: Iterable[int]) -> Iterator[str]:
    for copy, times in Counter(placed).items():
        if times > 1:
            yield f"{quoted(id)} copy {copy} is placed {times} times."
        if not 1 <= copy <= copies:
            yield f"{quoted(id)} copy {copy} is placed; there are copies 1 to {copies}."


def faults_of_stock(plan: StickPlan | SheetPlan) -> Iterator[str]:
    """Check that what is opened is on offer, each once, no more of it than there is, and none for nothing."""
    offered = {stock.id: stock.copies for stock in plan.asked.stock}
    opened: defaultdict[str, list[int]] = defaultdict(list)
    for each in plan.bins:
        opened[each.stock].append(each.copy)
        if not each.parts:
            yield f"{named_bin(each)} is opened, but no part is cut from it."
    for id, numbers in opened.items():
        if id not in offered:
            yield f"The stock {quoted(id)} is opened, but it is not on offer."
            continue
        if sorted(numbers) != list(range(1, len(numbers) + 1)):
            yield (
                f"The {len(numbers)} opened of {quoted(id)} are not numbered 1 to {len(numbers)}."
            )
        most = offered[id]
        if most is not None and len(numbers) > most:
            yield f"{len(numbers)} of {quoted(id)} are opened; there are {most}."


def faults_of_left_out[S: (Stick, Sheet), P: (StickPart, SheetPart)](
    unplaced: Iterable[Unplaced],
    parts: Mapping[str, P],
    unopened: Iterable[S],
    holds: Callable[[S, P], bool],
) -> Iterator[str]:
    """No part is left out that stock which is not opened holds.

    unopened: stock of which at least one more could be opened; what lies within other such stock may
    be left out, since that holds whatever it holds.
    """
    left_out = tuple(unplaced)
    stock = tuple(unopened) if left_out else ()
    for each in left_out:
        part = parts.get(each.id)
        fitting = next((one for one in stock if part is not None and holds(one, part)), None)
        if fitting is not None:
            yield (
                f"{quoted(each.id)} is left out, but {quoted(fitting.id)} holds it and there is "
                "one more of that."
            )


def unopened_stock[S: (Stick, Sheet)](stock: Iterable[S], opened: Mapping[str, int]) -> Iterator[S]:
    """Yield the stock of which one more could be opened."""
    for each in stock:
        if each.copies is None or opened.get(each.id, 0) < each.copies:
            yield each


def faults_of_bound(plan: StickPlan | SheetPlan) -> Iterator[str]:
    """Check that the bound is not above what the plan costs, which would disprove it."""
    offered = {stock.id: stock.cost for stock in plan.asked.stock}
    cost = sum(offered.get(each.stock, 0) for each in plan.bins)
    if plan.lower_bound > cost:
        yield f"The bound of {plan.lower_bound} is above the cost of {cost}, so it is no bound."
    if plan.lower_bound < 0:
        yield f"The bound is {plan.lower_bound}; no stock costs less than nothing."
