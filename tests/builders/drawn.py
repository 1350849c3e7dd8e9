"""Pieces to draw, and reading of what was drawn. Invented, but for the one of the design sketch."""

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from app.framing import (
    DEFAULTS,
    Bevel,
    Dimensions,
    Edges,
    Fillet,
    Frame,
    Mat,
    ObjectInBox,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
    work_out,
)
from app.lengths import Length, Size, Unit, inches, mm

SVG = "{http://www.w3.org/2000/svg}"


def borders(left: int, right: int, top: int, bottom: int) -> Edges:
    return Edges(left=mm(left), right=mm(right), top=mm(top), bottom=mm(bottom))


def moulding(face: int = 25, lip: int = 6, depth: int = 14, allowance: int = 3) -> Frame:
    return Frame(face=mm(face), lip=mm(lip), rebate_depth=mm(depth), allowance=mm(allowance))


def mat(thickness: str = "1.4", reveal: int | None = None, *, bevel: Bevel | None = None) -> Mat:
    return Mat(
        thickness=mm(thickness),
        reveal=None if reveal is None else mm(reveal),
        bevel=bevel or Bevel(),
    )


def fillet(face: int = 10, lip: int = 4, tuck: int = 4, thickness: int = 3) -> Fillet:
    return Fillet(face=mm(face), lip=mm(lip), tuck=mm(tuck), thickness=mm(thickness))


def spec(
    width: int, height: int, shown: Presentation = Presentation.WINDOW, **more: object
) -> Spec:
    usual = DEFAULTS[Unit.MM]
    gap = usual.canvas_gap if shown is Presentation.CANVAS_FLOAT else usual.gap
    given: dict[str, object] = {
        "unit": Unit.MM,
        "artwork": Size(mm(width), mm(height)),
        "presentation": shown,
        "overlap": usual.overlap,
        "gap": gap,
        "artwork_thickness": mm("0.3"),
        **more,
    }
    return Spec(**given)  # type: ignore[arg-type]


GLASS, BACKING, BOARD = (Panel(thickness=mm(t)) for t in ("2", "3", "1.5"))


def sketch() -> Dimensions:
    """Artwork 420 × 297, overlap 5, two mats of 1.4, reveal 6, borders 70 70 70 80, face 25,
    lip 6, allowance 3: the worked example of the design sketch."""
    return work_out(sketch_spec())


def sketch_spec() -> Spec:
    return spec(
        420,
        297,
        mats=(mat(), mat(reveal=6)),
        borders=borders(70, 70, 70, 80),
        frames=(moulding(),),
        glazing=GLASS,
        backing=BACKING,
    )


