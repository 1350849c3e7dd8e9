"""Copies of the shop's data: made and checked while the shop is open, by hand and by themselves, kept by one rule, put back.

One copy is made at a time. What goes wrong with a copy stops nothing: it is said on the page of the data, and tried again.
"""

import logging
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path

from app.days import show_day
from app.errors import AppError, NotFound, quoted
from app.storage import (
    Copies,
    Copy,
    Lost,
    Place,
    Stamp,
    Store,
    Why,
    back_up,
    lost_by,
    not_written,
    restore_into,
    staying,
)

OLD = timedelta(days=2)
"""How old the last checked copy may be before the desk says so. Source: ours, a weekend at rest is no reason to warn."""

AGAIN = timedelta(minutes=10)
"""How long after a copy could not be made it is tried again. Source: ours."""

TO_END = 10.0
"""Seconds that a copy which is being made is given to be finished when the app ends. Source: ours."""

log = logging.getLogger("bevelbook.copies")

_TURN = threading.RLock()
"""Copies are made one at a time, since each reads the whole file."""


def folder_of(store: Store) -> Path:
    """Tell where copies are kept."""
    return Copies(store.path).folder


def make(store: Store, act: Stamp, *, why: Why = Why.BY_HAND) -> Path:
    """Return a checked copy. Raises: CannotWrite, Damaged, Conflict for a second one in the same second by hand."""
    with _TURN:
        store.fold()
        state = store.state
        copy = back_up(store, folder_of(store), now=act.now, why=why)
        with suppress(OSError):
            Copies(store.path).made(copy, act.now, state)
        return copy


def before_removal(store: Store, act: Stamp) -> Path:
    """Return a checked copy that holds all that is about to be removed: the newest one where nothing changed since.

    Raises: CannotWrite, Damaged; nothing is to be removed then.
    """
    with _TURN:
        store.fold()
        for copy in Copies(store.path).all():
            if copy.whole and copy.holds(store.state):
                return copy.path
        return make(store, act, why=Why.REMOVAL)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCopy:
    """A copy wherever it lies under its name. at: where; best: the one to be read, here before elsewhere, whole before not."""

    best: Copy
    at: tuple[Copy, ...]

    @property
    def name(self) -> str:
        """The name of its file, which nothing else is found by."""
        return self.best.name


def listed(store: Store) -> tuple[KeptCopy, ...]:
    """Return the copies in both places, the newest first."""
    return listed_of(store.path)


def listed_of(database: Path) -> tuple[KeptCopy, ...]:
    """Return the copies of a database that nobody needs to have open."""
    by_name: dict[str, list[Copy]] = {}
    for copy in Copies(database).all():
        by_name.setdefault(copy.name, []).append(copy)
    return tuple(
        KeptCopy(
            best=min(found, key=lambda each: (not each.whole, each.place is Place.SECOND)),
            at=tuple(sorted(found, key=lambda each: each.place is Place.SECOND)),
        )
        for found in by_name.values()
    )


def named(store: Store, name: str) -> KeptCopy:
    """Return the copy of a name, chosen out of those that are there. Raises: NotFound."""
    return named_in(listed(store), name)


def named_in(copies: Iterable[KeptCopy], name: str) -> KeptCopy:
    """Return the copy of a name out of some. Raises: NotFound."""
    for kept in copies:
        if kept.name == name:
            return kept
    raise NotFound(
        f"There is no copy called {quoted(name)} any more; the list shows those that are there."
    )


def checked(database: Path, kept: KeptCopy, now: datetime) -> KeptCopy:
    """Check a copy anew, and return what was found."""
    with _TURN:
        try:
            best = Copies(database).check(kept.best, now)
        except OSError as error:
            raise not_written(kept.best.path, error) from error
    return replace(kept, best=best)


def newest_whole(database: Path, now: datetime) -> KeptCopy | None:
    """Return the newest copy that passes its check now, None where there is none."""
    for kept in listed_of(database):
        with suppress(AppError):
            found = checked(database, kept, now)
            if found.best.whole:
                return found
    return None


def would_be_lost(store: Store, kept: KeptCopy) -> Lost:
    """Return what was added since a copy was made. Raises: Damaged where that cannot be read."""
    with store.reading():  # so that the file stays in its place meanwhile
        return lost_by(store.path, kept.best.path)


