"""Window files for machines: the outlines of mats as SVG and as DXF.

Owns DXF, by ezdxf, which is imported when the first file is asked for. Coordinates are millimetres
to 1/1000; in DXF y runs upwards and the left-bottom corner of the sheet is 0, 0.
"""

from dataclasses import dataclass
from importlib import import_module
from io import StringIO
from math import pi
from typing import Any

from app.drawings.mats.outlines import (
    CutOutline,
    HoleAt,
    OutlineSheet,
    SeenFrom,
    outlines_of,
    thousandths,
)
from app.drawings.mats.outlines_svg import outlines_svg
from app.framing import Dimensions, Shape
from app.lengths import Length

BLANKS, GROOVES = "BLANKS", "GROOVES"
"""DXF layers beside one for the windows of each mat, "MAT-1" and so on."""

_VERSION = "R2010"
_MILLIMETRES = 4
_METRIC = 1
_HALF_CIRCLE = 1.0
"""Bulge of a half circle, tan(180° / 4), to the left of the way. Source: DXF reference, LWPOLYLINE."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowFile:
    """What a file shows. layer: a mat by itself, or None for all of them in one file."""

    side: SeenFrom = SeenFrom.BACK
    hole: HoleAt = HoleAt.BACK
    layer: int | None = None

    @property
    def in_words(self) -> str:
        """What the file shows: "mat 1 from the back"."""
        which = "all mats" if self.layer is None else f"mat {self.layer}"
        face = ", at the face" if self.hole is HoleAt.FACE else ""
        return f"{which} from the {self.side.value}{face}"

    def sheet(self, cut: Dimensions) -> OutlineSheet:
        """Return the outlines. Raises: NotFound for a mat that the piece does not have, or where it has none."""
        return outlines_of(cut, side=self.side, hole=self.hole, layer=self.layer)


def window_svg(cut: Dimensions, file: WindowFile, *, title: str) -> bytes:
    """Return the file as SVG in UTF-8. Raises: NotFound as `WindowFile.sheet` does."""
    svg = outlines_svg(file.sheet(cut), title=f"{title}, {file.in_words}")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg}\n'.encode()


def window_dxf(cut: Dimensions, file: WindowFile) -> bytes:
    """Return the file as DXF. Raises: NotFound as `WindowFile.sheet` does."""
    sheet = file.sheet(cut)
    document = import_module("ezdxf").new(_VERSION, units=_MILLIMETRES)
    document.header["$MEASUREMENT"] = _METRIC
    corner, opposite = (0, 0, 0), (_mm(sheet.size.width), _mm(sheet.size.height), 0)
    # On writing, the library copies the model space's extents into the header, unless they begin
    # at 0, 0, 0, which it takes for none: both are set.
    document.modelspace().reset_extents(corner, opposite)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = corner, opposite
    pen = _Pen(document, sheet.size.height)
    for mat in sheet.mats:
        pen.draw(mat.blank, BLANKS)
        for window in mat.windows:
            pen.draw(window, f"MAT-{mat.layer}")
        for groove in mat.grooves:
            pen.draw(groove, GROOVES)
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


class _Pen:
    """Draws outlines onto layers of a DXF document, each as the entity that is true to it."""

    def __init__(self, document: Any, height: Length) -> None:
        self.layers, self.space, self.height = document.layers, document.modelspace(), height

    def draw(self, one: CutOutline, layer: str) -> None:
        """Draw an outline on a layer, which is made with its first one."""
        if layer not in self.layers:
            self.layers.add(layer, color=len(self.layers))
        to = {"layer": layer}
        match one.shape:
            case Shape.RECTANGLE:
                self.space.add_lwpolyline(self._corners(one), close=True, dxfattribs=to)
            case Shape.OVAL:
                self._oval(one, to)
            case Shape.ARCH:
                self._arch(one, to)

    def _up(self, y: Length) -> float:
        return _mm(self.height - y)

    def _corners(self, one: CutOutline) -> list[tuple[float, float]]:
        """Return the corners counterclockwise from the left-bottom one."""
        left, right = _mm(one.x), _mm(one.x + one.width)
        foot, top = self._up(one.y + one.height), self._up(one.y)
        return [(left, foot), (right, foot), (right, top), (left, top)]

    def _oval(self, one: CutOutline, to: dict[str, str]) -> None:
        centre = (_mm(one.x + one.width / 2), self._up(one.y + one.height / 2))
        if one.width == one.height:
            self.space.add_circle(centre, _mm(one.width / 2), dxfattribs=to)
        else:
            self._ellipse(centre, (one.width / 2, one.height / 2), to)

    def _arch(self, one: CutOutline, to: dict[str, str]) -> None:
        """Draw one outline where the top is half a circle, else straight sides and half an ellipse."""
        assert one.rise is not None
        left, right = _mm(one.x), _mm(one.x + one.width)
        spring, foot = self._up(one.y + one.rise), self._up(one.y + one.height)
        if one.rise * 2 == one.width:
            points = [
                (left, foot, 0),
                (right, foot, 0),
                (right, spring, _HALF_CIRCLE),
                (left, spring, 0),
            ]
            self.space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=to)
            return
        sides = [(left, spring), (left, foot), (right, foot), (right, spring)]
        self.space.add_lwpolyline(sides, dxfattribs=to)
        centre = (_mm(one.x + one.width / 2), spring)
        self._ellipse(centre, (one.width / 2, one.rise), to, upper=True)

    def _ellipse(
        self,
        centre: tuple[float, float],
        half: tuple[Length, Length],
        to: dict[str, str],
        *,
        upper: bool = False,
    ) -> None:
        """Draw an ellipse by its half axes across and up, or its upper half alone.

        DXF counts turns from the end of the longer axis, and never takes the shorter one for it.
        """
        across, up = (_mm(one) for one in half)
        upright = up > across
        begins = -pi / 2 if upright else 0.0
        self.space.add_ellipse(
            centre,
            major_axis=(0, up) if upright else (across, 0),
            ratio=min(across, up) / max(across, up),
            start_param=begins if upper else 0.0,
            end_param=begins + pi if upper else 2 * pi,
            dxfattribs=to,
        )


def _mm(length: Length) -> float:
    return float(thousandths(length))
