"""Where an artwork lies on the board behind the mats, and the hinges that hold one on paper (G25, D9).

Owns both as figures. Places are exact and follow from the windows as they are given, cut ones on a ticket; what
an artwork is made of is for others to say.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from app.framing.dimensions import Dimensions
from app.framing.spec import Presentation
from app.lengths import Length, Size, Unit, inches, mm

_LAID = frozenset({Presentation.WINDOW, Presentation.FLOAT, Presentation.CLOSE})
"""How an artwork is shown that lies on a board: a canvas is seated in its frame, what came in a frame goes back as it lay."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedArtwork:
    """An artwork on its board, both face up.

    name: of its window; "" for the one of a piece that names none, or behind all windows. left, top: from the left and the top edge of
    the board to those of the artwork, the left and the top one as seen from the front.
    """

    name: str
    size: Size
    left: Length
    top: Length


def carrying_board(dimensions: Dimensions) -> tuple[str, Size]:
    """Return the board that artworks lie on: its name and size.

    That is the mount board, without one the backing; without any of them places are measured from the edges of
    the package, which are those of the mat.
    """
    for name, size in (
        ("mount board", dimensions.mount_board),
        ("backing", dimensions.backing),
    ):
        if size is not None:
            return name, size
    return ("mat" if dimensions.layers else "package"), dimensions.package


def placed_artworks(dimensions: Dimensions) -> tuple[PlacedArtwork, ...]:
    """Return where each artwork lies: its middle behind that of its window, or of the package without mats (G25); of one
    behind all windows as `Dimensions.behind_all` has it.

    None of a canvas, of what came in its frame, and of one that is as large as its board, which has no place to find.
    """
    if dimensions.spec.presentation not in _LAID:
        return ()
    _, board = carrying_board(dimensions)
    found = tuple(_placed(dimensions, name, size, board) for name, size in dimensions.artworks)
    moved = dimensions.reaches_behind_all and dimensions.spec.artwork != board
    return found if moved or any(each.left or each.top for each in found) else ()


def _placed(dimensions: Dimensions, name: str, size: Size, board: Size) -> PlacedArtwork:
    package = dimensions.package
    left, top = _in_package(dimensions, name, size)
    return PlacedArtwork(
        name=name,
        size=size,
        left=left - (package.width - board.width) / 2,
        top=top - (package.height - board.height) / 2,
    )


def _in_package(dimensions: Dimensions, name: str, size: Size) -> tuple[Length, Length]:
    """Return how far an artwork lies from the left and the top edge of the package."""
    package = dimensions.package
    if dimensions.behind_all is not None:
        return dimensions.behind_all.x, dimensions.behind_all.y
    x, y = package.width / 2, package.height / 2
    if dimensions.layers:
        # Windows of under mats have their middles behind those of the top mat (G3), whose edges are the package's.
        window = next(each for each in dimensions.windows_of(1) if each.name == name)
        x, y = window.x + window.size.width / 2, window.y + window.size.height / 2
    return x - size.width / 2, y - size.height / 2


def alike_by(
    placed: Iterable[PlacedArtwork], lengths: Iterable[str]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return (length, names) of artworks whose edges lie alike, in their order. lengths: of each, as they are printed."""
    names: dict[str, list[str]] = {}
    for each, length in zip(placed, lengths, strict=True):
        names.setdefault(length, []).append(each.name)
    return tuple((length, tuple(its)) for length, its in names.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeRule:
    """How hinges are spread along the top edge of an artwork on paper.

    share: of its width from a corner to the middle of the first hinge; that is at least `least` and at most `most`,
    and never more than a quarter of the width. apart: between the middles of neighbours, at most.
    """

    share: Fraction
    least: Length
    most: Length
    apart: Length


HINGES: dict[Unit, HingeRule] = {
    Unit.MM: HingeRule(share=Fraction(1, 10), least=mm(25), most=mm(50), apart=mm(380)),
    Unit.IN: HingeRule(share=Fraction(1, 10), least=inches(1), most=inches(2), apart=inches(15)),
}
"""Source: common practice, 1 to 2 in from the corners by the size of the work and a hinge every 10 to 15 in; the tenth
between them is ours. Two for a small work, more and larger ones by size and weight: Library of Congress, research guide
to matting and hinging works of art on paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinges:
    """Hinges along a top edge. inset: from each corner to the middle of the outer one."""

    count: int
    inset: Length


def hinges_for(width: Length, unit: Unit) -> Hinges:
    """Return the hinges of an artwork of a width: two, and further ones between them where it is wide (D9)."""
    rule = HINGES[unit]
    inset = min(max(width * rule.share, rule.least), rule.most, width / 4)
    between = width - inset * 2
    return Hinges(count=1 + max(1, ceil(between / rule.apart)), inset=inset)


def hinges_alike(
    placed: Sequence[PlacedArtwork], unit: Unit
) -> tuple[tuple[Hinges, tuple[str, ...]], ...]:
    """Return (hinges, names) of artworks that take the same."""
    names: dict[Hinges, list[str]] = {}
    for each in placed:
        names.setdefault(hinges_for(each.size.width, unit), []).append(each.name)
    return tuple((hinges, tuple(its)) for hinges, its in names.items())
