"""What the quote page shows of a piece that still has faults: its drawing and the prices that stand.

Owns the words for what is not as it was typed. There is no total, and nothing here is ever kept.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from app.documents.kit.pictures import look_of
from app.errors import Fault
from app.orders.quoting.form import NOT_DRAWN
from app.orders.quoting.partial import SoFar
from app.orders.quoting.reader import NOT_FOUND
from app.web.kit.fields import FieldView
from app.web.pieces.piece import DrawingView, drawn
from app.web.pieces.price import LineView, line_view

type Called = Mapping[str, str]
"""What a field is called away from its place, by its path."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SoFarView:
    """caption: how the drawing differs from what was typed; empty where it does not.

    note: why lines are missing.
    """

    drawing: Markup
    caption: str
    lines: tuple[LineView, ...]
    note: str

    def for_customer(self, in_words: Callable[[str], str]) -> "SoFarView":
        """Return what a customer may see of it: the drawing, without the prices of the shop's own lines. in_words: names for codes."""
        return replace(self, caption=in_words(self.caption), lines=(), note="")


def so_far_view(
    told: SoFar,
    view: DrawingView,
    faults: Iterable[Fault],
    fields: Iterable[FieldView],
    *,
    frame_to_come: bool,
) -> SoFarView:
    """Make the view of a piece with faults.

    faults: those at the fields of the quote page. fields: those that can have them. frame_to_come: whether a frame is
    still to be chosen.
    """
    unknown = {fault.path: fault.message for fault in faults if fault.code == NOT_FOUND}
    called = {field.path: field.called for field in fields}
    return SoFarView(
        drawing=drawn(
            view,
            told.dimensions,
            look_of(told.artwork, told.chosen),
            told.steps,
            frame_to_come=frame_to_come,
        ),
        caption=_caption(told.left_out, unknown, called),
        lines=tuple(line_view(line, told.steps.unit) for line in told.lines),
        note="Work is counted once all of it can be read."
        if told.sized
        else "What follows from its size is priced once all of it can be read.",
    )


_PARTS = {
    "frames.0": "the frame",
    "frames.1": "the second frame",
    "frames.2": "the third frame",
    "fillet": "the fillet",
    "glazing": "the glazing",
    "mount_board": "the mount board",
    "backing": "the backing",
    "spacer": "the spacers",
}


def _caption(left_out: Mapping[str, str], unknown: Mapping[str, str], called: Called) -> str:
    said: dict[str, str] = {}
    for path, text in left_out.items():
        part = _part_of(path)
        if path not in NOT_DRAWN:
            said.setdefault(part, _differs(path, text, unknown.get(path, ""), called))
    return f"Drawn {'; '.join(said.values())}." if said else ""


def _part_of(path: str) -> str:
    """Return the part of the piece about which only one fault is told: all frames from the first
    undrawn one, else the part or the field.
    """
    part = path.partition(".")[0]
    return part if part in ("frames", *_PARTS) else path


def _differs(path: str, text: str, unknown: str, called: Called) -> str:
    quoted = f"“{text[:40]}”"
    if path.startswith("mats.") and path.endswith(".material"):
        what = called.get(path, path).lower()
        why = f" in place of {quoted}" if text else ", since none is chosen"
        return f"with a plain {what}{why}"
    part = _PARTS.get(path.rpartition(".")[0])
    if part is None:
        return f"as if {quoted} were not typed ({called.get(path, path)})"
    # A sentence at the field begins with the reason and ends with what to do about it.
    reason = re.split("[;:]", unknown)[0]
    return f"without {part}: {_within(reason) or 'not all of it can be read'}"


def _within(sentence: str) -> str:
    """Return a sentence as a part of another one."""
    return f"{sentence[:1].lower()}{sentence[1:]}"
