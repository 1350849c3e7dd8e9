"""Requests that wait at the server until a test lets them go."""

import re

from playwright.sync_api import Page, Route

from tests.browser.until import until


class Held:
    """The requests of a page to an address that are kept back, until they are let go one by one."""

    def __init__(self, page: Page, asked: str | re.Pattern[str]) -> None:
        self.page = page
        self.waiting: list[Route] = []
        self.all: list[str] = []
        page.route(asked, self._hold)

    def _hold(self, route: Route) -> None:
        self.waiting.append(route)
        self.all.append(route.request.post_data or "")

    def wait_for(self, asked: int) -> None:
        """Wait until so many requests came in all."""
        until(self.page, lambda: len(self.all) >= asked, f"{asked} requests were asked")

    def let_go(self) -> None:
        """Let the server answer the oldest one, once it was asked."""
        self.wait_for(len(self.all) - len(self.waiting) + 1)
        self.waiting.pop(0).continue_()
