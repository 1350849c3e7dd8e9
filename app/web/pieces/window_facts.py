"""Says the windows of a piece in figures: one line where they are alike, else one for each size."""

from collections.abc import Iterable, Iterator

from app.framing import Dimensions, Shape, Window
from app.lengths import Length, Steps, Unit, show, show_size

type Fact = tuple[str, str]


def windows_facts(
    exact: Dimensions, cut: Dimensions, steps: Steps, mat_word: str
) -> tuple[Fact, ...]:
    """Return (what, figure) of the windows as cut, mat by mat, and the gaps between them. mat_word: what the shop calls a mat."""
    several_layers = len(cut.layers) > 1
    facts: list[Fact] = []
    for layer in cut.layers:
        windows = cut.windows_of(layer.layer)
        of_mat = f" of {mat_word} {layer.layer}" if several_layers else ""
        facts += [
            (f"{_called(alike, windows)}{of_mat}", _figure(alike[0], cut.spec.unit))
            for alike in _alike(windows)
        ]
    return (*facts, *_gaps(exact, steps))


def _alike(windows: Iterable[Window]) -> tuple[tuple[Window, ...], ...]:
    """Group windows of one size and shape, in the order of the first of each."""
    groups: dict[object, list[Window]] = {}
    for window in windows:
        groups.setdefault((window.size, window.shape, window.rise), []).append(window)
    return tuple(tuple(group) for group in groups.values())


def _called(alike: tuple[Window, ...], windows: tuple[Window, ...]) -> str:
    if len(windows) == 1:
        return "window"
    if len(alike) == len(windows):
        return f"{len(alike)} windows"
    names = ", ".join(window.name for window in alike)
    return f"windows {names}" if len(alike) > 1 else f"window {names}"


def _figure(window: Window, unit: Unit) -> str:
    size = show_size(window.size, unit, mark=True)
    match window.shape:
        case Shape.RECTANGLE:
            return size
        case Shape.OVAL:
            return f"{'round' if window.size.width == window.size.height else 'oval'} {size}"
        case Shape.ARCH:
            rise = "" if window.rise is None else f", rise {show(window.rise, unit, mark=True)}"
            return f"arched {size}{rise}"


def _gaps(exact: Dimensions, steps: Steps) -> Iterator[Fact]:
    """Return the gaps between windows; a gap that is not on a step is rounded and said to be about that wide."""
    if exact.gaps is None:
        return
    named = (("across", exact.gaps.across), ("down", exact.gaps.down))
    said = [f"{_gap(gap, steps)} {way}" for way, gap in named if gap is not None]
    if said:
        yield "gaps", ", ".join(said)


def _gap(gap: Length, steps: Steps) -> str:
    nearest = steps.nearest(gap)
    about = "" if nearest == gap else "about "
    return f"{about}{show(nearest, steps.unit, mark=True)}"
