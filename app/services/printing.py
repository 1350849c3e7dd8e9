"""Papers are laid out in a child process, with a bound on its memory, and a long one is watched.

A paper that is made within a moment, counted from when it was asked for, is given at once. One that takes longer goes on in a thread of its own, which waits for the
child, says what it does and how far it is, and can be stopped; of those of many pieces one is made at a time. Nothing of it is kept beyond the
end of the app: the files lie in a folder of their own that goes with it.
"""

import base64
import json
import logging
import pickle
import secrets
import sys
import threading
from collections.abc import Callable, Hashable
from contextlib import ExitStack, suppress
from dataclasses import dataclass, field
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp

from app.documents.kit.pdf import PdfUnavailable, Unending
from app.errors import AppError, Busy, Conflict, Fault, Invalid, NotFound
from app.services.children import Children, NoAnswerError, StoppedError
from app.services.printing_worker import Wanted, readied
from app.services.run_state import RunState

log = logging.getLogger("bevelbook.printing")

type Make = Callable[[], bytes]
"""A function of a document with all that it is made of, which a child can be given (pickled)."""

type Work = Callable[[Callable[[Make], Path]], Path]
"""What a paper takes: it is given who makes a file of a `Make`, and returns the file."""

MOMENT = 1.0
"""Seconds after which a paper that is being made is watched. Source: J. Nielsen, Usability Engineering, 1993, 5.5: beyond one second
whoever waits is to be told that the machine is at work."""

MANY = 4
"""From so many pieces on a paper is long from the beginning, and waits for others that are. Source: ours."""

MOST_AT_ONCE = 12
"""Papers that are being made or wait for it. Source: ours."""

MOST_KEPT = 16
"""Papers that are made and were not followed by as many others. Source: ours."""

LONGEST_PIECE = 600
"""Seconds that a child is given for a piece, on a busy machine too; whoever waits may stop it before. Source: ours."""

WARM = 300.0
"""Seconds that a child lives on after a paper, to have the next one at once. Source: ours."""


def _invalid(said: str) -> AppError:
    return Invalid(
        Fault(path=path, message=text, code=code) for path, text, code in json.loads(said)
    )


_ERRORS: dict[str, Callable[[str], AppError]] = {
    "PdfUnavailable": PdfUnavailable,
    "Unending": lambda _message: Unending(),
    "Conflict": Conflict,
    "NotFound": NotFound,
    "Invalid": _invalid,
}


class TooLarge(Conflict):
    """A paper that takes more memory than it may."""

    code = "paper-too-large"


@dataclass(slots=True)
class Print:
    """A paper that is being made. name: of its file. of: how many pieces, of which so many are done; pages: how many are laid out of one that is not
    made of pieces. waits: whether others are made first. asked_by: whose it is. begun: set once a child is at it. result: once it is done.
    """

    id: str
    name: str
    of: int
    asked_by: Hashable = None
    done: int = 0
    pages: int = 0
    waits: bool = False
    state: RunState = RunState.RUNNING
    result: Path | None = None
    error: Exception | None = None
    stop: threading.Event = field(default_factory=threading.Event)
    begun: threading.Event = field(default_factory=threading.Event)
    ended: threading.Event = field(default_factory=threading.Event)


