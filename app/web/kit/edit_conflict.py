"""Shows what two tabs saved of one thing, field by field; either can be kept and nothing is lost."""

from collections.abc import Mapping
from dataclasses import dataclass

from app.web.kit.templating import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionPair:
    """A field that differs."""

    label: str
    stored: str
    typed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EditConflictPage(Page):
    """action: where the form is posted again. typed: (name, text) of all that was typed.

    version: what is stored now, so that keeping what was typed is a choice. back: the page as stored.
    """

    message: str
    pairs: tuple[VersionPair, ...]
    action: str
    typed: tuple[tuple[str, str], ...]
    version: int
    back: str


def pairs_of(
    stored: Mapping[str, str], typed: Mapping[str, str], labels: Mapping[str, str]
) -> tuple[VersionPair, ...]:
    """List the fields that differ, in the order of their labels; fields without a label come last."""
    paths = dict.fromkeys((*labels, *sorted(set(stored) | set(typed))))
    return tuple(
        VersionPair(label=labels.get(path, path), stored=before, typed=after)
        for path in paths
        if (before := _plain(stored, path)) != (after := _plain(typed, path))
    )


def _plain(texts: Mapping[str, str], path: str) -> str:
    return texts.get(path, "").replace("\r\n", "\n").strip()


def posted_again(typed: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """List what was typed, without what the buttons and the old version said."""
    return tuple((name, text) for name, text in typed.items() if name not in ("version", "action"))
