"""`POST /api/dimensions`: a spec in, every dimension out; touches no database.

Lengths are strings in the unit that the request names, exact. Owns the route and the answer's tree;
`asked` and `answered` are the contract, `reading_piece` turns a request into a `Spec`.
"""

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter

from app.errors import FaultCollector, Invalid
from app.framing import Dimensions, in_steps, work_out
from app.lengths import Length, Size, Steps, Unit, exact_text
from app.web.api.artwork_weight import read_artwork_weight, weighed_json
from app.web.api.bench import bench_json, notices_json
from app.web.api.reading_cutter import read_cutter
from app.web.api.reading_piece import read_spec
from app.web.api.refusal import INVALID
from app.web.api.requests import DimensionsAsked
from app.web.api.requests_lengths import LengthText
from app.web.api.responses import DimensionsAnswered

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
    """The answer's tree of one set of dimensions, lengths as exact text."""
    unit = dimensions.spec.unit

    def text(length: Length) -> str:
        return exact_text(length, unit)

    def optional(length: Length | None) -> str | None:
        return None if length is None else text(length)

    def size(value: Size | None) -> dict[str, str] | None:
        return None if value is None else {"width": text(value.width), "height": text(value.height)}

    return {
        "windows": [
            {
                "layer": window.layer,
                "id": window.name,
                "width": text(window.size.width),
                "height": text(window.size.height),
                "face_width": text(window.face.width),
                "face_height": text(window.face.height),
                "x": text(window.x),
                "y": text(window.y),
                "shape": window.shape.value,
                "rise": optional(window.rise),
            }
            for window in dimensions.windows
        ],
        "layers": [
            {
                "layer": layer.layer,
                "blank": size(layer.blank),
                "borders": {side: text(length) for side, length in layer.borders.sides()},
            }
            for layer in dimensions.layers
        ],
        "gaps": dimensions.gaps
        and {"across": optional(dimensions.gaps.across), "down": optional(dimensions.gaps.down)},
        "fallouts": [
            {
                "layer": fallout.layer,
                "id": fallout.name,
                "width": text(fallout.size.width),
                "height": text(fallout.size.height),
                "sound": size(fallout.sound),
                "shape": fallout.shape.value,
            }
            for fallout in dimensions.fallouts
        ],
        "grooves": [
            {
                "id": groove.name,
                "x": text(groove.x),
                "y": text(groove.y),
                "width": text(groove.size.width),
                "height": text(groove.size.height),
                "shape": groove.shape.value,
                "rise": optional(groove.rise),
            }
            for groove in dimensions.grooves
        ],
        "fillets": [
            {
                "id": fillet.name,
                "outside": size(fillet.outside),
                "sight": size(fillet.sight),
                "long_points": [text(length) for length in fillet.long_points],
                "short_points": [text(length) for length in fillet.short_points],
            }
            for fillet in dimensions.fillets
        ],
        "package": size(dimensions.package),
        "frames": [
            {
                "rebate": size(frame.rebate),
                "sight": size(frame.sight),
                "outside": size(frame.outside),
                "long_points": [text(length) for length in frame.long_points],
                "short_points": [text(length) for length in frame.short_points],
            }
            for frame in dimensions.frames
        ],
        "glazing": size(dimensions.glazing),
        "mount_board": size(dimensions.mount_board),
        "backing": size(dimensions.backing),
        "spacers": [
            {"length": text(length), "count": count} for length, count in dimensions.spacers
        ],
        "stack": text(dimensions.stack),
    }


def _worked(asked: DimensionsAsked) -> tuple[Dimensions, Steps]:
    spec, steps = read_spec(asked)
    return work_out(spec), steps


def _or_faults[T](found: FaultCollector, make: Callable[[], T]) -> T | None:
    """What is made; None, with its faults noted, where it cannot be."""
    try:
        return make()
    except Invalid as invalid:
        found.take(invalid)
        return None


router = APIRouter(prefix="/api", tags=["dimensions"])


@router.post("/dimensions", responses={200: {"model": DimensionsAnswered}, **INVALID})
def dimensions(asked: DimensionsAsked) -> dict[str, Any]:
    """Every cut dimension of a piece, exact and in the shop's cutting steps, and how it is cut."""
    found = FaultCollector()
    cutter = _or_faults(found, lambda: read_cutter(asked.cutter, Unit(asked.unit)))
    artwork = _or_faults(found, lambda: read_artwork_weight(asked.artwork))
    worked = _or_faults(found, lambda: _worked(asked))
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
