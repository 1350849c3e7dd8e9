"""A stick as it is cut up: rails in their order, the numbers of the cuts, what is left over.

Along the stick everything is in proportion, the slant of a mitre too; across it is only as high as
its words ask.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.cutting import LaidRail, OpenedStick, StickProblem
from app.drawings.canvas.boxes import Box, coordinate, rectangle
from app.drawings.canvas.canvas import INK, drawing
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.svg import Markup, group, line, polygon
from app.drawings.plans.words import (
    LEAST,
    ROW,
    fitted,
    key,
    letters,
    lost,
    notes_under,
    numbered,
    offcut,
    radius,
    words_in,
)
from app.lengths import ZERO, Length, Steps, Unit, show
from app.stock.planning.as_set import say_stock

ON_A_PHONE = 23
"""Letter heights along a stick: 10 px where 250 px are left for it. On paper more fit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StickToCut:
    """A stick of a plan. pieces: the name of the piece that each part is for, by the part's id.

    mitres: how far the ends of a part slant, by its id: the face of the moulding; none where it is cut
    square. steps: of the shop; parts are printed as they are set in them, what is left over as it is measured.
    Everything is exact where None.
    """

    opened: OpenedStick
    asked: StickProblem
    pieces: Mapping[str, str]
    mitres: Mapping[str, Length]
    steps: Steps | None = None

    @property
    def length(self) -> Length:
        """The length of the whole stick."""
        return next(each.length for each in self.asked.stock if each.id == self.opened.stock)

    @property
    def kept(self) -> str:
        """The length of the rest that is kept, as it is measured; "" for none."""
        rest = self.opened.offcut
        if rest is None:
            return ""
        return show(self.steps.down(rest.length) if self.steps else rest.length, self.unit)

    @property
    def unit(self) -> Unit:
        """The unit of its figures: that of the shop's steps, else of the question."""
        return self.steps.unit if self.steps else self.asked.unit

    @property
    def said(self) -> str:
        """The length of the whole stick, with its unit."""
        return say_stock(self.length, self.unit)

    @property
    def lost(self) -> str:
        """What is trimmed off and lost at the cuts, as a sentence; nothing where that is nothing."""
        return lost(self.asked.end_trim, "end", self.asked.kerf, self.unit)

    @property
    def converted(self) -> bool:
        """Whether it has a part of a piece in the other unit."""
        return any(self.set_to(laid) != laid.length for laid in self.opened.parts)

    def set_to(self, laid: LaidRail) -> Length:
        """Return the length that a part is cut to, as it is printed."""
        return laid.length if self.steps is None else self.steps.converted(laid.length)


def stick_plan(stick: StickToCut, across: int = ON_A_PHONE, *, losses: bool = True) -> str:
    """Return the stick as an SVG document, every size in one unit, as it is set.

    across: letter heights along the stick. losses: whether what is lost is said under it. Part n is freed by cut n, at its right end.
    """
    return _DrawnStick(stick, coordinate(stick.length) / across, losses=losses).svg()


class _DrawnStick:
    """The drawing at one letter height."""

    def __init__(self, stick: StickToCut, font: float, *, losses: bool) -> None:
        self.stick, self.font, self.losses = stick, font, losses
        self.unit = stick.unit
        names = letters(stick.pieces[laid.id] for laid in stick.opened.parts)
        sizes = [self._size(laid) for laid in stick.opened.parts]
        turned = max((width_of(text, font) for text in sizes), default=0.0)
        self.high = max(ROW * 2 * font + font, turned + font)
        full = all(
            self._fits((self._size(laid), stick.pieces[laid.id]), laid)
            for laid in stick.opened.parts
        )
        self.key = {} if full else names
        self.band = Box(0, 0, coordinate(stick.length), self.high)

    def _size(self, laid: LaidRail) -> str:
        return show(self.stick.set_to(laid), self.unit)

    def _fits(self, lines: tuple[str, str], laid: LaidRail) -> bool:
        return fitted(lines, self._room(laid), self.font).font >= self.font * LEAST

    def _room(self, laid: LaidRail) -> Box:
        box = Box(coordinate(laid.at), 0, coordinate(laid.length), self.high)
        slant = coordinate(self.stick.mitres.get(laid.id, ZERO)) / 2
        return Box(
            box.x + slant, box.y, max(box.width - 2 * slant, box.width / 2), box.height
        ).inset(self.font * 0.15)

    def svg(self) -> str:
        above = radius(self.font) * 2.6
        room = Box(0, -above, self.band.width + radius(self.font), self.high + above)
        seen, notes = notes_under(room, self._notes(), self.font * 0.9)
        return drawing(
            seen.inset(-self.font * 0.2),
            self._bare(),
            *(self._part(laid) for laid in self.stick.opened.parts),
            *self._rest(),
            *self._cuts(),
            notes,
            class_="drawing drawing-plan drawing-stick",
            title=f"Stick of {self.stick.said} as it is cut",
            desc=self._said(),
        )

    def _bare(self) -> Markup:
        """Return the whole stick, with its trimmed ends."""
        trim = coordinate(self.stick.asked.end_trim)
        ends = (0.0, self.band.width - trim) if trim else ()
        return group(
            (
                rectangle(self.band, fill="none", stroke=INK, stroke_width=self.font * 0.05),
                *(rectangle(Box(x, 0, trim, self.high), fill=INK, fill_opacity=0.35) for x in ends),
            ),
            class_="plan-bare",
        )

    def _part(self, laid: LaidRail) -> Markup:
        left, right = coordinate(laid.at), coordinate(laid.at + laid.length)
        slant = min(coordinate(self.stick.mitres.get(laid.id, ZERO)), (right - left) / 2)
        corners = ((left, self.high), (left + slant, 0.0), (right - slant, 0.0), (right, self.high))
        piece = self.stick.pieces[laid.id]
        return group(
            (
                polygon(
                    corners,
                    fill=INK,
                    fill_opacity=0.07,
                    stroke=INK,
                    stroke_width=self.font * 0.06,
                ),
                words_in(
                    (self._size(laid), self.key.get(piece, piece)), self._room(laid), self.font
                ),
            ),
            class_="plan-part",
        )

    def _rest(self) -> Iterator[Markup]:
        rest = self.stick.opened.offcut
        if rest is not None:
            box = Box(coordinate(rest.at), 0, coordinate(rest.length), self.high)
            yield offcut(box, self.stick.kept, self.font)

    def _cuts(self) -> Iterator[Markup]:
        """Yield each cut with its number; where rings would meet, the next one stands higher."""
        taken, high = float("-inf"), False
        ring = radius(self.font)
        for number, laid in enumerate(self.stick.opened.parts, start=1):
            at = coordinate(laid.at + laid.length)
            high = at - taken < 2.1 * ring and not high
            y = -ring * (1.5 if high else 1.2)
            y -= 1.1 * ring if high else 0.0
            yield line((at, y), (at, self.high), stroke=INK, stroke_width=self.font * 0.07)
            yield numbered(number, (at, y), self.font)
            taken = at

    def _notes(self) -> tuple[str, ...]:
        named = (key(self.key),) if self.key else ()
        lost = (self.stick.lost,) if self.losses and self.stick.lost else ()
        return named + lost

    def _said(self) -> str:
        parts = "; ".join(
            f"{number}: {self._size(laid)} for {self.stick.pieces[laid.id]}"
            for number, laid in enumerate(self.stick.opened.parts, start=1)
        )
        kept = f" Left over to keep: {self.stick.kept}." if self.stick.kept else ""
        return f"From the left: {parts}.{kept}"
