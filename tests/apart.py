"""Runs a coroutine to its end in a thread of its own: the one of the tests may hold the loop of a browser that is driven."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor


def run_apart[T](coroutine: Coroutine[object, object, T]) -> T:
    """Return what it comes to."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()
