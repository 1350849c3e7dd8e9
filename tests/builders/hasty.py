"""Stores whose commits do not wait for the disk: in a test the machine keeps its power."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from app.storage import engine


@contextmanager
def nothing_on_the_disk() -> Iterator[None]:
    """Let connections that are made until the end of the block leave it to the machine when it writes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "_PRAGMAS", (*engine._PRAGMAS, "synchronous = OFF"))
        yield
