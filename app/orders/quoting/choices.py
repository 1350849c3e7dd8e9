"""What the selects of a piece offer, and what each choice is called on the page."""

from enum import StrEnum

from app.forms.kinds import Options
from app.framing import Align, Presentation, Shape
from app.framing.notices.artwork_weight import Support
from app.framing.spec import Core
from app.lengths import Unit
from app.orders.order import ArtworkKind


class Sizing(StrEnum):
    """What is given and what follows: borders, the package, both with the window following, or the outside."""

    BORDERS = "borders"
    PACKAGE = "package"
    BOTH = "both"
    OUTSIDE = "outside"


class FrameSource(StrEnum):
    """Where the frame of a piece comes from (G24); where nothing is chosen it is made."""

    MADE = "made"
    READY_MADE = "ready-made"
    OWN = "own"
    NONE = "none"

    @property
    def given(self) -> bool:
        """Whether it is measured and not made, so that the package follows from it."""
        return self in (FrameSource.READY_MADE, FrameSource.OWN)


class Of(StrEnum):
    """What a typed size is the size of: what lies behind the window, or the hole itself."""

    ARTWORK = "artwork"
    HOLE = "hole"


class Shown(StrEnum):
    """How a window shows its artwork: as the piece does, or in its own way."""

    PIECE = "piece"
    WINDOW = "window"
    FLOAT = "float"


class Placing(StrEnum):
    """Whether rows place the windows or each one says where it is."""

    ROWS = "rows"
    FREE = "free"


UNITS: Options = ((Unit.MM, "millimetres"), (Unit.IN, "inches"))
KINDS: Options = tuple((kind.value, kind.value.capitalize()) for kind in ArtworkKind)
SUPPORTS: Options = (
    ("", "as usual"),
    (Support.PAPER, "paper"),
    (Support.BOARD, "paper or photograph on board"),
    (Support.TEXTILE, "cloth"),
    (Support.CANVAS, "canvas on a stretcher"),
    (Support.HARDBOARD, "hardboard panel"),
    (Support.MDF, "MDF panel"),
    (Support.WOOD, "wooden panel"),
    (Support.ACRYLIC, "acrylic"),
    (Support.GLASS, "glass"),
    (Support.ALUMINIUM, "aluminium composite"),
)
PRESENTATIONS: Options = (
    (Presentation.WINDOW, "Mat overlaps the artwork"),
    (Presentation.FLOAT, "Floated (edges show)"),
    (Presentation.CLOSE, "No mat, straight into the frame"),
    (Presentation.CANVAS, "Stretched canvas, ordinary frame"),
    (Presentation.CANVAS_FLOAT, "Stretched canvas, tray (floater) frame"),
    (Presentation.AS_IT_CAME, "As it came, in a frame that is given"),
)
SIZINGS: Options = (
    (Sizing.BORDERS, "Fix the borders, the glass size follows"),
    (Sizing.PACKAGE, "Fix the glass size, centre the opening"),
    (Sizing.BOTH, "Fix glass size and borders, the opening follows"),
    (Sizing.OUTSIDE, "Fix the outside of the frame, centre the opening"),
)
FRAME_SOURCES: Options = (
    ("", "made from moulding"),
    (FrameSource.READY_MADE, "ready-made frame"),
    (FrameSource.OWN, "the customer’s own, brought in"),
    (FrameSource.NONE, "no frame, handed over without one"),
)
CORES: Options = (
    ("", "white"),
    (Core.CREAM, "cream"),
    (Core.BLACK, "black"),
    (Core.SOLID, "as its face"),
)
PLACINGS: Options = (("", "in rows"), (Placing.FREE, "in free places"))
ALIGNS: Options = (
    ("", "centre"),
    (Align.TOP, "top"),
    (Align.BOTTOM, "bottom"),
)
SIZES_OF: Options = ((Of.ARTWORK, "the artwork"), (Of.HOLE, "the opening itself"))
SHOWN: Options = (
    (Shown.PIECE, "as the piece"),
    (Shown.WINDOW, "mat overlaps"),
    (Shown.FLOAT, "floated (edges show)"),
)
SHAPES: Options = (
    (Shape.RECTANGLE, "rectangle"),
    (Shape.OVAL, "oval or round"),
    (Shape.ARCH, "arched top"),
)
