"""What is fetched before the work on a piece begins: the artwork and every material, with where each lies."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from app.orders import Piece
from app.pricing import Chosen, Material
from app.stock.planning.problems import OnRack
from app.web.pieces.chosen import in_order, named


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPull:
    """One thing to fetch.

    part: what it is for. name: of the artwork, or of the material with its code and its count.
    places: where it lies, each once; empty where nobody wrote it down.
    """

    part: str
    name: str
    places: tuple[str, ...] = ()


def to_pull(piece: Piece, rack: Sequence[OnRack], usual: Mapping[str, str]) -> tuple[ToPull, ...]:
    """List what is fetched for a piece, the artwork first, then the materials in the order of the work.

    rack: what lies free of them. usual: where a material usually lies, by its code, for one of which nothing
    that is free says where it is.
    """
    places = _Places(rack, usual)
    title = piece.artwork.title or "Untitled"
    place = (piece.artwork.place,) if piece.artwork.place else ()
    return (
        ToPull(part="artwork", name=title, places=place),
        *_materials(piece.agreed.chosen, piece.copies, places),
    )


def _materials(chosen: Chosen, copies: int, places: "_Places") -> Iterator[ToPull]:
    for part, material, count in in_order(chosen):
        yield ToPull(
            part=part,
            name=named(material, count, copies),
            places=places.of(material),
        )


class _Places:
    """Where materials lie."""

    def __init__(self, rack: Sequence[OnRack], usual: Mapping[str, str]) -> None:
        self.rack, self.usual = rack, usual

    def of(self, material: Material) -> tuple[str, ...]:
        """Return the places of its whole stock; offcuts are told of by themselves."""
        items = (each.kept.item for each in self.rack)
        found = dict.fromkeys(
            item.place
            for item in items
            if item.whole and item.place and item.material == material.code
        )
        usual = self.usual.get(material.code, "")
        return tuple(found) or ((usual,) if usual else ())
