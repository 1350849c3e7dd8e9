"""What is logged, and where: on the terminal and, while a shop is served, in a file of its data folder.

Neither says what a person typed or what is kept of one: of an error the places in the program are told and its kind, and
not its words, which may quote either; paths are told without what stands behind a question mark.
"""

import logging
import os
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import Any, cast

from app.storage import PRIVATE_FILE

LOG_NAME = "bevelbook.log"

LARGEST, OLDER = 1024 * 1024, 5
"""Bytes of the file at most, and how many older ones are kept beside it. Source: ours."""

_CHATTY = ("alembic", "ezdxf", "fontTools", "weasyprint")


def told(error: BaseException) -> Iterator[str]:
    """Tell an error line by line, what it came of first: the places that it went through and its kind, never its words."""
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    if before is not None:
        yield from told(before)
        yield "From that came:"
    yield from "".join(traceback.format_tb(error.__traceback__)).splitlines()
    yield f"{type(error).__module__}.{type(error).__qualname__}"
    if isinstance(error, BaseExceptionGroup):
        for each in error.exceptions:
            yield "Of several:"
            yield from (f"  {line}" for line in told(each))


class WithoutWords(logging.Formatter):
    """Prints a record with `told` for its error."""

    def formatException(self, ei: Any) -> str:  # noqa: N802 - the name that logging asks for
        """Return an error as lines."""
        return "\n".join(told(ei[1])) if ei[1] is not None else ""

    def format(self, record: logging.LogRecord) -> str:
        """Return a record as text. What another formatter made of its error is not taken over."""
        record.exc_text = None
        try:
            return super().format(record)
        finally:
            record.exc_text = None


class _OwnersAlone(RotatingFileHandler):
    """A file that its owner alone may read. Where it cannot be written, the shop goes on without."""

    def _open(self) -> TextIOWrapper:
        def private(path: str, flags: int) -> int:
            return os.open(path, flags, PRIVATE_FILE)

        file = open(  # noqa: SIM115 - the handler closes it
            self.baseFilename, self.mode, encoding=self.encoding, opener=private
        )
        return cast("TextIOWrapper", file)

    def handleError(self, record: logging.LogRecord) -> None:  # noqa: N802 - the same
        """Leave it: a disk that is full must not stop the work that is told of."""


def on_terminal(level: str) -> None:
    """Log on the terminal, from a level on: "debug", "info" ..."""
    terminal = logging.StreamHandler()
    terminal.setFormatter(WithoutWords("%(levelname)s %(message)s"))
    logging.basicConfig(level=level.upper(), handlers=[terminal])
    for chatty in _CHATTY:
        logging.getLogger(chatty).setLevel(logging.WARNING)


@contextmanager
def kept_in(folder: Path) -> Iterator[None]:
    """Keep what is logged in a file of a folder as well."""
    handler = _OwnersAlone(
        folder / LOG_NAME, maxBytes=LARGEST, backupCount=OLDER, encoding="utf-8", delay=True
    )
    handler.setFormatter(WithoutWords("%(asctime)s %(levelname)s %(name)s %(message)s"))
    logging.getLogger().addHandler(handler)
    try:
        yield
    finally:
        logging.getLogger().removeHandler(handler)
        handler.close()


def kept_at() -> Path | None:
    """Return the file in which the log is kept, None where it stands on the terminal alone."""
    for handler in logging.getLogger().handlers:
        if isinstance(handler, _OwnersAlone):
            return Path(handler.baseFilename)
    return None
