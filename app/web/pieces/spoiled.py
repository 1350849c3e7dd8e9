"""The parts of a piece that are spoiled and not cut anew, as its order's page and its own say it."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.orders import Piece, Stage
from app.services.spoiling import PartAtBench, spoiled_words


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoiledView:
    """said: which parts, in a sentence. withheld: the stages that are not offered until they are cut anew.

    anew: what the button by which all is cut says of them too; empty where it asks nothing.
    """

    said: str
    anew: str
    withheld: frozenset[str]


def spoiled_view(piece: Piece, parts: Sequence[PartAtBench]) -> SpoiledView | None:
    """Return what is said of the spoiled parts of a piece; None where it has none.

    Of several that are alike the others may be framed meanwhile.
    """
    if not parts:
        return None
    by_hand = [part.words for part in parts if part.by_hand]
    waits = piece.copies == 1 and bool(by_hand)
    return SpoiledView(
        said=f"{spoiled_words([part.words for part in parts])}.",
        anew=f", {' and '.join(by_hand)} anew too" if by_hand else "",
        withheld=frozenset({Stage.FRAMED.value} if waits else ()),
    )
