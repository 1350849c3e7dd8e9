"""A store in a real file, empty or with a shop and its price book.

Files are made once and copied, since making one takes longer than most tests.
"""

from collections.abc import Iterator
from pathlib import Path
from shutil import copyfile

import pytest

from app.storage import DATABASE_NAME, Store
from tests.builders.kept import BOOK, NOW, SHOP
from tests.landed.shops import METRIC


@pytest.fixture(scope="session")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("shop") / DATABASE_NAME
    with Store.open(file) as store, store.writing() as work:
        work.shop.add(SHOP, now=NOW)
        work.materials.add_all(BOOK, now=NOW)
    return file


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / DATABASE_NAME


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("empty") / DATABASE_NAME
    Store.open(file).close()
    return file


@pytest.fixture
def empty(empty_file: Path, path: Path) -> Iterator[Store]:
    copyfile(empty_file, path)
    with Store.open(path) as store:
        yield store


@pytest.fixture
def store(shop_file: Path, path: Path) -> Iterator[Store]:
    copyfile(shop_file, path)
    with Store.open(path) as store:
        yield store


@pytest.fixture(scope="module")
def landed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of the sample shop of an old version, brought up to date: everything in it was sealed by the migration."""
    folder = tmp_path_factory.mktemp("landed")
    with METRIC.opened(folder):
        pass
    return folder / DATABASE_NAME


@pytest.fixture
def shop(landed: Path, path: Path) -> Path:
    """A copy of that, to be spoiled."""
    copyfile(landed, path)
    return path
