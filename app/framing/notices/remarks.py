"""What the dimensions of a possible piece call for saying: notices of geometry and depth.

Owns the order of the notices and the rules on mats and package (G1, G3, G5, G6, G8). Fillets
are in `remarks_on_fillets`, frames and depth in `remarks_on_frames`, rules on weight and on materials in `weight` and `care`. Every notice
advises; none stops the piece.
"""

from collections.abc import Iterator

from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.notices.behind_all import remarks_on_behind_all
from app.framing.notices.fillets import remarks_on_fillets
from app.framing.notices.fit import remarks_on_fit
from app.framing.notices.frames import remarks_on_frames
from app.framing.notices.given_size import remarks_on_given_size
from app.framing.notices.objects import remarks_on_objects
from app.framing.notices.windows import remarks_on_windows
from app.framing.openings import floats, openings_of, reveals, window_remains
from app.framing.spec import Presentation, Spec
from app.framing.usual import LEAST_COVER, SMALLEST_BORDER
from app.lengths import ZERO, Length, Size, say


def remarks_on(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Return the notices of a piece in the order of the work: mats, package, frames, depth."""
    return (
        *remarks_on_borders(dimensions),
        *_weighting(dimensions.spec),
        *remarks_on_fit(dimensions),
        *remarks_on_given_size(dimensions),
        *remarks_on_windows(dimensions),
        *remarks_on_behind_all(dimensions),
        *_reveals(dimensions.spec),
        *_cover(dimensions),
        *remarks_on_fillets(dimensions),
        *remarks_on_objects(dimensions),
        *remarks_on_frames(dimensions),
    )


def _by_dimension(outer: Size, inner: Size) -> tuple[tuple[str, Length], ...]:
    """(dimension, how far one size stands out of another at each edge); negative where inside."""
    return (
        ("width", (outer.width - inner.width) / 2),
        ("height", (outer.height - inner.height) / 2),
    )


def remarks_on_borders(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Return which borders of the top mat are narrower than is usual; said as they are cut where dimensions are in steps (G5)."""
    spec = dimensions.spec
    if not spec.mats:
        return ()
    smallest, said = SMALLEST_BORDER.or_own(spec.smallest_border, spec.unit)
    borders = dimensions.layers[0].borders
    narrow = [(side, length) for side, length in borders.sides() if length < smallest]
    if not narrow:
        return ()
    which = ", ".join(f"{side} {say(length, spec.unit)}" for side, length in narrow)
    upright = any(side in ("left", "right") for side, _ in narrow)
    seen = ", seen from the front" if upright and borders.left != borders.right else ""
    return (
        Notice(
            code="border-below-smallest",
            message=f"Narrow border: {which}{seen}. The smallest usual border is {said}.",
        ),
    )


def _weighting(spec: Spec) -> Iterator[Notice]:
    if spec.mats and spec.weighting and spec.borders is not None:
        yield Notice(
            code="weighting-not-used",
            message="All four borders are given, so the "
            f"{say(spec.weighting, spec.unit)} more at the bottom are not used.",
        )


def _reveals(spec: Spec) -> Iterator[Notice]:
    """Yield where a bevel takes what a reveal shows: it is measured at the backs, so the bevel of the under mat takes its share (G3, G8)."""
    for layer, (mat, reveal) in enumerate(zip(spec.mats, reveals(spec), strict=True), start=1):
        run = ZERO if mat.bevel.reverse else mat.bevel.run(mat.thickness)
        if layer > 1 and reveal <= run:
            yield Notice(
                code="reveal-only-bevel",
                message=f"Only the bevel of mat {layer} is seen: its reveal is {say(reveal, spec.unit)}, "
                f"and the bevel takes {say(run, spec.unit)} of it.",
            )


def _cover(dimensions: Dimensions) -> Iterator[Notice]:
    """Yield how the opening meets the artwork where overlap or gap do not say it (G1, G2, G6, G15)."""
    spec = dimensions.spec
    if dimensions.fillets:
        return  # it is the fillet that meets the artwork
    remains = bool(spec.mats) and window_remains(spec)
    floating = floats(spec, openings_of(spec)[0])
    if spec.presentation.matted and remains:
        yield from (_window_around_float if floating else _window_over_artwork)(dimensions)
    elif spec.presentation is Presentation.WINDOW and not spec.openings and not spec.overlap:
        yield Notice(
            code="artwork-barely-covered",
            message=f"The overlap is {say(ZERO, spec.unit)}, so the window is as large as the artwork, "
            "which can slip through it.",
        )
    if spec.presentation is Presentation.CLOSE and dimensions.package != spec.artwork:
        yield Notice(
            code="package-loose",
            message="The artwork is smaller than the glass size by "
            f"{say(dimensions.package.width - spec.artwork.width, spec.unit)} in width and "
            f"{say(dimensions.package.height - spec.artwork.height, spec.unit)} in height: "
            "fill the space, or add a mat.",
        )


def _artwork_and_window(dimensions: Dimensions) -> tuple[Size, Size]:
    """Return the one artwork and the window next to it."""
    (_, artwork), *_ = dimensions.artworks
    return artwork, dimensions.windows_of(len(dimensions.layers))[0].size


def _window_over_artwork(dimensions: Dimensions) -> Iterator[Notice]:
    spec, (artwork, window) = dimensions.spec, _artwork_and_window(dimensions)
    for name, covered in _by_dimension(artwork, window):
        if covered < ZERO:
            yield Notice(
                code="artwork-bare",
                message=f"In {name} the window is {say(covered * -2, spec.unit)} larger than the "
                f"artwork: {say(-covered, spec.unit)} stays bare at each edge.",
                concern=Concern.RISK,
            )
        elif covered < LEAST_COVER:
            yield Notice(
                code="artwork-barely-covered",
                message=f"In {name} the mat covers only {say(covered, spec.unit)} of the artwork at "
                "each edge.",
            )
        else:
            yield Notice(
                code="artwork-covered",
                message=f"In {name} the mat covers {say(covered, spec.unit)} of the artwork at each "
                "edge.",
                concern=Concern.NOTE,
            )


def _window_around_float(dimensions: Dimensions) -> Iterator[Notice]:
    spec, (artwork, window) = dimensions.spec, _artwork_and_window(dimensions)
    for name, gap in _by_dimension(window, artwork):
        if gap < ZERO:
            yield Notice(
                code="float-covered",
                message=f"In {name} the window is {say(gap * -2, spec.unit)} smaller than the artwork: "
                f"the mat covers {say(-gap, spec.unit)} of it at each edge, so it does not float.",
                concern=Concern.RISK,
            )
        else:
            yield Notice(
                code="float-gap",
                message=f"In {name} the gap around the artwork is {say(gap, spec.unit)} at each edge.",
                concern=Concern.NOTE,
            )
