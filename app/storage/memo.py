"""The one memory of a store: what was worked out of what is kept, for as long as the store is open.

A key holds everything that an answer follows from. A snapshot, a plan, a material in its version never change
under their ids, so what follows from them alone need not be worked out after every write again; what
follows from more goes under the number of writes until then. Only what was read of committed rows goes
in: an id that was rolled back is given again.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from threading import Lock
from typing import cast

MOST = 2000
"""Answers of one kind: the parts of so many pieces in work are about 20 MB. Source: ours."""


type _Answers = OrderedDict[Hashable, tuple[object, Sequence[object]]]
"""What was made, and the very objects that it was made of."""


class Memo:
    """Caches answers by kind and key; of each kind so many, the least recently used go first."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
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
        answers = self._answers(kind)
        asked = (key, tuple(map(id, same)))
        with self._lock:
            if asked in answers:
                answers.move_to_end(asked)
                return cast(T, answers[asked][0])
        made = make()
        with self._lock:
            answers[asked] = (made, same)
            while len(answers) > (most or self._most):
                answers.popitem(last=False)
        return made

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
