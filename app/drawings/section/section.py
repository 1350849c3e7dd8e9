"""A section through the rebate: the moulding, the stack in it, and what room is left.

Front at the top. Every part is toned or hatched in its own way and named at the right with its
thickness; the depths stand at the left, what is left in blue, what is too much in red and in words.
"""

from collections.abc import Iterator

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, Pencil, drawing, union
from app.drawings.canvas.columns import BENEATH, ColumnLabel, LabelColumn
from app.drawings.canvas.hatch import ARTWORK, CANVAS_BAR, cut
from app.drawings.canvas.notes import written_under
from app.drawings.canvas.shading import Side
from app.drawings.canvas.svg import Markup, Point, group, line, number, path
from app.drawings.dimensioning.lines import DimensionLines
from app.drawings.dimensioning.rows import Lane, Span
from app.drawings.piece.appearance import Look
from app.drawings.piece.layout import is_tray
from app.drawings.piece.wording import outside_in_words
from app.drawings.section.colours import moulding_in_colour, strip_in_colour
from app.drawings.section.depths import Depth, Tone, depths_of
from app.drawings.section.profile import SectionProfile, profile_of
from app.drawings.section.strips import Strip
from app.drawings.section.words import section_in_words, section_notes, strip_in_words
from app.framing import Dimensions
from app.lengths import Unit, show_on_rule

USUAL_LOOK = Look()
"""What is drawn where nobody says how the piece looks."""

_ACROSS = 46
"""Letter heights along the longer side: 11 px in 500 px, since labels stand on both sides."""

_THINNEST = 0.24
"""Letter heights that the thinnest part is drawn with."""


def section(dimensions: Dimensions, unit: Unit, look: Look = USUAL_LOOK) -> str:
    """Return the section as an SVG document, figures in one unit; one unit of the drawing is 1 mm."""
    profile = profile_of(dimensions, look.frame(0).shape)
    depths = depths_of(dimensions, profile, unit)
    sheet = _fitted(dimensions, profile, depths, unit)
    notes = section_notes(dimensions, profile, depths, sheet.font * _THINNEST, unit)
    room, written = written_under(sheet.room, (notes,), sheet.font)
    return drawing(
        room.inset(-sheet.font * 0.6),
        *sheet.marks(look),
        written,
        class_="drawing drawing-section",
        title=f"{outside_in_words(dimensions, unit)}: section through "
        f"{'the tray' if is_tray(dimensions) else 'the rebate'}",
        desc=section_in_words(profile, depths, unit),
    )


def _fitted(
    dimensions: Dimensions, profile: SectionProfile, depths: tuple[Depth, ...], unit: Unit
) -> "_SectionCanvas":
    """Return the parts of the drawing with letters that suit its size."""
    font = max(profile.end, profile.bottom - profile.top) / 24
    for _ in range(4):
        room = _SectionCanvas(dimensions, profile, depths, unit, font).room
        font = max(room.width, room.height) / _ACROSS
    return _SectionCanvas(dimensions, profile, depths, unit, font)


