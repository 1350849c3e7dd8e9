"""Stores that are made by copying and whose commits do not wait for the disk: in a test the machine keeps its power."""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from app.storage import DATABASE_NAME, Store, engine


@contextmanager
def nothing_on_the_disk() -> Iterator[None]:
    """Let connections that are made until the end of the block leave it to the machine when it writes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "_PRAGMAS", (*engine._PRAGMAS, "synchronous = OFF"))
        yield


@cache
def _blank() -> bytes:
    """The file of a store before the first run, by every step of the schema."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / DATABASE_NAME
        Store.open(path).close()
        return path.read_bytes()


def new_store(path: Path) -> Store:
    """Open a store in a file that is not there yet: a copy of one that was made before, which takes a fraction of the time."""
    path.write_bytes(_blank())
    return Store.open(path)
