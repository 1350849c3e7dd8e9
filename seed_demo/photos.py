"""Photos of the sample's watercolours, painted by code, on the newest pieces that may still be changed.

Added by the app's own services to what is there; of a sample too small nothing is made.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time
from itertools import chain, islice

from app.orders import ArtworkKind, Piece, Stage
from app.orders.quoting.form import PHOTO
from app.services import pictures
from app.services.order_transaction import DesignAt, OrderAt
from app.services.picture_making import made_of
from app.services.quotes import Retyped, change_piece
from app.storage import OrderFilter, OrderSort, PageRequest, Stamp, Store
from seed_demo.paintings import BOATS, SALT_PANS, TWO_TREES, painted
from seed_demo.shop import PEOPLE

MOST = 4
"""Photos of the sample; each takes a quarter of a second."""

LOOKED_AT = 60
"""Orders of each stage that are looked at for a piece that suits."""

_SHOWS = {
    TWO_TREES: TWO_TREES,
    SALT_PANS: SALT_PANS,
    "Morning, the salt pans": SALT_PANS,
    "The salt pans in August": SALT_PANS,
    "from the water": BOATS,
    "Morning": BOATS,
    "Boats": BOATS,
}
"""What is painted for a title with these words in it; the first of them counts. Nothing is for snow, or a day of washing."""


def bring_photos(store: Store, today: date) -> None:
    """Give the newest watercolours on quotes, then on orders, a photo of their own."""
    act = Stamp(who=PEOPLE[0], now=datetime.combine(today, time(8, 5), UTC))
    suiting = chain(_suiting(store, Stage.QUOTED), _suiting(store, Stage.ORDERED))
    for order_id, piece in islice(suiting, MOST):
        _bring(store, order_id, piece, act)


def shown_in(piece: Piece) -> str:
    """Return what is painted for a piece: a watercolour wider than high, with a title that we can paint; "" for any other."""
    size = piece.agreed.spec.artwork
    if piece.artwork.kind is not ArtworkKind.WATERCOLOUR or size.width <= size.height:
        return ""
    return painted_for(piece.artwork.title)


def painted_for(title: str) -> str:
    """Return what is painted for the title of a watercolour; "" for one that we cannot paint."""
    return next((painting for words, painting in _SHOWS.items() if words in title), "")


def _suiting(store: Store, stage: Stage) -> Iterator[tuple[int, Piece]]:
    """The pieces at a stage that a photo can be painted for, the newest first, each with the id of its order."""
    wanted = OrderFilter(stages=frozenset({stage}))
    with store.reading() as work:
        page = PageRequest(size=LOOKED_AT)
        found = work.order_lists.listed(wanted, OrderSort.NEWEST, page).rows
        orders = [work.orders.get(each.id) for each in found]
    for order in orders:
        for piece in order.pieces:
            if piece.stage is stage and shown_in(piece):
                yield order.id, piece


def _bring(store: Store, order_id: int, piece: Piece, act: Stamp) -> None:
    shop, size = store.current_shop(), piece.agreed.spec.artwork
    if shop is None:
        return
    photo = painted(shown_in(piece), int(size.width.mm), int(size.height.mm))
    # It is our own, so it need not be read in a child, which takes a second to start.
    kept = pictures.keep(store, made_of(photo), by=act)
    with store.reading() as work:
        version = work.orders.get(order_id).version
    pictured = Retyped(
        which=DesignAt(piece=piece.number), typed={**piece.agreed.typed, PHOTO: kept.id}
    )
    change_piece(store, OrderAt(id=order_id, version=version), pictured, shop, act)
