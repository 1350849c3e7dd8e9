"""Keeps beside the database what is of the machine and not of the shop: restoring a copy does not take it back.

That is the second folder of copies, and the life of the data. A life ends where they are put back to an older state or begun
anew, since ids and numbers are handed out a second time then: a page of before may speak of another order.
"""

import secrets
import threading
from pathlib import Path

from app.storage.small_files import json_in, write_whole

FIRST_LIFE = "0"
"""The life of data that were never put back."""

_WRITING = threading.Lock()
_LIVES: dict[Path, str] = {}
"""What was read or written last, by file: it is asked for at every page, and written by this process alone."""


class Machine:
    """What is noted beside one database. May be used from any thread."""

    def __init__(self, database: Path) -> None:
        self._file = database.with_name(f"{database.stem}.machine.json")

    @property
    def second(self) -> Path | None:
        """The second folder of copies, None where none is set."""
        text = self._text("second_folder")
        return Path(text) if text else None

    def use_second(self, folder: Path | None) -> None:
        """Set the second folder of copies; None for none. Raises: CannotWrite."""
        self._set("second_folder", str(folder) if folder else "")

    @property
    def life(self) -> str:
        """The life of the data, a short word of letters and digits."""
        if (known := _LIVES.get(self._file)) is None:
            known = _LIVES.setdefault(self._file, self._text("life") or FIRST_LIFE)
        return known

    def begin_life(self) -> None:
        """Begin another life, before the data are put back or begun anew. Raises: CannotWrite."""
        life = secrets.token_hex(4)
        self._set("life", life)
        _LIVES[self._file] = life

    def _text(self, name: str) -> str:
        found = json_in(self._file)
        text = found.get(name) if isinstance(found, dict) else None
        return text if isinstance(text, str) else ""

    def _set(self, name: str, text: str) -> None:
        with _WRITING:
            found = json_in(self._file)
            write_whole(self._file, {**(found if isinstance(found, dict) else {}), name: text})
