"""The shop's hand mat cutter, described once.

Owns what a cutter is, what makes a description impossible, and the usual figures. What it cannot
do with a given mat is for `limits`; where its corrections come from is for `testcut`.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import floor

from app.bench.scale import Scale
from app.errors import FaultCollector
from app.lengths import LARGEST, ZERO, Length, Steps, Unit, inches, mm, show

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """One cutter. Raises: Invalid with every fault, each at the name of its field.

    cut_length: the longest run of the head. guide_reach: the largest setting of the guide, which
    is also its far end. step: the finest that the shop reads off the scale, which is in `unit`.
    pin_pitch, first_pin: holes for a pin lie at first_pin and every pitch from there; None without
    holes. guide_correction: signed, added to every setting (B1). start_offset, end_offset: how far
    beyond the corner of the window a cut begins and ends; signed, less than zero is short of it
    (B5). deepest_board: the thickest board that the blade goes through.
    """

    name: str
    cut_length: Length
    guide_reach: Length
    unit: Unit
    step: Length
    pin_pitch: Length | None = None
    first_pin: Length | None = None
    reads: Reads = Reads.BACK_LINE
    stroke: Stroke = Stroke.PULL
    guide_correction: Length = ZERO
    start_offset: Length = ZERO
    end_offset: Length = ZERO
    deepest_board: Length
    cuts_ovals: bool = False

    def __post_init__(self) -> None:
        found = FaultCollector()
        self._check_name(found)
        self._check_sizes(found)
        self._check_pins(found)
        self._check_corrections(found)
        found.finish()

    @property
    def scale(self) -> Scale:
        """The scale on which the cutter is set and its marks are read."""
        return Scale(Steps(unit=self.unit, step=self.step))

    def on_scale(self, length: Length) -> Length:
        """Return the nearest step of the scale; half-way goes up."""
        return Steps(unit=self.unit, step=self.step).nearest(length)

    def pin_at(self, setting: Length) -> Length | None:
        """Return the hole at or below a setting (B2); None without holes or below the first one."""
        if self.pin_pitch is None or self.first_pin is None or setting < self.first_pin:
            return None
        return self.first_pin + self.pin_pitch * floor((setting - self.first_pin) / self.pin_pitch)

    def say(self, length: Length) -> str:
        """Return a length for a sentence, in the unit of the scale."""
        return show(length, self.unit, mark=True)

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
            ("step", "The step of the scale", self.step, COARSEST_STEP),
            ("deepest_board", "The thickest board", self.deepest_board, COARSEST_STEP * 4),
        ):
            if not ZERO < length <= most:
                found.add(
                    path,
                    f"{what} is {self.say(length)}; it must be above zero and at most "
                    f"{self.say(most)}.",
                )

    def _check_pins(self, found: FaultCollector) -> None:
        if (self.pin_pitch is None) != (self.first_pin is None):
            missing = "pin_pitch" if self.pin_pitch is None else "first_pin"
            found.add(
                missing,
                "Holes for a pin are described by the first one and the pitch; give both, or "
                "neither where there are none.",
            )
        if self.pin_pitch is not None and not ZERO < self.pin_pitch <= LARGEST:
            found.add(
                "pin_pitch",
                f"The pitch of the holes is {self.say(self.pin_pitch)}; it must be above zero and "
                f"at most {self.say(LARGEST)}.",
            )
        if self.first_pin is not None and not ZERO <= self.first_pin <= LARGEST:
            found.add(
                "first_pin",
                f"The first hole is at {self.say(self.first_pin)}; it must be at zero or above and "
                f"at most at {self.say(LARGEST)}.",
            )

    def _check_corrections(self, found: FaultCollector) -> None:
        for path, what, length in (
            ("guide_correction", "The correction of the guide", self.guide_correction),
            ("start_offset", "The offset at the start", self.start_offset),
            ("end_offset", "The offset at the end", self.end_offset),
        ):
            if abs(length) > LARGEST_CORRECTION:
                found.add(
                    path,
                    f"{what} is {self.say(length)}; more than {self.say(LARGEST_CORRECTION)} "
                    "either way is no correction: look at the guide, the scale and the stops.",
                )


def usual_cutter(unit: Unit, *, name: str = "Mat cutter") -> Cutter:
    """Return a cutter to begin with, in a unit, as it comes: no holes, nothing corrected.

    Source: cut length common practice; reach, step and blade from memory.
    """
    metric = unit is Unit.MM
    return Cutter(
        name=name,
        cut_length=inches(40),
        guide_reach=mm(200) if metric else inches(8),
        unit=unit,
        step=mm("0.5") if metric else inches("1/32"),
        deepest_board=mm(3) if metric else inches("1/8"),
    )
