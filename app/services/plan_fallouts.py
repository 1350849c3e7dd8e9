"""Fallouts of the mats that a sheet is cut into, offered to be kept (C5)."""

from collections.abc import Iterable, Iterator, Mapping
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
    cuttings = {piece.ref.piece_id: _cutting(piece, shop) for piece in pieces}
    return tuple(
        OfferedFallout(
            id=f"{mat.id}/{number}",
            part=mat,
            window=fallout.window,
            sound=fallout.sound,
            shape=fallout.shape,
        )
        for mat in mats
        if (cutting := cuttings.get(mat.piece.piece_id)) is not None
        for number, fallout in enumerate(cutting.fallouts_of(mat), start=1)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cutting:
    """What a piece is cut into now. parts: what each is, by its key; kept: its fallouts that are worth keeping."""

    copies: int
    parts: Mapping[str, str]
    kept: tuple[KeptFallout, ...]

    def fallouts_of(self, mat: PlannedPart) -> Iterator[KeptFallout]:
        """Yield those of a mat; none where it is another since the piece was changed."""
        if mat.copy <= self.copies and self.parts.get(mat.key) == mat.what:
            layer = int(mat.key.removeprefix(_MAT))
            yield from (each for each in self.kept if each.layer == layer)


def _cutting(piece: KeptPiece, shop: Shop) -> _Cutting | None:
    """Return what a piece is cut into; None where that cannot be worked out any more."""
    agreed = piece.agreed
    try:
        found = findings(ArtworkRecord(), agreed, shop)  # the artwork asks for care, not for sizes
    except Invalid:
        return None
    return _Cutting(
        copies=agreed.copies,
        parts={part.key: part.what for part in parts_to_cut(piece.ref, agreed, found.cut)},
        kept=tuple(fallouts_to_keep(agreed, found, shop.keep)),
    )
