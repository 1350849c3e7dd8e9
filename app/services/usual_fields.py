"""What the form of a new piece is filled with by the shop's habit, at today's price book."""

from app.errors import Invalid
from app.forms.table import Typed
from app.lengths import LONGEST_SHEET
from app.orders import Shop
from app.orders.quoting.request import PieceRequest, read_piece
from app.orders.quoting.said_units import as_likely, open_questions
from app.orders.quoting.usual import (
    HANGING,
    Filled,
    Weighed,
    filled_anew,
    filled_first,
    weighed,
)
from app.storage import Store, UnitOfWork


def first(store: Store, typed: Typed, shop: Shop) -> dict[str, str]:
    """Return what the form of a new piece is filled with before anything is typed."""
    with store.reading() as work:
        return filled_first(shop, typed, work.materials.meant)


def anew(store: Store, typed: Typed, before: Filled, shop: Shop) -> dict[str, str]:
    """Return what is usual for a piece as it is typed now, of the fields that still hold what was filled in before."""
    if not before:
        return {}
    with store.reading() as work:
        return anew_in(work, typed, before, shop)


def anew_in(work: UnitOfWork, typed: Typed, before: Filled, shop: Shop) -> dict[str, str]:
    """Return the same within a unit of work."""
    find = work.materials.meant
    single = {path: text for path, text in before.items() if path not in HANGING}
    filled = filled_anew(typed, single, shop, find, None)
    piece = None
    if any(path in before for path in HANGING):
        piece = _weighed(work, {**typed, **filled, **dict.fromkeys(HANGING, "")}, shop)
    return filled_anew(typed, before, shop, find, piece)


def _weighed(work: UnitOfWork, typed: Typed, shop: Shop) -> Weighed | None:
    """Return the piece without its hanging parts, which change no weight; None while it cannot be worked out."""
    try:
        return weighed(_likely(work, typed, shop), shop)
    except Invalid:
        return None


def _likely(work: UnitOfWork, typed: Typed, shop: Shop) -> PieceRequest:
    """Return what was typed, with doubtful sizes as they are taken until they are answered. Raises: Invalid."""
    longest = work.materials.longest_sheet() or LONGEST_SHEET
    try:
        return read_piece(typed, shop, work.materials.meant, longest=longest)
    except Invalid as invalid:
        asked = open_questions(invalid.faults)
        if not asked:
            raise
        likely = as_likely(typed, asked)
        return read_piece(likely, shop, work.materials.meant, longest=longest)
