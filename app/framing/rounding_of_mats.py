"""Blanks, windows and grooves in the shop's cutting steps: where rounding leaves a window (L2, G3, G9).

In the top mat sizes go to the nearest step, and every place is rounded for itself from its exact place,
so nothing adds up along a row; what rounding leaves over goes to the right and to the bottom. Under
mats follow from the cut mat above by whole steps, so that every reveal is as wide at all sides.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from app.framing.arrangement import Align, Opening, split_in_rows
from app.framing.dimensions import Dimensions, Layer
from app.framing.openings import arrangement_of, grown, openings_of, reveals
from app.framing.spec import Edges, Spec, UnderWay
from app.framing.windows import Groove, Window
from app.lengths import Length, Size, Steps


def nearest_size(size: Size, steps: Steps) -> Size:
    """Width and height to the nearest step."""
    return Size(width=steps.nearest(size.width), height=steps.nearest(size.height))


def with_mats_in_steps(dimensions: Dimensions, steps: Steps) -> Dimensions:
    """Return the same dimensions with blanks, borders, windows and grooves as they are cut."""
    spec = dimensions.spec
    windows: list[Window] = []
    layers: list[Layer] = []
    above: tuple[Window, ...] = ()
    for layer, reveal in zip(dimensions.layers, reveals(spec), strict=True):
        exact = dimensions.windows_of(layer.layer)
        edges, blank = _edges(layer, exact), nearest_size(layer.blank, steps)
        if layer.layer == 1:
            cut = above = _windows(spec, exact, edges, steps)
        else:
            above = tuple(_inside(above, exact, reveal_in_steps(reveal, steps), steps))
            own_edges = spec.under.way is UnderWay.OWN_EDGES
            cut = _on_own_edges(above, layer.borders, blank, steps) if own_edges else above
        borders = _borders(nearest_size(edges, steps), cut)
        layers.append(replace(layer, blank=blank, borders=borders))
        windows.extend(cut)
    faces = {window.name: window for window in windows if window.layer == 1}
    return replace(
        dimensions,
        windows=tuple(windows),
        layers=tuple(layers),
        gaps=None,
        grooves=tuple(_groove(line, faces[line.name], steps) for line in dimensions.grooves),
    )


def reveal_in_steps(reveal: Length, steps: Steps) -> Length:
    """Return what is cut to show of a mat: the nearest step, and one step at least where any is to show."""
    return max(steps.nearest(reveal), steps.step) if reveal else reveal


def _inside(
    above: Sequence[Window], exact: Sequence[Window], reveal: Length, steps: Steps
) -> Iterator[Window]:
    """Yield the windows of an under mat, each smaller than the one above by the reveal at every side (G3).

    Places are those of the mat above; the straight sides of an arch end on one line with its.
    """
    for outer, wanted in zip(above, exact, strict=True):
        size = grown(outer.size, reveal * -2)
        bevel = wanted.face.width - wanted.size.width
        rise = outer.rise and min(max(outer.rise - reveal, steps.step), size.height - steps.step)
        yield replace(
            wanted,
            x=outer.x + reveal,
            y=outer.y + reveal,
            size=size,
            face=nearest_size(grown(size, bevel), steps),
            rise=rise,
        )


def _on_own_edges(
    windows: Sequence[Window], wanted: Edges, blank: Size, steps: Steps
) -> tuple[Window, ...]:
    """Return the same measured from the mat's own edges, all moved together (G7).

    wanted: the exact borders; windows keep their middle among them, an odd step to the right and
    the bottom. The mat is laid behind the one above by its reveals, which stay even.
    """
    left, top = min(w.x for w in windows), min(w.y for w in windows)
    across = max(w.x + w.size.width for w in windows) - left
    down = max(w.y + w.size.height for w in windows) - top
    x = steps.nearest_half_down((blank.width - across + wanted.left - wanted.right) / 2)
    y = steps.nearest_half_down((blank.height - down + wanted.top - wanted.bottom) / 2)
    return tuple(replace(w, x=w.x + x - left, y=w.y + y - top) for w in windows)


def _edges(layer: Layer, windows: tuple[Window, ...]) -> Size:
    """Return what a layer's places are measured in: its blank, or the top mat's where it is attached (G7)."""
    return Size(
        width=max(w.x + w.size.width for w in windows) + layer.borders.right,
        height=max(w.y + w.size.height for w in windows) + layer.borders.bottom,
    )


def _borders(edges: Size, windows: tuple[Window, ...]) -> Edges:
    return Edges(
        left=min(w.x for w in windows),
        right=edges.width - max(w.x + w.size.width for w in windows),
        top=min(w.y for w in windows),
        bottom=edges.height - max(w.y + w.size.height for w in windows),
    )


@dataclass(frozen=True, slots=True)
class _Rounding:
    """Steps, and half of what rounding gave the edges: windows move along with their middle."""

    steps: Steps
    across: Length
    down: Length

    def x(self, exact: Window, cut: Window) -> Length:
        """Left edge that keeps the middle of a window, an odd step to the right."""
        spare = (exact.size.width - cut.size.width) / 2
        return self.steps.nearest_half_down(exact.x + spare + self.across)

    def y(self, exact: Window, cut: Window) -> Length:
        """Top edge that keeps the middle of a window, an odd step to the bottom."""
        spare = (exact.size.height - cut.size.height) / 2
        return self.steps.nearest_half_down(exact.y + spare + self.down)


def _windows(
    spec: Spec, exact: tuple[Window, ...], edges: Size, steps: Steps
) -> tuple[Window, ...]:
    """Return the top mat's windows as they are cut, in their order."""
    cut_edges = nearest_size(edges, steps)
    rounding = _Rounding(
        steps, (cut_edges.width - edges.width) / 2, (cut_edges.height - edges.height) / 2
    )
    stacks = tuple(_stacks(openings_of(spec), exact))
    if openings_of(spec)[0].at is not None:
        placed = [_as_typed(stack[0], steps) for stack in stacks]
    else:
        asked = arrangement_of(spec)
        tops = [stack[0] for stack in stacks]
        placed = [
            window
            for row in split_in_rows(tops, asked.rows)
            for window in _row(row, asked.align, rounding)
        ]
    return tuple(
        cut
        for stack, window in zip(stacks, placed, strict=True)
        for cut in _with_slot(stack, window, rounding)
    )