def restore(store: Store, kept: KeptCopy, act: Stamp) -> Path | None:
    """Put a copy in the place of the data, while the shop is open.

    Returns where the data of before are kept, None where there was no shop yet.

    Raises: NotFound, NotOurDatabase, NewerDatabase, Damaged, CannotWrite, StillRead; nothing is changed then.
    """
    with _TURN:
        empty = store.current_shop() is None
        before = restore_into(store, kept.best.path, now=act.now)
        if empty and before is not None:
            with suppress(OSError):
                before.unlink()
            return None
        copies = Copies(store.path)
        for copy in copies.all():
            if before is not None and copy.path == before:
                with suppress(OSError):
                    copies.check(copy, act.now)
        return before


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How it stands with the copies, as far as it was looked at. checked_at: of the newest whole copy, None where there is none.

    away: the second folder where it cannot be reached. troubles: a sentence each.
    """

    checked_at: datetime | None = None
    away: Path | None = None
    troubles: tuple[str, ...] = ()


class Ended(Exception):
    """The app has ended, and nothing more is done to its copies."""


class Keeper:
    """Makes copies by themselves, checks them, puts them into the second folder and takes away those that do not stay."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._copies = Copies(store.path)
        self._started = self._ended = False
        self._not_before: datetime | None = None
        self._troubles: dict[Place, str] = {}
        self._state: State | None = None
        self._looking = threading.Lock()
        self.wake: Callable[[], None] = lambda: None

    @property
    def state(self) -> State | None:
        """How it stood when it was last looked at; None while nobody has looked, or there is no shop."""
        return self._state

    def look(self, now: datetime) -> State:
        """Do whatever is to be done now, one after the other; what fails is said and tried again later.

        Raises: Ended once `end` was called.
        """
        with self._looking:
            if not self._started:
                with self._at_work():
                    self._copies.take_away_parts()
            self._check_unchecked(Place.HERE, now)
            if self._store.current_shop() is not None:
                with self._at_work():
                    self._make_where_due(now)
                self._started = True
            away = self._fill_second(now)
            with self._at_work():
                self._take_away(now)
            state = State(
                checked_at=_checked_at(self._copies.all()),
                away=away,
                troubles=tuple(self._troubles.values()),
            )
            self._state = state if self._started else None
            return state

    def forget(self) -> None:
        """Try at once what failed before, as after a change of the second folder."""
        self._not_before = None
        self._troubles.clear()
        self._state = None
        self.wake()

    def end(self) -> None:
        """Begin nothing more beside the data, and wait a while for what is begun: their folder may go after this.

        The second folder is not waited for: one on a network may answer late, or never.
        """
        self._ended = True
        if _TURN.acquire(timeout=TO_END):
            _TURN.release()

    @contextmanager
    def _at_work(self) -> Iterator[None]:
        """Raises: Ended."""
        with _TURN:
            if self._ended:
                raise Ended
            yield

    def _make_where_due(self, now: datetime) -> None:
        newest = next((each for each in self._here() if each.whole), None)
        if newest is not None and self._started and newest.made_at.date() == now.date():
            return
        if self._not_before is not None and abs(now - self._not_before) < AGAIN:
            return
        try:
            self._store.fold()
            if newest is None or not newest.holds(self._store.state):
                make(
                    self._store,
                    Stamp(who="", now=now),
                    why=Why.DAILY if self._started else Why.START,
                )
            elif not self._started or _day(newest.checked_at) != now.date():
                self._copies.check(newest, now)  # nothing changed: it holds everything still
            self._troubles.pop(Place.HERE, None)
            self._not_before = None
        except (AppError, OSError) as error:
            self._not_before = now
            self._trouble(Place.HERE, "No copy could be made", error)

    def _check_unchecked(self, place: Place, now: datetime) -> None:
        for copy in self._copies.all():
            if copy.place is place and copy.note is None:
                with suppress(OSError):
                    self._copies.check(copy, now)

    def _fill_second(self, now: datetime) -> Path | None:
        """Put into the second folder what is missing there. Returns that folder where it is away."""
        second = self._copies.second
        if second is None:
            self._troubles.pop(Place.SECOND, None)
            return None
        if not second.is_dir():
            if self._state is None or self._state.away != second:
                log.warning("The second folder %s is away; it is filled when it is back.", second)
            return second
        self._check_unchecked(Place.SECOND, now)
        there = {
            copy.name for copy in self._copies.all() if copy.place is Place.SECOND and copy.whole
        }
        here = [copy for copy in self._here() if copy.whole]
        wanted = sorted(_staying(here, now), key=lambda copy: copy.made_at, reverse=True)
        try:
            for copy in wanted:
                if copy.name not in there:
                    self._copies.put_into_second(copy, now)
            self._troubles.pop(Place.SECOND, None)
        except (AppError, OSError) as error:
            self._trouble(Place.SECOND, f"{second} could not take the copies", error)
        return None

    def _take_away(self, now: datetime) -> None:
        for place in Place:
            ours = [
                copy
                for copy in self._copies.all()
                if copy.place is place and copy.note is not None and copy.whole and copy.note.ours
            ]
            stay = _staying(ours, now)
            try:
                self._copies.remove(copy for copy in ours if copy not in stay)
            except OSError as error:
                self._trouble(place, "A copy that has had its time could not be deleted", error)

    def _here(self) -> Iterator[Copy]:
        return (copy for copy in self._copies.all() if copy.place is Place.HERE)

    def _trouble(self, place: Place, what: str, error: AppError | OSError) -> None:
        said = error.message if isinstance(error, AppError) else str(error)
        sentence = f"{what}: {said}"
        if self._troubles.get(place) != sentence:
            log.error("%s", sentence)
        self._troubles[place] = sentence


def to_say(state: State | None, now: datetime) -> str:
    """Return what the desk says of the copies: nothing while all is well, or nobody has looked yet."""
    if state is None:
        return ""
    if state.checked_at is None:
        return "There is no checked copy of the data."
    if now - state.checked_at > OLD:
        return f"The last checked copy of the data is of {show_day(state.checked_at)}."
    if state.away is not None:
        return f"The second folder for copies, {state.away}, is away."
    return ""


def _staying(whole: Iterable[Copy], now: datetime) -> frozenset[Copy]:
    made = {copy: copy.made_at for copy in whole}
    return staying(made, now.date(), [copy for copy in made if copy.why.held])


def _day(moment: datetime | None) -> date | None:
    return moment.date() if moment is not None else None


def _checked_at(copies: tuple[Copy, ...]) -> datetime | None:
    return next((copy.checked_at for copy in copies if copy.whole), None)
