"""The spec of one piece: what was agreed, as exact lengths.

Owns the types that describe a piece before anything is worked out, and their defaults.
A `Spec` is what was asked for and may be impossible; `work_out` answers its dimensions or all its
faults. It knows nothing of prices, materials' names or the shop's cutter.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from math import radians, tan

from app.errors import Invalid
from app.framing.arrangement import Arrangement, Opening
from app.framing.given_frame import DRAWN_FACE, DRAWN_LIP, GivenFrame
from app.lengths import ZERO, Length, Size, Unit, inches, mm


class Presentation(StrEnum):
    """How the artwork is shown.

    AS_IT_CAME: what is in a frame that is given goes back into it unopened; nobody measured it.
    """

    WINDOW = "window"
    FLOAT = "float"
    CLOSE = "close"
    CANVAS = "canvas"
    CANVAS_FLOAT = "canvas-float"
    AS_IT_CAME = "as-it-came"

    @property
    def matted(self) -> bool:
        """Whether mats may lie in front of the artwork."""
        return self in (Presentation.WINDOW, Presentation.FLOAT)


class UnderWay(StrEnum):
    """How an under mat is worked (G7): fixed behind the cut top mat, or on its own edges."""

    ATTACHED = "attached"
    OWN_EDGES = "own-edges"


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What a shop that sets nothing works with, in one unit system.

    Source: handbook G1, G2, G3, G5, G7, G9, G11, G14, G17, G22; the published figures differ, see there.
    """

    overlap: Length
    gap: Length
    canvas_gap: Length
    reveal: Length
    under_trim: Length
    allowance: Length
    smallest_border: Length
    least_bridge: Length
    spacer_width: Length
    object_clearance: Length


