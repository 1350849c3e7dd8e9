"""What several windows, round ones and grooves call for saying (G9, G20)."""

from collections.abc import Iterator

from app.framing.arrangement import Shape
from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.openings import floats, openings_of, overlap_of, window_remains
from app.framing.pairs import Pair, close_pairs
from app.framing.spec import Spec
from app.framing.usual import LEAST_BRIDGE
from app.framing.windows import Window
from app.lengths import ZERO, Length, say


def remarks_on_windows(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Borders that gave way, windows close together, shapes that a straight cutter cannot make."""
    return (
        *_borders_that_gave_way(dimensions),
        *_bridges(dimensions),
        *_round_windows(dimensions),
        *_barely_covered(dimensions.spec),
        *_grooves_that_cross(dimensions),
    )


def _borders_that_gave_way(dimensions: Dimensions) -> Iterator[Notice]:
    """Borders given together with a package, or with places, that came out otherwise (G5, G9)."""
    spec = dimensions.spec
    if spec.borders is None or not dimensions.layers:
        return
    came = dimensions.layers[0].borders.sides()
    other = [
        f"{side} {say(got, spec.unit)} instead of {say(asked, spec.unit)}"
        for (side, asked), (_, got) in zip(spec.borders.sides(), came, strict=True)
        if asked != got
    ]
    if other:
        yield Notice(
            code="borders-not-as-given",
            message="The borders are not as given, because windows, gaps and glass size fix them: "
            f"{', '.join(other)}.",
        )


def _bridges(dimensions: Dimensions) -> Iterator[Notice]:
    """Board between two windows of the top mat under the shop's least (G9)."""
    spec = dimensions.spec
    least, said = LEAST_BRIDGE.or_own(spec.least_bridge, spec.unit)
    near = close_pairs(dimensions.windows_of(1), least)
    narrow = [text for pair in near if (text := _narrow(spec, pair, least))]
    if narrow:
        yield Notice(
            code="bridge-below-least",
            message=f"Little board is left between windows: {', '.join(narrow)}. The smallest usual bridge "
            f"is {said}.",
        )


def _narrow(spec: Spec, pair: Pair[Window], least: Length) -> str:
    names = f"{pair.one.name} and {pair.other.name}"
    if not pair.cornerwise:
        return f"{names} {say(pair.bridge, spec.unit)}" if pair.bridge < least else ""
    if pair.across.mm**2 + pair.down.mm**2 < least.mm**2:
        return f"{names} {say(pair.across, spec.unit)} across and {say(pair.down, spec.unit)} down"
    return ""


def _round_windows(dimensions: Dimensions) -> Iterator[Notice]:
    windows = dimensions.windows_of(1)
    ovals = [w.name for w in windows if w.shape is Shape.OVAL]
    arches = [w.name for w in windows if w.shape is Shape.ARCH]
    if ovals:
        yield Notice(
            code="needs-oval-cutter",
            message=f"{_listed('Oval window', ovals)}: a straight-line cutter cannot make "
            f"{'it' if len(ovals) == 1 else 'them'}; a cutter for ovals is needed.",
            concern=Concern.RISK,
        )
    if arches:
        yield Notice(
            code="needs-oval-cutter",
            message=f"{_listed('Arched window', arches)}: a straight-line cutter makes only the "
            "straight sides; the round top needs a cutter for ovals.",
            concern=Concern.RISK,
        )


def _listed(what: str, names: list[str]) -> str:
    named = ", ".join(name for name in names if name)
    return f"{what}{'s' if len(names) > 1 else ''} {named}".rstrip()


def _barely_covered(spec: Spec) -> Iterator[Notice]:
    """G1: windows as large as their artwork. What one window, or a fillet, covers is said elsewhere."""
    if not spec.openings or window_remains(spec) or spec.fillet is not None:
        return
    bare = [
        opening.name
        for opening in openings_of(spec)
        if opening.artwork and not floats(spec, opening) and not overlap_of(spec, opening)
    ]
    if bare:
        yield Notice(
            code="artwork-barely-covered",
            message=f"The overlap is {say(ZERO, spec.unit)}, so the window is as large as the artwork, "
            f"which can slip through it: {', '.join(bare)}.",
        )


def _grooves_that_cross(dimensions: Dimensions) -> Iterator[Notice]:
    crossing = [
        f"{pair.one.name} and {pair.other.name}" for pair in close_pairs(dimensions.grooves, ZERO)
    ]
    if crossing:
        yield Notice(
            code="grooves-cross",
            message=f"Grooves run across each other: {', '.join(crossing)}.",
        )
