"""What lies free on the rack for the materials of pieces, for pages that name what fits."""

from app.pricing import Chosen
from app.stock.planning.problems import OnRack
from app.storage import Store


def free_for(store: Store, *pieces: Chosen) -> tuple[OnRack, ...]:
    """Return the items of their materials that no open cutting plan has taken, the oldest first."""
    codes = {material.code for chosen in pieces for _, material in chosen.materials()}
    with store.reading() as work:
        return work.rack.free(codes)
