"""How it stands with the materials of each piece: cut, planned, in hand, on order, to buy.

Owns the answer over all pieces together, since one stick cannot be in hand for two: the piece that is due
first comes first. Whether parts fit on what is there is asked of our own simple plan, so that it is said
at once; a solver may find room where this says "to buy", never the other way round.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from app.cutting import Sheet, SheetPart, SheetProblem, Stick, StickPart, StickProblem
from app.cutting.sheets.simple import sheets_hold_all
from app.cutting.sticks.simple import sticks_hold_all
from app.stock.planning.open_work import PartInPlan, PartStands, PartState, PieceInWork
from app.stock.planning.plans import BinAt
from app.stock.planning.problems import WHOLE, PlanningProblem, is_usual


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
    problems: Iterable[PlanningProblem],
    supply: Mapping[str, Whole],
    states_of: "StatesOf | None" = None,
    of: Collection[int] | None = None,
) -> Mapping[int, Mapping[str, MaterialState]]:
    """Tell how it stands, by the piece's id and then by the material's code.

    pieces: all in work, the first due first. problems: the questions of all their open parts. supply:
    by code, what is not named has nothing. states_of: answers a queue that was answered before without
    working it out again. of: the ids of those that are asked about; problems of other materials than theirs are not
    needed then.
    """
    states_of = states_of or states_of_queue
    claims = _Claims(pieces, supply)
    places = {piece.ref.piece_id: place for place, piece in enumerate(pieces)}
    of_part: dict[str, MaterialState] = {}
    for problem in problems:
        queue = _queue(problem, places, claims.left_on_order(problem.material.code))
        of_part |= states_of(queue)
    return {
        piece.ref.piece_id: _worst(
            (stands.part.material.code, _state(stands, claims, of_part)) for stands in piece.parts
        )
        for piece in pieces
        if of is None or piece.ref.piece_id in of
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
        """Tell how it stands with a part that a plan holds; the oldest plan comes first."""
        if not by.to_buy:
            return MaterialState.PLANNED
        place, whole = self._places[code][by.plan_id, by.at], self._supply.get(code, NOTHING)
        free = max(whole.free, 0)
        if place <= free:
            return MaterialState.PLANNED
        return MaterialState.ON_ORDER if place <= free + whole.on_order else MaterialState.TO_BUY

    def left_on_order(self, code: str) -> int:
        """Tell how many on order no plan waits for."""
        whole = self._supply.get(code, NOTHING)
        waiting = len(self._places.get(code, ())) - max(whole.free, 0)
        return max(whole.on_order - max(waiting, 0), 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Queue:
    """The open parts of one material and what there is for them: all that their states follow from.

    waiting: the ids of the parts of each piece, the first due first. usual: whole ones of the usual size that
    are free. on_order: how many more of these come.
    """

    asked: StickProblem | SheetProblem
    waiting: tuple[tuple[str, ...], ...]
    usual: int
    on_order: int


type StatesOf = Callable[[Queue], Mapping[str, MaterialState]]


def _queue(problem: PlanningProblem, places: Mapping[int, int], on_order: int) -> Queue:
    """places: of each piece in work, by its id; parts of others wait for nothing."""
    by_piece: dict[int, list[str]] = defaultdict(list)
    for part in problem.parts.values():
        by_piece[part.piece.piece_id].append(part.id)
    usual = (x.available for x in problem.rack if is_usual(x.kept.item, problem.material))
    return Queue(
        asked=problem.asked,
        waiting=tuple(
            tuple(by_piece[piece_id])
            for piece_id in sorted(by_piece.keys() & places.keys(), key=places.__getitem__)
        ),
        usual=sum(usual),
        on_order=on_order,
    )


def states_of_queue(queue: Queue) -> Mapping[str, MaterialState]:
    """Tell how it stands with each part that waits, by its id."""
    here = _how_many_fit(queue, queue.usual)
    coming = _how_many_fit(queue, queue.usual + queue.on_order) if queue.on_order else here
    states: dict[str, MaterialState] = {}
    for place, ids in enumerate(queue.waiting, start=1):
        state = MaterialState.IN_HAND if place <= here else MaterialState.TO_BUY
        if here < place <= coming:
            state = MaterialState.ON_ORDER
        states |= dict.fromkeys(ids, state)
    return states


def _how_many_fit(queue: Queue, whole: int) -> int:
    """Tell how many of the first pieces find all their parts on so many whole ones and what is odd."""
    low, high = 0, _how_many_could(queue, whole)
    while low < high:
        middle = (low + high + 1) // 2
        wanted = {id for ids in queue.waiting[:middle] for id in ids}
        if _fits(queue.asked, wanted, whole):
            low = middle
        else:
            high = middle - 1
    return low


def _how_many_could(queue: Queue, whole: int) -> int:
    """Tell how many of the first pieces have no more length or area than there is; more of them cannot fit."""
    asked = queue.asked
    offered: Iterable[Stick | Sheet] = asked.stock
    room = Fraction(0)
    for each in offered:
        copies = whole if each.id == WHOLE else each.copies
        if copies is None:
            return len(queue.waiting)
        room += _measure(each) * copies
    size = {part.id: _measure(part) for part in asked.parts}
    for place, ids in enumerate(queue.waiting):
        room -= sum((size[id] for id in ids), Fraction(0))
        if room < 0:
            return place
    return len(queue.waiting)


def _measure(each: Stick | Sheet | StickPart | SheetPart) -> Fraction:
    """Return the length of a stick or of a part of one, the area of a sheet or of a part of one."""
    return each.length.mm if isinstance(each, (Stick, StickPart)) else each.size.area_m2


def _fits(asked: StickProblem | SheetProblem, wanted: set[str], whole: int) -> bool:
    if isinstance(asked, StickProblem):
        bars = tuple(_limited(asked.stock, whole))
        rails = tuple(part for part in asked.parts if part.id in wanted)
        limited = replace(asked, stock=bars, parts=rails)
        return bool(bars) and sticks_hold_all(limited)
    sheets = tuple(_limited(asked.stock, whole))
    blanks = tuple(part for part in asked.parts if part.id in wanted)
    return bool(sheets) and sheets_hold_all(replace(asked, stock=sheets, parts=blanks))


def _limited[S: (Stick, Sheet)](stock: Iterable[S], whole: int) -> Iterator[S]:
    """Yield what is on offer with only so many whole ones."""
    for each in stock:
        if each.id != WHOLE:
            yield each
        elif whole:
            yield replace(each, copies=whole)
