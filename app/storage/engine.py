"""Opens, reads and writes the database file.

One process works on a file. Any number of threads read; one writes at a time. A write waits for the
one before it, sees everything that was committed, and is on the disk when it returns.
"""

import sqlite3
import threading
import time
from collections.abc import Callable, Hashable, Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any, Self, cast

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import OperationalError, SQLAlchemyError
from sqlalchemy.orm import Session

from app.orders import Shop
from app.storage import held, known_orders, log, page_sums
from app.storage.copying import copy_of
from app.storage.damage import look_for_damage
from app.storage.errors import CannotWrite, DiskFull, NotInPlace, OnlyLookedAt, StillRead, is_full
from app.storage.gate import Gate
from app.storage.log_file import mark_of
from app.storage.memo import Memo, OfBook
from app.storage.migrating import SCHEMA, bring_up_to_date, schema_of
from app.storage.place import Seen
from app.storage.privacy import keep_private
from app.storage.seals import SealingSession
from app.storage.tables.sent_forms import SENT, Answer, SentForm
from app.storage.unit_of_work import UnitOfWork

DATABASE_NAME = "bevelbook.sqlite3"

_PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",  # an order that was taken must not vanish with the power
    "foreign_keys = ON",
    "busy_timeout = 5000",
    "secure_delete = ON",  # what was erased is not to be read in the file (GDPR art. 17)
    "wal_autocheckpoint = 0",  # the log is folded in by us alone, see `log`
)
_READING = ("query_only = ON", "trusted_schema = OFF")
# SQLite before 3.41 lets no trigger of an untrusted schema write to a word index. So writers trust
# it; whoever brings a file from elsewhere has its schema compared with ours first (`backup`).
_WRITING = ("trusted_schema = ON",)
_TO_READ, _TO_WRITE = "BEGIN", "BEGIN IMMEDIATE"

_LARGEST_LOG = 4 * 1024 * 1024
"""Bytes beyond which the log is folded in at once. Source: ours, as many pages as SQLite's own habit."""

_PATIENCE = 1.0
"""Seconds for which the end waits for who still writes or reads. Source: ours."""

_TO_LEAVE = 10.0
"""Seconds for which an exchange of the file waits for who still reads. Source: ours, longer than any page takes."""

_NOT_A_BUG = {
    sqlite3.SQLITE_READONLY: "it is read-only",
    sqlite3.SQLITE_IOERR: "the disk reports an error",
    sqlite3.SQLITE_BUSY: "another program holds it",
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened",
}


def _engine(path: Path, begin: str, pragmas: tuple[str, ...]) -> Engine:
    """Return an engine whose transactions begin as said. It makes no file where there is none.

    The driver is kept from beginning transactions of its own, so that BEGIN IMMEDIATE is really
    what a writer says: a deferred one that reads first fails whenever another wrote in between.
    """
    engine = create_engine(
        URL.create(
            "sqlite",
            database=path.absolute().as_uri(),
            query={"mode": "rw", "uri": "true"},
        ),
        hide_parameters=True,  # an error that is logged says nothing of anybody
    )

    @event.listens_for(engine, "connect")
    def on_connect(connection: Any, _record: object) -> None:
        connection.isolation_level = None
        for pragma in (*_PRAGMAS, *pragmas):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)
        if begin == _TO_WRITE:
            log.keep_mark(cast(sqlite3.Connection, connection.connection.driver_connection))

    return engine


def migrate_new(path: Path, schema: str = SCHEMA) -> None:
    """Make a database file that stands at a schema."""
    path.touch()
    engine = _engine(path, _TO_WRITE, _WRITING)
    try:
        bring_up_to_date(path, engine, to=schema)
    finally:
        engine.dispose()


