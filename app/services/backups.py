"""Copies of the shop's data, made and checked while the shop is open."""

from pathlib import Path

from app.storage import BACKUPS, Stamp, Store, back_up


def folder_of(store: Store) -> Path:
    """Tell where copies are kept."""
    return store.path.parent / BACKUPS


def make(store: Store, act: Stamp) -> Path:
    """Return a checked copy. Raises: CannotWrite, Damaged, Conflict for a second one in the same second."""
    return back_up(store, folder_of(store), now=act.now)
