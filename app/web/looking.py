"""Opens a copy of the data beside the running app, to be looked at and not to be changed.

What is looked at is a copy of the copy, in a folder of its own that goes when the looking ends: with the app at the latest, and
with the next start where the app was killed.
"""

import asyncio
import logging
import shutil
import tempfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from fastapi import FastAPI

from app.storage import DATABASE_NAME, Store, copy_checked
from app.web.beside import Listener, socket_at
from app.web.kit.context import AppContext, LookedAt

_FOLDER = "looked-at-"

_LOOPBACK = "127.0.0.1"

log = logging.getLogger("bevelbook.copies")

type MakeApp = Callable[[Store, LookedAt], FastAPI]


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """A copy that is looked at. name: of its file; of: when it was made, in words; address: where it is shown."""

    name: str
    of: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Running:
    shown: Open
    folder: Path
    store: Store
    app: FastAPI
    listener: Listener


class Looking:
    """Lets one copy at a time be looked at.

    data: the folder of the shop's data, in which the temporary one is made: it is for its owner alone. make_app: makes an app on the store of
    the copy.
    """

    def __init__(self, data: Path, make_app: MakeApp) -> None:
        self._data = data
        self._make_app = make_app
        self._turn = asyncio.Lock()
        self._running: _Running | None = None

    @property
    def shown(self) -> Open | None:
        """What is looked at now."""
        return self._running.shown if self._running is not None else None

    async def begin(self, copy: Path, of: str, back: str) -> Open:
        """Open a copy; one that was looked at before is closed.

        of: when it was made, in words. back: the address of the page that ends it. Raises: NotOurDatabase, NewerDatabase, Damaged,
        CannotWrite; OSError.
        """
        async with self._turn:
            await self._close()
            looked_at = LookedAt(
                sentence=f"You look at the copy of {of}; nothing can be changed here.", back=back
            )
            folder, store = await asyncio.to_thread(self._opened, copy, looked_at)
            try:
                listening = socket_at(_LOOPBACK, 0)
                app = self._make_app(store, looked_at)
                listener = Listener(app, listening)
                await listener.start()
            except BaseException:
                await asyncio.to_thread(_put_away, folder, store)
                raise
            port = listening.getsockname()[1]
            shown = Open(name=copy.name, of=of, address=f"http://{_LOOPBACK}:{port}/")
            self._running = _Running(
                shown=shown, folder=folder, store=store, app=app, listener=listener
            )
            return shown

    async def end(self) -> None:
        """Close what is looked at, and take its folder away."""
        async with self._turn:
            await self._close()

    def take_away_what_was_left(self) -> None:
        """Take away the folders of an app that was killed while somebody looked at a copy."""
        for folder in self._data.glob(f"{_FOLDER}*"):
            shutil.rmtree(folder, ignore_errors=True)

    async def _close(self) -> None:
        running, self._running = self._running, None
        if running is None:
            return
        with suppress(OSError):
            await running.listener.stop()
        context: AppContext = running.app.state.context
        context.drafts.close()
        await asyncio.to_thread(_put_away, running.folder, running.store)

    def _opened(self, copy: Path, looked_at: LookedAt) -> tuple[Path, Store]:
        folder = Path(tempfile.mkdtemp(prefix=_FOLDER, dir=self._data))
        store = None
        try:
            path = folder / DATABASE_NAME
            copy_checked(copy, path)
            store = Store.open(path)  # which brings an older one up to date, in this folder alone
            store.only_look(looked_at.sentence)
        except BaseException:
            _put_away(folder, store)
            raise
        return folder, store


def _put_away(folder: Path, store: Store | None) -> None:
    if store is not None:
        store.close()
    try:
        shutil.rmtree(folder)
    except OSError as error:
        log.warning("%s could not be deleted: %s", folder, error)
