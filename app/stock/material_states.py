"""How it stands with the materials of each piece: cut, planned, in hand, on order, to buy.

Owns the answer over all pieces together, since one stick cannot be in hand for two: the piece that is due
first comes first. Whether parts fit on what is there is asked of our own simple plan, so that it is said
at once; a solver may find room where this says "to buy", never the other way round.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from app.cutting import Sheet, Stick, SticksAsked
from app.cutting.simple_sheets import simple_sheet_plan
from app.cutting.simple_sticks import simple_stick_plan
from app.stock.needs import WHOLE, Problem, is_usual
from app.stock.open_work import PartInPlan, PartStands, PartState, PieceInWork
from app.stock.plans import BinAt


class MaterialState(StrEnum):
    """How it stands with a material of a piece, as the worst of its parts: the last one is the worst."""

    CUT = "cut"
    PLANNED = "planned"
    IN_HAND = "in hand"
    ON_ORDER = "on order"
    TO_BUY = "to buy"


_WORSE = tuple(MaterialState)


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """Whole sticks or sheets of a material in its usual size.

    free: on the rack and reserved by no plan. on_order: sent to a supplier and not yet come.
    """

    free: int = 0
    on_order: int = 0


NOTHING = Whole()


def material_states(
    pieces: Sequence[PieceInWork],
    problems: Iterable[Problem],
    supply: Mapping[str, Whole],
) -> Mapping[int, Mapping[str, MaterialState]]:
    """How it stands, by the piece's id and then by the material's code.

    pieces: all in work, the first due first. problems: the questions of all their open parts. supply:
    by code, what is not named has nothing.
    """
    claims = _Claims(pieces, supply)
    of_part: dict[str, MaterialState] = {}
    for problem in problems:
        of_part |= _of_open_parts(problem, pieces, claims.left_on_order(problem.material.code))
    return {
        piece.ref.piece_id: _worst(
            (stands.part.material.code, _state(stands, claims, of_part)) for stands in piece.parts
        )
        for piece in pieces
    }


def _state(
    stands: PartStands, claims: "_Claims", of_open: Mapping[str, MaterialState]
) -> MaterialState:
    if stands.state is PartState.CUT:
        return MaterialState.CUT
    if stands.state is PartState.PLANNED and stands.by is not None:
        return claims.state_of(stands.part.material.code, stands.by)
    return of_open.get(stands.part.id, MaterialState.TO_BUY)


def _worst(states: Iterable[tuple[str, MaterialState]]) -> Mapping[str, MaterialState]:
    found: dict[str, MaterialState] = {}
    for code, state in states:
        found[code] = max(found.get(code, MaterialState.CUT), state, key=_WORSE.index)
    return found


class _Claims:
    """Sticks and sheets that open plans are to buy, against what has come and what is on order."""

    def __init__(self, pieces: Iterable[PieceInWork], supply: Mapping[str, Whole]) -> None:
        self._supply = supply
        bins: dict[str, set[tuple[int, BinAt]]] = defaultdict(set)
        for piece in pieces:
            for stands in piece.parts:
                if stands.state is PartState.PLANNED and stands.by is not None and stands.by.to_buy:
                    bins[stands.part.material.code].add((stands.by.plan_id, stands.by.at))
        self._places = {
            code: {which: place for place, which in enumerate(sorted(ours), start=1)}
            for code, ours in bins.items()
        }

    def state_of(self, code: str, by: PartInPlan) -> MaterialState:
        """How it stands with a part that a plan holds; the oldest plan comes first."""
        if not by.to_buy:
            return MaterialState.PLANNED
        place, whole = self._places[code][by.plan_id, by.at], self._supply.get(code, NOTHING)
        free = max(whole.free, 0)
        if place <= free:
            return MaterialState.PLANNED
        return MaterialState.ON_ORDER if place <= free + whole.on_order else MaterialState.TO_BUY

    def left_on_order(self, code: str) -> int:
        """How many on order no plan waits for."""
        whole = self._supply.get(code, NOTHING)
        waiting = len(self._places.get(code, ())) - max(whole.free, 0)
        return max(whole.on_order - max(waiting, 0), 0)


def _of_open_parts(
    problem: Problem, pieces: Sequence[PieceInWork], on_order: int
) -> Mapping[str, MaterialState]:
    by_piece: dict[int, list[str]] = defaultdict(list)
    for part in problem.parts.values():
        by_piece[part.piece.piece_id].append(part.id)
    queue = [by_piece[piece.ref.piece_id] for piece in pieces if piece.ref.piece_id in by_piece]
    here = _how_many_fit(problem, queue, 0)
    coming = _how_many_fit(problem, queue, on_order) if on_order else here
    states: dict[str, MaterialState] = {}
    for place, ids in enumerate(queue, start=1):
        state = MaterialState.IN_HAND if place <= here else MaterialState.TO_BUY
        if here < place <= coming:
            state = MaterialState.ON_ORDER
        states |= dict.fromkeys(ids, state)
    return states


def _how_many_fit(problem: Problem, queue: Sequence[Sequence[str]], more: int) -> int:
    """How many of the first pieces find all their parts on the rack. more: whole ones beyond that."""
    low, high = 0, len(queue)
    while low < high:
        middle = (low + high + 1) // 2
        wanted = {id for ids in queue[:middle] for id in ids}
        if _fits(problem, wanted, more):
            low = middle
        else:
            high = middle - 1
    return low


def _fits(problem: Problem, wanted: set[str], more: int) -> bool:
    usual = (x.available for x in problem.rack if is_usual(x.kept.item, problem.material))
    whole = sum(usual) + more
    if isinstance(problem.asked, SticksAsked):
        sticks = problem.asked
        bars = tuple(_limited(sticks.stock, whole))
        rails = tuple(part for part in sticks.parts if part.id in wanted)
        limited = replace(sticks, stock=bars, parts=rails)
        return bool(bars) and not simple_stick_plan(limited).unplaced
    asked = problem.asked
    sheets = tuple(_limited(asked.stock, whole))
    blanks = tuple(part for part in asked.parts if part.id in wanted)
    return (
        bool(sheets) and not simple_sheet_plan(replace(asked, stock=sheets, parts=blanks)).unplaced
    )


def _limited[S: (Stick, Sheet)](stock: Iterable[S], whole: int) -> Iterator[S]:
    """What is on offer with only so many whole ones."""
    for each in stock:
        if each.id != WHOLE:
            yield each
        elif whole:
            yield replace(each, copies=whole)
