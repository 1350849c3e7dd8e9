"""Guide settings in the order of work: the fewest moves, then the least travel (B1 to B3).

Owns the step from mats and a cutter to what is set, in which order, and which edges are cut at
each. Whether the cutter can do it is for `limits`; where the lines run is for `marks`.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import lcm

from app.bench.cuts import Cut, cuts_of
from app.bench.cutter import Cutter
from app.bench.guide_route import Chain
from app.bench.guide_routes import merge
from app.bench.mats import MatToCut
from app.bench.scale import Scale, rule_in
from app.bench.stops import StopPlaces
from app.errors import Invalid
from app.framing import Concern, Notice
from app.lengths import ZERO, Length, Unit, mm

MOST_EDGES_NAMED = 4
"""More than this many are counted instead of named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One move of the guide. number: from 1, in the order of work.

    at: on the scale, in its steps. pin: the hole at or below it, None where there is none; rest:
    what is left beyond the pin (B2); rest_read: the same, counted from where the scale reads the pin, whose
    hole may lie between its steps. cuts: in the order of work; an under mat's follow those of the mat that it is
    fixed behind.
    """

    number: int
    at: Length
    pin: Length | None
    rest: Length
    rest_read: Length
    cuts: tuple[Cut, ...]

    @property
    def mats(self) -> tuple[MatToCut, ...]:
        """The mats cut at this setting, in the order of work."""
        return tuple(dict.fromkeys(cut.mat for cut in self.cuts))

    def off(self, cut: Cut) -> Length:
        """By how much the scale's step makes a cut's border larger than wanted (L2)."""
        return self.at - cut.wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class GuidePlan:
    """Every setting in the order of work.

    begins_at: where the guide stands before. travel: from there through all settings. proven:
    no order has fewer moves, or as few and less travel.
    """

    cutter: Cutter
    begins_at: Length
    settings: tuple[Setting, ...]
    travel: Length
    proven: bool
    notices: tuple[Notice, ...]

    @property
    def moves(self) -> int:
        """How often the guide is set, the first time included."""
        return len(self.settings)

    def of_piece(self, piece: str) -> tuple[tuple[Setting, tuple[Cut, ...]], ...]:
        """Return the settings that a piece needs, each with its cuts alone."""
        own = (
            (setting, tuple(cut for cut in setting.cuts if cut.mat.piece == piece))
            for setting in self.settings
        )
        return tuple((setting, cuts) for setting, cuts in own if cuts)

    def marked_on(self, ticket: Unit) -> Scale:
        """Return what marks are read on: the scale, or a rule in the ticket's unit where nothing is set on it."""
        return self.cutter.scale if self.settings else rule_in(ticket)

    def text(self, length: Length) -> str:
        """Return a setting as it is read off the scale, bare."""
        return self.cutter.scale.text(length)

    def rest_text(self, setting: Setting) -> str:
        """Return what is left to read off the scale beyond the pin, empty where there is nothing."""
        if setting.pin is None or not setting.rest_read:
            return ""
        return self.text(setting.rest_read)

    def stops_text(self, places: StopPlaces) -> str:
        """Return where the stops stand, as "near stop 58.5, far stop 463.5"; empty where none is set (B9)."""
        return ", ".join(
            f"{which} stop {self.text(at)}"
            for which, at in (("near", places.near), ("far", places.far))
            if at is not None
        )

    def check_text(self, length: Length) -> str:
        """Return the same in the other unit, as a check and never to be set (L3)."""
        return self.cutter.scale.check(length)


def plan_settings(
    mats: Sequence[MatToCut],
    cutter: Cutter,
    *,
    guide_at: Length | None = None,
    ticket: Unit | None = None,
) -> GuidePlan:
    """Return the settings for all mats on the bench, of one piece or of several.

    guide_at: where the guide stands; without it, at its far end. ticket: the unit of the ticket,
    where it may differ from the scale's. Mats worked attached are cut layer by layer; all others
    are free, so that equal settings share one move (B3).
    Raises: Invalid where the same mat is given twice.
    """
    _check_once(mats)
    begins_at = cutter.guide_reach if guide_at is None else guide_at
    chains = tuple(_chains(mats, cutter))
    order, proven = _order(chains, cutter, begins_at)
    settings = tuple(_settings(chains, order, cutter))
    return GuidePlan(
        cutter=cutter,
        begins_at=begins_at,
        settings=settings,
        travel=_travel(begins_at, settings),
        proven=proven,
        notices=(
            *_notices(settings, cutter, ticket),
            *_without_stops(settings, cutter),
            *_not_proven(proven),
        ),
    )


type _Queue = tuple[tuple[Cut, ...], ...]
"""The cuts of mats that wait for each other, mat by mat; no mat without cuts."""


def _check_once(mats: Sequence[MatToCut]) -> None:
    keys = [mat.key for mat in mats]
    for piece, layer in keys:
        if keys.count((piece, layer)) > 1:
            of = f" of {piece}" if piece else ""
            raise Invalid.at("mats", f"Mat {layer}{of} was given more than once; once is enough.")


