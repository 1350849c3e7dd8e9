"""The sizes of parts as a plan prints them: in whole steps of the shop, as they are set at saw, knife and glass cutter.

A piece that is worked in the other unit has sizes that lie on no step of the shop's scale: 20 5/8 in is 523.875 mm.
The plan lays such parts exactly; what it prints is what can be set. Which way that goes follows L2, as on the ticket
of a piece: rails of frames and fillets up, so that a frame is never too small for what goes into it; glazing,
mount board, backing and spacers down, so that they enter the rebate; blanks of mats to the nearest step. A size
that lies on a step already is left as it is.

A length that is cut of a sheet has one figure: in the list of parts, in the drawing, at the setting of its cut and on
the squaring arm (L2, B11). Where a mat and a board of one material have the same length, both go down. Where the arm
can be set no finer than in coarser steps, or reads the other unit, the part is printed as it is set there.

Rails that are printed longer may together be longer than their stick. Where a stick would not hold them so, its
rails are printed to a tenth of a millimetre or 1/32 in, up, so that the last one is not cut short.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

from app.bench import set_on_arm
from app.cutting import LaidPart, LaidRail, OpenedStick, SheetProblem, StickProblem
from app.lengths import Length, Size, Steps, Unit, inches, mm, nearest_fraction_text, say, show

_DOWN = ("glazing", "mount-board", "backing", "spacer")
"""How the keys of the parts begin that are cut no larger than they are."""

_FINER: Mapping[Unit, Length] = {Unit.MM: mm("0.1"), Unit.IN: inches("1/32")}
_FINEST: Mapping[Unit, Length] = {Unit.MM: mm("0.1"), Unit.IN: inches("1/64")}

_TENTHS = Steps(unit=Unit.MM, step=_FINER[Unit.MM])
_BY = "\N{MULTIPLICATION SIGN}"


def rail_as_set(part: str, length: Length, steps: Steps) -> Length:
    """Return what a rail or a strip is cut to, never shorter than it is; a spacer never longer.

    part: its id, or its key.
    """
    return steps.down(length) if _goes_down(part) else steps.up(length)


def blank_as_set(part: str, size: Size, steps: Steps) -> Size:
    """Return what a blank or a pane is cut to: that of a mat to the nearest step, any other never larger than it is."""
    to = _way_of(part, steps)
    return Size(to(size.width), to(size.height))


def _way_of(part: str, steps: Steps) -> Callable[[Length], Length]:
    return steps.down if _goes_down(part) else steps.nearest


def _goes_down(part: str) -> bool:
    return part.rpartition("/")[2].startswith(_DOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class StickAsSet:
    """A stick as it is printed. steps: of the shop."""

    opened: OpenedStick
    asked: StickProblem
    steps: Steps

    @property
    def _fine(self) -> Steps:
        """Those that its rails are printed in: of the shop where the stick holds them so, else finer ones."""
        shown = [rail_as_set(laid.id, laid.length, self.steps) for laid in self.opened.parts]
        stick = next(each.length for each in self.asked.stock if each.id == self.opened.stock)
        lost = self.asked.kerf * max(len(shown) - 1, 0) + self.asked.end_trim * 2
        if sum(shown, lost) <= stick:
            return self.steps
        return Steps(unit=self.steps.unit, step=_FINER[self.steps.unit])

    def rail(self, laid: LaidRail) -> Length:
        """Return what a rail of it is cut to."""
        return rail_as_set(laid.id, laid.length, self._fine)


@dataclass(frozen=True, kw_only=True)
class SheetAsSet:
    """A sheet as it is printed: a length that is cut has one figure, whatever part has it and wherever it stands.

    asked: with every part of the material. steps: of the shop. arm: those of the squaring arm that the parts are
    sized on; None where they are on none.
    """

    asked: SheetProblem
    steps: Steps
    arm: Steps | None = None

    def part(self, laid: LaidPart) -> Size:
        """Return what a part of it is cut to, as it lies."""
        return Size(self.distance(laid.size.width), self.distance(laid.size.height))

    def distance(self, exact: Length) -> Length:
        """Return how a length is printed, as the side of a part and as the setting that frees it: as it is set on
        the arm, where that reads the shop's unit; else the check value of what is set there (L3).
        """
        if self.arm is None:
            return self.on_arm(exact, self.steps)
        set_to = self.on_arm(exact, self.arm)
        if self.arm.unit is self.steps.unit:
            return set_to
        return Steps(unit=self.steps.unit, step=_FINER[self.steps.unit]).nearest(set_to)

    def on_arm(self, exact: Length, arm: Steps) -> Length:
        """Return what the arm is set to for a length: in the shop's steps, and where the arm has coarser ones or reads
        the other unit, in those of the arm.
        """
        return set_on_arm(exact, arm, self.steps, down=exact in self._down)

    @cached_property
    def _down(self) -> frozenset[Length]:
        """The lengths that a part of the material is cut no larger than."""
        return frozenset(
            side
            for part in self.asked.parts
            if _goes_down(part.id)
            for side in (part.size.width, part.size.height)
        )


def kept_as_measured(kept: Length | Size, steps: Steps) -> Length | Size:
    """Return what lies on the rack as it is measured: down to whole steps, since so much is surely there."""
    if isinstance(kept, Size):
        return Size(steps.down(kept.width), steps.down(kept.height))
    return steps.down(kept)


def say_stock(stock: Length | Size, unit: Unit) -> str:
    """Return how long a stick or how large a sheet is, with its unit: exactly where a rule shows it, else down to
    0.1 mm or 1/32 in, since so much is surely there.
    """
    finest = Steps(unit=unit, step=_FINEST[unit])
    sides = (stock.width, stock.height) if isinstance(stock, Size) else (stock,)
    if all(finest.down(side) == side for side in sides):
        return say(stock, unit)
    return say(kept_as_measured(stock, Steps(unit=unit, step=_FINER[unit])), unit)


def say_as_set(part: str, exact: Length | Size, steps: Steps) -> str:
    """Return a part's size with its unit; where it was rounded, with the exact size in the other unit beside it:
    '524 × 676.5 mm (20 5/8 × 26 5/8")'.
    """
    if isinstance(exact, Size):
        shown: Length | Size = blank_as_set(part, exact, steps)
    else:
        shown = rail_as_set(part, exact, steps)
    said = say(shown, steps.unit)
    return said if shown == exact else f"{said} ({_in_other(exact, steps.unit)})"


def _in_other(exact: Length | Size, unit: Unit) -> str:
    sides = (exact.width, exact.height) if isinstance(exact, Size) else (exact,)
    if unit is Unit.MM:
        return f" {_BY} ".join(map(nearest_fraction_text, sides)) + '"'
    return f" {_BY} ".join(show(_TENTHS.nearest(side), Unit.MM) for side in sides) + " mm"
