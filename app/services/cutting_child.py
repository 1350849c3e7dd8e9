"""Child processes that answer one question each: one at a time, for a limited time, never left behind.

It knows nothing of plans: text in, text out.
"""

import atexit
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO

import app

ROOT = Path(app.__file__).parents[1]
"""Where `python -m app...` finds us."""

GRACE = 5
"""Seconds that a child is given beyond its limit before it is killed. Source: ours."""

LONGEST_WAIT = 120
"""Seconds that a question waits for its turn. Source: ours."""

_GLANCE = 0.05
"""Seconds between two looks at whether to stop."""

_turn = threading.Lock()
_living: set[subprocess.Popen[str]] = set()
_ended = threading.Event()


class StoppedError(Exception):
    """Whoever asked has told us to stop; nothing of the answer is kept."""


class NoAnswerError(Exception):
    """A child was late, crashed or could not be started; the message says which."""


class CrashedError(NoAnswerError):
    """A child ended by itself without an answer; the next one may not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Child:
    """How a child is started. grace: seconds beyond the limit of a question."""

    command: tuple[str, ...] = (sys.executable, "-m", "app.services.cutting_worker")
    grace: float = GRACE

    def answer(self, question: str, seconds: int, stop: threading.Event) -> str:
        """What the child writes to its standard output.

        No two children live at once in this process: a question waits for its turn. Raises:
        StoppedError where stop is set before the answer, NoAnswerError; the child is gone by then.
        """
        with _taking_turns(stop), TemporaryFile("w+", encoding="utf-8") as asked:
            # Not a pipe: `communicate` with a timeout forgets what a pipe did not hold at once.
            asked.write(question)
            asked.seek(0)
            try:
                process = self._started(asked)
            except OSError as error:
                raise NoAnswerError(f"the solver cannot be started: {error}") from error
            _living.add(process)
            try:
                if _ended.is_set():  # looked at once it is among the living, lest it be missed
                    raise StoppedError
                return self._heard(process, time.monotonic() + seconds, stop)
            finally:
                _end(process)
                _living.discard(process)

    def _started(self, asked: IO[str]) -> subprocess.Popen[str]:
        return subprocess.Popen(
            self.command,
            cwd=ROOT,
            stdin=asked,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            errors="replace",
        )

    def _heard(self, process: subprocess.Popen[str], limit: float, stop: threading.Event) -> str:
        while True:
            if stop.is_set():
                raise StoppedError
            with suppress(subprocess.TimeoutExpired):
                out, errors = process.communicate(timeout=_GLANCE)
                break
            if time.monotonic() > limit + self.grace:
                raise NoAnswerError("the solver was late")
        if process.returncode != 0:
            last = errors.strip().splitlines()[-1:] or ["without a word"]
            raise CrashedError(f"the solver ended with {process.returncode}: {last[0][:300]}")
        return out


@contextmanager
def _taking_turns(stop: threading.Event) -> Iterator[None]:
    """Wait until no other child lives. Raises: StoppedError, NoAnswerError after the longest wait."""
    limit = time.monotonic() + LONGEST_WAIT
    while not _turn.acquire(timeout=_GLANCE):
        if stop.is_set():
            raise StoppedError
        if time.monotonic() > limit:
            raise NoAnswerError("the solver was busy for too long")
    try:
        yield
    finally:
        _turn.release()


def _end(process: subprocess.Popen[str]) -> None:
    """Kill it if it lives, and leave nothing open."""
    process.kill()
    for pipe in (process.stdout, process.stderr):
        if pipe is not None:
            with suppress(OSError):
                pipe.close()
    process.wait()


@atexit.register
def end_all() -> None:
    """Where the app ends, so do its children, and no further one is started."""
    _ended.set()
    for process in tuple(_living):
        process.kill()
