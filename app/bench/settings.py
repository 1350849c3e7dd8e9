"""Guide settings in the order of work: the fewest moves, then the least travel (B1 to B3).

Owns the step from mats and a cutter to what is set, in which order, and which edges are cut at
each. Whether the cutter can do it is for `limits`; where the lines run is for `marks`.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import lcm

from app.bench.cuts import Cut, by_stops, cuts_of
from app.bench.cutter import Cutter
from app.bench.mats import MatToCut
from app.bench.order_search import StandOrder
from app.bench.scale import Scale, rule_in
from app.bench.stands import Stand
from app.bench.stop_routes import MOST_LOOKS, order_stands
from app.bench.stops import StopPlaces
from app.errors import Invalid
from app.framing import Concern, Notice
from app.lengths import ZERO, Length, Unit, mm

BY_STRAIGHT_EDGE = "SE"
"""What stands in a drawing for the number of a setting at a cut that is made by straight-edge."""

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
        return tuple({cut.mat.key: cut.mat for cut in self.cuts}.values())

    def off(self, cut: Cut) -> Length:
        """By how much the scale's step makes a cut's border larger than wanted (L2)."""
        return self.at - cut.wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class GuidePlan:
    """Every setting in the order of work.

    by_straight_edge: the cuts that the cutter cannot make, mat by mat; the guide is not moved for them (B4).
    begins_at: where the guide stands before. travel: from there through all settings. stop_moves: how often a stop
    of the cutter is set to another place, the first time included. fewest: no order has fewer moves of the guide.
    fewest_stops: nor as few and fewer of the stops. proven: nor as few of both and less travel.
    """

    cutter: Cutter
    begins_at: Length
    settings: tuple[Setting, ...]
    by_straight_edge: tuple[Cut, ...]
    travel: Length
    stop_moves: int
    fewest: bool
    fewest_stops: bool
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

    @property
    def numbers(self) -> dict[Cut, str]:
        """The number of each cut's setting as drawings have it, for a cut by straight-edge its sign."""
        numbered = {cut: str(one.number) for one in self.settings for cut in one.cuts}
        return numbered | dict.fromkeys(self.by_straight_edge, BY_STRAIGHT_EDGE)

    def cuts_of(self, mat: MatToCut) -> tuple[Cut, ...]:
        """Return every cut of a mat: those along the guide in the order of work, then those by straight-edge."""
        along = (cut for setting in self.settings for cut in setting.cuts)
        return tuple(cut for cut in (*along, *self.by_straight_edge) if cut.mat == mat)

    def by_hand_of(self, mat: MatToCut) -> tuple[Cut, ...]:
        """Return the cuts of a mat that are made by straight-edge."""
        return tuple(cut for cut in self.by_straight_edge if cut.mat == mat)

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

    def set_text(self, setting: Setting, ticket: Unit) -> str:
        """Return where the guide is set, as "76 (pin 70, then 6 on the scale)".

        ticket: the unit of the ticket; on a scale of another one the setting bears its unit.
        """
        at = self.text(setting.at)
        if self.cutter.unit is not ticket:
            at = self.cutter.say(setting.at)
        if setting.pin is None:
            return at
        rest = self.rest_text(setting)
        return f"{at} (pin {self.text(setting.pin)}{rest and f', then {rest} on the scale'})"

    def edges_text(self, cuts: Sequence[Cut]) -> str:
        """Return the edges of one setting as they lie, with where the stops stand for them (B9)."""
        return "; ".join(
            ", ".join(filter(None, (edges_as_they_lie(at), self.stops_text(places))))
            for places, at in by_stops(cuts)
        )

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


def edges_as_they_lie(cuts: Sequence[Cut]) -> str:
    """Return edges as "left, top"; of a mat with several windows each with the name of its window."""
    several = len(cuts[0].mat.windows) > 1
    return ", ".join(
        f"{cut.window.name} {cut.edge_as_it_lies}" if several else str(cut.edge_as_it_lies)
        for cut in cuts
    )


def plan_settings(
    mats: Sequence[MatToCut],
    cutter: Cutter,
    *,
    guide_at: Length | None = None,
    ticket: Unit | None = None,
    plans: int = 1,
) -> GuidePlan:
    """Return the settings for all mats on the bench, of one piece or of several.

    guide_at: where the guide stands; without it, at its far end. ticket: the unit of the ticket,
    where it may differ from the scale's. A cut that the cutter cannot make is no setting. Mats worked attached are cut layer by layer; all others
    are free, so that equal settings share one move (B3). Of the orders with the fewest moves of the guide it is one with
    the fewest moves of the stops (B10). plans: so many are made for one answer, and share the time that one may take.
    Raises: Invalid where the same mat is given twice.
    """
    _check_once(mats)
    begins_at = cutter.guide_reach if guide_at is None else guide_at
    queues, grain = _by_stand(list(_queues(mats, cutter)), cutter, begins_at)
    found = order_stands(
        tuple(tuple(frozenset(cuts) for cuts in queue) for queue in queues),
        grain.number(begins_at),
        most_looks=MOST_LOOKS // plans,
    )
    settings = tuple(_settings(queues, found.order, grain, cutter))
    return GuidePlan(
        cutter=cutter,
        begins_at=begins_at,
        settings=settings,
        by_straight_edge=tuple(
            cut for mat in mats for cut in cuts_of(mat, cutter) if cut.by_straight_edge
        ),
        travel=_travel(begins_at, settings),
        stop_moves=found.cost.stop_moves,
        fewest=found.fewest,
        fewest_stops=found.fewest_stops,
        proven=found.proven,
        notices=(
            *_notices(settings, cutter, ticket),
            *_without_stops(settings, cutter),
            *_not_proven(found, several=len({mat.piece for mat in mats}) > 1),
        ),
    )


