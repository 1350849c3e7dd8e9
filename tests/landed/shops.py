"""The shops that landed versions left: which there are, and how one is opened again.

Each is a file as that version left it, compressed, and never made anew. What its pages and papers said stands
beside it (`record`).
"""

import lzma
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from starlette.testclient import TestClient

from app.storage import DATABASE_NAME, Store
from app.web.app import create_app
from tests.web.conftest import OWN_ADDRESS

KEPT = Path(__file__).parents[1] / "fixtures"

TODAY = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
"""The day on the wall of every one of them, a Wednesday."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LandedShop:
    """One of them. name: what it is and the step that its file stands at."""

    name: str

    @property
    def file(self) -> Path:
        """The compressed database."""
        return KEPT / f"{self.name}.sqlite3.xz"

    @property
    def said(self) -> Path:
        """What its pages and papers say."""
        return KEPT / f"{self.name}.json"

    def keep(self, database: Path) -> None:
        """Keep a database that was just made. Raises: FileExistsError."""
        with self.file.open("xb") as file:
            file.write(lzma.compress(database.read_bytes(), preset=9 | lzma.PRESET_EXTREME))

    @contextmanager
    def opened(self, folder: Path) -> Iterator[tuple[Store, TestClient]]:
        """Its store, brought up to today's form in a folder, and a browser on it. A bug raises."""
        path = folder / DATABASE_NAME
        path.write_bytes(lzma.decompress(self.file.read_bytes()))
        with (
            Store.open(path) as store,
            TestClient(create_app(store, now=lambda: TODAY), base_url=OWN_ADDRESS) as browser,
        ):
            for copy in folder.glob("*.schema-*"):
                copy.unlink()  # made on the day of the test, and none of the shop's
            yield store, browser


METRIC = LandedShop(name="metric-0010")
"""The sample shop with few orders, and acts of every kind upon it."""

IMPERIAL = LandedShop(name="imperial-0010")
"""A shop that works in inches and dollars, with tax added."""

OLD = LandedShop(name="metric-0005")
"""The sample shop as it stood before there was a stock: its snapshots lack what came later."""

METRIC_0_2 = LandedShop(name="metric-0027")
"""As `METRIC`, as 0.2 left it."""

IMPERIAL_0_2 = LandedShop(name="imperial-0027")
"""As `IMPERIAL`, as 0.2 left it."""

SHOPS = (METRIC, IMPERIAL, OLD, METRIC_0_2, IMPERIAL_0_2)
