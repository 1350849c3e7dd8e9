"""`POST /api/bench/day`: several pieces and a cutter in, one order of work for all their mats out; touches no database."""

from functools import partial
from typing import Any

from fastapi import APIRouter

from app.bench import Cutter, MatToCut, limit_notices, mats_to_cut, plan_day
from app.errors import FaultCollector, Invalid, quoted
from app.framing import Concern, Dimensions, Notice, in_steps
from app.lengths import Unit
from app.web.api.dimensions import worked_piece
from app.web.api.reading import or_faults
from app.web.api.reading_cutter import read_cutter
from app.web.api.refusal import BUSY, INVALID
from app.web.api.requests_day import MOST_PIECES, DayAsked, DayPieceAsked
from app.web.api.responses_bench import Bench
from app.web.api.responses_day import Day, DayAnswered
from app.web.kit.line import WORKED_OUT, in_line

router = APIRouter(prefix="/api/bench", tags=["bench"], dependencies=[in_line(WORKED_OUT)])


@router.post("/day", responses={200: {"model": DayAnswered}, **INVALID, **BUSY})
def day(asked: DayAsked) -> dict[str, Any]:
    """Return where the guide and the stops are set for the mats of several pieces together, and what that saves."""
    found, unit = FaultCollector(), Unit(asked.unit)
    _check_pieces(asked.pieces, found)
    cutter = or_faults(found, lambda: read_cutter(asked.cutter, unit))
    cut = [
        or_faults(found, partial(_in_steps, each, asked), f"pieces.{row}")
        for row, each in enumerate(asked.pieces[:MOST_PIECES])
    ]
    if cutter is None or found:
        raise Invalid(found.faults)
    pieces = {each.id: made for each, made in zip(asked.pieces, cut, strict=True) if made}
    copies = {each.id: each.copies for each in asked.pieces}
    return _answered(pieces, cutter, copies, unit)


def _check_pieces(pieces: tuple[DayPieceAsked, ...], found: FaultCollector) -> None:
    if not pieces:
        found.add("pieces", "No piece was given; at least one is cut.")
    if len(pieces) > MOST_PIECES:
        found.add(
            "pieces",
            f"{len(pieces)} pieces were given; at most {MOST_PIECES} are planned together.",
        )
    rows: dict[str, int] = {}
    for row, piece in enumerate(pieces):
        if piece.id in rows:
            found.add(
                f"pieces.{row}.id",
                f"{quoted(piece.id)} is the id of pieces.{rows[piece.id]} already; each piece needs its own.",
            )
        rows.setdefault(piece.id, row)


def _in_steps(piece: DayPieceAsked, asked: DayAsked) -> Dimensions:
    own = "unit" in piece.model_fields_set
    exact, steps = worked_piece(piece if own else piece.model_copy(update={"unit": asked.unit}))
    return in_steps(exact, steps)


def _answered(
    pieces: dict[str, Dimensions], cutter: Cutter, copies: dict[str, int], unit: Unit
) -> dict[str, Any]:
    found = {name: _mats(name, cut) for name, cut in pieces.items()}
    mats = tuple(mat for each in found.values() if not isinstance(each, Notice) for mat in each)
    plan = plan_day(mats, cutter, copies=copies, ticket=unit)
    notices = (
        *plan.notices,
        *(each for each in found.values() if isinstance(each, Notice)),
        *limit_notices(mats, cutter, unit),
        *plan.sizing.notices,
    )
    said_by = Bench(plan=plan.guide, marks=(), limits=(), ticket=unit)
    return DayAnswered.of(Day(plan=plan, notices=notices), said_by).plain()


def _mats(name: str, cut: Dimensions) -> tuple[MatToCut, ...] | Notice:
    """Return the mats of a piece; what is said where rounding to the shop's steps leaves nothing to cut."""
    try:
        return mats_to_cut(cut, piece=name)
    except Invalid as invalid:
        return Notice(
            code="nothing-to-cut", message=f"{name}: {invalid.message}", concern=Concern.RISK
        )
