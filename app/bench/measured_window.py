"""A window that is measured on the bench after it was cut: where it lies now (B12).

Owns what follows from a few measures, and what makes measures useless. What comes of it for the piece
is for `slip_effects` and `slip`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from app.bench.calibration import doubt_of
from app.bench.cutter import Cutter
from app.bench.edge import Edge
from app.bench.mats import MatToCut, NamedWindow
from app.errors import FaultCollector, Invalid, quoted
from app.framing import Dimensions
from app.framing.layer_names import numbered_or_the
from app.lengths import ZERO, Length, Unit, say_on_rule


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipJob:
    """The piece that is measured: cut and mats in the shop's steps, the cutter that cut them.

    mat_word: as the shop calls a mat.
    """

    cut: Dimensions
    mats: tuple[MatToCut, ...]
    cutter: Cutter
    mat_word: str = "mat"

    @property
    def unit(self) -> Unit:
        """The unit of every sentence, the ticket's."""
        return self.cut.spec.unit

    @property
    def step(self) -> Length:
        """The finest that the shop reads off the scale."""
        return self.cutter.step

    @property
    def doubt(self) -> Length:
        """By how much three readings of one board may differ from it, as for a test cut (B7)."""
        return doubt_of(self.cutter)

    def mat(self, layer: int) -> str:
        """Return what a mat is called in a sentence."""
        return numbered_or_the(self.mat_word, layer, len(self.mats))

    def say(self, length: Length) -> str:
        """Return a length for a sentence, as it is read off a rule."""
        return say_on_rule(length, self.unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredWindow:
    """What was measured of one window, on the back of its mat (G8).

    borders: by edge, from the edges that its borders are set from (G7); edges are named as seen from
    the front. An edge left out, and None, stand for what was not measured.
    """

    layer: int
    window: str
    borders: Mapping[Edge, Length]
    width: Length | None = None
    height: Length | None = None


@dataclass(frozen=True, kw_only=True)
class Placed:
    """A window of a mat with the borders and the size that it came out with.

    index: its place among the windows of the mat. borders: by edge. known: the edges that a measure
    tells of; the others are taken as they were asked for.
    """

    mat: MatToCut
    index: int
    borders: Mapping[Edge, Length]
    width: Length
    height: Length
    known: tuple[Edge, ...] = ()

    @cached_property
    def asked(self) -> NamedWindow:
        """The window as it was to be."""
        return self.mat.windows[self.index]

    @cached_property
    def off(self) -> Mapping[Edge, Length]:
        """By edge, the border as it is less the border asked for: above zero the window is too small there."""
        return {
            edge: border - self.mat.border(self.asked, edge)
            for edge, border in self.borders.items()
        }

    @cached_property
    def window(self) -> NamedWindow:
        """The window as it lies, seen from the front."""
        rise = self.asked.rise
        return replace(
            self.asked,
            x=self.borders[Edge.LEFT],
            y=self.borders[Edge.TOP],
            width=self.width,
            height=self.height,
            rise=None if rise is None else min(rise, self.height),
        )

    @cached_property
    def windows(self) -> tuple[NamedWindow, ...]:
        """All windows of the mat, this one as it lies."""
        return tuple(
            self.window if number == self.index else each
            for number, each in enumerate(self.mat.windows)
        )

    def larger(self, by: Length) -> "Placed":
        """Return the window as it was asked for, larger by a length at each edge."""
        return replace(
            self,
            borders={edge: self.mat.border(self.asked, edge) - by for edge in Edge},
            width=self.asked.width + by * 2,
            height=self.asked.height + by * 2,
        )


def placed_by(job: SlipJob, measured: MeasuredWindow) -> Placed:
    """Return where a window lies by what was measured of it.

    Two of border, window and border give the third. A border alone leaves the opposite one as asked
    for; the window alone says not at which edge it is off, so that half of it counts for either.
    Raises: Invalid with every fault, at "window", the names of edges, "width" and "height".
    """
    mat, index = _found(job, measured)
    found = FaultCollector()
    lines = [
        _Line(job, mat, index, measured, edges)
        for edges in ((Edge.LEFT, Edge.RIGHT), (Edge.TOP, Edge.BOTTOM))
    ]
    for line in lines:
        line.check(found)
    found.finish()
    across, down = (line.placed() for line in lines)
    placed = Placed(
        mat=mat,
        index=index,
        borders={
            Edge.LEFT: across[0],
            Edge.TOP: down[0],
            Edge.RIGHT: across[2],
            Edge.BOTTOM: down[2],
        },
        width=across[1],
        height=down[1],
        known=tuple(edge for line in lines for edge in line.known),
    )
    _check_neighbours(placed)
    return placed


def _found(job: SlipJob, measured: MeasuredWindow) -> tuple[MatToCut, int]:
    for mat in job.mats:
        names = [window.name for window in mat.windows]
        if mat.layer == measured.layer and measured.window in names:
            return mat, names.index(measured.window)
    raise Invalid.at(
        "window",
        f"The piece has no window {quoted(measured.window)} in layer {measured.layer} any more; it was "
        "changed since the page was opened. Choose one that it has.",
    )


def _check_neighbours(placed: Placed) -> None:
    """A window cannot lie on another one, nor past the board."""
    try:
        replace(placed.mat, windows=placed.windows)
    except Invalid as invalid:
        said = " ".join(fault.message for fault in invalid.faults)
        raise Invalid.at("window", f"By these measures: {said} Measure again.") from invalid


class _Line:
    """One direction of a window: near border, window, far border, as asked for and as measured."""

    def __init__(
        self,
        job: SlipJob,
        mat: MatToCut,
        index: int,
        measured: MeasuredWindow,
        edges: tuple[Edge, Edge],
    ) -> None:
        window, upright = mat.windows[index], edges[0].upright
        self.job, self.edges = job, edges
        self.what = "width" if upright else "height"
        self.whole = mat.reference.width if upright else mat.reference.height
        self.asked = tuple(mat.border(window, edge) for edge in edges)
        self.asked_size = window.width if upright else window.height
        self.near, self.far = (measured.borders.get(edge) for edge in edges)
        self.size = measured.width if upright else measured.height

    @property
    def known(self) -> tuple[Edge, ...]:
        """The edges that a measure tells of."""
        if self.size is not None:
            return self.edges
        taken = zip(self.edges, (self.near, self.far), strict=True)
        return tuple(edge for edge, border in taken if border is not None)

    def placed(self) -> tuple[Length, Length, Length]:
        """Return near border, window and far border as they are."""
        if self.size is None:
            near = self.asked[0] if self.near is None else self.near
            far = self.asked[1] if self.far is None else self.far
            return near, self.whole - near - far, far
        if self.near is None and self.far is None:
            half = (self.size - self.asked_size) / 2
            return self.asked[0] - half, self.size, self.asked[1] - half
        near = self.whole - self.size - (self.far or ZERO) if self.near is None else self.near
        far = self.whole - self.size - near if self.far is None else self.far
        return near, self.size, far

    def check(self, found: FaultCollector) -> None:
        """Add what is wrong with the measures of this direction."""
        before = len(found.faults)
        for path, what, length in self._taken():
            if length <= ZERO:
                found.add(
                    path,
                    f"{what} was measured as {self.job.say(length)}; it must be above zero.",
                )
            elif length >= self.whole:
                found.add(
                    path,
                    f"{what} was measured as {self.job.say(length)}, and the board is only "
                    f"{self.job.say(self.whole)} there.",
                )
        if len(found.faults) == before:
            self._check_sum(found)

    def _taken(self) -> list[tuple[str, str, Length]]:
        borders = [
            (edge.value, f"The {edge.mirrored} border", border)
            for edge, border in zip(self.edges, (self.near, self.far), strict=True)
            if border is not None
        ]
        window = [] if self.size is None else [(self.what, f"The window’s {self.what}", self.size)]
        return [*borders, *window]

    def _check_sum(self, found: FaultCollector) -> None:
        taken = self._taken()
        if not taken:
            return
        path, what, _ = taken[-1]
        read = sum((length for _, _, length in taken), ZERO)
        board = self.job.say(self.whole)
        if len(taken) == 3 and abs(read - self.whole) > self.job.doubt:
            found.add(
                path,
                f"Border, window and border were measured as {self.job.say(read)} together, and the board is "
                f"{board}; they may differ by {self.job.say(self.job.doubt)}. Measure again.",
            )
        elif len(taken) == 2 and read >= self.whole:
            found.add(
                path,
                f"What was measured is {self.job.say(read)} together, and the board is only {board}. "
                "Measure again.",
            )
        elif len(taken) == 1 and min(self.placed()) <= ZERO:
            found.add(
                path,
                f"{what} of {self.job.say(read)} leaves no room for the rest in a board of {board}. "
                "Measure again.",
            )
