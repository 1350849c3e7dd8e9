"""The stops on the bar of a cutter, as they are clamped there.

Owns which stops a cutter has and what a test cut corrects of them.
"""

from dataclasses import dataclass

from app.lengths import ZERO, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Stops:
    """The stops that bind the way of the head.

    near: the one at the squaring arm, where the near edge of the board lies; far: the one at the other
    end of the bar. near_correction, far_correction: signed, added to the distance of the stop from the arm.
    """

    near: bool = False
    far: bool = False
    near_correction: Length = ZERO
    far_correction: Length = ZERO
