"""A mat as it lies on the cutter, in drawing coordinates, with what is read along its edges.

Owns the step from the bench's marks to readings and words; `backmarks` draws them.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.bench import BY_STRAIGHT_EDGE, Edge, GuideLine, GuidePlan, Marks, NamedWindow
from app.bench import BoardBox as Place
from app.bench import BoardPoint as Spot
from app.drawings.canvas.boxes import Box, coordinate
from app.drawings.canvas.shading import Side
from app.drawings.canvas.shapes import Outline
from app.drawings.canvas.svg import Point
from app.drawings.canvas.symbols import Sign, SymbolKind
from app.drawings.dimensioning.readings import Reading, ReadingPart
from app.drawings.mats.turned import EXCHANGED
from app.drawings.piece.legend import bound
from app.framing import Shape
from app.lengths import ZERO, Length, Size, Unit, show_size

RULE_OF = {
    Edge.LEFT: Side.TOP,
    Edge.TOP: Side.RIGHT,
    Edge.RIGHT: Side.BOTTOM,
    Edge.BOTTOM: Side.LEFT,
}
"""Beside which side stands what is measured from an edge: each edge has one of its own."""

_BESIDE = {
    Side.TOP: "above",
    Side.RIGHT: "at the right",
    Side.BOTTOM: "below",
    Side.LEFT: "at the left",
}

_ENDS_OF_LINES = ", ".join(
    f"from the {edge.value} {_BESIDE[side]}" for edge, side in RULE_OF.items()
)
"""A border on the left is a line from top to bottom, whose figure is read above it."""

_MANY = 24
"""More settings than this would crowd out the drawing."""


@dataclass(frozen=True, slots=True)
class LyingWindow:
    """A window as it lies. axes, middle: of the oval that its round part belongs to, None without."""

    window: NamedWindow
    outline: Outline
    size: Size
    axes: Size | None = None
    middle: Spot | None = None


@dataclass(frozen=True, slots=True)
class FreeMark:
    """Where a cut of a window begins or ends, as it is measured from an edge."""

    window: NamedWindow
    edge: Edge
    distance: Length
    kind: SymbolKind
    at: Point


class MarkedMat:
    """One mat with its marks. unit: of the piece; marks are in that of the scale (B5, L3).

    at_cuts: whether number and distance of each line stand at the cut, and not at the end of the line.

    Raises: ValueError for a plan that does not cut this mat.
    """

    def __init__(self, marks: Marks, plan: GuidePlan, unit: Unit, *, at_cuts: bool = False) -> None:
        self.marks, self.plan, self.unit, self.at_cuts = marks, plan, unit, at_cuts
        self.scale = plan.marked_on(unit)
        self.number_of = plan.numbers
        if any(line.cut not in self.number_of for line in marks.cut_lines):
            raise ValueError(f"the plan has no setting for layer {marks.mat.layer}")
        self.edges = Box.of(marks.size)
        self.blank = _box(marks.blank)
        self.windows = tuple(
            self._lying(window, place)
            for window, place in zip(marks.mat.windows, marks.windows, strict=True)
        )
        self.free_marks = tuple(self._free_marks())
        self.readings = {edge: self._readings(edge) for edge in Edge}

    def _lying(self, window: NamedWindow, place: Place) -> LyingWindow:
        x, y, size = place.at.x, place.at.y, place.size
        if window.shape is Shape.RECTANGLE:
            return LyingWindow(window, Outline(_box(place)), size)
        mat = self.marks.mat
        rise = None if window.rise is None else window.rise - (mat.run if mat.reverse else ZERO)
        down = size.height / 2 if rise is None else rise
        outline = Outline(_box(place), window.shape, coordinate(rise) if rise else 0.0)
        axes = Size(size.width, down * 2)
        return LyingWindow(window, outline, size, axes, Spot(x=x + size.width / 2, y=y + down))

    def _free_marks(self) -> Iterator[FreeMark]:
        """Starts and ends without a stop that do not lie, as the scale reads, where two guide lines cross."""
        nearest = self.scale.nearest
        lines = {(line.edge, nearest(line.distance)) for line in self.marks.guide_lines}
        for one in self.marks.cut_lines:
            cut = one.cut
            for to_mark, mark, at, kind in (
                (cut.start_to_mark, one.from_start, one.begins, SymbolKind.START),
                (cut.end_to_mark, one.from_end, one.ends, SymbolKind.END),
            ):
                if to_mark and (mark.edge, nearest(mark.distance)) not in lines:
                    yield FreeMark(one.cut.window, mark.edge, mark.distance, kind, spot(at))

    def _readings(self, edge: Edge) -> tuple[Reading, ...]:
        """Return what is measured from one edge: guide lines with the marks near them, then all else."""
        left = [mark for mark in self.free_marks if mark.edge is edge]
        found = []
        for line in self.marks.guide_lines:
            if line.edge is edge:
                windows = {cut.window for cut in line.cuts}
                near = [mark for mark in left if mark.window in windows]
                left = [mark for mark in left if mark not in near]
                if parts := self._of_line(line, near):
                    found.append(Reading(at=self._along(edge, line.distance), parts=parts))
        return (*found, *self._of_rest(edge, left))

    def _of_line(self, line: GuideLine, near: list[FreeMark]) -> tuple[ReadingPart, ...]:
        """Return a guide line with its setting, then where the cuts at its corners begin and end."""
        number = self.number_of[line.cuts[0]]
        setting = Sign(kind=SymbolKind.SETTING, text=number)
        parts = [] if self.at_cuts else [ReadingPart(self.scale.text(line.distance), setting)]
        for kind in (SymbolKind.START, SymbolKind.END):
            read = {self.scale.nearest(mark.distance) for mark in near if mark.kind is kind}
            parts += [ReadingPart(self.scale.text(one), Sign(kind=kind)) for one in sorted(read)]
        return tuple(parts)

    def _of_rest(self, edge: Edge, marks: list[FreeMark]) -> Iterator[Reading]:
        """Marks without a guide line, and middles of ovals; those of one place together."""
        places: dict[Length, set[SymbolKind]] = {}
        reaches: dict[Length, float] = {}
        spots = [(mark.distance, mark.kind, mark.at) for mark in marks]
        spots += [
            (
                lying.middle.x if edge is Edge.LEFT else lying.middle.y,
                SymbolKind.MIDDLE,
                spot(lying.middle),
            )
            for lying in self.windows
            if lying.middle is not None and edge in (Edge.LEFT, Edge.TOP)
        ]
        for exact, kind, at in spots:
            distance = self.scale.nearest(exact)
            places.setdefault(distance, set()).add(kind)
            reaches[distance] = max(reaches.get(distance, 0.0), self._reach(edge, at))
        for distance, kinds in places.items():
            signs = [ReadingPart(sign=Sign(kind=kind)) for kind in SymbolKind if kind in kinds]
            signs[-1] = ReadingPart(self.scale.text(distance), signs[-1].sign)
            yield Reading(
                at=self._along(edge, distance), parts=tuple(signs), reach=reaches[distance]
            )

    def _along(self, edge: Edge, distance: Length) -> float:
        match edge:
            case Edge.LEFT | Edge.TOP:
                return coordinate(distance)
            case Edge.RIGHT:
                return self.edges.width - coordinate(distance)
            case Edge.BOTTOM:
                return self.edges.height - coordinate(distance)

    def _reach(self, edge: Edge, at: Point) -> float:
        """From the side where an edge's readings stand in to a point."""
        match RULE_OF[edge]:
            case Side.TOP:
                return at[1]
            case Side.RIGHT:
                return self.edges.right - at[0]
            case Side.BOTTOM:
                return self.edges.bottom - at[1]
            case Side.LEFT:
                return at[0]

    @property
    def heading(self) -> tuple[str, str]:
        """Which side lies up, and what that means."""
        layer = self.marks.mat.layer
        if self.marks.back_up:
            return f"BACK OF MAT {layer}", EXCHANGED
        return f"FACE OF MAT {layer}", "face up for the reverse bevel"

    def notes(self, *, numbered: bool) -> tuple[str, ...]:
        """Tell how to read the marks, then the settings in the order of work. numbered: whether each cut has its number."""
        at_ends = any(self.readings.values())
        said = ["Millimetres" if self.scale.unit is Unit.MM else "Inches"]
        said.append(f". Measure from the {'ring' if at_ends else 'edge'}")
        said.append(" of mat 1" if self.marks.blank.size != self.marks.size else "")
        if self.marks.cut_lines:
            said.append(f"; {self._ways()}")
        lines = ["".join(said) + "."]
        if self.marks.cut_lines:
            if numbered:
                lines.append(
                    "At each cut: the number of its setting on a disc, then how far its line is from the edge."
                    if self.at_cuts
                    else "Where a cut starts stands the number of its setting, on a disc."
                )
            if at_ends:
                what = (
                    "Around the board stands where a cut starts (dot) and stops (bar)"
                    if self.at_cuts
                    else "Figures stand at the end of their line, not at the border"
                )
                lines.append(f"{what}: {_ENDS_OF_LINES}.")
            if settings := self.settings_in_words():
                lines.append(f"Guide: {settings}.")
            if any(line.cut.by_straight_edge for line in self.marks.cut_lines):
                lines.append(
                    f"{BY_STRAIGHT_EDGE}: beyond the cutter; draw the line and cut it by straight-edge."
                )
        lines += self._curves()
        return tuple(lines)

    def _ways(self) -> str:
        """Tell from where to where cuts run: between marks, or as far as a stop lets the head (B9)."""
        cuts = [line.cut for line in self.marks.cut_lines]
        starts, ends = any(cut.start_to_mark for cut in cuts), any(cut.end_to_mark for cut in cuts)
        if not starts and not ends:
            return "stops begin and end every cut, so that no end is marked"
        dot, bar = ("dot", "bar") if self.free_marks else ("crossing", "crossing")
        if not ends:
            return f"start at the {dot}, run to the stop"
        if not starts:
            return f"start at the stop, end at the {bar}"
        way = "" if self.free_marks else ", from crossing to crossing"
        stopped = not all(cut.start_to_mark and cut.end_to_mark for cut in cuts)
        missing = "; where one is missing, the stop is there" if stopped else ""
        return f"start at the dot, stop at the bar{way}{missing}"

    def settings_in_words(self) -> str:
        """As "1 at 60 (pin 50, then 10), 2 at 70", those of this mat in the order of work; empty where it has none.

        Very many are only counted: they stand with the steps.
        """
        mine = {
            self.number_of[line.cut]
            for line in self.marks.cut_lines
            if not line.cut.by_straight_edge
        }
        if len(mine) > _MANY:
            return f"{len(mine)} settings, which stand with the steps"
        said = []
        for setting in self.plan.settings:
            if str(setting.number) in mine:
                text = f"{setting.number} at {self.scale.text(setting.at)}"
                if setting.pin is not None:
                    rest = self.plan.rest_text(setting)
                    text += (
                        f" (pin {self.scale.text(setting.pin)}{f', then {rest}' if rest else ''})"
                    )
                said.append(bound(text))
        return ", ".join(said)

    def size_text(self, size: Size) -> str:
        """Return a size of the piece, with its unit where that is not the one of the marks."""
        return show_size(size, self.unit, mark=self.unit is not self.scale.unit)

    def _curves(self) -> Iterator[str]:
        """Yield the axes of every oval and round top."""
        said = ", ".join(
            bound(f"{lying.window.name} {self.size_text(lying.axes)}")
            for lying in self.windows
            if lying.axes is not None
        )
        if said:
            yield f"Cutter for ovals, by its axes about the cross: {said}."


def _box(place: Place) -> Box:
    return Box.of(place.size, place.at.x, place.at.y)


def spot(at: Spot) -> Point:
    """Return a point of the board on the drawing."""
    return (coordinate(at.x), coordinate(at.y))
