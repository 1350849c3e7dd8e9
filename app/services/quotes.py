"""Quoting: work a typed piece out, keep it, price it again.

The reading and the arithmetic are the domain's; here they meet the shop's price book and are kept.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from app.errors import Conflict, Fault, FaultCollector, Invalid
from app.orders import Agreed, ArtworkRecord, Customer, Order, Piece, Shop, Stage
from app.orders.agreeing import agree
from app.orders.typed import FindMaterial
from app.pricing import Kind, Material
from app.services.orders import NewPiece, add_piece, replace_piece, save_quote
from app.storage import Store, Work

CHANGEABLE = frozenset({Stage.QUOTED, Stage.ORDERED})
"""Stages in which a piece may still be changed: before its material is cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quoted:
    """A typed piece, worked out and priced but not kept."""

    shop: Shop
    artwork: ArtworkRecord
    agreed: Agreed


def material_finder(work: Work) -> FindMaterial:
    """Looks typed materials up in the price book.

    A code or a whole name wins; else the only active material that matches the text.
    """

    def find(text: str, kind: Kind) -> Material | None:
        exact = work.materials.named(text, kind)
        if exact is not None:
            return exact
        found = work.materials.find(text, kind=kind, limit=2)
        return found[0] if len(found) == 1 else None

    return find


def recalculate(
    store: Store, typed: Mapping[str, str], *, today: date, tax_free: bool = False
) -> Quoted:
    """What a typed piece comes to today. Raises: Invalid with every fault."""
    with store.reading() as work:
        shop = work.shop.get()
        artwork, agreed = agree(typed, shop, material_finder(work), today=today, tax_free=tax_free)
    return Quoted(shop=shop, artwork=artwork, agreed=agreed)
