"""Child processes that answer questions: few at once, each for a limited time and in a limited memory, never left behind.

A child lives as long as somebody asks: it is started for the first question and answers those that
follow; after a crash or a stop a new one takes its place. It knows nothing of plans: a line of text in,
a line of text out, and lines before it that say how far it is.
"""

import atexit
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryFile
from typing import TextIO

import app

ROOT = Path(app.__file__).parents[1]
"""Where `python -m app...` finds us."""

WORKER = (sys.executable, "-m", "app.services.cutting_worker")

MOST_LIVING = min(2, os.cpu_count() or 1)
"""How many children live at once: as many as there are processors, up to two. Source: ours."""

GRACE = 5
"""Seconds that a child is given beyond its limit before it is killed. Source: ours."""

LONGEST_WAIT = 120
"""Seconds that a question waits for its turn. Source: ours."""

ON_THE_WAY = "~"
"""What a line begins with that says how far a child is, and is no answer yet."""

type Told = Callable[[str], None]

_GLANCE = 0.05
"""Seconds between two looks at whether to stop."""

_LONGEST_END = 1.0
"""Seconds that a child which closed its output is given to end by itself. Source: ours."""

_living: set[subprocess.Popen[str]] = set()
_ended = threading.Event()


class StoppedError(Exception):
    """Whoever asked has told us to stop; nothing of the answer is kept."""


class NoAnswerError(Exception):
    """A child was late, crashed or could not be started; the message says which."""


class CrashedError(NoAnswerError):
    """A child ended by itself without an answer; the next one may not."""


class Children:
    """The children of one command. May be used from any thread.

    grace: seconds beyond the limit of a question. most: how many live at once. named: what a child is to
    people.
    """

    def __init__(
        self,
        command: tuple[str, ...] = WORKER,
        *,
        grace: float = GRACE,
        most: int = MOST_LIVING,
        named: str = "the solver",
    ) -> None:
        self.most = most
        self._named = named
        self.command, self._grace = command, grace
        self._turns = threading.Semaphore(most)
        self._lock = threading.Lock()
        self._asking = 0
        self._idle: list[_Child] = []

    @contextmanager
    def kept(self) -> Iterator[None]:
        """Let children live on from question to question; once nobody keeps them they are ended."""
        with self._lock:
            self._asking += 1
        try:
            yield
        finally:
            with self._lock:
                self._asking -= 1
                unused = [] if self._asking else self._idle
                self._idle = [] if unused else self._idle
            for child in unused:
                child.end()

    def answer(
        self,
        question: str,
        seconds: int,
        stop: threading.Event,
        told: Told = lambda _word: None,
        lives_on: Callable[[str], bool] = lambda _answer: True,
    ) -> str:
        """Return the line that a child answers with. question: without a line break. told: is given what it says on
        the way, from when on it has its seconds anew. lives_on: whether a child with this answer is asked again.

        It waits for its turn. Raises: StoppedError where stop is set before the answer, NoAnswerError;
        the child is gone by then.
        """
        with self.kept(), self._turn(stop):
            child = self._taken()
            try:
                answer = child.answer(question, seconds + self._grace, stop, told)
            except BaseException:
                child.end()
                raise
            if not lives_on(answer):
                child.end()
                return answer
            with self._lock:
                self._idle.append(child)
            return answer

    def waits(self) -> bool:
        """Tell whether a child is there that has nothing to do."""
        with self._lock:
            return any(child.lives() for child in self._idle)

    @contextmanager
    def _turn(self, stop: threading.Event) -> Iterator[None]:
        """Wait until a child may be had. Raises: StoppedError, NoAnswerError after the longest wait."""
        limit = time.monotonic() + LONGEST_WAIT
        while not self._turns.acquire(timeout=_GLANCE):
            if stop.is_set():
                raise StoppedError
            if time.monotonic() > limit:
                raise NoAnswerError(f"{self._named} was busy for too long")
        try:
            yield
        finally:
            self._turns.release()

    def _taken(self) -> "_Child":
        """Return one that lives, a new one where none does. Raises: NoAnswerError, StoppedError."""
        with self._lock:
            child = self._idle.pop() if self._idle else None
        if child is not None and not child.lives():
            child.end()
            child = None
        return child or _Child(self.command, self._named)


class _Child:
    """One child and what it has to say."""

    def __init__(self, command: tuple[str, ...], named: str) -> None:
        self._named, self._heard_at = named, 0.0
        self._errors = TemporaryFile("w+", encoding="utf-8", errors="replace")  # noqa: SIM115
        try:
            self._process = subprocess.Popen(
                command,
                cwd=ROOT,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=self._errors,
                encoding="utf-8",
                errors="replace",
            )
        except OSError as error:
            self._errors.close()
            raise NoAnswerError(f"{named} cannot be started: {error}") from error
        _living.add(self._process)
        if _ended.is_set():  # looked at once it is among the living, lest it be missed
            self.end()
            raise StoppedError

    def lives(self) -> bool:
        """Tell whether it can be asked."""
        return self._process.poll() is None

    def answer(self, question: str, seconds: float, stop: threading.Event, told: Told) -> str:
        """Return its answer. Raises: StoppedError, NoAnswerError; whoever gets that ends it."""
        lines: list[str] = []
        self._heard_at = time.monotonic()
        hearing = threading.Thread(target=self._exchange, args=(question, lines, told), daemon=True)
        hearing.start()
        while hearing.is_alive():
            if stop.is_set():
                raise StoppedError
            if time.monotonic() > self._heard_at + seconds:
                raise NoAnswerError(f"{self._named} was late")
            hearing.join(_GLANCE)
        if not lines:
            raise CrashedError(f"{self._named} ended with {self._last_word()}")
        return lines[0]

    def _exchange(self, question: str, lines: list[str], told: Told) -> None:
        """Ask and hear, however long either takes: a pipe that nobody reads holds up who writes."""
        sent, heard = self._process.stdin, self._process.stdout
        assert sent is not None and heard is not None  # noqa: PT018 - pipes were asked for
        with suppress(OSError, ValueError):  # it was ended meanwhile
            sent.write(question + "\n")
            sent.flush()
            while (line := heard.readline()).startswith(ON_THE_WAY):
                self._heard_at = time.monotonic()
                told(line[len(ON_THE_WAY) :].strip())
            if line.endswith("\n"):
                lines.append(line)

    def _last_word(self) -> str:
        with suppress(subprocess.TimeoutExpired):
            self._process.wait(_LONGEST_END)
        self._errors.seek(0)
        last = self._errors.read().strip().splitlines()[-1:] or ["without a word"]
        return f"{self._process.poll()}: {last[0][:300]}"

    def end(self) -> None:
        """Kill it if it lives, and leave nothing open."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout, self._errors):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()
        _living.discard(self._process)


@atexit.register
def end_all() -> None:
    """Where the app ends, so do its children, and no further one is started."""
    _ended.set()
    for process in tuple(_living):
        process.kill()


def answers() -> TextIO:
    """Return, in a child, standard output for its answers alone: what a library prints goes where errors go."""
    sys.stdout.flush()
    kept = os.dup(1)
    os.dup2(2, 1)
    return os.fdopen(kept, "w", encoding="utf-8")


def hold_to(memory: int) -> None:
    """Hold this process, a child, to so many bytes of address space; where the system knows no such limit, to what there is.

    Beyond it a MemoryError is raised, or a library of another language ends the process.
    """
    try:
        import resource  # noqa: PLC0415 - not on every system
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
