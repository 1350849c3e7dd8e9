"""What the reveals of under mats call for saying once they are in the shop's steps (G3, G20)."""

from collections.abc import Iterator
from itertools import pairwise

from app.framing.arrangement import Shape
from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.openings import reveals
from app.framing.ovals import least_between
from app.framing.windows import Window
from app.lengths import Length, Steps, Unit, inches, mm, say_on_rule, show_on_rule

_READ = {
    Unit.MM: Steps(unit=Unit.MM, step=mm("0.1")),
    Unit.IN: Steps(unit=Unit.IN, step=inches("1/64")),
}
"""How closely a distance at the shoulders of ovals is said."""


def reveals_in_steps(exact: Dimensions, cut: Dimensions, steps: Steps) -> Iterator[Notice]:
    """Yield where even reveals of whole steps leave the window next to the artwork more than a step off."""
    last, unit = len(cut.layers), cut.spec.unit
    pairs = zip(exact.windows_of(last), cut.windows_of(last), strict=True)
    off = [got - asked for wanted, made in pairs for asked, got in _sides(wanted, made)]
    most = max(off, key=abs, default=mm(0))
    if abs(most) > steps.step:
        how = "larger" if most > mm(0) else "smaller"
        yield Notice(
            code="window-off-for-even-reveals",
            message="So that all sides show the same width of each mat, reveals are cut in whole steps: the window "
            f"next to the artwork comes out {show_on_rule(abs(most), unit, mark=True)} {how} than worked out.",
            concern=Concern.NOTE,
        )


def _sides(wanted: Window, made: Window) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
    return (
        (wanted.size.width, made.size.width),
        (wanted.size.height, made.size.height),
    )


def reveals_of_ovals(cut: Dimensions, steps: Steps) -> Iterator[Notice]:
    """Yield where ovals and round tops come nearer to each other than was asked, by more than a step."""
    spec = cut.spec
    asked = reveals(spec)
    for above, below in pairwise(range(1, len(cut.layers) + 1)):
        narrowest: dict[Length, list[str]] = {}
        for outer, inner in zip(cut.windows_of(above), cut.windows_of(below), strict=True):
            if outer.shape is Shape.RECTANGLE:
                continue
            apart = least_between(_half_axes(outer), _half_axes(inner))
            if asked[below - 1] - apart > steps.step:
                narrowest.setdefault(_READ[spec.unit].nearest(apart), []).append(outer.name)
        for apart, names in narrowest.items():
            which = f"window{'s' if len(names) > 1 else ''} {', '.join(names)}" if names[0] else ""
            yield Notice(
                code="oval-reveal-narrows",
                message=f"Mat {below} is to show {say_on_rule(asked[below - 1], cut.spec.unit)} in "
                f"{which or 'the window'}, but only about {say_on_rule(apart, cut.spec.unit)} of it is seen "
                "where the curve is tightest: an oval inside another one never shows the same width all around.",
            )


def _half_axes(window: Window) -> tuple[Length, Length]:
    """Return the half axes of its oval, or of the one that its round top is half of."""
    return window.size.width / 2, window.rise or window.size.height / 2
