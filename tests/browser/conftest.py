"""A real server on a free port, a real Chromium, and a page that notices what must never happen."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager, suppress
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


_FREE_PORTS: list[int] = []
"""Where shops were that are closed. The next one opens there, so that a visitor's browser need not be made anew."""


def _listening() -> socket.socket:
    """A socket at a port that a shop before had, or at a new one."""
    for port in (*reversed(_FREE_PORTS), 0):
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        if port:
            _FREE_PORTS.remove(port)
        with suppress(OSError):  # another program took it meanwhile
            listening.bind(("127.0.0.1", port))
            listening.listen(64)  # whoever connects before the server runs waits here
            return listening
        listening.close()
    raise AssertionError("no port is free")


@contextmanager
def opened(store: Store, *, phone_url: str | None = None) -> Iterator[Shop]:
    """Serve a store until the end of the block. phone_url: where phones reach it, if they do; papers then bear its code."""
    listening = _listening()
    port = listening.getsockname()[1]
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
        yield Shop(address=f"http://127.0.0.1:{port}", store=store)
    finally:
        server.should_exit = True
        server.force_exit = True
        thread.join()
        listening.close()
        _FREE_PORTS.append(port)


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
    """One Chromium for all tests; each visit has a context in it for itself."""
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


@dataclass
class _Visitor:
    """A browser's context that one visit after another has for itself, each as if it were new.

    To make one and its first page costs more than most visits. at: the shop of the last visit, whose files it has kept.
    """

    wishes: dict[str, object]
    context: BrowserContext
    stays: Page
    at: Shop
    away: bool = False

    def comes_to(self, shop: Shop) -> Page:
        """A page of a browser that was never in this shop."""
        self.away = False
        self.context.clear_cookies()
        page = self.context.new_page()
        if shop is not self.at:
            devtools = self.context.new_cdp_session(page)
            devtools.send("Network.clearBrowserCache")
            devtools.detach()
            self.at = shop
        return page

    def goes(self) -> None:
        """Leave nothing open but the page that keeps the browser's process."""
        for page in self.context.pages:
            if page is not self.stays:
                page.close()
        self.away = True


_VISITORS: dict[Browser, list[_Visitor]] = {}


def _visitor(browser: Browser, shop: Shop, wishes: dict[str, object]) -> _Visitor:
    """One with these wishes whom no other visit has now."""
    every = _VISITORS.setdefault(browser, [])
    for visitor in every:
        if visitor.away and visitor.wishes == wishes:
            return visitor
    context = browser.new_context(**wishes)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE)
    every.append(_Visitor(wishes, context, stays=context.new_page(), at=shop))
    return every[-1]


@contextmanager
def visiting(browser: Browser, shop: Shop, **wishes: object) -> Iterator[Page]:
    """A page of a fresh browser at a shop; at the end nothing may have gone wrong unseen."""
    wishes = {"viewport": DESK, "locale": "en-GB", **wishes, "base_url": shop.address}
    visitor = _visitor(browser, shop, wishes)
    watch = Watch(shop.address)
    page = visitor.comes_to(shop)
    watch.over(page)
    try:
        yield page
        watch.nothing_happened()
    finally:
        visitor.goes()


@pytest.fixture
def page(browser: Browser, shop: Shop) -> Iterator[Page]:
    """A page at the shop that is set up."""
    with visiting(browser, shop) as page:
        yield page
