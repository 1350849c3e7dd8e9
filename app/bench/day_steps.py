"""The steps of several pieces at the settings of their day: which step of which piece is done where (B10).

Owns the match between the one plan of a day and each piece's own order of work, so that a box ticked in one is ticked
in the other. A piece alone may visit its settings in another order, or one of them twice: steps are therefore matched
by their cuts and never by their places.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from app.bench.cuts import Cut
from app.bench.edge import Edge
from app.bench.settings import GuidePlan, Setting
from app.bench.step import Step, StepCode
from app.bench.stops import StopPlaces

_OF_A_MAT = frozenset(
    {StepCode.FIX_BEHIND, StepCode.CUT_WINDOW, StepCode.CUT_CURVES, StepCode.DROP_OUT}
)

_SIZING, _MARKING = -1, 0
"""Places before the first stand."""

_BEFORE = {StepCode.SIZE_BLANKS: _SIZING, StepCode.MARK: _MARKING}

type _CutKey = tuple[int, str, Edge]
"""What a cut is known by within its piece: layer, window, edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepOfDay:
    """A step of a piece at a place of the day.

    cuts: those of the step that are made here, in the day's order; none of a step without the guide. done: whether
    the step is done here; not while more of its cuts come at a later stand.
    """

    piece: str
    step: Step
    cuts: tuple[Cut, ...] = ()
    done: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class StandOfDay:
    """Where the stops stand while the guide stays, with the steps of all pieces there, piece by piece.

    places: none set on a cutter without stops, where a setting has one stand.
    """

    places: StopPlaces
    steps: tuple[StepOfDay, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingOfDay:
    """One move of the guide, and the stands of the stops at it in the order of work."""

    setting: Setting
    stands: tuple[StandOfDay, ...]

    @property
    def steps(self) -> tuple[StepOfDay, ...]:
        """The steps of all its stands."""
        return tuple(step for stand in self.stands for step in stand.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepsOfDay:
    """The work of a day at the cutter: blanks are sized, boards marked, mats cut setting by setting, and at the end
    those without a straight cut."""

    sizing: tuple[StepOfDay, ...]
    marking: tuple[StepOfDay, ...]
    settings: tuple[SettingOfDay, ...]
    after: tuple[StepOfDay, ...]

    def all(self) -> Iterator[StepOfDay]:
        """Yield every step in the order of the day; one whose cuts lie apart comes at each of its stands."""
        yield from self.sizing
        yield from self.marking
        for at in self.settings:
            yield from at.steps
        yield from self.after


def steps_of_day(guide: GuidePlan, pieces: Mapping[str, Sequence[Step]]) -> StepsOfDay:
    """Return the steps of some pieces at the places of the day.

    guide: of all their mats. pieces: each piece's own order of work by the name that its mats carry in the guide.
    Steps that have nothing to do with cutting mats are left out.
    """
    stands = tuple(_stands(guide))
    cut_at = _cuts_of_pieces(stands)
    there: dict[int, list[StepOfDay]] = {place: [] for place in range(_SIZING, len(stands) + 2)}
    for piece, steps in pieces.items():
        places = _Places(cut_at.get(piece, {}), len(stands) + 1, piece, steps)
        for place, step in places.all():
            there[place].append(step)
    by_setting: dict[int, list[StandOfDay]] = {}
    for place, stand in enumerate(stands, start=1):
        of_day = StandOfDay(places=stand.places, steps=tuple(there[place]))
        by_setting.setdefault(stand.setting.number, []).append(of_day)
    return StepsOfDay(
        sizing=tuple(there[_SIZING]),
        marking=tuple(there[_MARKING]),
        settings=tuple(
            SettingOfDay(setting=setting, stands=tuple(by_setting[setting.number]))
            for setting in guide.settings
        ),
        after=tuple(there[len(stands) + 1]),
    )


@dataclass(frozen=True, slots=True)
class _Stand:
    setting: Setting
    places: StopPlaces
    cuts: tuple[Cut, ...]


def _stands(guide: GuidePlan) -> Iterator[_Stand]:
    """Yield the cuts of each setting while the stops stay too."""
    for setting in guide.settings:
        for places, cuts in groupby(setting.cuts, key=lambda cut: cut.stops):
            yield _Stand(setting, places, tuple(cuts))


def _cuts_of_pieces(stands: Sequence[_Stand]) -> dict[str, dict[_CutKey, tuple[int, Cut]]]:
    """Return for each piece its cuts, each with the stand where the day makes it, from 1."""
    found: dict[str, dict[_CutKey, tuple[int, Cut]]] = {}
    for place, stand in enumerate(stands, start=1):
        for cut in stand.cuts:
            found.setdefault(cut.mat.piece, {})[_key(cut)] = place, cut
    return found


class _Places:
    """Finds the place of each step of one piece: sizing, marking, the stands from 1, one more after them.

    cut_at: the cuts of the piece, each with its stand. after: the place after all stands.
    """

    def __init__(
        self,
        cut_at: Mapping[_CutKey, tuple[int, Cut]],
        after: int,
        piece: str,
        steps: Sequence[Step],
    ) -> None:
        self.piece, self.steps = piece, steps
        self.cut_at, self.after = cut_at, after
        self.first: dict[int, int] = {}
        self.last: dict[int, int] = {}
        for (layer, _, _), (place, _) in self.cut_at.items():
            self.first[layer] = min(place, self.first.get(layer, place))
            self.last[layer] = max(place, self.last.get(layer, place))
        self.attached = {
            layer for step in steps if step.code is StepCode.FIX_BEHIND for layer in step.layers
        }

    def all(self) -> Iterator[tuple[int, StepOfDay]]:
        """Yield every step that belongs to the day with its place."""
        for step in self.steps:
            if step.code in _BEFORE:
                yield _BEFORE[step.code], StepOfDay(piece=self.piece, step=step)
            elif step.code in _OF_A_MAT and step.cuts:
                yield from self._by_cuts(step)
            elif step.code in _OF_A_MAT:
                yield self._place_of(step), StepOfDay(piece=self.piece, step=step)

    def _by_cuts(self, step: Step) -> Iterator[tuple[int, StepOfDay]]:
        """Yield a step at each stand where the day makes some of its cuts; it is done at the last of them."""
        at: dict[int, list[Cut]] = {}
        for cut in step.cuts:
            place, cut_of_day = self.cut_at[_key(cut)]
            at.setdefault(place, []).append(cut_of_day)
        for place in sorted(at):
            cuts, done = tuple(at[place]), place == max(at)
            yield place, StepOfDay(piece=self.piece, step=step, cuts=cuts, done=done)

    def _place_of(self, step: Step) -> int:
        """Return where a step without the guide is done: an under mat is fixed before its first cut, a window
        drops out after the last one of its mat."""
        layer = _layer_of(step)
        if layer not in self.last:
            return self._without_cuts(layer)
        return self.first[layer] if step.code is StepCode.FIX_BEHIND else self.last[layer]

    def _without_cuts(self, layer: int) -> int:
        """Return where a mat without a straight cut is done: before the mats that are fixed behind it, else after
        the one that it is fixed behind, else at the end."""
        behind = layer + 1
        while behind in self.attached:
            if behind in self.first:
                return self.first[behind]
            behind += 1
        above = layer
        while above in self.attached:
            above -= 1
            if above in self.last:
                return self.last[above]
        return self.after


def _key(cut: Cut) -> _CutKey:
    return cut.mat.layer, cut.window.name, cut.edge


def _layer_of(step: Step) -> int:
    """Return the mat that a step is about, which its id names: "mat-2-drop"."""
    return int(step.id.split("-")[1])
