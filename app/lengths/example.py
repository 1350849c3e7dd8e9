"""Examples of lengths and sizes, for the sentence that asks for one.

Owns how an example is written. Which example goes with a field is said where the field is declared.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from app.lengths.length import Length, Unit
from app.lengths.printing import show, show_size
from app.lengths.size import Size


@dataclass(frozen=True, slots=True)
class Example:
    """What a field may well hold, as a round figure of each unit."""

    mm: Length | Size
    inches: Length | Size

    @classmethod
    def of(cls, usual: Callable[[Unit], Length | Size]) -> "Example":
        """Return the example that a usual value is, which there is in both units."""
        return cls(usual(Unit.MM), usual(Unit.IN))

    def said(self, unit: Unit) -> str:
        """Return both ways of typing it, that of the unit first: '3000 mm or 120"'."""
        ways = {Unit.MM: _shown(self.mm, Unit.MM), Unit.IN: _shown(self.inches, Unit.IN)}
        return f"{ways.pop(unit)} or {' '.join(ways.values())}"


type Examples = Mapping[str, Example]
"""The examples of a form's fields, by their paths without the numbers of rows: "mats.reveal"."""


def example_at(examples: Examples, path: str) -> Example | None:
    """Return the example of a field, whichever row it stands in."""
    return examples.get(".".join(part for part in path.split(".") if not part.isdigit()))


@lru_cache(maxsize=200)
def _shown(value: Length | Size, unit: Unit) -> str:
    """Return an example as one would type it; there are few, and each key of a form asks for them again."""
    if isinstance(value, Size):
        return show_size(value, unit, mark=True).replace("\N{MULTIPLICATION SIGN}", "x")
    return show(value, unit, mark=True)