def _chains(mats: Sequence[MatToCut], cutter: Cutter) -> Iterator[_Queue]:
    """Yield each free mat for itself; attached ones behind those that they are fixed to."""
    for piece in dict.fromkeys(mat.piece for mat in mats):
        waiting: list[tuple[Cut, ...]] = []
        layers = (mat for mat in mats if mat.piece == piece)
        for mat in sorted(layers, key=lambda mat: mat.layer):
            if waiting and not mat.attached:
                yield tuple(waiting)
                waiting = []
            if cuts := cuts_of(mat, cutter):
                waiting.append(cuts)
        if waiting:
            yield tuple(waiting)


def _order(
    chains: tuple[_Queue, ...], cutter: Cutter, begins_at: Length
) -> tuple[tuple[Length, ...], bool]:
    """Return the values on the scale in the order of work, and whether it is proven best."""
    values = [[[cutter.on_scale(cut.wanted) for cut in cuts] for cuts in queue] for queue in chains]
    flat = [begins_at, *(value for queue in values for group in queue for value in group)]
    grain = lcm(*(value.mm.denominator for value in flat))
    numbers: tuple[Chain, ...] = tuple(
        tuple(frozenset(int(value.mm * grain) for value in group) for group in queue)
        for queue in values
    )
    merged = merge(numbers, int(begins_at.mm * grain))
    return tuple(mm(stop) / grain for stop in merged.route.stops), merged.proven


def _settings(
    chains: tuple[_Queue, ...], order: tuple[Length, ...], cutter: Cutter
) -> Iterator[Setting]:
    """Yield every cut at the first setting that serves it."""
    queues = [list(queue) for queue in chains]
    for number, at in enumerate(order, start=1):
        cuts = tuple(cut for queue in queues for cut in _taken(queue, at, cutter))
        pin = cutter.pin_at(at)
        hole = ZERO if pin is None else pin
        yield Setting(
            number=number,
            at=at,
            pin=pin,
            rest=at - hole,
            rest_read=at - cutter.on_scale(hole),
            cuts=cuts,
        )


def _taken(queue: list[tuple[Cut, ...]], at: Length, cutter: Cutter) -> Iterator[Cut]:
    """Yield what a queue has cut at a setting; a mat that is done lets the next one follow at once."""
    while queue:
        here = tuple(cut for cut in queue[0] if cutter.on_scale(cut.wanted) == at)
        left = tuple(cut for cut in queue[0] if cut not in here)
        yield from here
        if left:
            queue[0] = left
            return
        queue.pop(0)


def _travel(begins_at: Length, settings: Iterable[Setting]) -> Length:
    travel, stands = ZERO, begins_at
    for setting in settings:
        travel, stands = travel + abs(setting.at - stands), setting.at
    return travel


def _notices(
    settings: tuple[Setting, ...], cutter: Cutter, ticket: Unit | None
) -> Iterator[Notice]:
    if settings and ticket is not None and ticket is not cutter.unit:
        scale, other = ("mm", "inches") if cutter.unit is Unit.MM else ("inches", "mm")
        yield Notice(
            code="two-scales",
            message=f"The scale of {cutter.name} is in {scale} and the ticket in {other}: set the "
            f"figures in {scale}, and mark by them. Those in {other} are a check; round figures on the "
            "two scales are not equal.",
        )
    off = max((abs(setting.off(cut)) for setting in settings for cut in setting.cuts), default=ZERO)
    if off:
        yield Notice(
            code="between-scale-marks",
            message=f"Some settings lie between the steps of the scale, {cutter.say(cutter.step)}; "
            f"the nearest step is at most {cutter.say(off)} off.",
            concern=Concern.NOTE,
        )


def _without_stops(settings: tuple[Setting, ...], cutter: Cutter) -> Iterator[Notice]:
    """Yield which ends no stop can bind although the cutter has one there; they are marked (B4, B9)."""
    cuts = [cut for setting in settings for cut in setting.cuts if cut.stops_missing]
    if not cuts:
        return
    edges = ", ".join(dict.fromkeys(f"{cut.window.name} {cut.edge_as_it_lies}" for cut in cuts))
    many = len(cuts) > MOST_EDGES_NAMED
    yield Notice(
        code="stop-out-of-reach",
        message=f"The stops of {cutter.name} stand between the squaring arm and the end of its bar, "
        f"{cutter.say(cutter.cut_length)}, the far one beyond the near one. They cannot be set for "
        f"{f'{len(cuts)} cuts' if many else edges}: an end without a stop is marked.",
        concern=Concern.LOOK,
    )


def _not_proven(proven: bool) -> Iterator[Notice]:
    if not proven:
        yield Notice(
            code="moves-not-proven",
            message="With this many attached mats at once the order of settings is a good one, but "
            "it was not proven that no other has fewer moves.",
            concern=Concern.NOTE,
        )
