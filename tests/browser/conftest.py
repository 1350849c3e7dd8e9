"""A real server on a free port, a real Chromium, and a page that notices what must never happen."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread

import pytest
import uvicorn
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Page,
    Playwright,
    Request,
    expect,
    sync_playwright,
)

from app.storage import DATABASE_NAME, Store
from app.web.app import create_app
from tests.browser.busy import fill
from tests.browser.clock import NOW
from tests.browser.until import PATIENCE
from tests.builders.hasty import new_store
from tests.builders.worked import BOOK, SHOP
from tests.needs import chromium as path_of_chromium

ARGUMENTS = (
    "--no-sandbox",  # tests may run as root
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
)

expect.set_options(timeout=PATIENCE)

DESK = {"width": 1280, "height": 900}
PHONE = {"width": 320, "height": 640}


@dataclass(frozen=True)
class Shop:
    """A shop that is open: where, and its data."""

    address: str
    store: Store


@contextmanager
def opened(store: Store, *, phone_url: str | None = None) -> Iterator[Shop]:
    """Serve a store until the end of the block. phone_url: where phones reach it, if they do; papers then bear its code."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.bind(("127.0.0.1", 0))
    listening.listen(64)  # whoever connects before the server runs waits here
    config = uvicorn.Config(
        create_app(store, now=lambda: NOW, phone_url=phone_url),
        log_level="warning",
        access_log=False,
        ws="none",
        lifespan="off",
    )
    server = uvicorn.Server(config)
    thread = Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    try:
        yield Shop(address=f"http://127.0.0.1:{listening.getsockname()[1]}", store=store)
    finally:
        server.should_exit = True
        server.force_exit = True
        thread.join()
        listening.close()


def stock(store: Store) -> None:
    """The price book of round figures."""
    with store.writing() as work:
        work.materials.add_all(BOOK, now=NOW)


def set_up(store: Store) -> None:
    """A shop with that price book."""
    with store.writing() as work:
        work.shop.add(SHOP, now=NOW)
    stock(store)


@pytest.fixture
def new_shop(tmp_path: Path) -> Iterator[Shop]:
    """A shop before its first run."""
    with new_store(tmp_path / DATABASE_NAME) as store, opened(store) as shop:
        yield shop


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    """A shop that is set up, with the price book of round figures."""
    with new_store(tmp_path / DATABASE_NAME, set_up) as store, opened(store) as shop:
        yield shop


@pytest.fixture(scope="module")
def busy_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop in the middle of its work."""
    path = tmp_path_factory.mktemp("busy") / DATABASE_NAME
    with new_store(path, fill) as store, opened(store) as shop:
        yield shop


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests; each test has a context of its own in it."""
    with sync_playwright() as playwright, launched(playwright) as browser:
        yield browser


@contextmanager
def launched(playwright: Playwright) -> Iterator[Browser]:
    """A Chromium until the end of the block."""
    browser = playwright.chromium.launch(executable_path=path_of_chromium(), args=list(ARGUMENTS))
    yield browser
    browser.close()


@dataclass
class Watch:
    """What must never happen on a page of ours."""

    address: str
    elsewhere: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def over(self, page: Page) -> None:
        page.on("request", self._on_request)
        page.on("pageerror", lambda error: self.complaints.append(f"{page.url}: {error}"))
        page.on(
            "console",
            lambda message: (
                self.complaints.append(f"{page.url}: {message.text}")
                if message.type in ("error", "warning") and not _is_refusal(message.text)
                else None
            ),
        )
        page.on(
            "response",
            lambda answer: (
                self.complaints.append(f"{answer.status} {answer.url}")
                if answer.status >= 500 or answer.status == 404
                else None
            ),
        )

    def _on_request(self, request: Request) -> None:
        if not request.url.startswith((f"{self.address}/", "data:", "blob:")):
            self.elsewhere.append(request.url)

    def nothing_happened(self) -> None:
        assert self.elsewhere == [], "asked of another host"
        assert self.complaints == [], "said by the browser"


def _is_refusal(text: str) -> bool:
    """Whether it is the browser's line about a form that came back with 409 or 422, as it should."""
    return text.startswith("Failed to load resource") and ("422" in text or "409" in text)


@contextmanager
def visiting(browser: Browser, shop: Shop, **wishes: object) -> Iterator[Page]:
    """A page of a fresh browser at a shop; at the end nothing may have gone wrong unseen."""
    wishes = {"viewport": DESK, "locale": "en-GB", **wishes}
    context: BrowserContext = browser.new_context(base_url=shop.address, **wishes)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE)
    watch = Watch(shop.address)
    page = context.new_page()
    watch.over(page)
    try:
        yield page
        watch.nothing_happened()
    finally:
        context.close()


@pytest.fixture
def page(browser: Browser, shop: Shop) -> Iterator[Page]:
    """A page at the shop that is set up."""
    with visiting(browser, shop) as page:
        yield page
