"""Several pieces whose mats are cut together at the shop's own cutter, by setting of the guide (B10).

Like the bench of one piece it follows the cutter as it is described today. Which pieces go together is nobody's
record: they are named anew each time, and what is done is ticked at each piece's own steps.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from app.bench import (
    Apart,
    Cutter,
    DayPlan,
    MatToCut,
    StepsOfDay,
    limit_notices,
    plan_day,
    steps_of_day,
)
from app.counting import counted
from app.errors import Invalid
from app.framing import Notice
from app.lengths import Unit
from app.orders.order import Order, Piece
from app.orders.piece_report import Findings, findings
from app.orders.shop import Shop
from app.orders.stages import Stage
from app.orders.workbench import Workbench, workbench

MOST_TOGETHER = 40
"""Pieces that are cut together at most: more than a bench holds. Source: ours."""

MOST_NAMED = 6
"""More pieces than this are counted in a sentence. Source: ours."""

_NOT_YET = {
    Stage.QUOTED: "is not ordered yet",
    Stage.DECLINED: "was declined",
    Stage.CANCELLED: "is cancelled",
    Stage.CUT: "is cut already",
    Stage.FRAMED: "is framed already",
    Stage.COLLECTED: "is collected already",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceTogether:
    """One of the pieces, as it lies at the bench. mats: by its name, layer 1 first."""

    order: Order
    piece: Piece
    found: Findings
    bench: Workbench
    mats: tuple[MatToCut, ...]

    @property
    def name(self) -> str:
        """What it is called among the others: "2026-0148/2"."""
        return name_of(self.order, self.piece)

    @property
    def title(self) -> str:
        """The title of its artwork."""
        return self.piece.artwork.title or "Untitled"

    @property
    def unit(self) -> Unit:
        """The unit of its ticket."""
        return self.found.cut.spec.unit


@dataclass(frozen=True, slots=True, kw_only=True)
class DayAsked:
    """What a plan of a day follows from, and nothing else.

    copies: of pieces that are several, by their names. apart: what each piece takes on its own page, together.
    """

    mats: tuple[MatToCut, ...]
    cutter: Cutter
    copies: tuple[tuple[str, int], ...]
    ticket: Unit | None
    apart: Apart
    mat_word: str

    def plan(self) -> DayPlan:
        """Return the plan; it takes the longer, the more pieces wait for an under mat."""
        return plan_day(
            self.mats,
            self.cutter,
            copies=dict(self.copies),
            ticket=self.ticket,
            apart=self.apart,
            mat_word=self.mat_word,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTogether:
    """Some pieces, the one plan for all their mats, and their steps in its order.

    limits: what the cutter cannot do with them.
    """

    pieces: tuple[PieceTogether, ...]
    day: DayPlan
    steps: StepsOfDay
    limits: tuple[Notice, ...]

    def piece(self, name: str) -> PieceTogether:
        """Return the piece of a name."""
        return next(piece for piece in self.pieces if piece.name == name)


def name_of(order: Order, piece: Piece) -> str:
    """Return what a piece is called among those of other orders: "2026-0148/2"."""
    return f"{order.number}/{piece.number}"


def why_not_now(piece: Piece) -> str:
    """Tell why the mats of a piece are not to be cut now, as the end of a sentence; empty where they are."""
    if piece.stage in _NOT_YET:
        return _NOT_YET[piece.stage]
    return "" if piece.agreed.spec.mats else "has no mat"


def at_cutter(order: Order, piece: Piece, shop: Shop) -> PieceTogether:
    """Return a piece for cutting it with others. Raises: Invalid where nothing is left to cut in the shop's steps."""
    found = findings(piece.artwork, piece.agreed, shop)
    bench = workbench(piece.agreed, found, shop)
    name = name_of(order, piece)
    return PieceTogether(
        order=order,
        piece=piece,
        found=found,
        bench=bench,
        mats=tuple(replace(mat, piece=name) for mat in bench.mats),
    )


def cut_together(
    pieces: Sequence[PieceTogether],
    shop: Shop,
    planned: Callable[[DayAsked], DayPlan] = DayAsked.plan,
) -> CutTogether:
    """Return the plan for the mats of several pieces, each named once and each with a mat.

    planned: answers the plan of a day, where one that was made before may be remembered.
    Raises: Invalid where there are none, or more than are cut together.
    """
    if not 0 < len(pieces) <= MOST_TOGETHER:
        raise Invalid.at(
            "pieces",
            f"{len(pieces)} pieces were given; 1 to {MOST_TOGETHER} are cut together.",
        )
    cutter = cutter_of(pieces, shop)
    day = planned(
        DayAsked(
            mats=tuple(mat for piece in pieces for mat in piece.mats),
            cutter=cutter,
            copies=tuple(
                (piece.name, piece.piece.copies) for piece in pieces if piece.piece.copies > 1
            ),
            ticket=_other_unit(pieces, cutter),
            apart=Apart.of(piece.bench.plan for piece in pieces if piece.bench.plan),
            mat_word=shop.mat_word.value,
        )
    )
    return CutTogether(
        pieces=tuple(pieces),
        day=day,
        steps=steps_of_day(day.guide, {piece.name: piece.bench.steps for piece in pieces}),
        limits=(*_limits(pieces, cutter, shop), *day.sizing.notices),
    )


