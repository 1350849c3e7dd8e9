"""Moving rails between opened sticks: frames together (C1), free length onto one stick (C3).

Owns a search that never opens a stick. Its one step takes the rails of two sticks and parts them
anew between the two, in the way that breaks up the fewest frames, which also swaps rails of one
length between frames. The search is the same every time: how long it runs is counted in sums looked
at, not in seconds.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import product

from app.cutting.asked import Together
from app.cutting.rails import Load, Rail, Task
from app.cutting.together import least_visits

MOST_SUMS = 100
"""How many lengths on one of two sticks are followed at once. Source: ours."""


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

    def one_of[T](self, things: Sequence[T]) -> T:
        return things[self.below(len(things))]


@dataclass(slots=True)
class Stick:
    """An opened stick while rails move. rails: indices into those of the search."""

    bar: int
    ticks: int
    rails: list[int] = field(default_factory=list)
    taken: int = 0

    @property
    def room(self) -> int:
        return self.ticks - self.taken


# (sum on the first stick) -> (visits so far, sum before, which of the layer's ways)
type _Layer = dict[int, tuple[int, int, int]]
# ticks on the first stick, sticks visited, rails that go onto the first
type _Way = tuple[int, int, tuple[int, ...]]


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
        self.sticks: list[Stick] = []
        place = 0
        for load in loads:
            mine = list(range(place, place + len(load.rails)))
            place += len(load.rails)
            stick = Stick(bar=load.bar, ticks=task.bars[load.bar].ticks)
            self.sticks.append(stick)
            self._put(stick, mine)

    def allow(self, sums: int) -> None:
        """So many sums are looked at from here on."""
        self._effort.left = sums

    def _put(self, stick: Stick, rails: list[int]) -> None:
        stick.rails = rails
        stick.taken = sum(self._ticks[rail] for rail in rails)

    def loads(self) -> tuple[Load, ...]:
        return tuple(
            Load(bar=s.bar, rails=tuple(self._rails[r] for r in s.rails))
            for s in self.sticks
            if s.rails
        )

    def _groups_on(self, stick: Stick) -> set[int]:
        return {self._group[rail] for rail in stick.rails} - {-1}

    def _visits(self, first: Stick, second: Stick) -> int:
        return len(self._groups_on(first)) + len(self._groups_on(second))

    def _layers(self, rails: Iterable[int]) -> list[list[_Way]]:
        by_group: dict[int, dict[int, list[int]]] = {}
        for rail in rails:
            by_group.setdefault(self._group[rail], {}).setdefault(self._ticks[rail], []).append(
                rail
            )
        layers = []
        for group, lengths in by_group.items():
            if group < 0:
                layers += [self._ways([same], 0) for same in lengths.values()]
            else:
                layers.append(self._ways(list(lengths.values()), 1))
        return layers

    def _ways(self, lengths: list[list[int]], weight: int) -> list[_Way]:
        count = sum(map(len, lengths))
        ways: list[_Way] = []
        for numbers in product(*(range(len(same) + 1) for same in lengths)):
            taken = tuple(r for same, n in zip(lengths, numbers, strict=True) for r in same[:n])
            visits = weight * ((len(taken) > 0) + (len(taken) < count))
            ways.append((sum(self._ticks[r] for r in taken), visits, taken))
        return ways

    def repart(self, first: Stick, second: Stick, *, empty_first: bool) -> bool:
        """Part two sticks' rails anew; whether anything that counts came out better.

        empty_first: of the ways with the fewest visits take that which leaves the first the most
        room; else one of them by the dice.
        """
        rails = first.rails + second.rails
        before = self._visits(first, second)
        layers = self._layers(rails)
        # Shuffle so that other ways to the same sum are found at another time.
        if not empty_first:
            for place in range(len(layers) - 1, 0, -1):
                other = self._dice.below(place + 1)
                layers[place], layers[other] = layers[other], layers[place]
        total = sum(self._ticks[rail] for rail in rails)
        reached = self._reach(layers, total - second.ticks, first.ticks, before)
        ends = reached[-1]
        if not ends:
            return False
        fewest = min(visits for visits, _, _ in ends.values())
        if fewest > before:
            return False
        best = sorted(end for end, (visits, _, _) in ends.items() if visits == fewest)
        end = best[0] if empty_first else best[self._dice.below(len(best))]
        if empty_first and fewest == before and end >= first.taken:
            return False
        taken = self._followed(layers, reached, end)
        self._put(first, sorted(taken))
        self._put(second, sorted(set(rails) - taken))
        return fewest < before or empty_first

    def _reach(self, layers: list[list[_Way]], least: int, most: int, visits: int) -> list[_Layer]:
        rest = sum(ways[-1][0] for ways in layers)
        reached: list[_Layer] = [{0: (0, 0, 0)}]
        for ways in layers:
            rest -= ways[-1][0]
            layer: _Layer = {}
            for end, (so_far, _, _) in reached[-1].items():
                for number, (ticks, more, _) in enumerate(ways):
                    now = end + ticks
                    if now > most or now + rest < least:
                        continue
                    all_visits = so_far + more
                    if all_visits > visits:
                        continue
                    known = layer.get(now)
                    if known is None or all_visits < known[0]:
                        layer[now] = (all_visits, end, number)
            self._effort.left -= len(reached[-1]) * len(ways)
            if len(layer) > MOST_SUMS:
                layer = _thinned(layer)
            reached.append(layer)
        return reached

    def _followed(self, layers: list[list[_Way]], reached: list[_Layer], end: int) -> set[int]:
        taken: set[int] = set()
        for ways, layer in zip(reversed(layers), reversed(reached[1:]), strict=True):
            _, before, number = layer[end]
            taken.update(ways[number][2])
            end = before
        return taken

    def split(self) -> dict[int, list[Stick]]:
        """The frames on more than one stick, with their sticks."""
        on: dict[int, list[Stick]] = {}
        for stick in self.sticks:
            for group in self._groups_on(stick):
                on.setdefault(group, []).append(stick)
        return {group: sticks for group, sticks in on.items() if len(sticks) > 1}

    def gather(self, most_extra: int) -> None:
        """Brings frames together until none is split beyond need or the effort is spent."""
        while self._effort.left > 0:
            split = self.split()
            if sum(len(sticks) - 1 for sticks in split.values()) <= most_extra or not split:
                return
            on_split = list(split.values())
            for _ in range(len(on_split)):
                sticks = self._dice.one_of(on_split)
                first, second = self._dice.one_of(sticks), self._second(sticks, on_split)
                if first is not second:
                    self.repart(first, second, empty_first=False)
                if self._effort.left <= 0:
                    return

    def _second(self, sticks: Sequence[Stick], on_split: Sequence[Sequence[Stick]]) -> Stick:
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


def _thinned(layer: _Layer) -> _Layer:
    kept = sorted(layer.items(), key=lambda item: (item[1][0], item[0]))
    step = -(-len(kept) // MOST_SUMS)
    return dict(kept[::step])


def regrouped(task: Task, loads: Sequence[Load], sums: int) -> tuple[Load, ...]:
    """Loads with the same rails on no more sticks: frames together, then one large free length.

    sums: how much is looked at. Where frames do not matter only the free length is sought.
    """
    grouped = task.asked.together is not Together.NO_MATTER
    search = Search(task, loads, grouped=grouped, effort=sums * 4 // 5)
    if grouped:
        search.gather(sum(least_visits(task).values()) - len(task.groups))
    search.allow(sums // 5)
    search.free()
    return search.loads()
