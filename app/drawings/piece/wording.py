"""A piece in words, for whoever cannot see the drawing."""

from app.counting import plural
from app.drawings.piece.layout import DrawingLayout, lay_out
from app.drawings.piece.legend import windows_in_words
from app.framing import Dimensions, Presentation, Shape
from app.framing.fillets import shown_of
from app.lengths import Size, Unit, show, show_on_rule, show_size

_COUNT = ("no", "one", "two", "three", "four", "five", "six")


def way_round(size: Size) -> str:
    """Landscape, portrait or square."""
    if size.width == size.height:
        return "square"
    return "landscape" if size.width > size.height else "portrait"


def counted(count: int, noun: str) -> str:
    """As "one mat", "two mats"."""
    said = _COUNT[count] if count < len(_COUNT) else str(count)
    return f"{said} {noun if count == 1 else plural(noun)}"


def outside_in_words(dimensions: Dimensions, unit: Unit) -> str:
    """As "A landscape piece, 603 × 490 mm outside"."""
    outside, given = dimensions.outside, dimensions.spec.given_frame
    what = "outside" if given is None or given.outside is not None else "in the rebate of its frame"
    return f"A {way_round(outside)} piece, {show_size(outside, unit, mark=True)} {what}"


def piece_in_words(dimensions: Dimensions, unit: Unit) -> str:
    """Return what is in front of the artwork and around it, from the inside out, in full sentences."""
    parts = [_artwork(dimensions, unit), _fillet(dimensions, unit), _frames(dimensions, unit)]
    return " ".join(part for part in parts if part)


def _artwork(dimensions: Dimensions, unit: Unit) -> str:
    layout = lay_out(dimensions)
    if layout.mats and len(dimensions.spec.openings) > 1:
        return _artworks(dimensions, layout, unit)
    spec = dimensions.spec
    what = "artwork" if spec.boxed is None else "object"
    said = f"The {what}, {show_size(spec.artwork, unit, mark=True)}, "
    mats = counted(len(spec.mats), "mat")
    match spec.presentation:
        case Presentation.WINDOW | Presentation.FLOAT if spec.mats:
            lies = "floats in" if layout.artworks[0].floats else "lies behind"
            if spec.boxed is not None:
                lies = "stands in" if layout.artworks[0].floats else "stands behind"
            what, size = _window(layout, unit)
            said += f"{lies} the {what} of {mats}, {size}."
        case Presentation.FLOAT:
            said += (
                "floats on its mount board." if spec.boxed is None else "stands on its mount board."
            )
        case Presentation.CANVAS_FLOAT:
            said += f"stands in a tray with {show(spec.gap, unit, mark=True)} all round."
        case Presentation.AS_IT_CAME:
            said = "What is in the frame goes back as it came."
        case Presentation.CANVAS:
            said += "is a canvas without a mat."
        case _:
            said += "fills the frame without a mat."
    return said


def _window(layout: DrawingLayout, unit: Unit) -> tuple[str, str]:
    """Return what is cut into the mat next to the artwork, and how large its window is."""
    window, *slots = layout.mats[-1].holes
    shape = {Shape.RECTANGLE: "window", Shape.OVAL: "oval window", Shape.ARCH: "arched window"}
    with_slot = " and title slot" if slots else ""
    return f"{shape[window.sizes.shape]}{with_slot}", show_size(window.sizes.size, unit, mark=True)


def _artworks(dimensions: Dimensions, layout: DrawingLayout, unit: Unit) -> str:
    count = counted(len(layout.artworks), "artwork").capitalize()
    if dimensions.behind_all is not None:
        count = f"The artwork, {show_size(dimensions.spec.artwork, unit, mark=True)}, lies"
    mats = counted(len(layout.mats), "mat")
    windows = windows_in_words(layout.mats[-1].holes, unit)
    name = "millimetres" if unit is Unit.MM else "inches"
    return f"{count} behind the windows of {mats}: {windows}, in {name}."


def _fillet(dimensions: Dimensions, unit: Unit) -> str:
    fillet = dimensions.spec.fillet
    if fillet is None:
        return ""
    where = "each window" if len(dimensions.fillets) > 1 else "the window"
    return f"A fillet shows {show_on_rule(shown_of(fillet), unit, mark=True)} inside {where}."


def _frames(dimensions: Dimensions, unit: Unit) -> str:
    given = dimensions.spec.given_frame
    if given is not None:
        whose = "The customer's own frame" if given.own else "A ready-made frame"
        return f"{whose}, rebate {show_size(given.counted, unit, mark=True)} measured."
    frames = dimensions.spec.frames
    if not frames:
        return "There is no frame."
    faces = ", ".join(show_on_rule(frame.face, unit, mark=True) for frame in frames)
    if len(frames) == 1:
        return f"The frame's face is {faces} wide."
    return f"{counted(len(frames), 'frame').capitalize()}, from the inner one: faces {faces} wide."
