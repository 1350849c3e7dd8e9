"""What a shop usually takes for a piece: its mat, glazing and boards, and what it hangs by, by weight and width.

A value, empty until the shop says any; materials are named by their codes. What of it a form is filled with is for
`quoting/usual`.
"""

from dataclasses import dataclass
from fractions import Fraction

from app.errors import FaultCollector
from app.framing.mass import HEAVIEST_KG
from app.lengths import ZERO, Length
from app.pricing.chosen import MOST_OF_ONE
from app.pricing.stock import spoken

MOST_PARTS = 2
"""Kinds of parts that one choice of hanging names: rings and wire. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualPart:
    """Parts of one kind. material: its code. Raises: Invalid at "material", "count"."""

    material: str
    count: int = 1

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not self.material.strip():
            faults.add("material", "Say which part it is.")
        if not 1 <= self.count <= MOST_OF_ONE:
            faults.add("count", f"The count is {self.count}; 1 to {MOST_OF_ONE} is allowed.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualHanging:
    """What pieces up to a weight and a width hang by. up_to_kg, up_to_width: None where there is no limit.

    Raises: Invalid at "up_to_kg", "up_to_width", "parts".
    """

    up_to_kg: Fraction | None = None
    up_to_width: Length | None = None
    parts: tuple[UsualPart, ...]

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.up_to_kg is not None and not 0 < self.up_to_kg <= HEAVIEST_KG:
            faults.add("up_to_kg", f"The weight must be above zero and at most {HEAVIEST_KG} kg.")
        if self.up_to_width is not None and self.up_to_width <= ZERO:
            faults.add(
                "up_to_width", f"The width is {spoken(self.up_to_width)}; it must be above zero."
            )
        if not 1 <= len(self.parts) <= MOST_PARTS:
            faults.add("parts", f"Name one part or up to {MOST_PARTS} that such a piece hangs by.")
        faults.finish()

    @property
    def limited(self) -> bool:
        """Whether some pieces are too heavy or too wide for it."""
        return self.up_to_kg is not None or self.up_to_width is not None

    def holds(self, kg: Fraction, width: Length) -> bool:
        """Tell whether a piece of a weight and an outside width is within its limits, which count themselves."""
        return (self.up_to_kg is None or kg <= self.up_to_kg) and (
            self.up_to_width is None or width <= self.up_to_width
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualChoices:
    """What a new piece begins with. mat, glazing, mount_board, backing: codes; "" for none. hanging: the first
    that holds a piece is taken.
    """

    mat: str = ""
    glazing: str = ""
    mount_board: str = ""
    backing: str = ""
    hanging: tuple[UsualHanging, ...] = ()

    def hanging_for(self, kg: Fraction, width: Length) -> tuple[UsualPart, ...]:
        """Return the parts that a piece of a weight and an outside width usually hangs by; none where no choice holds it."""
        fitting = (each for each in self.hanging if each.holds(kg, width))
        return next((each.parts for each in fitting), ())
