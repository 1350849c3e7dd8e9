"""The order of cuts at the bench: sheets by the setting of the guide, sticks by the stop.

Owns the way from places on a sheet to distances that a person sets: each measured from the edge of the
piece in hand. It takes a plan that was proven (`app.cutting.checker`).
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import groupby

from app.cutting import OpenedSheet, OpenedStick, SheetCut, SheetProblem, Way
from app.lengths import ZERO, Length, Size

type _Place = tuple[Length, Length, Length, Length]
"""Left, top, right, bottom."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StripCut:
    """One cut of the piece in hand. strip: its name, "2.1" for the first piece of strip 2, "" for the
    sheet. size: of the piece in hand, as it lies in the drawing. frees: the parts that are done with
    it, by their ids; none where strips, an offcut or waste come of it. cut: as the plan has it.
    """

    strip: str
    size: Size
    frees: tuple[str, ...]
    cut: SheetCut


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideSetting:
    """One setting of the guide and what is cut at it.

    distance: from the edge of the piece in hand: the left one for cuts down, the top one for cuts
    across; for trims (stage 0) the edge that comes off. stage: as the cuts'.
    """

    stage: int
    way: Way
    distance: Length
    cuts: tuple[StripCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StopSetting:
    """One setting of the saw's stop, by the long point, and the parts that are cut at it, by id."""

    length: Length
    parts: tuple[str, ...]


def stop_settings(opened: OpenedStick) -> tuple[StopSetting, ...]:
    """Return the rails of a stick from its left end, neighbours of one length at one setting of the stop."""
    runs = groupby(opened.parts, key=lambda laid: laid.length)
    return tuple(
        StopSetting(length=length, parts=tuple(laid.id for laid in run)) for length, run in runs
    )


def guide_settings(opened: OpenedSheet, asked: SheetProblem) -> tuple[GuideSetting, ...]:
    """Return the cuts of a sheet in an order of work with few settings of the guide.

    All cuts of a stage come before those of the next. Within a stage the largest distance that waits
    at any strip comes first, and every strip that it can be cut from next is cut at it; along one
    strip the plan's own order holds, so that each part lies where the drawing has it.
    """
    made = _Bench(opened, asked)
    waiting: dict[tuple[int, Way], dict[str, list[_Made]]] = defaultdict(lambda: defaultdict(list))
    for cut in opened.cuts:
        one = made.cut(cut)
        # Trims are made one after the other; what is cut along one strip stays in its order.
        waiting[cut.stage, cut.way][one.cut.strip].append(one)
    ordered = sorted(waiting, key=lambda key: key[0])
    return tuple(setting for key in ordered for setting in _settings(key[0], key[1], waiting[key]))


def _settings(stage: int, way: Way, strips: Mapping[str, list["_Made"]]) -> Iterator[GuideSetting]:
    left = {strip: list(cuts) for strip, cuts in strips.items()}
    while left := {strip: cuts for strip, cuts in left.items() if cuts}:
        to_come = {one.makes for cuts in left.values() for one in cuts}
        there = [cuts for strip, cuts in left.items() if strip not in to_come]
        distance = max(cuts[0].distance for cuts in there)
        taken: list[StripCut] = []
        for cuts in there:
            while cuts and cuts[0].distance == distance:
                taken.append(cuts.pop(0).cut)
        yield GuideSetting(stage=stage, way=way, distance=distance, cuts=tuple(taken))


@dataclass(frozen=True, slots=True)
class _Made:
    """A cut, how far from the edge of the piece in hand it is, and the strip that comes off."""

    distance: Length
    cut: StripCut
    makes: str | None = None


@dataclass(slots=True)
class _Strip:
    """A piece in hand. way: of the cuts made along it so far; children: how many came off."""

    name: str
    place: _Place
    way: Way | None = None
    children: int = 0

    def child(self) -> str:
        """Return the name of the next piece that comes off."""
        self.children += 1
        return f"{self.name}.{self.children}" if self.name else str(self.children)


@dataclass(slots=True)
class _Bench:
    """The pieces of a sheet while it is cut, by names that last."""

    opened: OpenedSheet
    asked: SheetProblem
    strips: list[_Strip] = field(default_factory=list)
    parts: dict[_Place, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        sizes = {sheet.id: sheet.size for sheet in self.asked.stock}
        size = sizes[self.opened.stock]
        self.strips.append(_Strip("", (ZERO, ZERO, size.width, size.height)))
        for laid in self.opened.parts:
            right, bottom = laid.x + laid.size.width, laid.y + laid.size.height
            self.parts[laid.x, laid.y, right, bottom] = laid.id

    def cut(self, cut: SheetCut) -> _Made:
        """Make a cut; what comes off and what is left are pieces in hand from then on."""
        strip = next(each for each in self.strips if _crosses(each.place, cut))
        begin, end = _span(strip.place, cut.way)
        size = _size(strip.place)
        if cut.stage == 0:
            return self._trim(strip, cut, size)
        if strip.way is not None and strip.way is not cut.way:
            # What was left along a strip is cut the other way: a piece of that strip in its own right.
            self.strips.remove(strip)
            strip = _Strip(strip.child(), strip.place)
            self.strips.append(strip)
        strip.way = cut.way
        near = _between(strip.place, cut.way, begin, cut.at)
        strip.place = _between(strip.place, cut.way, min(cut.at + self.asked.kerf, end), end)
        off = _Strip(strip.child(), near)
        self.strips.append(off)
        frees = (self.parts.get(near), self.parts.get(strip.place))
        done = StripCut(strip=strip.name, size=size, frees=tuple(filter(None, frees)), cut=cut)
        return _Made(cut.at - begin, done, off.name)

    def _trim(self, strip: _Strip, cut: SheetCut, size: Size) -> _Made:
        begin, end = _span(strip.place, cut.way)
        first = cut.at <= begin + self.asked.trim
        kept = (self.asked.trim, end) if first else (begin, cut.at)
        strip.place = _between(strip.place, cut.way, *kept)
        freed = self.parts.get(strip.place)
        done = StripCut(strip=strip.name, size=size, frees=(freed,) if freed else (), cut=cut)
        return _Made(self.asked.trim, done)


def _span(place: _Place, way: Way) -> tuple[Length, Length]:
    left, top, right, bottom = place
    return (top, bottom) if way is Way.ACROSS else (left, right)


def _between(place: _Place, way: Way, begin: Length, end: Length) -> _Place:
    left, top, right, bottom = place
    return (left, begin, right, end) if way is Way.ACROSS else (begin, top, end, bottom)


def _size(place: _Place) -> Size:
    left, top, right, bottom = place
    return Size(right - left, bottom - top)


def _crosses(place: _Place, cut: SheetCut) -> bool:
    other = Way.DOWN if cut.way is Way.ACROSS else Way.ACROSS
    begin, end = _span(place, cut.way)
    at = max(cut.at, ZERO)
    return _span(place, other) == (cut.start, cut.end) and begin <= at < end
