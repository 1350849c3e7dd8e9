"""Figures of the trade that a notice is measured by, the same for a piece in either unit.

Custom gives them in round millimetres and in round inches, which are never quite equal. What counts is
one length: the lesser of the two, so that neither of the customary figures is pointed out.
"""

from dataclasses import dataclass

from app.framing.spec import DEFAULTS
from app.lengths import Length, Unit, mm, show, show_on_rule


@dataclass(frozen=True, slots=True)
class Usual:
    """A customary figure in either unit."""

    metric: Length
    imperial: Length

    @property
    def least(self) -> Length:
        """What a piece is measured by."""
        return min(self.metric, self.imperial)

    def or_own(self, own: Length | None, unit: Unit) -> tuple[Length, str]:
        """Return what a piece is measured by and how that is said: both figures, as "50 mm or 2 in".

        own: what the shop has set in their place, which is said in a unit.
        """
        if own is not None:
            return own, show_on_rule(own, unit, mark=True)
        both = f"{show(self.metric, Unit.MM, mark=True)} or {show(self.imperial, Unit.IN)} in"
        return self.least, both


_METRIC, _IMPERIAL = DEFAULTS[Unit.MM], DEFAULTS[Unit.IN]

SMALLEST_BORDER = Usual(_METRIC.smallest_border, _IMPERIAL.smallest_border)
"""Source: G5."""

LEAST_BRIDGE = Usual(_METRIC.least_bridge, _IMPERIAL.least_bridge)
"""Source: G9."""

LEAST_COVER = min(_METRIC.overlap, _IMPERIAL.overlap) / 2
"""Less than this of an artwork is barely covered: half the usual overlap. Source: G1; ours."""

LEAST_GAP = min(_METRIC.gap, _IMPERIAL.gap) / 2
"""Less than this is little of a gap around what floats: half the usual one. Source: G2; ours."""

FIXING_ROOM = mm(2)
"""Depth left behind the stack for the fixing points. Source: D1, common practice."""

LEAST_TUCK = mm(2)
"""Less than this of a fillet behind the mat is little to glue by. Source: from memory, a default."""


def in_both(length: Length, unit: Unit) -> str:
    """Return a figure of millimetres as said in a unit: "2 mm", or "2 mm (5/64")"."""
    metric = show(length, Unit.MM, mark=True)
    return metric if unit is Unit.MM else f"{metric} ({show_on_rule(length, unit, mark=True)})"
