"""The request of `POST /api/dimensions`: a piece as programs ask for it. Owns the models."""

from typing import Literal

from pydantic import Field

from app.framing.notices.artwork_weight import Support
from app.web.api.requests_bench import CutterAsked
from app.web.api.requests_lengths import LengthText, MassText, RequestModel, SizeAsked
from app.web.api.requests_windows import ArrangementAsked, WindowAsked


class ArtworkAsked(RequestModel):
    """The artwork's size and thickness, of an object its height; and what tells its weight."""

    width: LengthText
    height: LengthText
    thickness: LengthText = "0"
    object: bool = Field(
        default=False,
        strict=True,
        description="an object: it stands on the mount board within mats and spacers, and adds "
        "nothing to the stack unless it is higher than they are",
    )
    support: Support | None = Field(default=None, description="what it is made of")
    weight: MassText | None = None


class MatAsked(RequestModel):
    """One layer; the reveal is how much of it shows inside the layer above (not for layer 1)."""

    thickness: LengthText
    reveal: LengthText | None = None
    bevel: int = Field(default=45, strict=True, description="degrees from the face of the board")
    reverse: bool = Field(
        default=False, strict=True, description="reverse bevel: the face hole is the smaller"
    )


class BordersAsked(RequestModel):
    """The borders of layer 1."""

    left: LengthText
    right: LengthText
    top: LengthText
    bottom: LengthText


class FrameAsked(RequestModel):
    """A moulding's profile; allowance is in all, per dimension. Rebate depth 0: not known."""

    face: LengthText
    lip: LengthText = "0"
    rebate_depth: LengthText = "0"
    allowance: LengthText | None = None


class DiagonalsAsked(RequestModel):
    """From corner to corner of a rebate: falling from the left top, rising from the left bottom."""

    falling: LengthText
    rising: LengthText


class GivenFrameAsked(RequestModel):
    """A frame that is measured and not made. Depth 0: not known; what was not measured is left out."""

    rebate: SizeAsked = Field(description="between its walls, along the top and at the left")
    opposite: SizeAsked | None = Field(
        default=None,
        description="along the bottom and at the right; of two sides the smaller counts",
    )
    diagonals: DiagonalsAsked | None = None
    depth: LengthText = "0"
    allowance: LengthText | None = Field(default=None, description="in all, per dimension")
    outside: SizeAsked | None = None
    face: LengthText | None = None
    lip: LengthText | None = None
    own: bool = Field(
        default=True, strict=True, description="the customer's own; else it is bought ready-made"
    )


class FilletAsked(RequestModel):
    """A narrow moulding tucked behind the last layer in every window; windows are rectangles then."""

    face: LengthText = Field(description="all of it, seen from the front")
    lip: LengthText = Field(description="its flat part, meant to lie behind the mat")
    tuck: LengthText | None = Field(
        default=None, description="how far it does lie there, at each edge; by default its lip"
    )
    thickness: LengthText = Field(description="behind the mat; counts in the stack")


class PanelAsked(RequestModel):
    """Glazing, mount board or backing; the trim comes off each edge."""

    thickness: LengthText = "0"
    trim: LengthText = "0"


class PieceAsked(RequestModel):
    """A piece. Layer 1 (top) first; inner frame first.

    Without `windows` there is one window, for the artwork. With borders and package both, one window
    is what remains; several windows share what remains as equal gaps.
    """

    unit: Literal["mm", "in"]
    artwork: ArtworkAsked | None = Field(
        default=None,
        description="may be left out where windows are given, and of what is in a frame as it came",
    )
    presentation: Literal["window", "float", "close", "canvas", "canvas-float", "as-it-came"]
    overlap: LengthText | None = None
    gap: LengthText | None = None
    mats: tuple[MatAsked, ...] = ()
    borders: BordersAsked | None = None
    package: SizeAsked | None = Field(
        default=None, description="the glass size, which mats and back share"
    )
    outside: SizeAsked | None = Field(
        default=None,
        description="of the outermost frame, in the place of a package, which follows from it",
    )
    weighting: LengthText = "0"
    under_trim: LengthText = "0"
    under_way: Literal["attached", "own-edges"] | None = Field(
        default=None, description="by default attached where under_trim is 0, else own-edges"
    )
    frames: tuple[FrameAsked, ...] = ()
    given_frame: GivenFrameAsked | None = Field(
        default=None, description="in the place of frames; the package follows from its rebate"
    )
    glazing: PanelAsked | None = None
    spacer: LengthText = "0"
    spacer_width: LengthText | None = None
    mount_board: PanelAsked | None = None
    backing: PanelAsked | None = None
    windows: tuple[WindowAsked, ...] = Field(
        default=(),
        description="several windows, or one by its own size or place; at most 24, in the order "
        "of the rows",
    )
    arrangement: ArrangementAsked | None = Field(
        default=None, description="by default one row, or the places that all windows give"
    )
    groove: LengthText | None = Field(
        default=None,
        description="a decorative line in the top mat around each window, so far from the "
        "window's edge at the face",
    )
    fillet: FilletAsked | None = None
    step: LengthText | None = Field(
        default=None, description="the shop's cutting step: 0.5 or 1 mm, 1/16 or 1/32 in"
    )


class DimensionsAsked(PieceAsked):
    """A piece, and the cutter that it is cut on."""

    cutter: CutterAsked | None = Field(
        default=None, description="that `bench` is for; by default the usual one of the unit"
    )