class _SectionCanvas:
    """The section with labels on both sides and widths above, at one letter height."""

    def __init__(
        self,
        dimensions: Dimensions,
        profile: SectionProfile,
        depths: tuple[Depth, ...],
        unit: Unit,
        font: float,
    ) -> None:
        self.dimensions, self.profile, self.depths, self.font = dimensions, profile, depths, font
        self.body = Box.between(0, profile.top, profile.end, profile.bottom)
        self.names = LabelColumn(_names(profile, unit, font), profile.end, font, left=False)
        outermost = max(depth.line for depth in depths)
        self.figures = LabelColumn(
            [self._figure(depth) for depth in depths],
            self._line(outermost) - font * 0.2,
            font,
            left=True,
        )
        lanes = {Side.TOP: _widths(dimensions, profile, unit)}
        self.widths = DimensionLines(self.body, lanes, font)

    @property
    def room(self) -> Box:
        """The box around everything but the notes."""
        return union((self.body, self.names.room, self.figures.room, self.widths.room))

    def marks(self, look: Look) -> Iterator[Markup]:
        """Yield the cut parts, then what is said about them."""
        yield group(self._parts(look), class_="section")
        yield self._break()
        for depth in self.depths:
            yield self._depth(depth)
            yield from self._limit(depth)
        yield self.widths.marks()
        yield from self.figures.marks()
        yield from self.names.marks()

    def _parts(self, look: Look) -> Iterator[Markup]:
        """Thick parts first, so that a thin one drawn thicker is never hidden."""
        if self.profile.moulding:
            yield cut(self.profile.moulding, moulding_in_colour(look), self.font)
        least = self.font * _THINNEST
        for strip in sorted(self.profile.strips, key=lambda s: s.top - s.bottom):
            yield from strip_in_colour(strip, self.dimensions, look, least, self.font)
        if self.profile.skin:
            yield path(
                self.profile.skin, fill="none", stroke=ARTWORK.fill, stroke_width=least * 1.2
            )

    def _break(self) -> Markup:
        """Return the line of a long break, where the package goes on."""
        strips = [s for s in self.profile.strips if s.material is not CANVAS_BAR]
        if not strips:
            return Markup("")
        x, font = self.profile.end, self.font
        top, bottom = strips[0].top - font * 0.5, self.profile.strips[-1].bottom + font * 0.5
        middle = (top + bottom) / 2
        zigzag = (
            (x, top),
            (x, middle - font * 0.5),
            (x + font * 0.35, middle - font * 0.2),
            (x - font * 0.35, middle + font * 0.2),
            (x, middle + font * 0.5),
            (x, bottom),
        )
        return path(zigzag, fill="none", stroke=INK, stroke_width=font * 0.06, class_="ink")

    def _line(self, index: int) -> float:
        return -self.font * (1.0 + 1.1 * index)

    def _figure(self, depth: Depth) -> ColumnLabel:
        """Return a depth's label; the rebate's stands above its line, clear of the lines beside it."""
        x, middle = self._line(depth.line), (depth.top + depth.bottom) / 2
        at = (x, depth.top if depth.line == 0 else middle)
        wish = depth.top - self.font * 0.9 if depth.line == 0 else middle
        return ColumnLabel(
            text=depth.text,
            at=at,
            wish=wish,
            pencil=depth.tone.value,
            dot=False,
            bold=depth.tone.strong,
        )

    def _depth(self, depth: Depth) -> Markup:
        """Return a dimension line with ticks, and thin lines to what it measures."""
        x, tick = self._line(depth.line), self.font * 0.26
        ends = (depth.top, depth.bottom)
        lines = group(
            (
                line(
                    (x, ends[0]),
                    (x, ends[1]),
                    stroke_width=self.font * (0.13 if depth.tone.strong else 0.06),
                ),
                path(
                    *(((x - tick, y + tick), (x + tick, y - tick)) for y in ends),
                    stroke_width=self.font * 0.1,
                ),
                path(
                    *(((x - tick, y), (self.profile.wall, y)) for y in ends),
                    stroke_width=self.font * 0.04,
                    stroke_opacity=0.5,
                ),
            ),
            fill="none",
            stroke=INK,
        )
        return depth.tone.value.draws(lines)

    def _limit(self, depth: Depth) -> Iterator[Markup]:
        """Yield where the stack should have ended, dashed across it, on a light line that shows on dark parts."""
        if depth.tone is not Tone.OVERRUN:
            return
        ends = ((self.profile.wall, depth.top), (self.profile.end, depth.top))
        yield line(*ends, stroke=BENEATH, stroke_width=self.font * 0.2)
        yield line(
            *ends,
            stroke=Pencil.OVERRUN.value[1],
            stroke_width=self.font * 0.12,
            stroke_dasharray=f"{number(self.font * 0.5)} {number(self.font * 0.3)}",
        )


def _names(profile: SectionProfile, unit: Unit, font: float) -> list[ColumnLabel]:
    """Return each part with its thickness."""
    return [
        ColumnLabel(text=strip_in_words(strip, unit), at=_spot(strip, font), wish=strip.middle)
        for strip in profile.strips
    ]


def _spot(strip: Strip, font: float) -> Point:
    """Inside the part, near where it ends."""
    begin = (strip.front[0] + strip.back[0]) / 2
    return (strip.end - min(font * 0.7, (strip.end - begin) / 2), strip.middle)


def _widths(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> list[Lane]:
    """Lip and face above the section, or the tray's wall and gap."""
    spec = dimensions.spec
    given = spec.given_frame
    if not spec.profiles or (given is not None and (given.face is None or given.known_lip is None)):
        return []
    face = show_on_rule(spec.profiles[0].face, unit)
    if is_tray(dimensions):
        gap = (profile.wall, profile.strips[0].front[0])
        return [
            (Span(start=gap[0], end=gap[1], text=f"gap {show_on_rule(spec.gap, unit)}"),),
            (Span(start=0, end=profile.wall, text=f"wall {face}", reach=profile.front),),
        ]
    lip = f"lip {show_on_rule(spec.profiles[0].lip, unit)}"
    return [
        (Span(start=profile.wall, end=profile.lip, text=lip, reach=-profile.top),),
        (Span(start=0, end=profile.lip, text=f"face {face}"),),
    ]
