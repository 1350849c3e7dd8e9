"""The stops on the bar, which bind the way of the head: where they are set for a cut (B9).

Owns what stops a cutter has, and the sum that places them. Which end of a cut lies at the squaring
arm is for `cuts`; what they make needless to mark, for `marks`.
"""

from dataclasses import dataclass

from app.lengths import ZERO, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class StopPlaces:
    """How far from the squaring arm each stop is set, along the bar; None for one that is not set."""

    near: Length | None = None
    far: Length | None = None

    @property
    def any_set(self) -> bool:
        """Whether there is a stop to set."""
        return self.near is not None or self.far is not None


NO_STOPS = StopPlaces()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stops:
    """What stops a cutter has.

    near: one on the side of the squaring arm, where the near edge of the board lies; far: one on the
    other side of the head. near_correction, far_correction: signed, added to where each is set.
    guide_on_right: the guide lies to the right of the bar, so that the arm is at the other end of a cut.
    """

    near: bool = False
    far: bool = False
    near_correction: Length = ZERO
    far_correction: Length = ZERO
    guide_on_right: bool = False

    @property
    def fitted(self) -> bool:
        """Whether the cutter has any."""
        return self.near or self.far

    def places(self, *, near: Length, far: Length) -> StopPlaces:
        """Return where the stops of a cut are set, exact.

        near, far: how far its two ends lie from the squaring arm, overcuts included. Source: handbook B9.
        """
        return StopPlaces(
            near=near + self.near_correction if self.near else None,
            far=far + self.far_correction if self.far else None,
        )
