"""The whole app as a browser or a program meets it, on a store in a file of its own."""

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from app.storage import DATABASE_NAME, Store
from app.web.app import create_app

OWN_ADDRESS = "http://127.0.0.1"
"""The guard answers to loopback names only, so not to the test client's usual one."""


@pytest.fixture(scope="module")
def api(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The app on an empty store, for what touches no data. A bug is an answer with status 500."""
    path = tmp_path_factory.mktemp("api") / DATABASE_NAME
    with (
        Store.open(path) as store,
        TestClient(
            create_app(store), base_url=OWN_ADDRESS, raise_server_exceptions=False
        ) as client,
    ):
        yield client
