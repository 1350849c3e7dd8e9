"""A browser on a phone that is paired for the bench, as the guard would let it in."""

from collections.abc import Iterator
from contextlib import contextmanager

from starlette.middleware import Middleware
from starlette.testclient import TestClient
from starlette.types import ASGIApp, Receive, Scope, Send

from app.storage import Store
from app.web.app import create_app
from app.web.kit.guard import Guard
from app.web.kit.visitor import Role, Visitor, noted
from tests.web.conftest import NOW, OWN_ADDRESS

PHONE = Visitor(role=Role.BENCH, phone="Phone at the cutter")


class AskedBy:
    """Notes with every request who asks."""

    def __init__(self, app: ASGIApp, visitor: Visitor) -> None:
        self.app = app
        self.visitor = visitor

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            noted(scope, self.visitor)
        await self.app(scope, receive, send)


@contextmanager
def phone_on(store: Store, visitor: Visitor = PHONE, **app: object) -> Iterator[TestClient]:
    """A browser's requests from a phone: it was noted where the guard notes who asks."""
    made = create_app(store, **{"now": lambda: NOW, **app})  # type: ignore[arg-type]
    guard = [each.cls for each in made.user_middleware].index(Guard)
    made.user_middleware.insert(guard + 1, Middleware(AskedBy, visitor=visitor))
    with TestClient(
        made, base_url=OWN_ADDRESS, headers={"sec-fetch-site": "same-origin"}
    ) as client:
        yield client
