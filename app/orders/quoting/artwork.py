"""What is noted of an artwork beside its design: title, kind, what it is made of, its weight, condition,
declared value, place.

None of it enters a size or a price but whether it is an object. So the rest can be noted anew while design and
price stay as they were agreed (P7). The fields as typed are kept in step: a piece opened again shows what was
noted last.
"""

from collections.abc import Mapping
from dataclasses import replace

from app.framing import Presentation
from app.orders.order import Agreed, ArtworkRecord
from app.orders.quoting.choices import Sizing
from app.orders.quoting.form import ARTWORK_FACTS, PIECE_FIELDS
from app.orders.quoting.piece_typed import PieceTyped, is_object
from app.orders.quoting.reader import PieceReader
from app.orders.quoting.request import artwork_of
from app.orders.shop import Shop
from app.pricing import Kind, Material

_DESIGN = tuple(path for path in PIECE_FIELDS if path not in ARTWORK_FACTS)


def read_artwork(typed: Mapping[str, str], shop: Shop) -> ArtworkRecord:
    """Return the artwork alone, whatever else was typed. Raises: Invalid with every fault of its fields."""
    facts = {path: typed[path] for path in ARTWORK_FACTS if path in typed}
    read = PieceReader(PieceTyped(shop, facts), _no_material)
    artwork = artwork_of(read)
    read.faults.finish()
    return artwork


def same_design(agreed: Agreed, typed: Mapping[str, str]) -> bool:
    """Tell whether what is typed asks for the design that was agreed, whatever it says of the artwork.

    Texts are compared, not what they come to today: what a blank field stood for was frozen too. An
    object stands in a box and all else lies flat, so that much of the kind is design (G22).
    """
    usual = {
        "unit": agreed.spec.unit.value,
        "presentation": Presentation.WINDOW.value,
        "sizing": Sizing.BORDERS.value,
        "copies": "1",
    }
    alike = is_object(agreed.typed) is is_object(typed)
    return alike and all(
        _said(agreed.typed, path, usual) == _said(typed, path, usual) for path in _DESIGN
    )


def retyped(agreed: Agreed, typed: Mapping[str, str]) -> Agreed:
    """Return what was agreed, with fields as they are typed now: those of a `same_design`, or of the artwork."""
    return replace(agreed, typed={**agreed.typed, **typed})


def carried(agreed: Agreed, typed: Mapping[str, str]) -> Agreed:
    """Return what was agreed for another design of an artwork that is described anew; the price stays.

    What makes the artwork an object or not stays with the design that was worked out for it (G22); whoever
    opens that design is shown the artwork as it is now, so that saving works it out anew.
    """
    facts = {path: typed[path] for path in ARTWORK_FACTS if path in typed}
    if is_object(agreed.typed | facts) is not is_object(agreed.typed):
        facts = {path: text for path, text in facts.items() if path != "artwork.kind"}
    same = all(_said(agreed.typed, path, {}) == _said(facts, path, {}) for path in facts)
    return agreed if same else retyped(agreed, facts)


def _said(typed: Mapping[str, str], path: str, usual: Mapping[str, str]) -> str:
    return typed.get(path, "").strip() or usual.get(path, "")


def _no_material(text: str, kind: Kind) -> Material | None:
    return None
