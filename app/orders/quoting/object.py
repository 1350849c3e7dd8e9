"""Whether the artwork of a typed piece is an object that stands in a box (G22), and with which clearance."""

from collections.abc import Mapping

from app.framing import ObjectInBox
from app.orders.order import ArtworkKind
from app.orders.quoting.reader import PieceReader
from app.orders.shop import Shop

STANDS_IN_BOX = "artwork.object"
"""Typed by programs alone, as "yes" or "no"; on the quote page the kind of the artwork says it."""


def is_object(typed: Mapping[str, str]) -> bool:
    """Whether what was typed asks for an artwork that stands in a box."""
    said = typed.get(STANDS_IN_BOX, "").strip()
    if said:
        return said == "yes"
    return typed.get("artwork.kind", "").strip() == ArtworkKind.OBJECT.value


def read_object(read: PieceReader, shop: Shop) -> ObjectInBox | None:
    """The object as a spec has it, with the shop's clearance; None of an artwork that lies flat."""
    said = {path: read.text(path) for path in (STANDS_IN_BOX, "artwork.kind")}
    if not is_object(said):
        return None
    return ObjectInBox(clearance=shop.allowances_in(read.unit).object_clearance)
