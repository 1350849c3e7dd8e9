"""Folds the log of the data into their one file while the shop rests, so that it is whole, and sees to copies of it."""

import asyncio
import logging
import threading
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime

from app.errors import AppError
from app.services.backups import Ended, Keeper
from app.services.pictures import let_go
from app.storage import Store

REST = 60.0
"""Seconds without a write after which the log is folded in. Source: ours."""

LOOK = 10.0
"""Seconds between two looks. Source: ours."""

LOOK_AT_COPIES = 60.0
"""Seconds between two looks whether a copy is to be made, or the second folder is back. Source: ours."""

LOOK_AT_PICTURES = 600.0
"""Seconds between two looks at pictures that nothing uses. Source: ours."""

log = logging.getLogger("bevelbook.copies")


async def fold_at_rest(store: Store, *, rest: float = REST, look: float = LOOK) -> None:
    """Fold the log whenever the shop rests, for as long as the app runs.

    rest: after how many seconds without a write. look: how often to look, in seconds.
    """
    while True:
        await asyncio.sleep(look)
        resting = store.resting
        if resting is not None and resting >= rest:
            await asyncio.to_thread(store.fold)


async def let_pictures_go(
    store: Store, now: Callable[[], datetime], *, rest: float = REST, look: float = LOOK_AT_PICTURES
) -> None:
    """Let pictures go that nothing uses, while the shop rests, for as long as the app runs. look: how often to look, in seconds."""
    while True:
        await asyncio.sleep(look)
        resting = store.resting
        if resting is None or resting >= rest:
            with suppress(AppError):  # as where another holds the data; it is looked at again
                await asyncio.to_thread(let_go, store, now())


async def keep_copies(
    keeper: Keeper, now: Callable[[], datetime], *, look: float = LOOK_AT_COPIES
) -> None:
    """Let copies be made, checked, put into the second folder and taken away, for as long as the app runs.

    look: how often to look, in seconds, unless the keeper is woken.
    """
    woken = asyncio.Event()
    loop = asyncio.get_running_loop()

    def wake() -> None:
        with suppress(RuntimeError):  # the app has ended meanwhile
            loop.call_soon_threadsafe(woken.set)

    keeper.wake = wake
    try:
        while True:
            woken.clear()
            await _beside(lambda: keeper.look(now()))
            with suppress(TimeoutError):
                await asyncio.wait_for(woken.wait(), look)
    finally:
        await asyncio.to_thread(keeper.end)


async def _beside(work: Callable[[], object]) -> None:
    """Do what may take long in a thread that nobody waits for when the app ends. What fails there is logged."""
    loop = asyncio.get_running_loop()
    done = asyncio.Event()

    def run() -> None:
        try:
            work()
        except Ended:
            return
        except Exception:  # a fault there must not be the end of all copies
            log.exception("The copies could not be seen to.")
        with suppress(RuntimeError):  # the app has ended meanwhile
            loop.call_soon_threadsafe(done.set)

    threading.Thread(target=run, name="copies", daemon=True).start()
    await done.wait()
