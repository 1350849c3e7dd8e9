"""Shows what two tabs saved of one thing, field by field; either can be kept and nothing is lost."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import cast

from fastapi.responses import HTMLResponse

from app.forms.table import Typed
from app.storage import Stale, Versioned
from app.web.kit.context import RequestContext
from app.web.kit.fields import Fields, fields_in
from app.web.kit.templating import Page, render


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


def two_versions(
    here: RequestContext,
    stale: Stale,
    stored: Typed,
    form: Typed,
    fields: Callable[[Fields], object],
    *,
    title: str,
    section: str,
    action: str,
    back: str = "",
) -> HTMLResponse:
    """Return the answer to a form that was made from an older version.

    stale: the error, which knows the version stored now. stored: the text with which a form of that
    would begin. fields: the views of the form, or of whatever has them.
    """
    labels = labels_of(fields(Fields({**stored, **form})))
    page = EditConflictPage(
        title=title,
        section=section,
        message=stale.message,
        pairs=pairs_of(stored, form, labels),
        action=action,
        typed=posted_again(form),
        version=cast("Versioned[object]", stale.stored).version,
        back=back or action,
    )
    return render(here, "pages/edit_conflict.html", page, 409)


def labels_of(model: object) -> dict[str, str]:
    """Return what each field in a model is called, by its path; of an amount also whether it is with tax."""
    return {
        field.path: ", ".join(filter(None, (field.called, field.mode)))
        for field in fields_in(model)
    }


def pairs_of(stored: Typed, typed: Typed, labels: Mapping[str, str]) -> tuple[VersionPair, ...]:
    """Return the fields that differ, in the order of their labels."""
    return tuple(
        VersionPair(label=label, stored=before, typed=after)
        for path, label in labels.items()
        if (before := _plain(stored, path)) != (after := _plain(typed, path))
    )


def _plain(texts: Mapping[str, str], path: str) -> str:
    return texts.get(path, "").replace("\r\n", "\n").strip()


def posted_again(typed: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """List what was typed, without what the buttons and the old version said."""
    return tuple((name, text) for name, text in typed.items() if name not in ("version", "action"))
