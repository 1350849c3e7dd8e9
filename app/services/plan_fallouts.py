"""Fallouts of the mats that a sheet is cut into, offered to be kept (C5)."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from app.errors import Invalid
from app.framing import Shape
from app.lengths import Size
from app.orders import ArtworkRecord, Shop
from app.orders.fallouts import KeptFallout, fallouts_to_keep
from app.orders.piece_report import findings
from app.services.plans import BinAtPlan
from app.stock.planning.parts import parts_to_cut
from app.stock.planning.plans import PlannedPart
from app.storage import KeptPiece, Store, UnitOfWork

_MAT = "mat-"


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferedFallout:
    """A fallout worth keeping. id: "17/mat-1/1". window: its name. sound: whole through the board."""

    id: str
    part: PlannedPart
    window: str
    sound: Size
    shape: Shape


def fallouts_on_offer(store: Store, which: BinAtPlan) -> tuple[OfferedFallout, ...]:
    """Return the fallouts of the mats on a sheet that are worth keeping. Raises: NotFound."""
    with store.reading() as work:
        plan = work.plans.get(which.plan_id)
        return fallouts_of(work, plan.parts_in(which.at), work.shop.get())


def fallouts_of(
    work: UnitOfWork, parts: Iterable[PlannedPart], shop: Shop
) -> tuple[OfferedFallout, ...]:
    """As `fallouts_on_offer`, of parts within a transaction that does more."""
    mats = [part for part in parts if part.key.startswith(_MAT)]
    pieces = work.open_pieces.get({mat.piece.piece_id for mat in mats})
    kept = {piece.ref.piece_id: piece for piece in pieces}
    return tuple(
        OfferedFallout(
            id=f"{mat.id}/{number}",
            part=mat,
            window=fallout.window,
            sound=fallout.sound,
            shape=fallout.shape,
        )
        for mat in mats
        if mat.piece.piece_id in kept
        for number, fallout in enumerate(_of_mat(kept[mat.piece.piece_id], mat, shop), start=1)
    )


def _of_mat(piece: KeptPiece, mat: PlannedPart, shop: Shop) -> Iterator[KeptFallout]:
    """None of a mat that is another since the piece was changed."""
    agreed = piece.agreed
    try:
        found = findings(ArtworkRecord(), agreed, shop)  # the artwork asks for care, not for sizes
    except Invalid:
        return
    now = {part.key: part.what for part in parts_to_cut(piece.ref, agreed, found.cut)}
    if mat.copy <= agreed.copies and now.get(mat.key) == mat.what:
        layer = int(mat.key.removeprefix(_MAT))
        kept = fallouts_to_keep(agreed, found, shop.keep)
        yield from (each for each in kept if each.layer == layer)
