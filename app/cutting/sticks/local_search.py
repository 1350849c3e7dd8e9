"""Moving rails between opened sticks: frames together (C1), free length onto one stick (C3).

Owns a search that never opens a stick. Its one step takes the rails of two sticks and parts them
anew between the two, in the way that breaks up the fewest frames, which also swaps rails of one
length between frames. The search is the same every time: how long it runs is counted in sums looked
at, not in seconds.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from app.cutting.problem import Together
from app.cutting.sticks.model import Load, Rail, Task
from app.cutting.sticks.together import least_visits
from app.cutting.sticks.two_bin_split import Lot, Partings, lot_of


@dataclass(slots=True)
class _Effort:
    left: int


class _Dice:
    """Numbers that look thrown and are the same every time. Source: Knuth's MMIX generator."""

    def __init__(self) -> None:
        self._state = 1

    def below(self, count: int) -> int:
        self._state = (self._state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self._state >> 33) % count

    def shuffle[T](self, things: list[T]) -> None:
        for place in range(len(things) - 1, 0, -1):
            other = self.below(place + 1)
            things[place], things[other] = things[other], things[place]

    def one_of[T](self, things: Sequence[T]) -> T:
        return things[self.below(len(things))]


@dataclass(slots=True)
class SearchStick:
    """An opened stick while rails move. rails: indices into those of the search."""

    bar: int
    ticks: int
    rails: list[int] = field(default_factory=list)
    taken: int = 0

    @property
    def room(self) -> int:
        return self.ticks - self.taken


PATIENCE = 100
"""How many steps for each stick are made without a frame more together before the search ends.
Source: ours."""

STEP = 50
"""What one step costs besides the sums it looks at. Source: ours."""