class Store:
    """The shop's data. Make one with `Store.open`; it may be used from any thread. damaged: what was found damaged in the
    file when it was opened, a sentence each.

    Within `reading()` everything is seen as it stood at one moment; writing there is refused by the
    database. `writing()` commits at its end, or leaves everything as it was when it is left by an error.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._writers = _engine(path, _TO_WRITE, _WRITING)
        self._readers = _engine(path, _TO_READ, _READING)
        self._seen: Seen | None = None
        self.damaged: tuple[str, ...] = ()
        self._wrote_at: float | None = None
        self._turn = threading.Lock()
        self._gate = Gate()
        self._refusal = ""
        self._writer: int | None = None
        self._memory = Memo()
        self._writes = self._books = 0  # how many writes there were, and how many of the price book

    @contextmanager
    def reading(self) -> Iterator[UnitOfWork]:
        """Give the repositories, for reading. Raises: DiskFull where sorting finds no room, NotInPlace."""
        # Taken before the transaction begins: what an older one still adds goes under a number that
        # nobody asks by any more.
        with self._gate.inside():
            memory, book = self._memory, self._books
            with self._told_plainly({}), Session(self._readers) as session:
                yield UnitOfWork(session, memory, book)

    @contextmanager
    def writing(self) -> Iterator[UnitOfWork]:
        """Open the repositories for writing, in one transaction.

        Raises: CannotWrite when the disk refuses; NotInPlace when the file is not the one that was opened;
        SentBefore where the form that asks for it was kept before; OnlyLookedAt.
        """
        if self._refusal:
            raise OnlyLookedAt(self._refusal)
        me = threading.get_ident()
        if self._writer == me:
            raise RuntimeError("a write inside a write would wait for itself")
        with self._turn:
            self._writer = me
            try:
                self._check_in_place()
                with self._told_plainly(), SealingSession(self._writers) as session:
                    work = UnitOfWork(session, self._memory.of_writer())
                    form = SENT.get()
                    with session.begin():
                        if form is not None and not form.kept:
                            work.sent_forms.keep(form)
                            work.clock.note(form.at)
                        work.orders.before = known_orders.orders_before(
                            session, self._memory, self._writes
                        )
                        yield work
                    if form is not None:
                        form.kept = True
                work.lasting.hand_over()
                self._books += work.materials.changed
                self._writes += 1
                self._written()
            finally:
                self._writer = None

    def answer_to(self, form: SentForm) -> Answer | None:
        """Return where a form led that was sent before; None where it is the first time."""
        with self.reading() as work:
            return work.sent_forms.answer_to(form)

    def answered(self, form: SentForm, answer: Answer) -> None:
        """Note where a form led that was kept."""
        with self.writing() as work:
            work.sent_forms.answered(form, answer)

    def refused(self, form: SentForm) -> None:
        """Forget a form that was refused after all, though something was written for it."""
        with self.writing() as work:
            work.sent_forms.refused(form)

    def _written(self) -> None:
        """After every write: it counts only where its file is still in its place. Raises: NotInPlace."""
        self._wrote_at = time.monotonic()
        self._check_in_place()
        if log.size_of(log.beside(self.path, log.LOG)) > _LARGEST_LOG:
            self._try_to_fold()

    def _check_in_place(self) -> None:
        if self._seen is not None:
            self._seen = self._seen.check(self.path)

    @contextmanager
    def _told_plainly(self, reasons: Mapping[int, str] = _NOT_A_BUG) -> Iterator[None]:
        """Raises: DiskFull; NotInPlace for a file that is gone; CannotWrite for the codes of SQLite that have a reason."""
        try:
            yield
        except (OperationalError, sqlite3.OperationalError) as error:
            cause = error.orig if isinstance(error, OperationalError) else error
            if is_full(cause):
                raise DiskFull(self.path) from error
            code = getattr(cause, "sqlite_errorcode", 0) & 0xFF
            if (
                code == sqlite3.SQLITE_CANTOPEN
                and self._seen is not None
                and not self.path.exists()
            ):
                raise NotInPlace(self.path) from error
            reason = reasons.get(code)
            if reason is None:
                raise
            raise CannotWrite(self.path, reason) from error

    @classmethod
    def open(cls, path: Path) -> Self:
        """Open the store of a file, which is made or brought up to date where that is needed.

        What another program left in the log is folded in; see `log` for a log that is another file's.
        Raises: NotOurDatabase, NewerDatabase, CannotWrite.
        """
        store = cls(path)
        try:
            with store._turn:
                store.take_up()
        except BaseException:
            store.close()
            raise
        return store

    def take_up(self) -> None:
        """Open the file that lies in the place, as `open` does. Only for whoever opens the store or has it `let_go`."""
        held.hold(*self._never_closed)
        with self._told_plainly():
            log.put_foreign_log_aside(self.path)
            known, self.damaged = look_for_damage(self.path)
            schema = schema_of(self.path)  # before anything of ours touches the file
            keep_private(self.path)
            bring_up_to_date(self.path, self._writers)
            self._writers.raw_connection().close()  # the first to open a copy writes into its head
            self._seen = Seen.of(self.path)
            self._fold()
            self._see_to_sums()
            self._tell_of_damage(known=known or schema != SCHEMA)

    @contextmanager
    def let_go(self) -> Iterator[None]:
        """Close the file while another one is put in its place, then open the one that lies there.

        Who reads or writes is waited for, and waits meanwhile; what was remembered is forgotten. Raises: NotInPlace;
        StillRead where somebody reads on for too long, and nothing was closed then.
        """
        with self._turn, self._gate.alone(_TO_LEAVE) as alone:
            if not alone:
                raise StillRead
            self._try_to_fold()
            self._check_in_place()
            self._seen = None
            self._dispose()
            try:
                yield
            finally:
                self.take_up()
                self._memory = Memo()
                self._books += 1
                self._writes += 1

    def only_look(self, refusal: str) -> None:
        """Refuse every write from now on, with a sentence that says why."""
        self._refusal = refusal

    @contextmanager
    def remaking(self) -> Iterator[Engine]:
        """Give the engine of the writers to make the tables anew, while nobody else writes."""
        with self._turn:
            self._check_in_place()
            with self._told_plainly():
                yield self._writers
            self._written()
            self._memory = Memo()

    def copy_into(self, path: Path) -> None:
        """Write all that was committed into a new file: out of the open one, wherever it is by now.

        Raises: OperationalError of the driver where that cannot be written.
        """
        with self._gate.inside(), closing(self._writers.raw_connection()) as connection:
            copy_of(cast(sqlite3.Connection, connection.driver_connection), path)

    @property
    def resting(self) -> float | None:
        """The seconds since the last write that is not folded in yet; None where all writes are folded in."""
        wrote_at = self._wrote_at
        return None if wrote_at is None else time.monotonic() - wrote_at

    @property
    def state(self) -> int | None:
        """A number that is another one after every change of the data; None while writes are not folded in."""
        return mark_of(self.path) if self._wrote_at is None else None

    def fold(self) -> bool:
        """Fold the log into the file, so that a copy of the one file is whole.

        Returns whether all of it is folded in: not while somebody reads an older moment, nor where that
        cannot be done, which is logged and tried again later.
        """
        with self._turn:
            return self._try_to_fold()

    def _tell_of_damage(self, *, known: bool) -> None:
        for sentence in self.damaged:
            log.log.warning("%s: %s", self.path, sentence)
        if not known:
            log.log.warning("Whether a page of %s was damaged cannot be told.", self.path)

    def _see_to_sums(self) -> None:
        try:
            page_sums.see_to_sums(self.path)
        except OSError as error:
            log.log.warning("The sums of the pages of %s are not kept: %s", self.path, error)
        self._seen = Seen.of(self.path)

    def _try_to_fold(self) -> bool:
        try:
            self._check_in_place()
            return self._fold()
        except (NotInPlace, OSError, SQLAlchemyError, sqlite3.Error) as error:
            # Nothing is lost by it: all that was committed stands in the log, and is read from there.
            log.log.warning("The log of %s is not folded in: %s", self.path, error)
            self._wrote_at = time.monotonic()
            return False

    def _fold(self) -> bool:
        if not log.size_of(log.beside(self.path, log.LOG)):
            self._wrote_at = None
            return True
        with closing(self._writers.raw_connection()) as connection:
            folded = log.fold(cast(sqlite3.Connection, connection.driver_connection))
        self._seen = Seen.of(self.path)
        self._wrote_at = None if folded else time.monotonic()
        return folded

    def remembered[T](
        self, key: str, make: Callable[[], T], *, asked: Hashable = None, most: int = 1
    ) -> T:
        """Return what was made under a key since the last write; after a write it is made anew.

        It is for what takes long to work out, follows from the stored data and from what is asked alone,
        and is read by many pages or with every key. most: how many askings are remembered.
        """
        # Counted first: what is made of what an older moment shows goes where nobody looks any more.
        return self._memory.of(key, (self._writes, asked), make, most=most)

    @property
    def of_book(self) -> OfBook:
        """What follows from the price book as it stands now, found again without a transaction."""
        return OfBook(self._memory, self._books)

    def current_shop(self) -> Shop | None:
        """Return the shop, None before the first run. It is read again only when it has changed."""
        with self.reading() as work:
            return work.shop.current()

    def close(self) -> None:
        """Fold the log in and let go of the file. Open transactions keep their connections until they end.

        Who writes just now is waited for, though not for long; what cannot be folded in stays in the log, and the
        next one to open the file finds it there.
        """
        folded = self._seen is None
        if self._seen is not None and self._turn.acquire(timeout=_PATIENCE):
            try:
                folded = self._try_to_fold()
            finally:
                self._seen = None
                self._turn.release()
        if not folded:
            # SQLite folds the rest in when the last one lets go, without them.
            page_sums.forget(self.path)
        self._dispose()

    def _dispose(self) -> None:
        self._readers.dispose()
        self._writers.dispose()
        held.let_go(*self._never_closed)

    @property
    def _never_closed(self) -> tuple[Path, Path]:
        return self.path, log.beside(self.path, log.INDEX)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_error: object) -> None:
        self.close()
