"""Lets many in at once, or one alone."""

import threading
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager


class Gate:
    """A gate through which any number of threads pass, until one wants to be alone behind it.

    A thread that is inside may pass again, also while somebody waits to be alone.
    """

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._inside: Counter[int] = Counter()
        self._closed_by: int | None = None

    @contextmanager
    def inside(self) -> Iterator[None]:
        """Be inside among others; whoever is alone there is waited for."""
        me = threading.get_ident()
        with self._changed:
            self._changed.wait_for(lambda: self._closed_by in (None, me) or self._inside[me] > 0)
            self._inside[me] += 1
        try:
            yield
        finally:
            with self._changed:
                self._inside[me] -= 1
                if not self._inside[me]:
                    del self._inside[me]
                self._changed.notify_all()

    @contextmanager
    def alone(self, patience: float) -> Iterator[bool]:
        """Let nobody else in. Gives whether those inside have left within some seconds; if not, nobody is alone."""
        with self._changed:
            self._closed_by = threading.get_ident()
            left = self._changed.wait_for(lambda: not self._inside, timeout=patience)
            if not left:
                self._open()
        try:
            yield left
        finally:
            with self._changed:
                self._open()

    def _open(self) -> None:
        self._closed_by = None
        self._changed.notify_all()