class Search:
    """Sticks whose rails move. grouped: whether frames count; else every rail is for itself."""

    def __init__(self, task: Task, loads: Sequence[Load], *, grouped: bool, effort: int) -> None:
        self._rails: list[Rail] = [rail for load in loads for rail in load.rails]
        names = {rail.group: 0 for rail in self._rails if rail.group and grouped}
        numbers = {name: number for number, name in enumerate(names)}
        self._group = [numbers.get(rail.group, -1) for rail in self._rails]
        self._ticks = [rail.ticks for rail in self._rails]
        self._effort = _Effort(effort)
        self._dice = _Dice()
        self.sticks: list[SearchStick] = []
        place = 0
        for load in loads:
            mine = list(range(place, place + len(load.rails)))
            place += len(load.rails)
            stick = SearchStick(bar=load.bar, ticks=task.bars[load.bar].ticks)
            self.sticks.append(stick)
            self._put(stick, mine)

    def allow(self, sums: int) -> None:
        """So many sums are looked at from here on."""
        self._effort.left = sums

    def _put(self, stick: SearchStick, rails: list[int]) -> None:
        stick.rails = rails
        stick.taken = sum(self._ticks[rail] for rail in rails)

    def loads(self) -> tuple[Load, ...]:
        return tuple(
            Load(bar=s.bar, rails=tuple(self._rails[r] for r in s.rails))
            for s in self.sticks
            if s.rails
        )

    def _groups_on(self, stick: SearchStick) -> set[int]:
        return {self._group[rail] for rail in stick.rails} - {-1}

    def _visits(self, first: SearchStick, second: SearchStick) -> int:
        return len(self._groups_on(first)) + len(self._groups_on(second))

    def _lots(self, rails: Iterable[int]) -> list[Lot]:
        by_group: dict[int, dict[int, list[int]]] = {}
        for rail in rails:
            same = by_group.setdefault(self._group[rail], {})
            same.setdefault(self._ticks[rail], []).append(rail)
        alone = by_group.pop(-1, {})
        return [
            *(lot_of(lengths, framed=True) for lengths in by_group.values()),
            *(lot_of({ticks: same}, framed=False) for ticks, same in alone.items()),
        ]

    def repart(self, first: SearchStick, second: SearchStick, *, empty_first: bool) -> bool:
        """Part two sticks' rails anew; whether anything that counts came out better.

        empty_first: of the ways with the fewest visits take that which leaves the first the most
        room; else one of them by the dice.
        """
        rails = first.rails + second.rails
        visits = self._visits(first, second)
        partings = self._partings(first, second, shuffled=not empty_first)
        fewest = partings.fewest_visits()
        if fewest is None:
            return False
        ends = partings.ends(fewest)
        end = ends[0] if empty_first else self._dice.one_of(ends)
        if empty_first and fewest == visits and end >= first.taken:
            return False
        taken = partings.taken(end)
        self._put(first, sorted(taken))
        self._put(second, sorted(set(rails) - taken))
        return fewest < visits or empty_first

    def _partings(self, first: SearchStick, second: SearchStick, *, shuffled: bool) -> Partings:
        lots = self._lots(first.rails + second.rails)
        if shuffled:
            # Other ways to the same sum are found at another time.
            self._dice.shuffle(lots)
        partings = Partings(
            lots,
            least=first.taken + second.taken - second.ticks,
            most=first.ticks,
            most_visits=self._visits(first, second),
        )
        self._effort.left -= STEP + partings.looks
        return partings

    def split(self) -> dict[int, list[SearchStick]]:
        """Return the frames on more than one stick, with their sticks."""
        on: dict[int, list[SearchStick]] = {}
        for stick in self.sticks:
            for group in self._groups_on(stick):
                on.setdefault(group, []).append(stick)
        return {group: sticks for group, sticks in on.items() if len(sticks) > 1}

    def gather(self, most_extra: int) -> None:
        """Brings frames together until none is split beyond need, or the search gets no further."""
        patience = PATIENCE * len(self.sticks)
        fewest, idle = None, 0
        while self._effort.left > 0 and idle <= patience:
            on_split = list(self.split().values())
            extra = sum(len(sticks) - 1 for sticks in on_split)
            if extra <= most_extra:
                return
            idle = 0 if fewest is None or extra < fewest else idle + len(on_split)
            fewest = extra
            self._gather_once(on_split)

    def _gather_once(self, on_split: Sequence[Sequence[SearchStick]]) -> None:
        for _ in on_split:
            sticks = self._dice.one_of(on_split)
            first, second = self._dice.one_of(sticks), self._second(sticks, on_split)
            if first is not second and self._effort.left > 0:
                self.repart(first, second, empty_first=False)

    def _second(
        self, sticks: Sequence[SearchStick], on_split: Sequence[Sequence[SearchStick]]
    ) -> SearchStick:
        """Mostly a stick of the same frame, sometimes of another split one, sometimes any."""
        throw = self._dice.below(8)
        if throw == 0:
            return self._dice.one_of(self.sticks)
        return self._dice.one_of(sticks if throw > 1 else self._dice.one_of(on_split))

    def free(self) -> None:
        """Frees as much as it can of the stick with the most room, and then of what is left."""
        better = True
        while better and self._effort.left > 0:
            better = False
            opened = [stick for stick in self.sticks if stick.rails]
            first = max(opened, key=lambda stick: stick.room)
            for second in opened:
                if second is not first and self._effort.left > 0 and first.rails:
                    better |= self.repart(first, second, empty_first=True)


def regrouped(task: Task, loads: Sequence[Load], sums: int) -> tuple[Load, ...]:
    """Loads with the same rails on no more sticks: frames together, then one large free length.

    sums: how much is looked at. Where frames do not matter only the free length is sought.
    """
    if len(loads) < 2:
        return tuple(loads)
    grouped = task.asked.together is not Together.NO_MATTER
    search = Search(task, loads, grouped=grouped, effort=sums * 4 // 5)
    if grouped:
        search.gather(sum(least_visits(task).values()) - len(task.groups))
    search.allow(sums // 5)
    search.free()
    return search.loads()
