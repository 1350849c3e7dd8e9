"""A sheet as it is cut up: parts where they lie, the cuts numbered in the order of work, what is kept."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from app.cutting import LaidPart, OpenedSheet, SheetCut, SheetProblem, Way
from app.drawings.canvas.boxes import Box, coordinate, rectangle
from app.drawings.canvas.canvas import INK, drawing
from app.drawings.canvas.svg import Markup, Point, group, line
from app.drawings.plans.words import (
    LEAST,
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
from app.lengths import ZERO, Size, Steps, Unit, show_size
from app.stock.planning.as_set import say_stock, size_as_set

ON_A_PHONE = 23
"""Letter heights along the width of a sheet, as for sticks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetToCut:
    """A sheet of a plan. pieces, steps: as for sticks. cuts: of the sheet in the order of work."""

    opened: OpenedSheet
    asked: SheetProblem
    pieces: Mapping[str, str]
    cuts: Sequence[SheetCut]
    steps: Steps | None = None

    @property
    def size(self) -> Size:
        """The size of the whole sheet."""
        return next(each.size for each in self.asked.stock if each.id == self.opened.stock)

    @property
    def kept(self) -> tuple[str, ...]:
        """The sizes of the rests that are kept, as they are measured."""
        return tuple(self._measured(each.size) for each in self.opened.offcuts)

    def _measured(self, size: Size) -> str:
        if self.steps is not None:
            size = Size(self.steps.down(size.width), self.steps.down(size.height))
        return show_size(size, self.unit)

    @property
    def unit(self) -> Unit:
        """The unit of its figures: that of the shop's steps, else of the question."""
        return self.steps.unit if self.steps else self.asked.unit

    @property
    def said(self) -> str:
        """The size of the whole sheet, with its unit."""
        return say_stock(self.size, self.unit)

    @property
    def lost(self) -> str:
        """What is trimmed off and lost at the cuts, as a sentence; nothing where that is nothing."""
        return lost(self.asked.trim, "edge", self.asked.kerf, self.unit)

    @property
    def converted(self) -> bool:
        """Whether it has a part of a piece in the other unit."""
        return any(self.set_to(laid) != laid.size for laid in self.opened.parts)

    def set_to(self, laid: LaidPart) -> Size:
        """Return the size that a part is cut to, as it lies and is printed."""
        return laid.size if self.steps is None else size_as_set(laid.size, self.steps)


def sheet_plan(
    sheet: SheetToCut, across: int = ON_A_PHONE, *, upright: int | None = None, losses: bool = True
) -> str:
    """Return the sheet as an SVG document in its proportions, every size in one unit, as it is set.

    across: letter heights along its longer side. upright: at most so many along its height, where a page bounds that;
    losses: whether what is lost is said under it.
    """
    font = coordinate(max(sheet.size.width, sheet.size.height)) / across
    if upright is not None:
        font = max(font, coordinate(sheet.size.height) / upright)
    return _DrawnSheet(sheet, font, losses=losses).svg()


