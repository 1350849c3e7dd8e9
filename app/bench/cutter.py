"""The shop's hand mat cutter, described once.

Owns what a cutter is, what makes a description impossible, and the usual figures. What it cannot
do with a given mat is for `limits`; where its corrections come from is for `testcut`.
"""

from dataclasses import dataclass, replace
from enum import StrEnum

from app.bench.scale import Scale
from app.bench.stops import Stops
from app.errors import FaultCollector, Invalid
from app.lengths import LARGEST, ZERO, Length, Unit, inches, mm

CUT_LENGTHS = (inches(32), inches(40), inches(47), inches(60))
"""Source: handbook section 4, widths on the market; common practice."""

LARGEST_CORRECTION = mm(10)
"""More than this is a loose guide or a wrong scale and no correction. Source: from memory."""

COARSEST_STEP = mm(5)
LONGEST_NAME = 60


class Reads(StrEnum):
    """Which line of a cut the scale reads, for a mat that lies back up (B1).

    BACK_LINE: where the blade enters; the smallest hole. FACE: where it comes out.
    """

    BACK_LINE = "back-line"
    FACE = "face"


class Stroke(StrEnum):
    """Which way the head runs with the guide to the left of the bar.

    PULL: from the far end towards the hand. PUSH: away from it. A cutter with its guide to the
    right cuts a pulled stroke as PUSH is described here, and the other way round.
    """

    PULL = "pull"
    PUSH = "push"

    def by_hand(self, *, guide_on_right: bool) -> "Stroke":
        """Return which way the hand moves the head in a stroke described so; and from that the stroke."""
        if not guide_on_right:
            return self
        return Stroke.PULL if self is Stroke.PUSH else Stroke.PUSH


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """One cutter. Raises: Invalid with every fault, each at the name of its field.

    cut_length: the longest run of the head. guide_reach: the largest setting of the guide, which
    is also its far end. scales: one, or two of different units; the first is the one in use (B8).
    guide_correction: signed, added to every setting (B1). start_offset, end_offset: how far
    beyond the corner of the window a cut begins and ends; signed, less than zero is short of it
    (B5). deepest_board: the thickest board that the blade goes through. arm_reach: the longest side
    of a board that is measured at the squaring arm; None where nothing is said of it.
    """

    name: str
    cut_length: Length
    guide_reach: Length
    scales: tuple[Scale, ...]
    reads: Reads = Reads.BACK_LINE
    stroke: Stroke = Stroke.PULL
    guide_correction: Length = ZERO
    start_offset: Length = ZERO
    end_offset: Length = ZERO
    deepest_board: Length
    cuts_ovals: bool = False
    stops: Stops = Stops()
    arm_reach: Length | None = None

    def __post_init__(self) -> None:
        if not self.scales:
            raise Invalid.at(
                "scales", "The cutter has no scale; describe the one that it is set by."
            )
        found = FaultCollector()
        self._check_name(found)
        self._check_sizes(found)
        self._check_scales(found)
        self._check_corrections(found)
        found.finish()

    @property
    def scale(self) -> Scale:
        """The scale in use: the cutter is set by it, and its marks are read on it."""
        return self.scales[0]

    @property
    def unit(self) -> Unit:
        """The unit of the scale in use."""
        return self.scale.unit

    @property
    def step(self) -> Length:
        """The finest that is read off the scale in use."""
        return self.scale.step

    def read_in(self, unit: Unit) -> "Cutter":
        """Return the cutter with its scale in a unit as the one in use, the other after it (B8).

        A cutter without such a scale is returned as it is.
        """
        if unit is self.unit or all(each.unit is not unit for each in self.scales):
            return self
        return replace(
            self, scales=tuple(sorted(self.scales, key=lambda each: each.unit is not unit))
        )

    def on_scale(self, length: Length) -> Length:
        """Return the nearest step of the scale in use; half-way goes up."""
        return self.scale.nearest(length)

    def pin_at(self, setting: Length) -> Length | None:
        """Return the hole at or below a setting (B2); None without holes or below the first one."""
        return None if self.scale.pins is None else self.scale.pins.at(setting)

    def beyond_reach(self, setting: Length) -> bool:
        """Tell whether the guide does not reach a setting, on whichever of its scales it is read (B4)."""
        return min(scale.nearest(setting) for scale in self.scales) > self.guide_reach

    def below_scale(self, setting: Length) -> bool:
        """Tell whether a setting lies where no scale has begun (B4)."""
        return max(scale.nearest(setting) for scale in self.scales) <= ZERO

    def say(self, length: Length) -> str:
        """Return a length for a sentence, in the unit of the scale."""
        return self.scale.say(length)

    def _check_name(self, found: FaultCollector) -> None:
        if not self.name.strip():
            found.add("name", "The cutter has no name; give it one to know it by.")
        elif len(self.name) > LONGEST_NAME:
            found.add(
                "name",
                f"The name is {len(self.name)} characters long; at most {LONGEST_NAME} are kept.",
            )

    def _check_sizes(self, found: FaultCollector) -> None:
        for path, what, length, most in (
            ("cut_length", "The cut length", self.cut_length, LARGEST),
            ("guide_reach", "The reach of the guide", self.guide_reach, LARGEST),
            ("deepest_board", "The thickest board", self.deepest_board, COARSEST_STEP * 4),
            ("arm_reach", "The reach of the squaring arm", self.arm_reach, LARGEST),
        ):
            if length is not None and not ZERO < length <= most:
                found.add(
                    path,
                    f"{what} is {self.say(length)}; it must be above zero and at most "
                    f"{self.say(most)}.",
                )

    def _check_scales(self, found: FaultCollector) -> None:
        units = [scale.unit for scale in self.scales]
        for row, scale in enumerate(self.scales):
            if scale.unit in units[:row]:
                found.add(
                    f"scales.{row}.unit",
                    f"Two scales are in {scale.unit.word}; a cutter has one in millimetres, one "
                    "in inches, or one of each.",
                )
            _check_scale(found, f"scales.{row}", scale)

    def _check_corrections(self, found: FaultCollector) -> None:
        stops, past = self.stops, "measure once more how far it runs past its corner"
        for path, what, length, look in (
            (
                "guide_correction",
                "The correction of the guide",
                self.guide_correction,
                "look at the guide and the scale",
            ),
            ("start_offset", "What a cut begins past its corner", self.start_offset, past),
            ("end_offset", "What a cut ends past its corner", self.end_offset, past),
            (
                "stops.near_correction",
                "The correction of the near stop",
                stops.near_correction,
                "look at the stop and at where its scale begins",
            ),
            (
                "stops.far_correction",
                "The correction of the far stop",
                stops.far_correction,
                "look at the stop and at where its scale begins",
            ),
        ):
            if abs(length) > LARGEST_CORRECTION:
                found.add(
                    path,
                    f"{what} is {self.say(length)}; more than {self.say(LARGEST_CORRECTION)} "
                    f"either way is no correction: {look}.",
                )


