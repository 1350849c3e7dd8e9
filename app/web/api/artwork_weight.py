"""The weight of an artwork as JSON, and of one that is known by a request alone.

Without a shop the handbook's figures are taken; a request that says neither weight nor support is told
nothing of weight, since what is usual follows from the kind.
"""

from collections.abc import Mapping
from typing import Any

from app.framing import Dimensions
from app.framing.mass import exact_text, parse_mass
from app.orders import ArtworkRecord
from app.orders.artwork_weight import ArtworkWeight, Known, weigh_artwork
from app.orders.weight_rules import WeightRules
from app.web.api.requests import ArtworkAsked


def read_artwork_weight(asked: ArtworkAsked | None) -> ArtworkRecord | None:
    """Return what a request says of the artwork's weight; None where it says nothing.

    Raises: Invalid at "artwork.weight".
    """
    if asked is None or (asked.support is None and asked.weight is None):
        return None
    weight = None
    if asked.weight is not None:
        weight = parse_mass(asked.weight, bare=None, path="artwork.weight")
    return ArtworkRecord(support=asked.support, weight_kg=weight)


def weighed_json(artwork: ArtworkRecord | None, exact: Dimensions) -> Mapping[str, Any]:
    """Return the member with the artwork's weight by the handbook's figures; none where nothing was said of it."""
    if artwork is None:
        return {}
    return {"artwork_weight": artwork_weight_json(weigh_artwork(artwork, exact, WeightRules()))}


def artwork_weight_json(weight: ArtworkWeight) -> Mapping[str, Any]:
    """kg: exact, None where it is missing."""
    missing = weight.known is Known.MISSING
    return {
        "kg": None if missing else exact_text(weight.kg),
        "known": weight.known.value,
        "support": weight.support and weight.support.value,
    }
