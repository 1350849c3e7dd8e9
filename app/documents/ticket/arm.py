"""What is set on the squaring arm to size the blanks of a piece, beside its cut list (B11)."""

from dataclasses import dataclass

from app.documents.kit.printing import Figures
from app.orders.workbench import Workbench


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmRow:
    """One setting of the arm's stop. at: as the scale reads, on a ticket in the other unit with its check value."""

    at: str
    what: str

    @property
    def says(self) -> str:
        """The row as a clause: "500: height of mat"."""
        return f"{self.at}: {self.what}"


def arm_rows(bench: Workbench, figures: Figures) -> tuple[ArmRow, ...]:
    """Return the settings, in the order of work; none on a cutter that says nothing of an arm."""
    if bench.sizing is None:
        return ()
    scale = bench.cutter.scale
    return tuple(
        ArmRow(at=scale.mark(one.at, figures.unit), what=one.in_words)
        for one in bench.sizing.settings
    )
