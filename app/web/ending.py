"""Ends the process in order when it is asked to stop, whatever it does."""

import os
import signal
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from types import FrameType

from app.services.children import end_all

STOPS = tuple(
    getattr(signal, name)
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
    if hasattr(signal, name)
)
"""What asks a process to stop. Windows knows no SIGHUP, and nobody else SIGBREAK."""

type _Handler = Callable[[int, FrameType | None], object] | signal.Handlers


def leave_in_order() -> None:
    """Treat every signal to stop this process as Ctrl+C is treated, once, so that nothing is left half done."""
    meet_with(_interrupt)


def end(code: int) -> None:
    """End the process, though a request may still be at work that nobody waits for."""
    end_all()
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):  # a terminal that was closed takes nothing any more
            stream.flush()
    if any(
        not each.daemon for each in threading.enumerate() if each is not threading.main_thread()
    ):
        os._exit(code)
    sys.exit(code)


def meet_with(handler: _Handler) -> None:
    """Meet every signal to stop this process with a handler."""
    for each in STOPS:
        # Who starts a program with nohup wants it to outlive the terminal.
        if each.name != "SIGHUP" or signal.getsignal(each) is not signal.SIG_IGN:
            signal.signal(each, handler)


def _interrupt(_number: int, _frame: FrameType | None) -> None:
    meet_with(signal.SIG_IGN)
    raise KeyboardInterrupt
