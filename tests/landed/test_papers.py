"""Every paper of what landed versions left is made, and says what it said then."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.landed.record import ask, is_paper, said_of
from tests.landed.shops import SHOPS, LandedShop

pytestmark = [pytest.mark.documents, pytest.mark.poppler, pytest.mark.slow]


@pytest.fixture(scope="module", params=SHOPS, ids=lambda shop: shop.name)
def opened(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[LandedShop, TestClient, Path]]:
    shop: LandedShop = request.param
    folder = tmp_path_factory.mktemp(shop.name)
    with shop.opened(folder) as (_, browser):
        yield shop, browser, folder


def test_every_paper_says_the_same_figures(opened: tuple[LandedShop, TestClient, Path]) -> None:
    shop, browser, folder = opened
    papers = {address: said for address, said in said_of(shop).items() if is_paper(address)}
    assert papers
    changed = {
        address: found
        for address, said in papers.items()
        if (found := said.against(ask(browser, address, folder)))
    }
    assert changed == {}
