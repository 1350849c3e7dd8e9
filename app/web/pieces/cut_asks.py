"""Why the button by which pieces are marked as cut asks first: a material is not there, or another plan has reserved it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from app.orders import Piece, Stage
from app.orders.copies import may_become
from app.services.cut_by_hand import keeps_stock, would_take_reserved
from app.stock.consumption import UsedUp
from app.stock.material_states import MaterialState
from app.storage import Store
from app.web.pieces.material_states import MaterialStand


@dataclass(frozen=True, slots=True, kw_only=True)
class CutAsks:
    """What is said before pieces are marked as cut: sentences of each piece by its number, and of all together.

    A piece for which everything is in hand or held by its own plan is not among them.
    """

    of_piece: Mapping[int, tuple[str, ...]]
    together: tuple[str, ...]


NOTHING_ASKED = CutAsks(of_piece={}, together=())


def cut_asks(
    store: Store, pieces: Sequence[Piece], stands: Mapping[int, tuple[MaterialStand, ...]]
) -> CutAsks:
    """Return why marking pieces as cut asks first. stands: how it stands with the materials of each, by its number.

    A shop that writes down no stock at all is asked nothing.
    """
    uncut = [piece for piece in pieces if may_become(piece.stands, Stage.CUT)]
    if not uncut or not keeps_stock(store):
        return NOTHING_ASKED
    reserved = would_take_reserved(store, [piece.id for piece in uncut])
    said = {
        piece.number: _said(stands[piece.number], reserved.of_piece.get(piece.id, ()))
        for piece in uncut
    }
    every = [stand for piece in uncut for stand in stands[piece.number]]
    return CutAsks(
        of_piece={number: sentences for number, sentences in said.items() if sentences},
        together=_said(every, reserved.together),
    )


def _said(stands: Sequence[MaterialStand], reserved: Iterable[UsedUp]) -> tuple[str, ...]:
    waited_for = {
        state: dict.fromkeys(each.name for each in stands if each.words == state)
        for state in (MaterialState.TO_BUY, MaterialState.ON_ORDER)
    }
    missing = [
        f"{state.capitalize()}: {', '.join(names)}." for state, names in waited_for.items() if names
    ]
    taken = [
        f"Takes {each.words}, reserved by {' and '.join(each.reserved_by)}, which then lacks it."
        for each in reserved
    ]
    return (*missing, *taken)
