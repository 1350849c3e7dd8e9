"""The opening that each artwork asks for, before it has a place: rules G1 to G3, G6.

Pure arithmetic on a spec that may still be impossible: sizes can come out negative here, and
`checks` turns those into faults. Nothing is rounded.
"""

from app.framing.arrangement import Arrangement, Opening
from app.framing.spec import Presentation, Spec
from app.lengths import ZERO, Length, Size


def grown(size: Size, by: Length) -> Size:
    """Return a size larger by one length in each dimension."""
    return Size(width=size.width + by, height=size.height + by)


def reveals(spec: Spec) -> tuple[Length, ...]:
    """Tell how much of each layer shows inside the layer above; zero for layer 1."""
    return (ZERO, *(mat.reveal or ZERO for mat in spec.mats[1:]))[: len(spec.mats)]


def revealed(spec: Spec) -> Length:
    """Tell how much of all under layers shows inside the top one, at each edge (G3)."""
    return sum(reveals(spec), ZERO)


def artwork_opening(spec: Spec) -> Size:
    """Return the hole that the presentation asks for around the piece's artwork (G1, G2, G15 to G17)."""
    match spec.presentation:
        case Presentation.WINDOW:
            return grown(spec.artwork, spec.overlap * -2)
        case Presentation.FLOAT | Presentation.CANVAS_FLOAT:
            return grown(spec.artwork, spec.gap * 2)
        case Presentation.CLOSE | Presentation.CANVAS | Presentation.AS_IT_CAME:
            return spec.artwork


def frames_take(spec: Spec) -> Length:
    """Return what frames, the lips left out, and allowances take of the outside in each dimension (G11, G12)."""
    return sum(((each.face - each.lip) * 2 + each.allowance for each in spec.frames), ZERO)


def package_asked(spec: Spec) -> Size | None:
    """Return the package where it does not follow from borders or artwork, but is given.

    As typed; or what a frame that is given leaves, its rebate less the allowance (G24); or what the outside
    leaves, with each frame taken off in turn: outside - 2 × (face - lip) - allowance (G23).
    """
    if spec.given_frame is not None:
        return spec.given_frame.package
    if spec.outside is not None:
        return grown(spec.outside, -frames_take(spec))
    return spec.package


def openings_of(spec: Spec) -> tuple[Opening, ...]:
    """Return the openings asked for; where none is, the one without a name that the artwork calls for."""
    return spec.openings or (Opening(name="", artwork=spec.artwork),)


def arrangement_of(spec: Spec) -> Arrangement:
    """Tell how the windows stand: as asked, or in one row."""
    return spec.arrangement or Arrangement(rows=(len(openings_of(spec)),))


def floats(spec: Spec, opening: Opening) -> bool:
    """Tell whether the whole artwork shows in its window (G2)."""
    if opening.floats is None:
        return spec.presentation in (Presentation.FLOAT, Presentation.CANVAS_FLOAT)
    return opening.floats


def overlap_of(spec: Spec, opening: Opening) -> Length:
    """Tell how far the mat covers the artwork at each edge."""
    return spec.overlap if opening.overlap is None else opening.overlap


def gap_of(spec: Spec, opening: Opening) -> Length:
    """Tell how far a floating artwork stays off the mat at each edge."""
    return spec.gap if opening.gap is None else opening.gap


def window_remains(spec: Spec) -> bool:
    """Tell whether package and borders are to give the window (G6).

    Only one window in a piece can be what remains, and only where its artwork does not have to set it.
    """
    if spec.borders is None or package_asked(spec) is None:
        return False
    openings = openings_of(spec)
    return len(openings) == 1 and openings[0].window is None and openings[0].at is None


def innermost_window(spec: Spec, opening: Opening) -> Size:
    """Return the window in the mat next to the artwork, as given or by G1, G2 or G6."""
    if window_remains(spec):
        return grown(_remaining(spec, opening), revealed(spec) * -2)
    if opening.window is not None:
        return opening.window
    artwork = opening.artwork or spec.artwork
    if floats(spec, opening):
        return grown(artwork, gap_of(spec, opening) * 2)
    return grown(artwork, overlap_of(spec, opening) * -2)


def _remaining(spec: Spec, opening: Opening) -> Size:
    """Return what borders, and a title slot, leave of a package for the window of the top mat."""
    package = package_asked(spec)
    assert package is not None
    assert spec.borders is not None
    height = package.height - spec.borders.top - spec.borders.bottom
    if opening.slot is not None:
        slot = grown(opening.slot.size, revealed(spec) * 2)
        height = height - opening.slot.gap - slot.height
    return Size(width=package.width - spec.borders.left - spec.borders.right, height=height)