def _stacks(
    openings: tuple[Opening, ...], windows: tuple[Window, ...]
) -> Iterator[tuple[Window, ...]]:
    """Yield each window with its title slot where it has one."""
    left = iter(windows)
    for opening in openings:
        yield tuple(islice(left, 1 if opening.slot is None else 2))


def _sized(window: Window, steps: Steps) -> Window:
    """Return its sizes as they are cut; an arch keeps a step of straight sides."""
    size = nearest_size(window.size, steps)
    rise = window.rise
    if rise is not None:
        rise = min(steps.nearest(rise), size.height - steps.step)
    return replace(window, size=size, face=nearest_size(window.face, steps), rise=rise)


def _as_typed(window: Window, steps: Steps) -> Window:
    """Return a place that was typed, which stays, to the nearest step."""
    return replace(_sized(window, steps), x=steps.nearest(window.x), y=steps.nearest(window.y))


def _row(row: Sequence[Window], align: Align, rounding: _Rounding) -> Iterator[Window]:
    """Yield the windows of a row, which meet at tops or bottoms after rounding too.

    The tallest keeps its middle and the others follow it; middles are kept one by one.
    """
    sized = [_sized(window, rounding.steps) for window in row]
    tallest = max(range(len(row)), key=lambda index: row[index].size.height)
    top = rounding.y(row[tallest], sized[tallest])
    bottom = top + sized[tallest].size.height
    for exact, cut in zip(row, sized, strict=True):
        y = {
            Align.TOP: top,
            Align.CENTRE: rounding.y(exact, cut),
            Align.BOTTOM: bottom - cut.size.height,
        }[align]
        yield replace(cut, x=rounding.x(exact, cut), y=y)


def _with_slot(stack: tuple[Window, ...], window: Window, rounding: _Rounding) -> Iterator[Window]:
    """Yield the window, and its title slot as far under it as asked."""
    yield window
    for exact in stack[1:]:
        above = stack[0].y + stack[0].size.height
        slot = _sized(exact, rounding.steps)
        gap = rounding.steps.nearest(exact.y - above)
        yield replace(slot, x=rounding.x(exact, slot), y=window.y + window.size.height + gap)


def _groove(line: Groove, window: Window, steps: Steps) -> Groove:
    """Return a groove about the middle of its window as that is cut."""
    size = nearest_size(line.size, steps)
    return replace(
        line,
        size=size,
        x=steps.nearest_half_down(window.x + (window.size.width - size.width) / 2),
        y=steps.nearest_half_down(window.y + (window.size.height - size.height) / 2),
        rise=None if line.rise is None else steps.nearest(line.rise),
    )
