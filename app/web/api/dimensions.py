"""`POST /api/dimensions`: a spec in, every dimension out; touches no database.

Lengths are strings in the unit that the request names, exact. Owns the route and the answer's tree;
`asked` and `answered` are the contract, `reading_piece` turns a request into a `Spec`.
"""

from typing import Any

from fastapi import APIRouter

from app.errors import FaultCollector, Invalid
from app.framing import Dimensions, in_steps, work_out
from app.lengths import Steps, Unit
from app.web.api.artwork_weight import read_artwork_weight, weighed_json
from app.web.api.bench import bench_json, notices_json
from app.web.api.reading import or_faults
from app.web.api.reading_cutter import read_cutter
from app.web.api.reading_piece import read_spec
from app.web.api.refusal import BUSY, INVALID
from app.web.api.requests import DimensionsAsked, PieceAsked
from app.web.api.requests_lengths import LengthText
from app.web.api.responses import DimensionsAnswered, PartsAnswered
from app.web.kit.line import WORKED_OUT, in_line

__all__ = [
    "DimensionsAsked",
    "LengthText",
    "dimensions",
    "dimensions_json",
    "notices_json",
    "read_spec",
    "router",
]


def dimensions_json(dimensions: Dimensions) -> dict[str, Any]:
    """Return the answer's tree of one set of dimensions, lengths as exact text."""
    plain = PartsAnswered.of(dimensions, dimensions.spec.unit).plain()
    for only_where_there in ("given_frame", "behind_all"):
        if plain[only_where_there] is None:
            del plain[only_where_there]
    return plain


def worked_piece(asked: PieceAsked) -> tuple[Dimensions, Steps]:
    """Return the exact dimensions of a piece and the steps that it is cut in. Raises: Invalid with every fault."""
    spec, steps = read_spec(asked)
    return work_out(spec), steps


router = APIRouter(prefix="/api", tags=["dimensions"], dependencies=[in_line(WORKED_OUT)])


@router.post("/dimensions", responses={200: {"model": DimensionsAnswered}, **INVALID, **BUSY})
def dimensions(asked: DimensionsAsked) -> dict[str, Any]:
    """Return every cut dimension of a piece, exact and in the shop's cutting steps, and how it is cut."""
    found = FaultCollector()
    cutter = or_faults(found, lambda: read_cutter(asked.cutter, Unit(asked.unit)))
    artwork = or_faults(found, lambda: read_artwork_weight(asked.artwork))
    worked = or_faults(found, lambda: worked_piece(asked))
    if cutter is None or worked is None or found:
        raise Invalid(found.faults)
    exact, steps = worked
    shop = in_steps(exact, steps)
    return {
        "unit": asked.unit,
        **dimensions_json(exact),
        **weighed_json(artwork, exact),
        "shop": dimensions_json(shop),
        "notices": notices_json(shop.notices),
        "bench": bench_json(shop, cutter),
    }