def cutter_of(pieces: Sequence[PieceTogether], shop: Shop) -> Cutter:
    """Return the shop's own cutter, read on the scale of the tickets where all are in one unit (B8)."""
    units = {piece.unit for piece in pieces}
    return shop.cutter_in(units.pop()) if len(units) == 1 else shop.cutter


def _limits(pieces: Sequence[PieceTogether], cutter: Cutter, shop: Shop) -> Iterator[Notice]:
    others = [other.read_in(cutter.unit) for other in shop.cutters[1:]]
    word = shop.mat_word.value
    for piece in pieces:
        yield from limit_notices(piece.mats, cutter, piece.unit, others=others, mat_word=word)


def _other_unit(pieces: Sequence[PieceTogether], cutter: Cutter) -> Unit | None:
    """Return the unit of tickets that the cutter has no scale for; None where it has one for all."""
    scales = {scale.unit for scale in cutter.scales}
    return next((piece.unit for piece in pieces if piece.unit not in scales), None)


def _read_on(pieces: Sequence[PieceTogether], cutter: Cutter) -> Iterator[Notice]:
    """Yield which tickets are in the unit of a scale of the cutter on which this list is not read (B8, L3)."""
    scales = {scale.unit for scale in cutter.scales}
    others = [piece for piece in pieces if piece.unit is not cutter.unit and piece.unit in scales]
    if not others:
        return
    tickets, them = ("tickets", "are") if len(others) > 1 else ("ticket", "is")
    names = f"{len(others)} pieces" if len(others) > MOST_NAMED else named(others)
    yield Notice(
        code="read-on-one-scale",
        message=f"This list is read on the scale in {cutter.unit.word} of {cutter.name}; the {tickets} of {names} "
        f"{them} in {others[0].unit.word}. Set and mark by this list alone: a round figure in one "
        "unit is not a round figure in the other.",
    )


def named(pieces: Sequence[PieceTogether]) -> str:
    """Name pieces in a sentence: "2026-0148/1, 2026-0148/2 and 2026-0149/1"."""
    *first, last = (piece.name for piece in pieces)
    return f"{', '.join(first)} and {last}" if first else last


def saving_in_words(day: DayPlan) -> str:
    """Say how often the guide is set, and how often it would be with the pieces one after the other."""
    if _saves_nothing(day):
        return "Nothing is saved: cut these piece by piece."
    said = [_instead(day.moves, day.moves_apart, "guide")]
    if day.stop_moves is not None:
        apart = day.stop_moves if day.stop_moves_apart is None else day.stop_moves_apart
        at_most = day.stop_moves_apart_at_most
        said.append(_instead(day.stop_moves, apart, "stop", at_most=at_most))
    return f"{'; '.join(said)}."


def _saves_nothing(day: DayPlan) -> bool:
    """Tell whether several pieces together take no fewer settings of guide and stops than one after the other."""
    stops, apart = day.stop_moves or 0, day.stop_moves_apart or 0
    several = len({cut.mat.piece for setting in day.guide.settings for cut in setting.cuts}) > 1
    return several and day.moves >= day.moves_apart and stops >= apart


def _instead(moves: int, apart: int, what: str, *, at_most: bool = False) -> str:
    said = counted(moves, f"{what} setting")
    upper = "at most " if at_most else ""
    return f"{said} instead of {upper}{apart} piece by piece" if apart != moves else said


def proven_in_words(day: DayPlan) -> str:
    """Say whether no order of the settings has fewer moves."""
    if _saves_nothing(day):
        return ""
    if not day.moves_proven:
        return "Another order may have fewer."
    if day.stop_moves is None or day.stop_moves_proven:
        return "No order has fewer."
    return "No order has fewer guide settings; another may have fewer stop settings."


_SAID_WITH_THE_MOVES = frozenset({"moves-not-proven", "stop-moves-not-proven"})


def notices_together(together: CutTogether) -> tuple[Notice, ...]:
    """Return what is worth saying of the pieces together, beside how many moves they take."""
    of_day = (each for each in together.day.notices if each.code not in _SAID_WITH_THE_MOVES)
    read_on = _read_on(together.pieces, together.day.guide.cutter)
    return (*of_day, *read_on, *together.limits)