DEFAULTS: dict[Unit, Defaults] = {
    Unit.MM: Defaults(
        overlap=mm(5),
        gap=mm(10),
        canvas_gap=mm(5),
        reveal=mm(6),
        under_trim=mm(3),
        allowance=mm(3),
        smallest_border=mm(50),
        least_bridge=mm(20),
        spacer_width=mm(5),
        object_clearance=mm(3),
    ),
    Unit.IN: Defaults(
        overlap=inches("3/16"),
        gap=inches("3/8"),
        canvas_gap=inches("3/16"),
        reveal=inches("1/4"),
        under_trim=inches("1/8"),
        allowance=inches("1/8"),
        smallest_border=inches(2),
        least_bridge=inches("3/4"),
        spacer_width=inches("3/16"),
        object_clearance=inches("1/8"),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """A length for each side: borders of a mat."""

    left: Length
    right: Length
    top: Length
    bottom: Length

    @classmethod
    def equal(cls, length: Length) -> "Edges":
        """Return the same on all four sides."""
        return cls(left=length, right=length, top=length, bottom=length)

    def grown(self, by: Length) -> "Edges":
        """Return every side larger by one length (smaller, where it is negative)."""
        return Edges(
            left=self.left + by, right=self.right + by, top=self.top + by, bottom=self.bottom + by
        )

    def sides(self) -> tuple[tuple[str, Length], ...]:
        """(name, length) of left, right, top, bottom."""
        return (
            ("left", self.left),
            ("right", self.right),
            ("top", self.top),
            ("bottom", self.bottom),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bevel:
    """The slope of a window's edge, measured from the face of the board (G8).

    degrees: whole degrees, 30 to 90 (90 is a straight cut). reverse: the face hole is the
    smaller one.
    """

    degrees: int = 45
    reverse: bool = False

    def __post_init__(self) -> None:
        if not 30 <= self.degrees <= 90:
            raise Invalid.at(
                "bevel", f"The bevel is {self.degrees}°; a blade can be set from 30° to 90°."
            )

    def run(self, thickness: Length) -> Length:
        """Tell how far the edge runs sideways through a board: thickness / tan β.

        Exact at 45° and 90°; other angles take 1 / tan β to six decimals.
        Source: elementary geometry.
        """
        if self.degrees == 90:
            return ZERO
        if self.degrees == 45:
            return thickness
        return thickness * Fraction(round(1_000_000 / tan(radians(self.degrees))), 1_000_000)


class Core(StrEnum):
    """The colour of a board's core, which the bevel shows; SOLID is coloured through, as its face is.

    Source: common practice.
    """

    WHITE = "white"
    CREAM = "cream"
    BLACK = "black"
    SOLID = "solid"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mat:
    """One mat of the stack. reveal: how much of it shows inside the mat above; None on layer 1."""

    thickness: Length
    reveal: Length | None = None
    bevel: Bevel = field(default_factory=Bevel)
    core: Core = Core.WHITE


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A moulding's profile as the piece uses it.

    allowance: in all, per dimension (G11). rebate_depth: zero where it is not known; then nothing
    is said about depth.
    """

    face: Length
    lip: Length
    rebate_depth: Length
    allowance: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A flat part of the package: glazing, mount board, backing. trim: taken off at each edge."""

    thickness: Length
    trim: Length = ZERO


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacer:
    """Strips that hold the glazing off the artwork. depth counts in the stack."""

    depth: Length
    width: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class ObjectInBox:
    """An artwork that is an object: it stands on the mount board, within spacers and window (G22).

    Its height is the artwork's thickness. clearance: what is wanted between it and the glazing.
    """

    clearance: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Fillet:
    """A narrow moulding that lines every window from behind the mat (G19).

    face: all of it, seen from the front. lip: its flat part, meant to lie behind the mat. tuck: how
    far it does lie there, at each edge. thickness: of what lies there, which counts in the stack.
    """

    face: Length
    lip: Length
    tuck: Length
    thickness: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class UnderMats:
    """How under mats are made: the way of working and what is trimmed off their blanks (G7)."""

    way: UnderWay = UnderWay.ATTACHED
    trim: Length = ZERO


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """One piece, agreed. Frames run from the inner one out; mats from the top one down.

    `borders` alone gives the package (G4); `package` alone gives the borders (G5), with
    `weighting` added at the bottom; both together give the window (G6).

    Without `openings` there is one window, for the artwork. With them the artwork only describes the
    piece; borders reach to the outermost windows, and borders and package together give the gaps
    (G9). Openings that all say where they are need no arrangement; others without one stand in
    one row. groove: a line in the top mat around each window, so far from its edge at the face.
    smallest_border, least_bridge: below which a notice is given; None as is usual.

    boxed: where the artwork is an object; None of all that lies flat behind the mats.

    outside: of the outermost frame, which gives the package (G23). given_frame: in the place of frames
    that are made; it gives the package too (G24). Either stands in the place of `package`.
    """

    unit: Unit
    artwork: Size
    presentation: Presentation
    overlap: Length
    gap: Length
    artwork_thickness: Length = ZERO
    mats: tuple[Mat, ...] = ()
    borders: Edges | None = None
    package: Size | None = None
    weighting: Length = ZERO
    under: UnderMats = field(default_factory=UnderMats)
    frames: tuple[Frame, ...] = ()
    glazing: Panel | None = None
    spacer: Spacer | None = None
    mount_board: Panel | None = None
    backing: Panel | None = None
    openings: tuple[Opening, ...] = ()
    arrangement: Arrangement | None = None
    groove: Length | None = None
    fillet: Fillet | None = None
    boxed: ObjectInBox | None = None
    outside: Size | None = None
    given_frame: GivenFrame | None = None
    smallest_border: Length | None = None
    least_bridge: Length | None = None

    @property
    def profiles(self) -> tuple[Frame, ...]:
        """What surrounds the piece, the inner one first: frames that are made, or the one given.

        Of that one face and lip are as it is drawn where nobody measured them.
        """
        given = self.given_frame
        return self.frames if given is None else (_as_drawn(given),)

    @property
    def package_word(self) -> str:
        """What people call the size of the package: that of the glass, as of mats and back; of a canvas its own."""
        if self.presentation not in (Presentation.CANVAS, Presentation.CANVAS_FLOAT):
            return "glass size"
        return "canvas size" if self.given_frame is None else "room for canvas"


def _as_drawn(given: GivenFrame) -> Frame:
    """Return its profile; a face that was not measured is as the outside has it, else a plain one."""
    lip = given.known_lip
    face = given.face
    if face is None and given.outside is not None:
        face = (given.outside.width - given.counted.width) / 2 + (lip or DRAWN_LIP)
    if face is None:
        face = max(DRAWN_FACE, (lip or ZERO) * 2)
    lip = min(DRAWN_LIP, face / 2) if lip is None else lip
    return Frame(face=face, lip=lip, rebate_depth=given.depth, allowance=given.allowance)
