"""The README's pictures can be taken: a page on a phone and a paper, of a small sample."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser

from app.storage import DATABASE_NAME, Store
from tests.browser.conftest import Shop, opened
from tests.readme.pictures import PICTURES, Picture
from tests.readme.scene import Scene, set_out
from tests.readme.taking import take

pytestmark = pytest.mark.slow

BY_NAME = {each.name: each for each in PICTURES}


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Shop, Scene]]:
    with Store.open(Path(tmp_path_factory.mktemp("readme")) / DATABASE_NAME) as store:
        scene = set_out(store, orders_before=2)
        with opened(store) as shop:
            yield shop, scene


def is_as_declared(png: bytes, picture: Picture) -> bool:
    with Image.open(BytesIO(png)) as image:
        image.load()
        return (image.format, image.mode, image.size) == ("PNG", "P", picture.size)


@pytest.mark.parametrize("name", ["quote-page", "designs", "bench"])
def test_a_page_is_taken(browser: Browser, sample: tuple[Shop, Scene], name: str) -> None:
    assert is_as_declared(take(BY_NAME[name], browser, *sample), BY_NAME[name])


@pytest.mark.documents
@pytest.mark.poppler
def test_a_paper_is_taken(browser: Browser, sample: tuple[Shop, Scene]) -> None:
    picture = BY_NAME["quote-paper"]
    assert is_as_declared(take(picture, browser, *sample), picture)