class _DrawnSheet:
    """The drawing at one letter height."""

    def __init__(self, sheet: SheetToCut, font: float, *, losses: bool) -> None:
        self.sheet, self.font, self.losses = sheet, font, losses
        self.unit = sheet.unit
        self.edges = Box.of(sheet.size)
        parts = sheet.opened.parts
        full = all(
            fitted((self._size(laid), sheet.pieces[laid.id]), self._room(laid), font).font
            >= font * LEAST
            for laid in parts
        )
        self.key = {} if full else letters(sheet.pieces[laid.id] for laid in parts)
        self.listed = {
            laid.id: number
            for number, laid in enumerate(parts, start=1)
            if fitted(self._named(laid), self._room(laid), font).font < font * LEAST
        }

    def _size(self, laid: LaidPart) -> str:
        return show_size(self.sheet.set_to(laid), self.unit)

    def _named(self, laid: LaidPart) -> tuple[str, str]:
        piece = self.sheet.pieces[laid.id]
        return self._size(laid), self.key.get(piece, piece)

    def _words(self, laid: LaidPart) -> tuple[str, ...]:
        """Return what stands in a part: its size and piece, where these have no room its number among the notes."""
        number = self.listed.get(laid.id)
        return self._named(laid) if number is None else (str(number),)

    def _room(self, laid: LaidPart) -> Box:
        """Inside a part, clear of the rings on its edges where it is large enough."""
        box = Box.of(laid.size, laid.x, laid.y)
        return box.inset(min(radius(self.font), box.width * 0.12, box.height * 0.12))

    def svg(self) -> str:
        beside = radius(self.font) * 2.4
        ring = radius(self.font)
        wide, high = self.edges.width + beside + ring, self.edges.height + beside + ring
        room = Box(-beside, -beside, wide, high)
        seen, notes = notes_under(room, self._notes(), self.font * 0.9)
        return drawing(
            seen.inset(-self.font * 0.2),
            self._bare(),
            *(self._part(laid) for laid in self.sheet.opened.parts),
            *(
                offcut(Box.of(each.size, each.x, each.y), text, self.font)
                for each, text in zip(self.sheet.opened.offcuts, self.sheet.kept, strict=True)
            ),
            *self._cuts(),
            notes,
            class_="drawing drawing-plan drawing-sheet",
            title=f"Sheet of {self.sheet.said} as it is cut",
            desc=self._said(),
        )

    def _bare(self) -> Markup:
        """Return the whole sheet, with its trimmed edges."""
        trim = coordinate(self.sheet.asked.trim)
        inside = self.edges.inset(trim)
        return group(
            (
                rectangle(self.edges, fill="none", stroke=INK, stroke_width=self.font * 0.06),
                *(
                    (rectangle(inside, fill="none", stroke=INK, stroke_opacity=0.5,
                               stroke_width=self.font * 0.03),)
                    if trim
                    else ()
                ),
            ),
            class_="plan-bare",
        )  # fmt: skip

    def _part(self, laid: LaidPart) -> Markup:
        return group(
            (
                rectangle(
                    Box.of(laid.size, laid.x, laid.y),
                    fill=INK,
                    fill_opacity=0.07,
                    stroke=INK,
                    stroke_width=self.font * 0.06,
                ),
                words_in(self._words(laid), self._room(laid), self.font),
            ),
            class_="plan-part",
        )

    def _cuts(self) -> Iterator[Markup]:
        """Yield the lines first, so that no number is crossed by one."""
        for cut in self.sheet.cuts:
            yield self._line(cut)
        taken: list[Point] = []
        for number, cut in enumerate(self.sheet.cuts, start=1):
            at = self._free(cut, taken)
            taken.append(at)
            yield numbered(number, at, self.font)

    def _line(self, cut: SheetCut) -> Markup:
        """Return a cut; as broad as its kerf where that shows."""
        at, start, end = (coordinate(each) for each in (cut.at, cut.start, cut.end))
        kerf = coordinate(self.sheet.asked.kerf)
        middle = at + kerf / 2
        down = cut.way is Way.DOWN
        ends = ((middle, start), (middle, end)) if down else ((start, middle), (end, middle))
        width = max(kerf, self.font * 0.08)
        return line(*ends, stroke=INK, stroke_width=width, class_="plan-line")

    def _free(self, cut: SheetCut, taken: Sequence[Point]) -> Point:
        """Return a place for a cut's number: outside where the cut begins at the edge, else on its line."""
        ring = radius(self.font)
        at, start, end = (coordinate(each) for each in (cut.at, cut.start, cut.end))
        first = start - ring * 1.25 if cut.start == ZERO else start + ring * 1.1
        steps = max(int((end - first) / ring), 1)
        places = [first + ring * step for step in range(steps)]
        down = cut.way is Way.DOWN
        points = [(at, place) if down else (place, at) for place in places]
        clear = [
            point
            for point in points
            if all(hypot(point[0] - x, point[1] - y) >= 2.1 * ring for x, y in taken)
        ]
        off_lines = (point for point in clear if not self._on_another(cut, point))
        return next(off_lines, clear[0] if clear else points[0])

    def _on_another(self, cut: SheetCut, point: Point) -> bool:
        """Tell whether a ring at a point would lie on the line of another cut."""
        ring = radius(self.font)
        for other in self.sheet.cuts:
            if other == cut:
                continue
            along, off = (point[1], point[0]) if other.way is Way.DOWN else (point[0], point[1])
            start, end = coordinate(other.start), coordinate(other.end)
            near = start - ring <= along <= end + ring
            if near and abs(off - coordinate(other.at)) < ring * 1.1:
                return True
        return False

    def _notes(self) -> tuple[str, ...]:
        named = (key(self.key),) if self.key else ()
        lost = (self.sheet.lost,) if self.losses and self.sheet.lost else ()
        listed = tuple(
            f"part {self.listed[laid.id]}: {', '.join(self._named(laid))}"
            for laid in self.sheet.opened.parts
            if laid.id in self.listed
        )
        return listed + named + lost

    def _said(self) -> str:
        parts = "; ".join(
            f"{self._size(laid)} for {self.sheet.pieces[laid.id]}"
            for laid in self.sheet.opened.parts
        )
        rests = ", ".join(self.sheet.kept)
        kept = f" Left over to keep: {rests}." if rests else ""
        return f"Parts: {parts}. {len(self.sheet.cuts)} cuts, numbered in their order.{kept}"
