"""The request of `POST /api/price`: a piece by materials of the price book, its members fields of the form.

A window may be described in the words of a spec as well, as `/api/dimensions` has them.
"""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from app.errors import FaultCollector, Invalid
from app.framing import MOST_WINDOWS
from app.framing.mass import parse_mass
from app.framing.notices.artwork_weight import Support
from app.framing.spec import Core
from app.orders import ArtworkKind
from app.orders.quoting.choices import FrameSource
from app.orders.quoting.form import MOST_MATS, MOST_ROWS, form_path
from app.orders.quoting.frame_fields import MOST_FRAMES
from app.orders.quoting.piece_typed import STANDS_IN_BOX
from app.pricing import MOST_ALIKE
from app.web.api.requests_lengths import LengthText, MassText
from app.web.api.requests_windows import ArrangementAsked, WindowBase
from app.web.api.typed_fields import FormModel, TypedFields


def _alone(member: str) -> BeforeValidator:
    """Takes a text that stands alone for the one member that it is."""
    return BeforeValidator(lambda value: {member: value} if isinstance(value, str) else value)


Code = Annotated[str, Field(max_length=200, examples=["SALT14"])]


class MaterialAsked(FormModel):
    """A material: its code, or as much of its name as only it has."""

    material: Code


OneMaterial = Annotated[MaterialAsked, _alone("material")]


SizeText = Annotated[str, Field(max_length=200, examples=["16x20 in", "A3"])]


class SizedAsked(FormModel):
    """A size as said, or width and height."""

    size: SizeText | None = None
    width: LengthText | None = None
    height: LengthText | None = None

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """The size by its sides is said where they are."""
        super().type_into(typed, path)
        sides = (self.width, self.height)
        typed.say(f"{path}.size", self.size, form_path(path))
        if self.size is None and sides != (None, None):
            typed.say_size(path, *sides)
        elif self.size is None or sides != (None, None):
            typed.say(path, "")


class ArtworkToPrice(SizedAsked):
    """The artwork."""

    kind: ArtworkKind = ArtworkKind.OTHER
    thickness: LengthText = "0"
    object: bool = Field(
        default=False, strict=True, description="as of `/api/dimensions`; the kind does not say it"
    )
    support: Support | None = Field(
        default=None, description="what it is made of; by default as is usual for its kind"
    )
    weight: MassText | None = Field(
        default=None, description="by default estimated; that of an object never is"
    )

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """What stands in a box is said outright, and a program says what a weight is in."""
        super().type_into(typed, path)
        typed.say(f"{path}.object", "yes" if self.object else "no", STANDS_IN_BOX)
        if self.weight is not None:
            try:
                parse_mass(self.weight, bare=None, path=f"{path}.weight")
            except Invalid as invalid:
                typed.faults.take(invalid)


class MatToPrice(MaterialAsked):
    """One layer of mat; the reveal is how much of it shows inside the layer above."""

    reveal: LengthText | None = None
    core: Core = Field(default=Core.WHITE, description="what the bevel shows of the board")


class BordersToPrice(FormModel):
    """Borders of layer 1; a blank one is as the left, the bottom as the top with the weighting."""

    left: LengthText | None = None
    right: LengthText | None = None
    top: LengthText | None = None
    bottom: LengthText | None = None


class SpacerAsked(MaterialAsked):
    """Spacers between glazing and what lies beneath."""

    depth: LengthText


class FilletToPrice(MaterialAsked):
    """A fillet in every window: a moulding charged by length; tucked by its lip where not said."""

    tuck: LengthText | None = None
    depth: LengthText = Field(description="its thickness behind the mat")


class DiagonalsToPrice(FormModel):
    """From corner to corner of a rebate: falling from the left top, rising from the left bottom."""

    falling: LengthText
    rising: LengthText

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """Both stand in one field."""
        typed.say_size(path, self.falling, self.rising, ("falling", "rising"))


class GivenFrameToPrice(FormModel):
    """A ready-made frame of the price book by its code; or the customer's own, as it was measured.

    Of the customer's own rebate and depth are needed; all else as of `/api/dimensions`.
    """

    material: Code | None = None
    rebate: SizedAsked | None = None
    depth: LengthText | None = None
    opposite: SizedAsked | None = None
    diagonals: DiagonalsToPrice | None = None
    outside: SizedAsked | None = None
    face: LengthText | None = None
    lip: LengthText | None = None

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """What is given says where the frame comes from."""
        super().type_into(typed, path)
        source = FrameSource.OWN if self.material is None else FrameSource.READY_MADE
        typed.say(path, source.value, "frame.source")
        if self.material is not None and len(self.model_fields_set) > 1:
            typed.faults.add(
                f"{path}.material",
                "A ready-made frame has its measures in the price book; leave them out of the request.",
            )


class CountedAsked(MaterialAsked):
    """So many of a material."""

    count: int = Field(default=1, ge=1, le=999)


class SlotToPrice(SizedAsked):
    """A title slot, centred under its window and cut through every layer; a text alone is its size.

    Its size is in the innermost mat, as a window's.
    """

    gap: LengthText | None = Field(
        default=None,
        description="as `slot_gap` of the window; by default the least that is usual between windows",
    )

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """A slot always has a size."""
        super().type_into(typed, path)
        typed.say(f"{path}.gap", self.gap)
        if (self.size, self.width, self.height) == (None, None, None):
            typed.say_size(path, None, None)


