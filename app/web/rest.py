"""What is done while the shop rests: the log of the data is folded into their one file, so that a copy of it is whole."""

import asyncio

from app.storage import Store

REST = 60.0
"""Seconds without a write after which the log is folded in. Source: ours."""

LOOK = 10.0
"""Seconds between two looks. Source: ours."""


async def fold_at_rest(store: Store, *, rest: float = REST, look: float = LOOK) -> None:
    """Go on for as long as the app runs. rest, look: seconds."""
    while True:
        await asyncio.sleep(look)
        resting = store.resting
        if resting is not None and resting >= rest:
            await asyncio.to_thread(store.fold)
