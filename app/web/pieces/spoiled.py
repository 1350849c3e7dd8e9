"""The parts of a piece that are spoiled and not cut anew, as its order's page and its own say it."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.orders import Piece, Stage
from app.services.cut_by_hand import PartAtBench, spoiled_words


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoiledView:
    """said: which parts, in a sentence. withheld: the stages that are not offered until they are cut anew."""

    said: str
    withheld: frozenset[str]


def spoiled_view(piece: Piece, parts: Sequence[PartAtBench]) -> SpoiledView | None:
    """Return what is said of the spoiled parts of a piece; None where it has none.

    Of several that are alike the others may be framed meanwhile.
    """
    if not parts:
        return None
    waits = piece.copies == 1 and any(part.by_hand for part in parts)
    return SpoiledView(
        said=f"{spoiled_words([part.words for part in parts])}.",
        withheld=frozenset({Stage.FRAMED.value} if waits else ()),
    )