class WindowToPrice(WindowBase):
    """One window, in the words of the form or as of `/api/dimensions`.

    Its size is `size`, of what `kind` says, or the width and height of the window, or those of its artwork.
    """

    name: str | None = Field(default=None, max_length=200, description="as `id`")
    size: SizeText | None = Field(default=None, description="as said, of what `kind` says")
    kind: Literal["artwork", "hole"] | None = Field(
        default=None, description="what `size` is that of; by default the artwork"
    )
    shown: Literal["piece", "window", "float"] | None = Field(
        default=None, description="as `presentation`; by default as the piece"
    )
    edge: LengthText | None = Field(
        default=None, description="`gap` where the window is shown floating, else `overlap`"
    )
    slot: Annotated[SlotToPrice, _alone("size")] | None = None
    slot_gap: LengthText | None = Field(
        default=None, description="from the window to the slot, in the top mat"
    )

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """Each member at its field; what is left out is as the piece has it, not as window A."""
        super().type_into(typed, path)
        typed.say(f"{path}.name", self.name, f"{path}.name")
        typed.say(f"{path}.id", self.id, f"{path}.name")
        typed.say(f"{path}.presentation", self.presentation, f"{path}.shown")
        if self.shown is None and self.presentation is None:
            typed.say(f"{path}.shown", "piece")
        if typed.floats(path):
            typed.say(f"{path}.gap", self.gap)
        else:
            typed.say(f"{path}.overlap", self.overlap)
        self._type_size(typed, path)

    def _type_size(self, typed: TypedFields, path: str) -> None:
        sides = (self.width, self.height)
        by_sides = sides != (None, None) or (self.size is None and self.artwork is None)
        if self.artwork is not None:
            typed.say_size(f"{path}.artwork", self.artwork.width, self.artwork.height)
        if by_sides:
            typed.say_size(path, *sides)
        if self.kind is None:
            typed.say(f"{path}.kind", "hole" if by_sides else "artwork")


class PriceAsked(FormModel):
    """A piece. Whatever is left out is as the shop usually has it. Layer 1 first, inner frame first."""

    unit: Literal["mm", "in"] | None = Field(default=None, description="the shop's, if left out")
    artwork: ArtworkToPrice
    presentation: Literal["window", "float", "close", "canvas", "canvas-float", "as-it-came"] = (
        "window"
    )
    overlap: LengthText | None = None
    gap: LengthText | None = None
    mats: tuple[MatToPrice, ...] = Field(default=(), max_length=MOST_MATS)
    borders: BordersToPrice | None = None
    package: SizedAsked | None = Field(
        default=None, description="the glass size, which mats and back share"
    )
    outside: SizedAsked | None = Field(
        default=None, description="of the outermost frame; package and borders follow from it"
    )
    weighting: LengthText | None = None
    windows: tuple[WindowToPrice, ...] = Field(default=(), max_length=MOST_WINDOWS)
    arrangement: ArrangementAsked | None = Field(
        default=None,
        description="as of `/api/dimensions`, but a gap left out is the shop's usual one unless "
        "package and borders are both given",
    )
    groove: LengthText | None = None
    fillet: FilletToPrice | None = None
    frames: tuple[MaterialAsked, ...] = Field(default=(), max_length=MOST_FRAMES)
    given_frame: GivenFrameToPrice | None = Field(
        default=None, description="in the place of frames, package and outside"
    )
    allowance: LengthText | None = None
    glazing: OneMaterial | None = None
    mount_board: OneMaterial | None = None
    backing: OneMaterial | None = None
    spacer: SpacerAsked | None = None
    hardware: tuple[CountedAsked, ...] = Field(default=(), max_length=MOST_ROWS)
    extras: tuple[CountedAsked, ...] = Field(default=(), max_length=MOST_ROWS)
    copies: int = Field(
        default=1, ge=1, le=MOST_ALIKE, description="how many alike; the answer says each and all"
    )
    discount: str = Field(default="0", max_length=40, description="per cent")
    rush: bool = False
    tax_free: bool = False

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """What is given says how the piece is sized and how its windows are placed."""
        super().type_into(typed, path)
        placed = [(window.x, window.y) != (None, None) for window in self.windows]
        typed.say("sizing", self._sizing)
        typed.say("windows", str(len(placed) or ""))
        typed.say("arrangement", "free" if any(placed) else "")
        self._check_places(typed.faults)
        self._check_one_size(typed.faults)

    @property
    def _sizing(self) -> str:
        if self.outside is not None:
            return "outside"
        if self.package is None and self.given_frame is None:
            return "borders"
        return "package" if self.borders is None else "both"

    def _check_one_size(self, faults: FaultCollector) -> None:
        """What the package follows from is one of package, outside and a frame that is given."""
        besides: dict[str, bool] = {}
        if self.given_frame is not None:
            besides = {
                "package": self.package is not None,
                "outside": self.outside is not None,
                "frames": bool(self.frames),
            }
        elif self.outside is not None:
            besides = {"package": self.package is not None, "borders": self.borders is not None}
        by = "the outside" if self.given_frame is None else "a frame"
        for path in (path for path, there in besides.items() if there):
            faults.add(path, f"The {path} and {by} were given; leave one of them out.")

    def _check_places(self, faults: FaultCollector) -> None:
        """What a request can say by half or against itself, and the quote page cannot."""
        for row, window in enumerate(self.windows):
            if (window.x is None) != (window.y is None):
                faults.add(f"windows.{row}", "x and y go together; one of them is missing.")
        if len({window.x is None for window in self.windows}) > 1:
            faults.add("windows", "Give every window its place, or none and let rows place them.")
        if self.arrangement is None:
            return
        rows, windows = self.arrangement.rows, max(len(self.windows), 1)
        if rows is not None and sum(rows) != windows:
            faults.add(
                "arrangement.rows", f"The rows hold {sum(rows)} windows, but {windows} were given."
            )
        if any(window.x is not None for window in self.windows):
            faults.add(
                "arrangement", "Every window was given its place and rows were given as well."
            )
