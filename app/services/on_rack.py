"""What lies free on the rack for the materials of pieces, for pages that name what fits, and where they lie."""

from collections.abc import Mapping

from app.pricing import Chosen
from app.stock.planning.problems import OnRack
from app.storage import Store

_ASKED = 50
"""Sets of materials that are remembered while somebody types. Source: ours."""


def free_for(store: Store, *pieces: Chosen) -> tuple[OnRack, ...]:
    """Return the items of their materials that no open cutting plan has taken, the oldest first."""
    codes = frozenset(material.code for chosen in pieces for _, material in chosen.materials())

    def read() -> tuple[OnRack, ...]:
        with store.reading() as work:
            return work.rack.free(codes)

    return store.remembered("free on the rack", read, asked=codes, most=_ASKED)


def usual_places(store: Store) -> Mapping[str, str]:
    """Return where materials usually lie, by their codes; those for which nobody said so are left out."""
    with store.reading() as work:
        levels = work.stock.every_level()
    return {code: each.place for code, each in levels.items() if each.place}
