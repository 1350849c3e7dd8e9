"""Drawings as PNG: opened by Pillow, of the size that follows from the drawing, with the colours that it says."""

import io
import sys

import pytest
from PIL import Image

from app.colours import Colour
from app.documents.kit.png import HIGHEST, WIDEST, width_of
from app.drawings import Look
from app.drawings.wall.hanging import ToHang, hang
from app.drawings.wall.wall import HungPiece, on_a_wall
from app.errors import Busy
from app.lengths import Size, Unit, mm
from app.services import drawing_png
from app.services.children import Children
from tests.builders.drawn import sketch

CLAY = Colour.parse("#d5b5a2")


def a_wall(wall: Size | None = None) -> str:
    piece = HungPiece(dimensions=sketch(), look=Look())
    sizes = (piece.dimensions.drawn_outside,)
    hanging = hang(ToHang(sizes=sizes, unit=Unit.MM, gap=mm(0), wall=wall))
    return on_a_wall(hanging, (piece,), CLAY)


def opened(svg: str) -> Image.Image:
    return Image.open(io.BytesIO(drawing_png.png_of(svg))).convert("RGB")


@pytest.mark.png
def test_it_is_1600_wide_and_as_high_as_the_drawing_says():
    """A wall of 4000 × 2500 with 240 of floor and 88 (2.2 %) of paper around: 4176 × 2916, so 1600 × 1117."""
    image = opened(a_wall(Size(mm(4000), mm(2500))))
    assert image.size[0] == WIDEST == 1600
    assert image.size[1] == pytest.approx(1117, abs=1)


@pytest.mark.png
def test_the_wall_has_its_colour_and_the_margin_is_paper():
    """200 mm from the left and the top of the wall, away from the light: (88 + 200) / 4176 of the width."""
    image = opened(a_wall(Size(mm(4000), mm(2500))))
    at = round((88 + 200) / 4176 * 1600)
    assert image.getpixel((at, at)) == CLAY.parts
    assert image.getpixel((3, 3)) == Colour.parse("#fbf8f1").parts


@pytest.mark.png
def test_a_tall_narrow_wall_is_no_longer_than_it_may_be():
    svg = a_wall(Size(mm(700), mm(6000)))
    assert width_of(svg) < WIDEST
    image = opened(svg)
    assert image.size[1] <= HIGHEST + 1


def test_the_width_follows_from_what_the_drawing_shows():
    assert width_of('<svg viewBox="-5 -5 300 200"/>') == 1600
    assert width_of('<svg viewBox="0 0 100 600"/>') == 400
    with pytest.raises(ValueError, match="viewBox"):
        width_of("<svg/>")


def test_where_none_is_made_in_time_it_is_said(monkeypatch):
    gone = Children((sys.executable, "-c", "raise SystemExit(3)"), most=1, named="the drawing")
    monkeypatch.setattr(drawing_png, "CHILDREN", gone)
    with pytest.raises(Busy, match="could not be made just now"):
        drawing_png.png_of("<svg/>")
