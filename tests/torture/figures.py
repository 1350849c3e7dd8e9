"""What came of a torture: figures to print, and what went wrong."""

from collections.abc import Mapping
from dataclasses import dataclass

MOST_SHOWN = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What was counted, by what it is called, and everything that must not have happened."""

    counted: Mapping[str, object]
    wrong: tuple[str, ...]

    def text(self) -> str:
        """All of it, a line each."""
        lines = [f"{what} {figure}" for what, figure in self.counted.items()]
        lines.append(f"wrong: {len(self.wrong)}")
        return "\n  ".join(["", *lines, *self.wrong[:MOST_SHOWN]]).lstrip("\n")