def _check_scale(found: FaultCollector, path: str, scale: Scale) -> None:
    """Note what is wrong with one scale, said in its own unit."""
    say, pins = scale.say, scale.pins
    if not ZERO < scale.step <= COARSEST_STEP:
        found.add(
            f"{path}.step",
            f"The step of the scale is {say(scale.step)}; it must be above zero and at most "
            f"{say(COARSEST_STEP)}.",
        )
    if pins is not None and not ZERO < pins.pitch <= LARGEST:
        found.add(
            f"{path}.pins.pitch",
            f"The pitch of the holes is {say(pins.pitch)}; it must be above zero and "
            f"at most {say(LARGEST)}.",
        )
    if pins is not None and not ZERO <= pins.first <= LARGEST:
        found.add(
            f"{path}.pins.first",
            f"The first hole is at {say(pins.first)}; it must be at zero or above and "
            f"at most at {say(LARGEST)}.",
        )


def usual_scale(unit: Unit) -> Scale:
    """Return a scale to begin with, in a unit, without holes. Source: from memory."""
    return Scale(unit=unit, step=mm("0.5") if unit is Unit.MM else inches("1/32"))


def usual_cutter(unit: Unit, *, name: str = "Mat cutter") -> Cutter:
    """Return a cutter to begin with, in a unit, as it comes: no holes, nothing corrected.

    Source: cut length common practice; reach and blade from memory.
    """
    metric = unit is Unit.MM
    return Cutter(
        name=name,
        cut_length=inches(40),
        guide_reach=mm(200) if metric else inches(8),
        scales=(usual_scale(unit),),
        deepest_board=mm(3) if metric else inches("1/8"),
    )
