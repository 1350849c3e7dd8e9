"""The few numbers that answer a page at once, as they stand above all else on it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """One number: what it counts, the number as it is printed, and what follows from it."""

    label: str
    number: str
    note: str = ""
    href: str = ""
    """Where what is counted is listed; empty where the page itself lists it."""
    act: tuple[str, str] | None = None
    """What to do about it: words and address."""
    late: bool = False
    """Stands out, since it ought to be none."""
