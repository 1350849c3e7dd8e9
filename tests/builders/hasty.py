"""Stores that are made by copying and whose commits do not wait for the disk: in a test the machine keeps its power."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from app.storage import DATABASE_NAME, Store, engine
from seed_demo.build import build_demo


@contextmanager
def nothing_on_the_disk() -> Iterator[None]:
    """Let connections that are made until the end of the block leave it to the machine when it writes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "_PRAGMAS", (*engine._PRAGMAS, "synchronous = OFF"))
        yield


@cache
def _made(fill: Callable[[Store], None] | None, orders: int | None = None) -> bytes:
    """The file of a store by every step of the schema, before the first run where nothing is put into it."""
    with TemporaryDirectory() as folder, nothing_on_the_disk():
        path = Path(folder) / DATABASE_NAME
        with Store.open(path) as store:
            if fill is not None:
                fill(store)
            if orders is not None:
                build_demo(store, orders=orders)
        return path.read_bytes()


def new_store(path: Path, fill: Callable[[Store], None] | None = None) -> Store:
    """Open a store in a file that is not there yet: a copy of one that was made before, which takes a fraction of the time.

    fill: what is put into it, a function of a module; so it is done once for all who ask for the same.
    """
    path.write_bytes(_made(fill))
    return Store.open(path)


def new_sample(path: Path, orders: int) -> Store:
    """Open a store with the sample shop of so many orders in the same way."""
    path.write_bytes(_made(None, orders))
    return Store.open(path)
