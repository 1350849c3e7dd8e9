"""An order of work over what has to be set: the fewest moves of the guide, then of the stops, then the least travel.

What is set, stands and chains of them, is declared in `stands`; how little is left to do tells the search where to look.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, reduce
from heapq import heappop, heappush
from itertools import count, pairwise
from operator import or_

from app.bench.stands import (
    NOTHING,
    Begun,
    Chain,
    Cost,
    Masks,
    Stand,
    Todo,
    cost_of,
    in_all,
    in_first_groups,
    numbers_in,
    served,
    step_cost,
)

MOST_STATES = 4_000
"""Where the search gives up, after well under a second (measured); pieces of the usual two settings
a layer need far fewer."""

MOST_LOOKS = 400_000
"""Where it gives up on many chains with many stands, whose states take longer: so many rests of a chain are
worked out, in about half a second (measured)."""

LEAST_FOR_A_STAND = 20
"""With fewer states than so many for each stand the search never came to its end (measured), and is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandOrder:
    """An order that serves every chain.

    fewest: no other has fewer moves of the guide. fewest_stops: nor as few and fewer of the stops. proven: nor as few
    of both and less travel.
    """

    order: tuple[Stand, ...]
    cost: Cost
    fewest: bool
    fewest_stops: bool
    proven: bool


