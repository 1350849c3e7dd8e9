"""The database file: how it is opened, read and written.

One process works on a file. Any number of threads read; one writes at a time. A write waits for the
one before it, sees everything that was committed, and is on the disk when it returns.
"""

import sqlite3
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Self, cast

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session

from app.orders import Shop
from app.storage.faults import CannotWrite, DiskFull, is_full
from app.storage.kept import Kept
from app.storage.lasting import Lasting
from app.storage.materials import Answers
from app.storage.migrating import SCHEMA, bring_up_to_date, schema_of
from app.storage.privacy import keep_private
from app.storage.work import Work

DATABASE_NAME = "bevelbook.sqlite3"

_PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",  # an order that was taken must not vanish with the power
    "foreign_keys = ON",
    "busy_timeout = 5000",
    "secure_delete = ON",  # what was erased is not to be read in the file (GDPR art. 17)
)
_READING = ("query_only = ON", "trusted_schema = OFF")
# SQLite before 3.41 lets no trigger of an untrusted schema write to a word index. So writers trust
# it; whoever brings a file from elsewhere has its schema compared with ours first (`backup`).
_WRITING = ("trusted_schema = ON",)
_NOT_A_BUG = {
    sqlite3.SQLITE_READONLY: "it is read-only",
    sqlite3.SQLITE_IOERR: "the disk reports an error",
    sqlite3.SQLITE_BUSY: "another program holds it",
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened",
}


def _engine(path: Path, begin: str, pragmas: tuple[str, ...]) -> Engine:
    """An engine whose transactions begin as said.

    The driver is kept from beginning transactions of its own, so that BEGIN IMMEDIATE is really
    what a writer says: a deferred one that reads first fails whenever another wrote in between.
    """
    engine = create_engine(URL.create("sqlite", database=str(path)))

    @event.listens_for(engine, "connect")
    def on_connect(connection: Any, _record: object) -> None:
        connection.isolation_level = None
        for pragma in (*_PRAGMAS, *pragmas):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine


def migrate_new(path: Path, schema: str = SCHEMA) -> None:
    """Make a database file that stands at a schema."""
    engine = _engine(path, "BEGIN IMMEDIATE", _WRITING)
    try:
        bring_up_to_date(path, engine, to=schema)
    finally:
        engine.dispose()


class Store:
    """The shop's data. Make one with `Store.open`; it may be used from any thread.

    Within `reading()` everything is seen as it stood at one moment; writing there is refused by the
    database. `writing()` commits at its end, or leaves everything as it was when it is left by an error.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._writers = _engine(path, "BEGIN IMMEDIATE", _WRITING)
        self._readers = _engine(path, "BEGIN", _READING)
        self._turn = threading.Lock()
        self._writer: int | None = None
        self._shop: Kept[Shop] | None = None
        self._answers: Answers = {}
        self._remembered: dict[str, object] = {}
        self._lasting = Lasting()

    @contextmanager
    def reading(self) -> Iterator[Work]:
        """The repositories, for reading. Raises: DiskFull where sorting finds no room."""
        # Taken before the transaction begins: what an older one still adds goes to answers that
        # nobody is given any more.
        answers, lasting = self._answers, self._lasting
        with self._told_plainly({}), Session(self._readers) as session:
            yield Work(session, answers, lasting)

    @contextmanager
    def writing(self) -> Iterator[Work]:
        """The repositories, in one transaction. Raises: CannotWrite when the disk refuses."""
        me = threading.get_ident()
        if self._writer == me:
            raise RuntimeError("a write inside a write would wait for itself")
        with self._turn:
            self._writer = me
            try:
                with self._told_plainly(), Session(self._writers) as session:
                    work = Work(session)
                    with session.begin():
                        yield work
                if work.materials.changed:
                    self._answers = {}
                self._remembered = {}
            finally:
                self._writer = None

    @contextmanager
    def _told_plainly(self, reasons: Mapping[int, str] = _NOT_A_BUG) -> Iterator[None]:
        """Raises: DiskFull; CannotWrite for the codes of SQLite that have a reason."""
        try:
            yield
        except (OperationalError, sqlite3.OperationalError) as error:
            cause = error.orig if isinstance(error, OperationalError) else error
            if is_full(cause):
                raise DiskFull(self.path) from error
            reason = reasons.get(getattr(cause, "sqlite_errorcode", 0) & 0xFF)
            if reason is None:
                raise
            raise CannotWrite(self.path, reason) from error

    @classmethod
    def open(cls, path: Path) -> Self:
        """The store of a file, which is made or brought up to date where that is needed.

        Raises: NotOurDatabase, NewerDatabase, CannotWrite.
        """
        store = cls(path)
        try:
            with store._turn, store._told_plainly():
                schema_of(path)  # before anything of ours touches the file
                keep_private(path)
                bring_up_to_date(path, store._writers)
        except BaseException:
            store.close()
            raise
        return store

    @contextmanager
    def remaking(self) -> Iterator[Engine]:
        """The engine of the writers, for as long as nobody else writes: to make the tables anew."""
        with self._turn, self._told_plainly():
            yield self._writers
        self._shop, self._answers, self._remembered = None, {}, {}
        self._lasting = Lasting()

    def remembered[T](self, key: str, make: Callable[[], T]) -> T:
        """What was made under a key since the last write; made anew after each.

        For what takes long to work out of what is kept alone and is read by many pages.
        """
        # Taken first: what is made of what an older moment shows goes where nobody looks any more.
        remembered = self._remembered
        if key not in remembered:
            remembered[key] = make()
        return cast(T, remembered[key])

    def current_shop(self) -> Shop | None:
        """The shop, None before the first run; read anew only when it has changed."""
        with self.reading() as work:
            version = work.shop.version()
            if version is None:
                return None
            kept = self._shop
            if kept is None or kept.version != version:
                kept = self._shop = work.shop.kept()
            return kept.value

    def close(self) -> None:
        """Let go of the file. Open transactions keep their connections until they end."""
        self._readers.dispose()
        self._writers.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_error: object) -> None:
        self.close()
