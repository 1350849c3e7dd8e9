"""Folds the log of the data into their one file while the shop rests, so that a copy of the file is whole."""

import asyncio

from app.storage import Store

REST = 60.0
"""Seconds without a write after which the log is folded in. Source: ours."""

LOOK = 10.0
"""Seconds between two looks. Source: ours."""


async def fold_at_rest(store: Store, *, rest: float = REST, look: float = LOOK) -> None:
    """Fold the log whenever the shop rests, for as long as the app runs.

    rest: after how many seconds without a write. look: how often to look, in seconds.
    """
    while True:
        await asyncio.sleep(look)
        resting = store.resting
        if resting is not None and resting >= rest:
            await asyncio.to_thread(store.fold)
