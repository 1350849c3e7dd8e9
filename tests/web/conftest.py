"""The whole app as a browser or a program meets it, on a store in a file of its own."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path
from shutil import copyfile, rmtree

import pytest
from starlette.testclient import TestClient

from app.lengths import Unit
from app.orders import usual_shop
from app.services import shop as shops
from app.services.printing import Make, Print, Prints
from app.storage import DATABASE_NAME, Stamp, Store
from app.web.app import create_app
from tests.builders.hasty import new_store, nothing_on_the_disk
from tests.builders.worked import BOOK
from tests.web.shown import Counter

OWN_ADDRESS = "http://127.0.0.1"
"""The guard answers to loopback names only, so not to the test client's usual one."""


@pytest.fixture(scope="module")
def api(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The app on an empty store, for what touches no data. A bug is an answer with status 500."""
    path = tmp_path_factory.mktemp("api") / DATABASE_NAME
    with (
        new_store(path) as store,
        TestClient(
            create_app(store), base_url=OWN_ADDRESS, raise_server_exceptions=False
        ) as client,
    ):
        yield client


NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
"""A Wednesday; the clock of every page under test."""

SHOP = usual_shop("Sedge Lane Frames", Unit.MM, "EUR", Fraction(1, 5))


@pytest.fixture(scope="session")
def blank_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a store before the first run."""
    file = tmp_path_factory.mktemp("blank") / DATABASE_NAME
    with new_store(file):
        pass
    return file


@pytest.fixture(scope="session")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a store with a shop and nothing else."""
    file = tmp_path_factory.mktemp("shop") / DATABASE_NAME
    with new_store(file) as store:
        shops.set_up(store, SHOP, Stamp(who="", now=NOW))
    return file


@pytest.fixture(scope="session")
def stocked_file(shop_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of that shop with the price book of round figures."""
    file = tmp_path_factory.mktemp("stocked") / DATABASE_NAME
    copyfile(shop_file, file)
    with Store.open(file) as store:
        _stock(store)
    return file


def _stock(store: Store) -> None:
    with store.writing() as work:
        work.materials.add_all(BOOK, now=NOW)


@pytest.fixture(scope="session")
def one_store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One store for all tests: what the database library has put together serves them all."""
    with nothing_on_the_disk():
        store = new_store(tmp_path_factory.mktemp("store") / DATABASE_NAME)
    with store:
        yield store


def remade(store: Store, file: Path) -> Store:
    """A store that holds what a file holds, alone in its folder. Copying takes a tenth of the time of making."""
    for beside in store.path.parent.iterdir():
        if not beside.name.startswith(DATABASE_NAME):
            rmtree(beside) if beside.is_dir() else beside.unlink()
    with store.remaking() as engine, closing(sqlite3.connect(file)) as made:
        connection = engine.raw_connection()
        try:
            made.backup(connection.driver_connection)
        finally:
            connection.close()
    return store


@pytest.fixture
def bare(one_store: Store, blank_file: Path) -> Store:
    """A store before the first run."""
    return remade(one_store, blank_file)


@pytest.fixture
def store(
    request: pytest.FixtureRequest, one_store: Store, shop_file: Path, stocked_file: Path
) -> Store:
    """A store with a shop, and with nothing else where the test asks for nothing else."""
    return remade(one_store, stocked_file if "stocked" in request.fixturenames else shop_file)


@contextmanager
def browser_on(store: Store) -> Iterator[TestClient]:
    """A browser's requests: its posts say that they come from our own pages."""
    with TestClient(
        create_app(store, now=lambda: NOW),
        base_url=OWN_ADDRESS,
        headers={"sec-fetch-site": "same-origin"},
    ) as client:
        yield client


@pytest.fixture
def page(store: Store) -> Iterator[TestClient]:
    """A browser in a shop."""
    with browser_on(store) as client:
        yield client


@pytest.fixture
def first_page(bare: Store) -> Iterator[TestClient]:
    """A browser before the first run."""
    with browser_on(bare) as client:
        yield client


@pytest.fixture
def made_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Papers are made in this process, so that a test can take the place of what makes them."""

    def made(_prints: Prints, paper: Print, make: Make) -> Path:
        paper.begun.set()
        into = _prints._file(paper)
        into.write_bytes(make())
        return into

    monkeypatch.setattr(Prints, "_answered", made)


class Clock:
    """The clock on the shop's wall; it stands still until a test moves it."""

    def __init__(self) -> None:
        self.time = NOW

    def __call__(self) -> datetime:
        return self.time


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def stocked(store: Store) -> Store:
    """A shop with the price book of round figures."""
    with store.reading() as work:
        has_it = any(work.materials.counts().values())
    if not has_it:  # where a module has a shop of its own
        _stock(store)
    return store


@pytest.fixture
def counter(stocked: Store, clock: Clock) -> Iterator[Counter]:
    """A browser at the counter of that shop. A bug fails the test."""
    with TestClient(
        create_app(stocked, now=clock),
        base_url=OWN_ADDRESS,
        headers={"sec-fetch-site": "same-origin"},
    ) as client:
        yield Counter(client)


@pytest.fixture(scope="module")
def shared_counter(
    stocked_file: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Counter]:
    """A counter of that shop for the many tests of a module that keep nothing."""
    file = tmp_path_factory.mktemp("shared") / DATABASE_NAME
    copyfile(stocked_file, file)
    with Store.open(file) as store, browser_on(store) as client:
        yield Counter(client)
