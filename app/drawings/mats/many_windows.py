"""The plan of a mat with several windows: every edge measured from the left and from the top."""

from collections.abc import Iterable

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import drawing, union
from app.drawings.canvas.heading import written_above
from app.drawings.canvas.names import Inside, written_inside
from app.drawings.canvas.notes import written_under
from app.drawings.canvas.shading import Side
from app.drawings.canvas.svg import Markup
from app.drawings.dimensioning.fitting import across_for, fitted_with_notes
from app.drawings.dimensioning.lines import DimensionLines
from app.drawings.dimensioning.readings import Reading, ReadingPart
from app.drawings.dimensioning.running import Running
from app.drawings.mats.turned import EXCHANGED, TurnedMat
from app.drawings.piece.legend import MUCH, legend_or_less, windows_in_words
from app.lengths import Length, show, show_size


class ManyWindows:
    """The plan at one letter height."""

    def __init__(self, mat: TurnedMat, font: float) -> None:
        self.mat, self.font = mat, font
        edges = mat.edges
        self.above = Running(Side.TOP, edges, self._readings(down=False), font)
        self.left = Running(Side.LEFT, edges, self._readings(down=True), font)
        figures = union((self.above.room, self.left.room))
        lanes = {
            Side.TOP: [mat.whole_lane(Side.TOP)],
            Side.LEFT: [mat.whole_lane(Side.LEFT)],
            **mat.blank_lanes(),
        }
        self.around = DimensionLines(figures, lanes, font)
        self.heading = self._heading()

    @classmethod
    def fitted(cls, mat: TurnedMat) -> "ManyWindows":
        """With letters that suit its size."""
        notes = cls(mat, 1).notes()
        across = across_for(len(mat.holes), notes)
        font = fitted_with_notes(mat.edges, lambda font: cls(mat, font).room, notes, across)
        return cls(mat, font)

    @property
    def room(self) -> Box:
        """The box around everything but the notes."""
        return union((self.around.room, self.heading[0]))

    def _readings(self, *, down: bool) -> Iterable[Reading]:
        """Return the edges of all windows in one direction, each place once."""
        places: dict[Length, tuple[float, float]] = {}
        for hole in self.mat.holes:
            sizes, box = hole.sizes, hole.window.box
            start, length = (sizes.y, sizes.size.height) if down else (sizes.x, sizes.size.width)
            near, far = (box.y, box.bottom) if down else (box.x, box.right)
            reach = box.x if down else box.y
            for place, at in ((start, near), (start + length, far)):
                # Nothing is drawn past the window that lies furthest in.
                places[place] = (at, max(reach, places.get(place, (at, 0.0))[1]))
        for place, (at, reach) in places.items():
            yield Reading(at=at, parts=(ReadingPart(show(place, self.mat.unit)),), reach=reach)

    def _heading(self) -> tuple[Box, Markup]:
        """Return the side in words, above everything else."""
        mat = self.mat
        lines = (mat.title.upper(), EXCHANGED) if mat.from_back else (mat.title,)
        return written_above(self.around.room, mat.edges.centre[0], lines, self.font)

    def plan(self) -> str:
        """Return the SVG document."""
        mat, font = self.mat, self.font
        room, written = written_under(self.room, self.notes(), font)
        return drawing(
            room.inset(-font * 0.5),
            mat.lines(font),
            *written_inside(self._names(), font),
            self.above.marks(),
            self.left.marks(),
            self.around.marks(),
            self.heading[1],
            written,
            class_="drawing drawing-mat",
            title=mat.title,
            desc=mat.in_words(),
        )

    def notes(self) -> tuple[str, ...]:
        """Return what figures mean, then the sizes of the windows."""
        windows = windows_in_words(self.mat.holes, self.mat.unit)
        return (
            " ".join((*self.mat.notes(captioned=True), self._origins())),
            *legend_or_less((f"Windows: {windows}.",), MUCH * 2 // 3),
        )

    def _origins(self) -> str:
        sides = ", ".join(
            f"{side} {show(border, self.mat.unit)}" for side, border in self.mat.borders().sides()
        )
        return f"Places run from the rings, as the mat lies. Borders: {sides}."

    def _names(self) -> tuple[Inside, ...]:
        return tuple(
            Inside(hole.window.inside, hole.name, show_size(hole.sizes.size, self.mat.unit))
            for hole in self.mat.holes
            if not hole.slot
        )
