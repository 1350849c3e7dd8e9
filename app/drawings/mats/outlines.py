"""Outlines of mats for machines that cut or engrave them: exact, and nothing but outlines.

Owns where each outline lies on one sheet; how a sheet is written is for others. Lengths stay exact until they are written, to 1/1000 mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from math import floor

from app.errors import NotFound
from app.framing import Dimensions, Layer, Mat, Shape, UnderWay
from app.framing.windows import face_grown
from app.lengths import ZERO, Length, Size


class SeenFrom(StrEnum):
    """The side of the mats that faces the reader, and the head of the machine."""

    BACK = "back"
    FRONT = "front"


class HoleAt(StrEnum):
    """Which line of a bevelled window the outline follows: at the back of the board or its face."""

    BACK = "back"
    FACE = "face"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOutline:
    """A closed outline by the rectangle around it: left-top corner, width and height.

    rise: of an arch's round top, half an oval as wide as the outline.
    """

    x: Length
    y: Length
    width: Length
    height: Length
    name: str = ""
    shape: Shape = Shape.RECTANGLE
    rise: Length | None = None

    def moved(self, x: Length, y: Length) -> "CutOutline":
        """Return the same outline elsewhere."""
        return replace(self, x=self.x + x, y=self.y + y)

    def grown(self, by: Length) -> "CutOutline":
        """Return every edge moved outwards, a round top with it."""
        return replace(
            self,
            x=self.x - by,
            y=self.y - by,
            width=self.width + by * 2,
            height=self.height + by * 2,
            rise=None if self.rise is None else self.rise + by,
        )

    def mirrored(self, width: Length) -> "CutOutline":
        """Return the outline from the other side of a sheet so wide (G10)."""
        return replace(self, x=width - self.x - self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class MatOutlines:
    """The outlines of one mat; grooves are cut into its face only."""

    layer: int
    blank: CutOutline
    windows: tuple[CutOutline, ...]
    grooves: tuple[CutOutline, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineSheet:
    """Mats on one sheet, layer 1 first; the left-top corner of the sheet is 0, 0."""

    size: Size
    mats: tuple[MatOutlines, ...]


def outlines_of(
    dimensions: Dimensions, *, side: SeenFrom, hole: HoleAt, layer: int | None = None
) -> OutlineSheet:
    """Return the mats of a piece, one over the other as they lie in it; or one by itself.

    A mat by itself begins at the corner of its blank; all together at that of the top mat.
    Source: G7, G8, G10. Raises: NotFound for a mat that the piece has not, or where it has none.
    """
    _check(dimensions, layer)
    mats = tuple(
        _mat(dimensions, one, mat, hole)
        for one, mat in zip(dimensions.layers, dimensions.spec.mats, strict=True)
        if layer in (None, one.layer)
    )
    size = dimensions.package
    if layer is not None:
        blank = mats[0].blank
        size = Size(blank.width, blank.height)
        mats = (_moved(mats[0], -blank.x, -blank.y),)
    if side is SeenFrom.BACK:
        mats = tuple(_mirrored(mat, size.width) for mat in mats)
    return OutlineSheet(size=size, mats=mats)


def _check(dimensions: Dimensions, layer: int | None) -> None:
    count = len(dimensions.layers)
    if not count:
        raise NotFound("The piece has no mat, so there is no window to cut.")
    if layer is not None and not 1 <= layer <= count:
        has = "one mat" if count == 1 else f"{count} mats, 1 to {count} from the top"
        raise NotFound(f"Mat {layer} was asked for; the piece has {has}.")


def _mat(dimensions: Dimensions, layer: Layer, mat: Mat, hole: HoleAt) -> MatOutlines:
    """Return one mat where it lies behind the top one, seen from the front."""
    package, blank = dimensions.package, layer.blank
    left, top = (package.width - blank.width) / 2, (package.height - blank.height) / 2
    own = dimensions.spec.under.way is UnderWay.OWN_EDGES
    x, y = (left, top) if own else (ZERO, ZERO)
    out = face_grown(mat) if hole is HoleAt.FACE else ZERO
    windows = (
        CutOutline(
            name=window.name,
            x=window.x + x,
            y=window.y + y,
            width=window.size.width,
            height=window.size.height,
            shape=window.shape,
            rise=window.rise,
        )
        for window in dimensions.windows_of(layer.layer)
    )
    return MatOutlines(
        layer=layer.layer,
        blank=CutOutline(x=left, y=top, width=blank.width, height=blank.height),
        windows=tuple(window.grown(out) for window in windows),
        grooves=tuple(_grooves(dimensions)) if layer.layer == 1 else (),
    )


def _grooves(dimensions: Dimensions) -> Iterator[CutOutline]:
    for groove in dimensions.grooves:
        yield CutOutline(
            name=groove.name,
            x=groove.x,
            y=groove.y,
            width=groove.size.width,
            height=groove.size.height,
            shape=groove.shape,
            rise=groove.rise,
        )


def _moved(mat: MatOutlines, x: Length, y: Length) -> MatOutlines:
    return replace(
        mat,
        blank=mat.blank.moved(x, y),
        windows=tuple(one.moved(x, y) for one in mat.windows),
        grooves=tuple(one.moved(x, y) for one in mat.grooves),
    )


def _mirrored(mat: MatOutlines, width: Length) -> MatOutlines:
    return replace(
        mat,
        blank=mat.blank.mirrored(width),
        windows=tuple(one.mirrored(width) for one in mat.windows),
        grooves=tuple(one.mirrored(width) for one in mat.grooves),
    )


def thousandths(length: Length) -> Fraction:
    """Millimetres to the nearest 1/1000, half up."""
    return Fraction(floor(length.mm * 1000 + Fraction(1, 2)), 1000)
