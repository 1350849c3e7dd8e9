"""A step of the work: what is done, with which parts, and what to beware of.

Owns the types; which steps a piece has is for `steps_of_mats`, `steps_of_fillets` and
`steps_of_package`.
"""

from dataclasses import dataclass
from enum import StrEnum

from app.bench.cuts import Cut
from app.bench.mats import MatToCut
from app.bench.settings import GuidePlan, Setting
from app.errors import Invalid
from app.framing import Dimensions
from app.framing.layer_names import numbered_or_the
from app.framing.notices.care import Work, WorkFacts
from app.framing.notices.weight import Hanging
from app.lengths import Length, Size, Steps, show, show_on_rule, show_size


class StepCode(StrEnum):
    """What kind of step it is, in the order of the work (B6)."""

    SIZE_BLANKS = "size-blanks"
    MARK = "mark"
    FIX_BEHIND = "fix-behind"
    CUT_WINDOW = "cut-window"
    CUT_CURVES = "cut-curves"
    DROP_OUT = "drop-out"
    MATS_TOGETHER = "mats-together"
    FILLET_RAILS = "fillet-rails"
    FILLET_IN = "fillet-in"
    TAKE_APART = "take-apart"
    CLEAN = "clean"
    GLAZING = "glazing"
    BOARD = "board"
    SPACERS = "spacers"
    RAILS = "rails"
    JOIN = "join"
    FRAMES_TOGETHER = "frames-together"
    TREAT = "treat"
    PLACE = "place"
    SPACERS_IN = "spacers-in"
    FIT = "fit"
    HANG = "hang"
    LABEL = "label"

    @property
    def cutting(self) -> bool:
        """Whether the step cuts a part."""
        return self in _CUTTING

    @property
    def before_all_is_cut(self) -> bool:
        """Whether it is done wherever all parts are cut: a step that cuts one, or one without which none could be."""
        return self.cutting or self in _TO_CUT


_CUTTING = frozenset(
    {
        StepCode.SIZE_BLANKS,
        StepCode.CUT_WINDOW,
        StepCode.CUT_CURVES,
        StepCode.DROP_OUT,
        StepCode.FILLET_RAILS,
        StepCode.GLAZING,
        StepCode.BOARD,
        StepCode.SPACERS,
        StepCode.RAILS,
    }
)

_TO_CUT = frozenset({StepCode.TAKE_APART, StepCode.MARK, StepCode.FIX_BEHIND})


class StageOffer(StrEnum):
    """The stage that a ticked step offers for its piece."""

    CUT = "cut"
    FRAMED = "framed"


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPart:
    """A part that a step makes or handles. lengths: width and height, or one length."""

    name: str
    lengths: tuple[Length, ...] = ()
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDetail:
    """Where and by how much something is done at a step: "Fixings", "163.5 below the frame’s top edge"."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step with a box to tick.

    id: of the piece's parts and never of a step's place in the list, so that a tick stays with its
    step while piece and cutter stay the same. layers: the mats that are marked or cut at it.
    act: its text without the figures of its parts or its setting, for a page where these stand beside it; empty where
    the text has none. setting, cuts: where the guide stands for it, and what is cut there; None and empty for every
    step without the guide. work: the danger it has, if any. offers: the stage that ticking it offers.
    details: what is measured at it, which a ticket lists by itself.
    """

    id: str
    code: StepCode
    text: str
    act: str = ""
    parts: tuple[StepPart, ...] = ()
    layers: tuple[int, ...] = ()
    setting: Setting | None = None
    cuts: tuple[Cut, ...] = ()
    work: Work | None = None
    cautions: tuple[str, ...] = ()
    offers: StageOffer | None = None
    details: tuple[StepDetail, ...] = ()

    @property
    def said(self) -> str:
        """The step with its details, as where nothing else lists them."""
        return self._with_details(self.text)

    @property
    def beside_figures(self) -> str:
        """The same where the figures of its parts and its setting stand beside it."""
        return self._with_details(self.act or self.text)

    def _with_details(self, text: str) -> str:
        return "; ".join((text, *(detail.text for detail in self.details)))


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtraWork:
    """Work on a piece that is ordered beside its parts: "Stretch canvas on new bars". stretched: whether a canvas is."""

    code: str
    name: str
    count: int = 1
    stretched: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StepJob:
    """One piece at the bench. Raises: Invalid where its mats are not those of the piece.

    cut: in the shop's steps. mats: layer 1 first. plan: the settings, of this piece or of several;
    None in a shop that cuts by straight-edge. mat_word: as the shop calls a mat. hanging: what is asked of its
    hanging parts; None where that is not known. steps: those that it is cut in, by which places are said.
    extras: work that is ordered beside its parts.
    """

    cut: Dimensions
    facts: WorkFacts
    mats: tuple[MatToCut, ...] = ()
    plan: GuidePlan | None = None
    mat_word: str = "mat"
    hanging: Hanging | None = None
    steps: Steps | None = None
    extras: tuple[ExtraWork, ...] = ()

    def __post_init__(self) -> None:
        layers, wanted = [mat.layer for mat in self.mats], [la.layer for la in self.cut.layers]
        if layers != wanted or len({mat.piece for mat in self.mats}) > 1:
            raise Invalid.at(
                "mats",
                f"The piece has {len(wanted)} mats, layer 1 first, and layers {layers} were given.",
            )

    @property
    def piece(self) -> str:
        """The name of the piece, which its mats carry."""
        return self.mats[0].piece if self.mats else ""

    def mat(self, layer: int) -> str:
        """Return a mat's name on its ticket: with its number only where there are several."""
        return numbered_or_the(self.mat_word, layer, len(self.mats))

    def say(self, length: Length) -> str:
        """Return a length in the ticket's unit, bare."""
        return show(length, self.cut.spec.unit)

    def say_nearest(self, length: Length) -> str:
        """Return a length that is marked with a pencil: to the nearest step."""
        return self.say_on_rule(self.steps.nearest(length) if self.steps else length)

    def say_on_rule(self, length: Length) -> str:
        """Return a length that follows from one that is cut, as it is read off a rule."""
        return show_on_rule(length, self.cut.spec.unit)

    def say_size(self, size: Size) -> str:
        """Return a size in the ticket's unit, bare."""
        return show_size(size, self.cut.spec.unit)

    def named_size(self, name: str, size: Size) -> str:
        """Return a size in the ticket's unit behind the name of what has it, so that a number in the name stays apart."""
        return f"{name}: {show_size(size, self.cut.spec.unit, mark=True)}"
