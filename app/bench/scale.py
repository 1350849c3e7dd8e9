"""The scale of a cutter: what is set and marked there is read in its unit and its steps (B1, B5, L3).

Owns how a length of the work becomes a figure to set or to mark, and its check value in the other
unit. Nothing at the cutter is written in another way.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import floor

from app.lengths import Length, Steps, Unit, inches, mm, show

_CHECKS = {
    Unit.MM: Steps(unit=Unit.MM, step=mm("0.1")),
    Unit.IN: Steps(unit=Unit.IN, step=inches("1/32")),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PinRow:
    """The holes for a pin beside a scale: the first one, and one every pitch from there."""

    first: Length
    pitch: Length

    def at(self, setting: Length) -> Length | None:
        """Return the hole at or below a setting (B2); None below the first one."""
        if setting < self.first:
            return None
        return self.first + self.pitch * floor((setting - self.first) / self.pitch)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """One scale. step: the finest that the shop reads off it, more than zero. pins: None without holes."""

    unit: Unit
    step: Length
    pins: PinRow | None = None

    @property
    def steps(self) -> Steps:
        """Its unit and its step, by which lengths are rounded."""
        return Steps(unit=self.unit, step=self.step)

    @property
    def other(self) -> Unit:
        """The unit of the check values."""
        return self.unit.other

    def nearest(self, length: Length) -> Length:
        """Return the nearest step; half-way goes up."""
        return self.steps.nearest(length)

    def say(self, length: Length) -> str:
        """Return a length for a sentence, exact, in its unit."""
        return show(length, self.unit, mark=True)

    def text(self, length: Length) -> str:
        """Return a setting or a mark as it is read off the scale, bare."""
        return _text(self, length)

    def checked(self, length: Length) -> Length:
        """Return what is set or marked, to the nearest 1/32 in or 0.1 mm of the other unit (L3)."""
        return _CHECKS[self.other].nearest(self.nearest(length))

    def check(self, length: Length) -> str:
        """Return the same as text, bare; never to be set."""
        return _check(self, length)

    def mark(self, length: Length, ticket: Unit) -> str:
        """Return a mark, and on a ticket in the other unit its check value, as "62 (2 7/16)"."""
        return self.text(length) + ("" if ticket is self.unit else f" ({self.check(length)})")


@lru_cache(maxsize=4096)
def _text(scale: Scale, length: Length) -> str:
    return show(scale.nearest(length), scale.unit)


@lru_cache(maxsize=4096)
def _check(scale: Scale, length: Length) -> str:
    return show(scale.checked(length), scale.other)


_RULES = {
    Unit.MM: Scale(unit=Unit.MM, step=mm("0.25")),
    Unit.IN: Scale(unit=Unit.IN, step=inches("1/64")),
}
"""Half the finest step that a shop cuts in, on which the middle of a window lies too."""


def rule_in(unit: Unit) -> Scale:
    """Return a rule, for what is marked where nothing is set on a cutter."""
    return _RULES[unit]
