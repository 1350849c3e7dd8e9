"""What a shop wants to have of a material: when to buy, in what packs, where it lies.

Owns the levels as values. How many there are is for `balances`.
"""

from dataclasses import dataclass

from app.errors import FaultCollector

LARGEST_COUNT = 100_000
"""No shelf of one shop holds more of one thing; more is a slip of the key. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """The levels of one material.

    reorder_at: buy when so few whole ones or fewer are free; None where nobody minds. pack: how many
    are bought together. place: where it usually lies.
    Raises: Invalid with every fault, at "reorder_at", "pack", "place".
    """

    reorder_at: int | None = None
    pack: int = 1
    place: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.reorder_at is not None and not 0 <= self.reorder_at <= LARGEST_COUNT:
            faults.add(
                "reorder_at",
                f"The reorder level is {self.reorder_at}; 0 to {LARGEST_COUNT} is allowed, "
                "or nothing where it need not be watched.",
            )
        if not 1 <= self.pack <= LARGEST_COUNT:
            faults.add("pack", f"The pack holds {self.pack}; 1 to {LARGEST_COUNT} is allowed.")
        if len(self.place) > 60:
            faults.add("place", f"The place has {len(self.place)} characters; at most 60 are kept.")
        faults.finish()


NO_LEVELS = Levels()
"""Of a material for which nothing was set: not watched, bought one by one."""
