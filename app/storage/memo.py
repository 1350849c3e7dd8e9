"""The one memory of a store: what was worked out of what is kept, for as long as the store is open.

A key holds everything that an answer follows from. A snapshot, a plan, a material in its version never change
under their ids, so what follows from them alone need not be worked out after every write again; what
follows from more goes under the number of writes until then. Only what was read of committed rows goes
in: an id that was rolled back is given again. A writer finds here what follows from rows that are written once, and
hands over what it made of them when it is committed (`Memo.of_writer`).
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from threading import Lock
from typing import cast

MOST = 2000
"""Answers of one kind: the parts of so many pieces in work are about 20 MB. Source: ours."""

WRITTEN_ONCE: Mapping[str, int] = {"agreed": 1000, "piece": 1000}
"""Kinds whose key is the ids of rows that are written once, and all that is read beside them: a writer may read them, for
under an id that is committed it can write nothing else. Each with how many are kept: those of the orders that are looked at
just now, 20 kB each. Source: ours.
"""

type _Answer = tuple[object, Sequence[object]]
"""What was made, and the very objects that it was made of."""

type _Answers = OrderedDict[Hashable, _Answer]


class Memo:
    """Caches answers by kind and key; of each kind so many, the least recently used go first."""

    def __init__(self, most: int = MOST, committed: "Memo | None" = None) -> None:
        self._most = most
        self._committed = committed
        self._kinds: dict[str, _Answers] = {}
        self._lock = Lock()

    def of[T](
        self,
        kind: str,
        key: Hashable,
        make: Callable[[], T],
        *,
        same: Sequence[object] = (),
        most: int = 0,
    ) -> T:
        """Return the answer for a key; where it is not known yet, make and keep it.

        same: frozen objects that the answer follows from too, and that cost too much to compare: it is found again
        for these very objects alone. They are kept with it, so that none of them gives its id to another one.
        most: how many answers of this kind are kept, where that is fewer than usual. If making it
        fails, nothing is kept.
        """
        asked = (key, tuple(map(id, same)))
        found = self._found(kind, asked)
        if found is None:
            found = (make(), same)
            self._keep(kind, {asked: found}, most)
        return cast(T, found[0])

    def known(self, kind: str, key: Hashable) -> object | None:
        """Return the answer for a key that was made before; None where it is not known."""
        found = self._found(kind, (key, ()))
        return None if found is None else found[0]

    def several[K: Hashable, T](
        self, kind: str, keys: Iterable[K], make: Callable[[Sequence[K]], Mapping[K, T]]
    ) -> dict[K, T]:
        """Return the answers for some keys, in their order; those that are not known yet are made together."""
        found = {key: self._found(kind, (key, ())) for key in keys}
        missing = [key for key, answer in found.items() if answer is None]
        made = make(missing) if missing else {}
        self._keep(kind, {(key, ()): (made[key], ()) for key in missing})
        return {
            key: made[key] if answer is None else cast(T, answer[0])
            for key, answer in found.items()
        }

    def of_writer(self) -> "Memo":
        """Return the memory of one transaction that writes, which adds nothing to this one until it is to `hand_over`."""
        return Memo(self._most, committed=self)

    def hand_over(self) -> None:
        """Give what a writer made of rows that are written once to the memory of all, now that it is committed."""
        if self._committed is not None:
            for kind in WRITTEN_ONCE.keys() & self._kinds.keys():
                self._committed._keep(kind, self._answers(kind))

    def _found(self, kind: str, asked: Hashable) -> _Answer | None:
        answers = self._answers(kind)
        with self._lock:
            if (found := answers.get(asked)) is not None:
                answers.move_to_end(asked)
                return found
        if self._committed is not None and kind in WRITTEN_ONCE:
            return self._committed._found(kind, asked)
        return None

    def _keep(self, kind: str, made: Mapping[Hashable, _Answer], most: int = 0) -> None:
        answers = self._answers(kind)
        with self._lock:
            answers.update(made)
            while len(answers) > (most or min(self._most, WRITTEN_ONCE.get(kind, self._most))):
                answers.popitem(last=False)

    def size(self, kind: str) -> int:
        """Tell how many answers of a kind are kept."""
        return len(self._answers(kind))

    def _answers(self, kind: str) -> _Answers:
        with self._lock:
            return self._kinds.setdefault(kind, OrderedDict())


@dataclass(frozen=True, slots=True)
class OfBook:
    """Remembers what follows from the price book, until that is written.

    book: a number that the price book has as long as it stands as it does; None while it is written: then nothing is remembered.
    """

    lasting: Memo
    book: int | None = None

    def of[T](
        self,
        kind: str,
        key: Hashable,
        make: Callable[[], T],
        *,
        same: Sequence[object] = (),
        most: int = 0,
    ) -> T:
        """As `Memo.of`, for as long as the price book stands as it does."""
        if self.book is None:
            return make()
        return self.lasting.of(kind, (self.book, key), make, same=same, most=most)