def many() -> dict[str, Dimensions]:
    """One of every presentation, and the proportions that are hard to draw."""
    window, shown = Presentation.WINDOW, Presentation
    third = Length.of("1/3", Unit.IN)
    specs = {
        "sketch": sketch_spec(),
        "tiny": spec(30, 20, mats=(mat(),), borders=borders(50, 50, 50, 55), frames=(moulding(12, 5),)),
        "tiny close": spec(30, 20, shown.CLOSE, frames=(moulding(),), glazing=GLASS),
        "panorama": spec(
            2500, 300, mats=(mat(), mat(reveal=6)), borders=borders(60, 60, 60, 60),
            frames=(moulding(30),), glazing=GLASS, backing=BACKING,
        ),
        "tall": spec(
            300, 2500, mats=(mat(), mat(reveal=6), mat(reveal=3)), borders=borders(60, 60, 60, 90),
            frames=(moulding(30),), glazing=GLASS, backing=BACKING,
        ),
        "huge": spec(2500, 900, shown.CLOSE, frames=(moulding(60, 10, 20),)),
        "inches": spec(
            1, 1, window, unit=Unit.IN,
            artwork=Size(inches("83/8"), inches("1133/64")),
            overlap=inches("3/16"),
            mats=(Mat(thickness=inches("1/16")), Mat(thickness=inches("1/16"), reveal=inches("1/4"))),
            borders=Edges.equal(inches("177/64")),
            frames=(
                Frame(
                    face=inches("7/8"), lip=inches("1/4"), rebate_depth=inches("5/8"),
                    allowance=inches("1/8"),
                ),
            ),
            glazing=Panel(thickness=inches("3/32")),
        ),
        "thirds": spec(400, 300, mats=(mat(),), borders=Edges.equal(third * 9), frames=(moulding(),)),
        "float": spec(
            300, 420, shown.FLOAT, mats=(mat(),), borders=borders(60, 60, 60, 60),
            frames=(moulding(20, 6, 25),), glazing=GLASS, mount_board=BOARD, backing=BACKING,
            spacer=Spacer(depth=mm(6), width=mm(5)),
        ),
        "box": spec(
            300, 300, shown.FLOAT, gap=mm(25), frames=(moulding(20, 6, 45),), mount_board=BOARD,
            glazing=GLASS, spacer=Spacer(depth=mm(30), width=mm(6)), backing=BACKING,
        ),
        "object": spec(
            200, 150, shown.FLOAT, mats=(mat(),), borders=borders(60, 60, 60, 60),
            artwork_thickness=mm(20), frames=(moulding(20, 6, 46),), glazing=GLASS,
            spacer=Spacer(depth=mm(25), width=mm(5)), mount_board=BACKING, backing=BACKING,
            boxed=ObjectInBox(clearance=mm(3)),
        ),
        "object without glazing": spec(
            200, 150, shown.FLOAT, artwork_thickness=mm(30), frames=(moulding(20, 6, 46),),
            spacer=Spacer(depth=mm(12), width=mm(5)), mount_board=BOARD,
            boxed=ObjectInBox(clearance=mm(3)),
        ),
        "object of no known height": spec(
            200, 150, mats=(mat(),), borders=borders(60, 60, 60, 60), artwork_thickness=mm(0),
            frames=(moulding(20, 6, 12),), glazing=GLASS, boxed=ObjectInBox(clearance=mm(3)),
        ),
        "close without frame": spec(300, 200, shown.CLOSE, artwork_thickness=mm(0)),
        "mat without frame": spec(300, 200, mats=(mat(),), borders=borders(50, 50, 50, 60)),
        "canvas": spec(
            500, 700, shown.CANVAS, artwork_thickness=mm(18), frames=(moulding(35, 7, 12),),
            backing=BACKING,
        ),
        "tray": spec(
            500, 400, shown.CANVAS_FLOAT, artwork_thickness=mm(38), frames=(moulding(9, 0, 40, 0),)
        ),
        "two frames": spec(
            400, 300, mats=(mat(),), borders=borders(70, 70, 70, 80),
            frames=(moulding(12, 5, 12), moulding(45, 6, 25)), glazing=GLASS, backing=BACKING,
        ),
        "reverse": spec(
            300, 200, mats=(mat(bevel=Bevel(reverse=True)),), borders=borders(60, 60, 60, 60),
            frames=(moulding(20),),
        ),
        "own edges": spec(
            300, 200, mats=(mat(), mat(reveal=6)), borders=borders(50, 60, 50, 60),
            frames=(moulding(20),), under=UnderMats(way=UnderWay.OWN_EDGES, trim=mm(3)),
        ),
        "trimmed behind": spec(
            300, 200, mats=(mat(), mat(reveal=6)), borders=borders(50, 60, 50, 60),
            frames=(moulding(20),), under=UnderMats(trim=mm(3)),
        ),
        "too deep": spec(
            300, 200, mats=(mat("2.8"), mat("2.8", reveal=6)), borders=borders(50, 50, 50, 60),
            frames=(moulding(20, 6, 12),), glazing=GLASS, backing=BACKING, mount_board=BOARD,
        ),
        "fillet": spec(
            420, 297, mats=(mat(), mat(reveal=6)), borders=borders(70, 70, 70, 80),
            frames=(moulding(),), glazing=GLASS, backing=BACKING, fillet=fillet(),
        ),
        "fillet around a float": spec(
            300, 420, shown.FLOAT, mats=(mat(),), borders=borders(60, 60, 60, 60),
            fillet=fillet(8, 3, 2), mount_board=BOARD,
        ),
        "fillet in a tiny window": spec(
            40, 60, mats=(mat(),), borders=borders(50, 50, 50, 55), frames=(moulding(12, 5),),
            fillet=fillet(),
        ),
    }  # fmt: skip
    return {name: work_out(one) for name, one in specs.items()}


def read(svg: str) -> ElementTree.Element:
    """The drawing as a tree; fails where it is not well-formed."""
    return ElementTree.fromstring(svg)


def of_class(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    """Every element with a class."""
    return [one for one in root.iter() if name in (one.get("class") or "").split()]


def points(element: ElementTree.Element) -> list[tuple[float, float]]:
    """The corners of a polygon or of a path of straight strokes."""
    text = element.get("points") or element.get("d") or ""
    numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", text)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def extent(element: ElementTree.Element) -> tuple[float, float, float, float]:
    """x, y, width, height of a rectangle."""
    x, y, width, height = (float(element.get(n, "0")) for n in ("x", "y", "width", "height"))
    return (x, y, width, height)


@dataclass(frozen=True)
class Written:
    """A text with an estimate of the room it takes, made without the code that placed it."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Written") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def texts(root: ElementTree.Element) -> list[Written]:
    """Every text. Source: DejaVu Sans, advance of its digits 0.636 em, of the blank and of stops
    0.318 em, of i, j and l 0.278 em, of t 0.392 em, cap height 0.73 em, descender 0.24 em (its hmtx
    and OS/2 tables); 0.6 em on an average."""
    return [_written(one) for one in root.iter(f"{SVG}text")]


_ADVANCE = dict.fromkeys(" \u00a0.,", 0.318) | dict.fromkeys("ijl", 0.278) | {"t": 0.392}


def _written(one: ElementTree.Element) -> Written:
    text, size = one.text or "", float(one.get("font-size", "0"))
    x, y = float(one.get("x", "0")), float(one.get("y", "0"))
    width = size * sum(_ADVANCE.get(char, 0.6) for char in text)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[one.get("text-anchor", "start")]
    up, down = size * 0.73, size * 0.1
    if one.get("transform") is None:
        return Written(text, x + start, y - up, x + start + width, y + down)
    return Written(text, x - up, y - start - width, x + down, y - start)