type _Cuts = dict[Stand, list[Cut]]
"""The cuts of a mat by what has to be set for them."""
type _Queue = list[_Cuts]
"""The mats that wait for each other; no mat without cuts."""

_OUT_OF_THE_WAY = -1
"""Where a stop stands that cannot be set for a cut, in any grain."""


def _check_once(mats: Sequence[MatToCut]) -> None:
    for (piece, layer), times in Counter(mat.key for mat in mats).items():
        if times > 1:
            of = f" of {piece}" if piece else ""
            raise Invalid.at("mats", f"Mat {layer}{of} was given more than once; once is enough.")


def _queues(mats: Sequence[MatToCut], cutter: Cutter) -> Iterator[list[tuple[Cut, ...]]]:
    """Yield each free mat for itself; attached ones behind those that they are fixed to."""
    for layers in by_piece(mats).values():
        waiting: list[tuple[Cut, ...]] = []
        for mat in sorted(layers, key=lambda mat: mat.layer):
            if waiting and not mat.attached:
                yield waiting
                waiting = []
            along = tuple(cut for cut in cuts_of(mat, cutter) if not cut.by_straight_edge)
            if along:
                waiting.append(along)
        if waiting:
            yield waiting


def by_piece(mats: Iterable[MatToCut]) -> dict[str, list[MatToCut]]:
    """Return the mats of each piece, in the order in which the pieces come."""
    pieces: dict[str, list[MatToCut]] = {}
    for mat in mats:
        pieces.setdefault(mat.piece, []).append(mat)
    return pieces


@dataclass(frozen=True, slots=True)
class _Grain:
    """Whole numbers for lengths. parts: of a millimetre."""

    parts: int

    @classmethod
    def of(cls, lengths: Iterable[Length]) -> "_Grain":
        return cls(lcm(*{length.mm.denominator for length in lengths}))

    def number(self, length: Length) -> int:
        return int(length.mm * self.parts)

    def length(self, number: int) -> Length:
        return mm(number) / self.parts

    def stand(self, at: Length, cut: Cut, cutter: Cutter) -> Stand:
        """Return what is set for a cut; a stop that cannot be set for it stands out of the way."""
        return Stand(
            self.number(at),
            tuple(
                _OUT_OF_THE_WAY if stop is None else self.number(stop)
                for stop, there in (
                    (cut.stops.near, cutter.stops.near),
                    (cut.stops.far, cutter.stops.far),
                )
                if there
            ),
        )


def _by_stand(
    queues: list[list[tuple[Cut, ...]]], cutter: Cutter, begins_at: Length
) -> tuple[list[_Queue], _Grain]:
    """Return the cuts of each mat by what is set for them, in whole numbers."""
    at = {cut.wanted: cutter.on_scale(cut.wanted) for queue in queues for m in queue for cut in m}
    stops = (
        stop
        for queue in queues
        for cuts in queue
        for cut in cuts
        for stop in (cut.stops.near, cut.stops.far)
        if stop is not None
    )
    grain = _Grain.of((begins_at, *at.values(), *stops))
    found = list[_Queue]()
    for queue in queues:
        mats = list[_Cuts]()
        for cuts in queue:
            by_stand: _Cuts = {}
            for cut in cuts:
                by_stand.setdefault(grain.stand(at[cut.wanted], cut, cutter), []).append(cut)
            mats.append(by_stand)
        found.append(mats)
    return found, grain


def _settings(
    queues: list[_Queue], order: Iterable[Stand], grain: _Grain, cutter: Cutter
) -> Iterator[Setting]:
    """Yield every cut at the first stand that serves it; stands with one place of the guide are one setting."""
    left = [list(queue) for queue in queues]
    for number, (place, stands) in enumerate(groupby(order, key=lambda stand: stand.at), start=1):
        cuts = tuple(cut for stand in stands for queue in left for cut in _taken(queue, stand))
        at = grain.length(place)
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


def _taken(queue: _Queue, stand: Stand) -> Iterator[Cut]:
    """Yield what a queue has cut at a stand; a mat that is done lets the next one follow at once."""
    while queue and stand in queue[0]:
        yield from queue[0][stand]
        queue[0] = {other: cuts for other, cuts in queue[0].items() if other != stand}
        if queue[0]:
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
            message=f"The scale of “{cutter.name}” is in {scale} and the ticket in {other}: set the "
            f"figures in {scale}, and mark by them. Those in {other} are only a check: a round figure in "
            "one unit is not a round figure in the other.",
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
        message=f"The stops of “{cutter.name}” stand between the squaring arm and the end of its bar, "
        f"{cutter.say(cutter.cut_length)}, the far one beyond the near one. They cannot be set for "
        f"{f'{len(cuts)} cuts' if many else edges}: mark the ends that have no stop.",
        concern=Concern.LOOK,
    )


def _not_proven(found: StandOrder, *, several: bool) -> Iterator[Notice]:
    """Yield what may be better than the order that was found, the most important of it. several: pieces on the bench."""
    if found.proven:
        return
    if not found.fewest:
        code, what = "moves-not-proven", "guide settings"
    elif not found.fewest_stops:
        code, what = "stop-moves-not-proven", "stop settings"
    else:
        code, what = "travel-not-proven", "travel of the guide"
    yield Notice(
        code=code,
        message=f"{'With this many mats at once the' if several else 'The'} order of settings is a good one, but "
        f"another may have {'less' if found.fewest_stops else 'fewer'} {what}.",
        concern=Concern.NOTE,
    )
