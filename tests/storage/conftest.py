"""A store in a real file, empty or with a shop and its price book."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from app.storage import DATABASE_NAME, Store
from tests.storage.samples import BOOK, NOW, SHOP


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / DATABASE_NAME


@pytest.fixture
def empty(path: Path) -> Iterator[Store]:
    with Store.open(path) as store:
        yield store


@pytest.fixture
def store(empty: Store) -> Store:
    with empty.writing() as work:
        work.shop.add(SHOP, now=NOW)
        work.materials.add_all(BOOK, now=NOW)
    return empty
