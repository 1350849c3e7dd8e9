"""Fillets: narrow mouldings tucked behind the mat that line its windows (G19, G12).

A fillet lies behind the last layer. What shows of its face inside a window is face - tuck.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.framing.arrangement import Shape
from app.framing.blocks import Hole
from app.framing.layout import Layout
from app.framing.openings import grown
from app.framing.pairs import close_pairs
from app.framing.spec import Fillet, Spec
from app.framing.windows import Window, holes_of
from app.lengths import Length, Size, Steps


@dataclass(frozen=True, slots=True, kw_only=True)
class FilletSizes:
    """The fillet of one window. name: of its window. outside: behind the mat; sight: seen inside it.

    In steps both are those of the rails as they are cut: the tuck that comes of it is
    (outside - window) / 2, the one asked for or up to half a step more.
    """

    name: str
    outside: Size
    sight: Size

    @property
    def long_points(self) -> tuple[Length, Length]:
        """Outside edge of the rails along the width and along the height; two rails of each."""
        return (self.outside.width, self.outside.height)

    @property
    def short_points(self) -> tuple[Length, Length]:
        """Inside edge of the rails along the width and along the height."""
        return (self.sight.width, self.sight.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class FilletRails:
    """Rails of one length. names: of the windows that they are for, in the order of the windows."""

    long: Length
    short: Length
    count: int
    names: tuple[str, ...]


def shown_of(fillet: Fillet) -> Length:
    """Tell how much of its face shows inside the window, at each edge."""
    return fillet.face - fillet.tuck


def fillet_around(window: Size, fillet: Fillet, name: str = "") -> FilletSizes:
    """Outside and sight of the fillet in a window: window + 2 × tuck, and that − 2 × face (G19, G12)."""
    outside = grown(window, fillet.tuck * 2)
    return FilletSizes(name=name, outside=outside, sight=grown(outside, fillet.face * -2))


def innermost_holes(layout: Layout, spec: Spec) -> tuple[Hole, ...]:
    """Return the holes at the back of the last layer, title slots among them; none without a mat."""
    *_, last = ((), *holes_of(layout, spec))
    return last


def lined(holes: Sequence[Hole]) -> tuple[Hole, ...]:
    """Return those that have a fillet: every window, and no title slot."""
    return tuple(hole for hole in holes if not hole.slot)


def fillets_in(layout: Layout, spec: Spec) -> tuple[FilletSizes, ...]:
    """Return the fillet of every window in the order of the openings; title slots have none."""
    if spec.fillet is None:
        return ()
    return tuple(
        fillet_around(hole.size, spec.fillet, hole.name)
        for hole in lined(innermost_holes(layout, spec))
        if hole.shape is Shape.RECTANGLE
    )


def rails_of(fillets: Sequence[FilletSizes]) -> tuple[FilletRails, ...]:
    """Return the rails of all fillets by their length, the longest first: two of each length a window."""
    alike: dict[tuple[Length, Length], list[str]] = {}
    for fillet in fillets:
        for points in zip(fillet.long_points, fillet.short_points, strict=True):
            alike.setdefault(points, []).append(fillet.name)
    return tuple(
        FilletRails(long=long, short=short, count=len(names) * 2, names=tuple(dict.fromkeys(names)))
        for (long, short), names in sorted(alike.items(), key=lambda one: one[0], reverse=True)
    )


def fillets_in_steps(
    fillets: Sequence[FilletSizes], windows: Sequence[Window], fillet: Fillet, steps: Steps
) -> tuple[FilletSizes, ...]:
    """Their rails as they are cut: up, as those of a frame, around the windows as those are cut (L2).

    windows: of the last layer, in steps. Short points and sight follow from the long points (G12).
    """
    cut = {window.name: window.size for window in windows}
    return tuple(
        _in_steps(fillet_around(cut[one.name], fillet, one.name), fillet, steps) for one in fillets
    )


def _in_steps(sizes: FilletSizes, fillet: Fillet, steps: Steps) -> FilletSizes:
    outside = Size(steps.up(sizes.outside.width), steps.up(sizes.outside.height))
    return FilletSizes(name=sizes.name, outside=outside, sight=grown(outside, fillet.face * -2))


def colliding(
    windows: Sequence[Window], fillets: Sequence[FilletSizes], most: Length
) -> Iterator[tuple[str, str]]:
    """(name, name) of windows whose fillets lie on each other. windows: of the last layer.

    most: no fillet is tucked further than this.
    """
    outside = {fillet.name: fillet.outside for fillet in fillets}
    having = [window for window in windows if window.name in outside]
    for pair in close_pairs(having, most * 2):
        one, other = outside[pair.one.name], outside[pair.other.name]
        across = one.width + other.width - pair.one.size.width - pair.other.size.width
        down = one.height + other.height - pair.one.size.height - pair.other.size.height
        if pair.across * 2 < across and pair.down * 2 < down:
            yield pair.one.name, pair.other.name
