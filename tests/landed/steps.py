"""The small shops of every step that landed: one file of each, as the code of then or its nearest left it.

All of them stand in one archive, since they are alike and take a tenth of the room together. Its index says how each was
made. None is ever made anew; a step that lands later gets a file of its own beside it.
"""

import tarfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from starlette.testclient import TestClient

from app.storage import DATABASE_NAME, Store
from app.web.app import create_app
from tests.landed.shops import KEPT, TODAY
from tests.web.conftest import OWN_ADDRESS

ARCHIVE = KEPT / "every-step.tar.xz"
INDEX = KEPT / "every-step.md"

STEPS = tuple(f"{number:04}" for number in range(1, 25))
"""The steps that the archive holds a shop of."""


@cache
def _files() -> dict[str, bytes]:
    with tarfile.open(ARCHIVE, "r:xz") as archive:
        found = ((member.name, archive.extractfile(member)) for member in archive.getmembers())
        return {name.partition(".")[0]: file.read() for name, file in found if file is not None}


def steps_kept() -> tuple[str, ...]:
    """The steps that the archive has a shop of, in order."""
    return tuple(sorted(_files()))


def put(step: str, folder: Path) -> Path:
    """Put the shop of a step into a folder, as it was left; returns the path."""
    path = folder / DATABASE_NAME
    path.write_bytes(_files()[step])
    return path


@contextmanager
def opened(step: str, folder: Path) -> Iterator[tuple[Store, TestClient]]:
    """Its store, brought up to today's form in a folder, and a browser on it. A bug raises."""
    with (
        Store.open(put(step, folder)) as store,
        TestClient(create_app(store, now=lambda: TODAY), base_url=OWN_ADDRESS) as browser,
    ):
        yield store, browser
