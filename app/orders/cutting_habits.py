"""How a shop cuts up sticks and sheets, as far as a cutting plan asks (C1 to C3).

A value with defaults for each unit. The loss at the saw and the smallest sheet offcut that is kept
are the shop's own (`shop`), since prices and fallouts ask for them too.
"""

from dataclasses import dataclass

from app.cutting import Together
from app.errors import FaultCollector
from app.lengths import ZERO, Length, Unit, inches, mm
from app.pricing.stock import spoken

STAGES = (2, 3, 4, 5)
"""How often the direction of cuts may change on a sheet. Source: facts of the trade's solvers; three
is common practice."""

KEEP_LENGTH = {Unit.MM: mm(300), Unit.IN: inches(12)}
"""The shortest stick offcut that is kept. Source: ours; with 20 mm of face two make a small frame."""

LONGEST_TRIM = mm(500)
"""A guard against a trim typed in the wrong unit. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingHabits:
    """What a shop sets once for all its cutting plans.

    end_trim: cut off at each end of a stick; sheet_trim: at each edge of a sheet. keep_length: the
    shortest offcut of a stick that goes back to the rack. stages: how many times the direction of
    cuts may change on a sheet. together: whether rails of a frame come from one stick.
    Raises: Invalid with every fault, at the field's name.
    """

    end_trim: Length = ZERO
    sheet_trim: Length = ZERO
    keep_length: Length = KEEP_LENGTH[Unit.MM]
    stages: int = 3
    together: Together = Together.PREFERRED

    def __post_init__(self) -> None:
        faults = FaultCollector()
        for path, name, trim in (
            ("end_trim", "trim at the ends of a stick", self.end_trim),
            ("sheet_trim", "trim at the edges of a sheet", self.sheet_trim),
        ):
            if not ZERO <= trim <= LONGEST_TRIM:
                faults.add(
                    path, f"The {name} is {spoken(trim)}; 0 to {spoken(LONGEST_TRIM)} is allowed."
                )
        if self.keep_length < ZERO:
            faults.add(
                "keep_length",
                f"The shortest stick to keep is {spoken(self.keep_length)}; zero or more is allowed.",
            )
        if self.stages not in STAGES:
            allowed = ", ".join(map(str, STAGES))
            faults.add("stages", f"There are {self.stages} stages; {allowed} are allowed.")
        faults.finish()

    @classmethod
    def usual(cls, unit: Unit) -> "CuttingHabits":
        """Return the defaults as round figures of a unit."""
        return cls(keep_length=KEEP_LENGTH[unit])
