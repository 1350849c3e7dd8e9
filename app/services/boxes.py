"""What the price book has for an object in a box."""

from app.framing import Notice
from app.orders import Agreed
from app.orders.box_materials import suited_to_box
from app.orders.dimensions_memo import worked_out
from app.pricing import Kind, Material
from app.storage import Store


def from_price_book(store: Store, agreed: Agreed) -> tuple[Notice, ...]:
    """Notices that name mouldings and spacers which are deep enough; none of what lies flat (G22, D7)."""
    if agreed.spec.boxed is None:
        return ()
    mouldings, extras = store.remembered("mouldings and extras", lambda: _asked(store))
    return suited_to_box(worked_out(agreed.spec), mouldings, extras)


def _asked(store: Store) -> tuple[tuple[Material, ...], tuple[Material, ...]]:
    with store.reading() as work:
        return work.materials.all(Kind.MOULDING), work.materials.all(Kind.EXTRA)
