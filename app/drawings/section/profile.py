"""A section through one side of the frame and of everything behind its lip, in millimetres.

x runs from the outside of the frame inwards, y from the front to the back. Depths are true. Of
widths, a face, border, reveal, gap or overlap that is long beside the depth is drawn shorter, and
the section says so. How high a moulding stands in front of its rebate, and how thick the floor of
a tray is, are not known and only indicated.
"""

from dataclasses import dataclass, replace

from app.drawings.canvas.boxes import coordinate
from app.drawings.canvas.hatch import CANVAS_BAR
from app.drawings.canvas.svg import Point
from app.drawings.piece.layout import is_tray
from app.drawings.piece.profiles import cut_through
from app.drawings.section.package import BAR, Shelf
from app.drawings.section.strips import Rebate, Strip, Widths
from app.framing import Dimensions, Frame, ProfileShape


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionProfile:
    """The section's parts.

    front, back: depths between which the rebate, or the inside of a tray, lies. wall, lip: where
    the lip begins and ends, equal where there is none. skin: a canvas about its bar.
    shortened: whether any width is. shaped: whether the shape of the moulding's face was said.
    """

    moulding: tuple[Point, ...]
    strips: tuple[Strip, ...]
    skin: tuple[Point, ...]
    front: float
    back: float
    wall: float
    lip: float
    end: float
    shortened: bool
    shaped: bool = False

    @property
    def top(self) -> float:
        """The depth of its foremost point."""
        return min([y for _, y in self.moulding] + [strip.top for strip in self.strips])

    @property
    def bottom(self) -> float:
        """The depth of its hindmost point."""
        return max([y for _, y in self.moulding] + [strip.bottom for strip in self.strips])


def profile_of(dimensions: Dimensions, shape: ProfileShape | None = None) -> SectionProfile:
    """Return the section through one side of the innermost frame, or of the package by itself.

    shape: of the moulding's face; None for a plain one.
    """
    widths = Widths(dimensions)
    profiles = dimensions.spec.profiles
    frame = profiles[0] if profiles else None
    if frame is None:
        return _assemble(dimensions, widths, Rebate(0.0, 0.0, 0.0, 0.0, 0.0), ())
    if is_tray(dimensions):
        return _tray(dimensions, frame, widths)
    front = min(max(coordinate(frame.rebate_depth) * 0.45, 4.0), 14.0)
    wall = widths.of(frame.face - frame.lip, 1.2)
    rebate = Rebate(
        front=front,
        back=front + coordinate(frame.rebate_depth),
        wall=wall,
        lip=wall + widths.of(frame.lip, 1.0),
        package=wall + coordinate(frame.allowance) / 2,
    )
    cut = _assemble(dimensions, widths, rebate, _moulding(rebate, shape))
    return replace(cut, shaped=shape is not None)


def _moulding(rebate: Rebate, shape: ProfileShape | None) -> tuple[Point, ...]:
    """Return an L whose face has the shape of the moulding."""
    front, wall, lip = rebate.front, rebate.wall, rebate.lip
    return (
        *cut_through(shape, wall, lip - wall, front),
        *(((lip, front),) if lip > wall else ()),
        (wall, front),
        (wall, rebate.back),
        (0, rebate.back),
    )


def _assemble(
    dimensions: Dimensions, widths: Widths, rebate: Rebate, moulding: tuple[Point, ...]
) -> SectionProfile:
    shelf = Shelf(dimensions, widths, rebate)
    strips = tuple(shelf.strips())
    return SectionProfile(
        moulding=moulding,
        strips=strips,
        skin=next((_skin(s, shelf.end) for s in strips if s.material is CANVAS_BAR), ()),
        front=rebate.front,
        back=rebate.back,
        wall=rebate.wall,
        lip=rebate.lip,
        end=shelf.end,
        shortened=widths.shortened,
    )


def _skin(bar: Strip, end: float) -> tuple[Point, ...]:
    """Canvas: over the front, around the edge, and fixed behind."""
    start = bar.front[0]
    behind = start + (bar.back[1] - start) * 0.45
    return ((end, bar.top), (start, bar.top), (start, bar.bottom), (behind, bar.bottom))


def _tray(dimensions: Dimensions, frame: Frame, widths: Widths) -> SectionProfile:
    """Return a tray: wall and floor, the canvas standing on the floor with a gap to the wall."""
    spec = dimensions.spec
    deep, canvas = coordinate(frame.rebate_depth), coordinate(spec.artwork_thickness)
    floor = max(deep, canvas)
    wall = widths.of(frame.face, 1.0)
    start = wall + widths.of(spec.gap, 0.8)
    bar = start + min(canvas * BAR, widths.depth)
    end, under = bar + widths.depth * 0.4, floor + min(max(deep * 0.2, 3.0), 8.0)
    rim = floor - deep
    strip = Strip(
        name="canvas on bars",
        material=CANVAS_BAR,
        thickness=spec.artwork_thickness,
        top=floor - canvas,
        bottom=floor,
        front=(start, bar),
        back=(start, bar),
    )
    return SectionProfile(
        moulding=(
            (0, rim),
            (wall, rim),
            (wall, floor),
            (bar, floor),
            (bar, under),
            (0, under),
        ),
        strips=(strip,),
        skin=_skin(strip, end),
        front=rim,
        back=floor,
        wall=wall,
        lip=wall,
        end=end,
        shortened=widths.shortened,
    )
