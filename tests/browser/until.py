"""Waits for what no assertion of the browser's library tells: a state of the page or of a request, looked at again and again."""

from collections.abc import Callable

from playwright.sync_api import Page

PATIENCE = 20_000
"""Milliseconds that a page may take before it counts as failed: machines are shared, and no test measures time."""

STEP = 20
"""Milliseconds between two looks."""


def until(page: Page, holds: Callable[[], bool], what: str) -> None:
    """Wait until it holds, without a script of the page's own, which its policy forbids. what: said where it never does."""
    for _ in range(PATIENCE // STEP):
        if holds():
            return
        page.wait_for_timeout(STEP)
    raise AssertionError(f"not so: {what}")