@dataclass(frozen=True)
class OrderSearch:
    """Best first over (the stand, what is left). stands: all of them, rising; start: where the guide stands before.

    needs, rests, alone: kept for each rest of a chain, of all stands and of one setting, since the same ones come
    again and again.
    """

    stands: tuple[Stand, ...]
    todo: Todo
    start: int
    needs: dict[Masks, "_ChainNeeds"] = field(default_factory=dict)
    rests: dict[int, "_Rest"] = field(default_factory=dict)
    alone: dict[int, int] = field(default_factory=dict)

    @classmethod
    def of(cls, chains: Iterable[Chain], start: int) -> "OrderSearch":
        """Return the search for chains, the same one once."""
        apart = tuple(dict.fromkeys(chains))
        stands = tuple(sorted(frozenset[Stand]().union(*(group for c in apart for group in c))))
        bit = {stand: 1 << number for number, stand in enumerate(stands)}
        todo = tuple(tuple(sum(bit[stand] for stand in group) for group in c) for c in apart)
        return cls(stands, todo, start)

    def without_idle(self, order: Iterable[Stand]) -> tuple[Stand, ...]:
        """Return an order without the stands where nothing is left to cut, since an earlier one served."""
        bit = {stand: 1 << number for number, stand in enumerate(self.stands)}
        todo, needed = self.todo, list[Stand]()
        for stand in order:
            if bit[stand] & in_first_groups(todo):
                todo = tuple(served(chain, bit[stand]) for chain in todo)
                needed.append(stand)
        return tuple(needed)

    def along_guide(self, settings: Sequence[int]) -> tuple[Stand, ...] | None:
        """Return an order for given settings of the guide, at each the nearest stands one after the other.

        None where something is left to cut after the last of them.
        """
        way = self.ways_along(settings)[-1]
        return None if any(way.todo) else way.order

    def ways_along(self, settings: Sequence[int], before: "Begun | None" = None) -> list["Begun"]:
        """Return the way before the first of some settings of the guide, and after each of them.

        before: where it goes on from; without it, from the very start.
        Among the stands at a setting the nearest is where the fewest stops are moved; of those the one with the fewest others that share a stop with
        it, which are hard to come by later; of those the smallest far stop, then near stop.
        """
        ways = [before or Begun((), self.todo)]
        todo, order = ways[0].todo, list(ways[0].order)
        for at in settings:
            while here := in_first_groups(todo) & self._of_setting.get(at, 0):
                stand = self._nearest(here, order[-1] if order else None)
                todo = tuple(served(chain, 1 << stand) for chain in todo)
                order.append(self.stands[stand])
            ways.append(Begun(tuple(order), todo))
        return ways

    def better_than(
        self,
        known: tuple[Stand, ...],
        most_states: int = MOST_STATES,
        *,
        most_looks: int = MOST_LOOKS,
        fewest: bool = False,
    ) -> StandOrder:
        """Return the best order, or a known one where none beats it or the search has to give up.

        fewest: whether it is known that no order has fewer moves of the guide.
        The bound of what is left is never more than it costs, so the first state with nothing left
        is the best, and what cannot beat the known order is dropped; when nothing is left to look
        at, the known one is the best. With too few states for so many stands none is tried.
        """
        order = count()  # among equals the youngest first, which goes deep instead of wide
        most = cost_of(known, self.start)
        needed = self._at_least(self.todo, None, most.moves)
        best: dict[tuple[Stand | None, Todo], Cost] = {(None, self.todo): NOTHING}
        waiting = [(NOTHING, 0, NOTHING, self.todo, tuple[Stand, ...]())]
        looks = max(1, len(self.stands) * (len(self.todo) + self._stops * len(self._of_setting)))
        states = min(most_states, most_looks // looks)
        for _ in range(states if states >= LEAST_FOR_A_STAND * len(self.stands) else 0):
            if not waiting:
                return StandOrder(
                    order=known, cost=most, fewest=True, fewest_stops=True, proven=True
                )
            _, _, spent, todo, way = heappop(waiting)
            if not any(todo):
                return StandOrder(
                    order=way, cost=spent, fewest=True, fewest_stops=True, proven=True
                )
            stands = way[-1] if way else None
            if spent > best[stands, todo]:
                continue
            for stand, left in self._next(todo):
                reached = spent.plus(step_cost(stands, stand, self.start))
                bound = reached.plus(self._at_least(left, stand, most.moves - reached.moves))
                seen = best.get((stand, left))
                if bound < most and (seen is None or reached < seen):
                    best[stand, left] = reached
                    heappush(waiting, (bound, -next(order), reached, left, (*way, stand)))
        fewest = fewest or most.moves == needed.moves
        return StandOrder(
            order=known,
            cost=most,
            fewest=fewest,
            fewest_stops=fewest and most.stop_moves == needed.stop_moves,
            proven=False,
        )

    def _next(self, todo: Todo) -> list[tuple[Stand, Todo]]:
        """Return every stand where something can be cut, others could be left out, and what is left then.

        All that can be cut at a stand is cut there: more of it never makes the rest worse.
        """
        return [
            (self.stands[number], tuple(served(chain, 1 << number) for chain in todo))
            for number in numbers_in(in_first_groups(todo))
        ]

    def _nearest(self, here: int, before: Stand | None) -> int:
        """Return the number of the stand to go to next, of those that are given as bits."""
        if not here & (here - 1):
            return here.bit_length() - 1
        shared = [
            self._sharing.get(stop, 0) & here for stop in enumerate(before.stops if before else ())
        ]
        near = in_all(shared) or reduce(or_, shared, 0) or here
        return min(numbers_in(near), key=lambda number: self._hard_to_come_by(number, here))

    def _hard_to_come_by(self, number: int, here: int) -> tuple[int, int]:
        """Return how many of the stands that are given as bits share a stop with one, and its place by its stops."""
        stops = self._sharing_with[number]
        return sum((here & mask).bit_count() for mask in stops), self._place_by_stops[number]

    def _at_least(self, todo: Todo, stands: Stand | None, spare: int) -> Cost:
        """Moves, moves of the stops and travel that what is left cannot do without.

        stands: where it stands; None before the first. spare: how many moves of the guide may be made.
        """
        left = fewest = 0
        here = 0 if stands is None else self._of_setting[stands.at]
        for chain in todo:
            if chain not in self.needs:
                self.needs[chain] = _ChainNeeds.of(chain, self._setting_of)
            need = self.needs[chain]
            left |= need.stands
            fewest = max(fewest, need.moves - bool(chain and chain[0] & here))
        if not left:
            return NOTHING
        rest = self._rest(left)
        at = self.start if stands is None else stands.at
        travel = rest.high - rest.low + min(abs(at - rest.low), abs(at - rest.high))
        stays = bool(here & in_first_groups(todo))
        moves = max(rest.settings - stays, fewest)
        spare -= rest.settings - stays
        return Cost(moves, self._stops_at_least(left, stands, spare), travel)

    def _rest(self, left: int) -> "_Rest":
        if left not in self.rests:
            low, high = self._stand_of(left & -left), self._stand_of(left)
            self.rests[left] = _Rest(low=low.at, high=high.at, **self._settings_and_stops(left))
        return self.rests[left]

    def _stand_of(self, bits: int) -> Stand:
        """Return the largest of stands."""
        return self.stands[bits.bit_length() - 1]

    def _settings_and_stops(self, left: int) -> dict[str, int]:
        if not self._stops:
            return {"settings": left.bit_count(), "stops": 0, "first_saved": 0}
        by_setting = {at: left & mask for at, mask in self._of_setting.items() if left & mask}
        needed = sum(self._of_one_setting(here) for here in by_setting.values())
        saved = [self._saved[at] for at in by_setting]
        return {
            "settings": len(by_setting),
            "stops": needed - sum(saved),
            "first_saved": min(saved),
        }

    def _stops_at_least(self, left: int, stands: Stand | None, spare: int) -> int:
        """Return the moves of the stops that what is left cannot do without.

        What is cut at one setting needs its own; on coming to a setting at most so many are saved as it has in common with
        another one, or with where the stops are. spare: so often a setting may be come to once more.
        """
        if not self._stops:
            return 0
        rest = self._rest(left)
        needed = rest.stops
        if stands is None:
            needed += rest.first_saved
        elif here := left & self._of_setting[stands.at]:
            needed -= max(0, self._in_common(stands, here) - self._saved[stands.at])
        return max(0, needed - max(0, spare) * max(self._saved.values()))

    def _of_one_setting(self, here: int) -> int:
        """Return the moves of stops that stands of one setting need by themselves, at least.

        From each to the next at least one stop moves; and both do on coming to the first and to any that
        shares no stop with those before.
        """
        if self._stops < 2:
            return here.bit_count() * self._stops
        if here not in self.alone:
            self.alone[here] = here.bit_count() + sum(1 for _ in self._linked(here))
        return self.alone[here]

    def _linked(self, here: int) -> Iterator[int]:
        """Yield the stands, as bits, that hang together by stops which they share."""
        while here:
            linked, fresh = 0, here & -here
            while fresh:
                linked |= fresh
                reached = 0
                for number in numbers_in(fresh):
                    for stop in enumerate(self.stands[number].stops):
                        reached |= self._sharing[stop]
                fresh = reached & here & ~linked
            yield linked
            here &= ~linked

    def _in_common(self, stands: Stand, here: int) -> int:
        """Return how many stops may stay where they are for the best of the next stands."""
        return max(
            len(stands.stops) - step_cost(stands, self.stands[number], self.start).stop_moves
            for number in numbers_in(here)
        )

    @cached_property
    def _stops(self) -> int:
        """How many stops the cutter has."""
        return len(self.stands[0].stops) if self.stands else 0

    @cached_property
    def _setting_of(self) -> tuple[int, ...]:
        return tuple(stand.at for stand in self.stands)

    @cached_property
    def _of_setting(self) -> Mapping[int, int]:
        """The stands of each setting, as bits."""
        masks: dict[int, int] = {}
        for number, stand in enumerate(self.stands):
            masks[stand.at] = masks.get(stand.at, 0) | 1 << number
        return masks

    @cached_property
    def _sharing(self) -> Mapping[tuple[int, int], int]:
        """The stands that have a stop, by its place and value, as bits."""
        masks: dict[tuple[int, int], int] = {}
        for number, stand in enumerate(self.stands):
            for stop in enumerate(stand.stops):
                masks[stop] = masks.get(stop, 0) | 1 << number
        return masks

    @cached_property
    def _sharing_with(self) -> tuple[tuple[int, ...], ...]:
        """For each stand those that share each of its stops, as bits."""
        return tuple(
            tuple(self._sharing[stop] for stop in enumerate(stand.stops)) for stand in self.stands
        )

    @cached_property
    def _place_by_stops(self) -> tuple[int, ...]:
        """For each stand its place among all by the far stop, then the near one."""
        places = sorted({stand.stops[::-1] for stand in self.stands})
        place = {stops: number for number, stops in enumerate(places)}
        return tuple(place[stand.stops[::-1]] for stand in self.stands)

    @cached_property
    def _saved(self) -> Mapping[int, int]:
        """How many moves of stops can be saved at most on coming to a setting from another one."""
        saved = dict.fromkeys(self._setting_of, 0)
        for stand in self.stands:
            elsewhere = [
                self._sharing[stop] & ~self._of_setting[stand.at] for stop in enumerate(stand.stops)
            ]
            best = len(elsewhere) if in_all(elsewhere) else int(any(elsewhere))
            saved[stand.at] = max(saved[stand.at], best)
        return saved


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rest:
    """What stands that are left need, at least. settings: how many. low, high: of them.

    stops: moves of the stops, where on coming to every setting as many are saved as can be. first_saved: of these, those that
    are not saved where no setting came before.
    """

    settings: int
    low: int
    high: int
    stops: int
    first_saved: int


@dataclass(frozen=True, slots=True)
class _ChainNeeds:
    """What a rest of a chain needs by itself. stands: all of it, as bits.

    moves: the fewest of the guide: every group's settings, less one wherever neighbours have one in common.
    """

    stands: int
    moves: int

    @classmethod
    def of(cls, chain: Masks, setting_of: Sequence[int]) -> "_ChainNeeds":
        groups = [{setting_of[number] for number in numbers_in(group)} for group in chain]
        shared = sum(1 for one, other in pairwise(groups) if one & other)
        stands = 0
        for group in chain:
            stands |= group
        return cls(stands, sum(map(len, groups)) - shared)
