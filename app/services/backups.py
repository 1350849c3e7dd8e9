"""Copies of the shop's data, made and checked while the shop is open."""

from pathlib import Path

from app.storage import Act, Store, back_up

FOLDER = "backups"
"""Beside the database."""


def folder_of(store: Store) -> Path:
    """Where copies are kept."""
    return store.path.parent / FOLDER


def make(store: Store, act: Act) -> Path:
    """A checked copy. Raises: CannotWrite, Damaged, Conflict for a second one in the same second."""
    return back_up(store, folder_of(store), now=act.now)