class Prints:
    """The papers of this process. May be used from any thread."""

    def __init__(self, command: tuple[str, ...] | None = None, *, moment: float = MOMENT) -> None:
        worker = command or (sys.executable, "-m", "app.services.printing_worker")
        self._children = Children(worker, most=2, named="the printing")
        self.moment = moment
        self._long = threading.Semaphore(1)
        self._lock = threading.Lock()
        self._prints: dict[str, Print] = {}
        self._folder: Path | None = None
        self._warm: ExitStack | None = None
        self._cooling: threading.Timer | None = None
        self._readied = threading.Event()
        self._readied.set()

    def expect(self) -> None:
        """Start a child for a paper that may be asked for soon, where none waits; returns at once."""
        with self._lock:
            if not self._readied.is_set() or self._children.waits():
                return
            self._readied.clear()
        threading.Thread(target=self._ready, daemon=True).start()

    def start(self, work: Work, name: str, pieces: int = 1, *, asked_by: Hashable = None) -> Print:
        """Begin a paper and wait a moment for it; it may be done then. asked_by: whose it is. Raises: Busy, and what
        its making raised within the moment.
        """
        begun = Print(id=secrets.token_hex(8), name=name, of=pieces, asked_by=asked_by)
        with self._lock:
            self._make_room()
            self._prints[begun.id] = begun
        threading.Thread(target=self._work, args=(begun, work), daemon=True).start()
        if begun.ended.wait(self.moment) and begun.error is not None:
            self.forget(begun.id)
            raise begun.error
        return begun

    def look(self, id: str) -> Print:
        """Return a paper as it stands. Raises: NotFound."""
        with self._lock:
            if id not in self._prints:
                raise NotFound(GONE)
            return self._prints[id]

    def stop(self, id: str) -> None:
        """Stop making a paper; one that is done stays. Raises: NotFound."""
        self.look(id).stop.set()

    def taken(self, made: Print) -> bytes:
        """Return a paper that is done, and forget it."""
        assert made.result is not None, "it is done"
        content = made.result.read_bytes()
        self.forget(made.id)
        return content

    def forget(self, id: str) -> None:
        """Forget a paper and delete its file."""
        with self._lock:
            gone = self._prints.pop(id, None)
        if gone is not None and gone.result is not None:
            gone.result.unlink(missing_ok=True)

    def close(self) -> None:
        """Stop everything that is being made, and delete what was made."""
        with self._lock:
            papers, folder = tuple(self._prints.values()), self._folder
            self._prints.clear()
            self._folder = None
        for each in papers:
            each.stop.set()
        if folder is not None:
            rmtree(folder, ignore_errors=True)

    def _ready(self) -> None:
        unprinted = Print(id=secrets.token_hex(8), name="", of=1)
        try:
            with suppress(AppError, StoppedError, OSError):  # the paper itself will say it
                self._asked(unprinted, readied).unlink(missing_ok=True)
        finally:
            self._readied.set()

    def _work(self, of: Print, work: Work) -> None:
        try:
            of.result = work(lambda make: self._made(of, make))
            of.state = RunState.DONE
        except StoppedError:
            of.state = RunState.STOPPED
        except Exception as error:
            of.state, of.error = RunState.FAILED, error
            if not isinstance(error, AppError):
                log.exception("A paper could not be made.")
        of.ended.set()

    def _made(self, of: Print, make: Make) -> Path:
        """Return the file that a child made. Raises: StoppedError, TooLarge, and what the making raised."""
        if of.of < MANY:
            return self._answered(of, make)
        while not self._long.acquire(timeout=0.05):
            of.waits = True
            if of.stop.is_set():
                raise StoppedError
        of.waits = False
        try:
            return self._answered(of, make)
        finally:
            self._long.release()

    def _answered(self, of: Print, make: Make) -> Path:
        """As `_made`, once it is its turn."""
        while not self._readied.wait(0.05):
            if of.stop.is_set():
                raise StoppedError
        return self._asked(of, make)

    def _asked(self, of: Print, make: Make) -> Path:
        """Return the file that a child makes now."""
        self._keep_warm()
        into = self._file(of)
        question = base64.b64encode(pickle.dumps(Wanted(make=make, into=into))).decode()

        def told(word: str) -> None:
            of.begun.set()
            if word:
                done, all_of_them = map(int, word.split())
                if all_of_them:
                    of.done, of.of = done, all_of_them
                else:
                    of.pages = done

        def lives_on(answer: str) -> bool:
            """One that took much memory gives it back by ending."""
            return of.of < MANY and json.loads(answer).get("kind") != "MemoryError"

        try:
            answer = self._children.answer(question, LONGEST_PIECE, of.stop, told, lives_on)
        except NoAnswerError as why:
            into.unlink(missing_ok=True)
            log.warning("A paper was not made: %s.", why)
            raise TooLarge(_TOO_LARGE) from why
        said = json.loads(answer)
        if not said:
            return into
        if said["kind"] == "MemoryError":
            raise TooLarge(_TOO_LARGE)
        if said["kind"] == "OSError":  # a full disk, which is told as one
            raise OSError(*json.loads(said["message"]))
        if said["kind"] in _ERRORS:
            raise _ERRORS[said["kind"]](said["message"])
        raise RuntimeError(f"the printing failed:\n{said['message']}")

    def _file(self, of: Print) -> Path:
        with self._lock:
            if self._folder is None:
                self._folder = Path(mkdtemp(prefix="bevelbook-print-"))
            return self._folder / f"{of.id}.pdf"

    def _keep_warm(self) -> None:
        """Let the child live on for a while after the last paper."""
        with self._lock:
            if self._warm is None:
                self._warm = ExitStack()
                self._warm.enter_context(self._children.kept())
            if self._cooling is not None:
                self._cooling.cancel()
            self._cooling = threading.Timer(WARM, self._cool)
            self._cooling.daemon = True
            self._cooling.start()

    def _cool(self) -> None:
        with self._lock:
            warm, self._warm = self._warm, None
        if warm is not None:
            warm.close()

    def _make_room(self) -> None:
        running = [each for each in self._prints.values() if each.state is RunState.RUNNING]
        if len(running) >= MOST_AT_ONCE:
            raise Busy(
                f"{len(running)} papers are being made already; wait for one or stop one, and print "
                "again."
            )
        ended = [each for each in self._prints.values() if each.state is not RunState.RUNNING]
        for each in ended[: max(len(ended) - MOST_KEPT + 1, 0)]:
            del self._prints[each.id]
            if each.result is not None:
                each.result.unlink(missing_ok=True)


GONE = "This paper is not here any more: others were made since, or the app was started anew. Print it again."

_TOO_LARGE = (
    "This paper takes more memory or time than printing may, so it was given up. Print fewer pieces at a "
    "time, or one piece alone."
)

PRINTS = Prints()
"""Those of this process: it has so many processors and so much memory, whatever asks."""
