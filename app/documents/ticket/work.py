"""Where on a ticket the steps, cautions and notices of a piece stand.

Owns the places. A step that cuts a part is ticked beside its size, one at the cutter beside the
setting; the others follow one another. A caution stands where its step does, a notice where
it is read in time.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from app.bench import Step, StepCode
from app.framing import Concern, Notice


class TicketPlace(StrEnum):
    """A place on the ticket, in the order of the work (B6)."""

    BEFORE = "before"
    APART = "apart"
    CUTTER = "cutter"
    FILLET = "fillet"
    LINING = "lining"
    GLAZING = "glazing"
    BOARDS = "boards"
    SPACERS = "spacers"
    RAILS = "rails"
    JOIN = "join"
    ARTWORK = "artwork"
    FIT = "fit"
    HANG = "hang"


FIRST = frozenset({TicketPlace.APART})
"""Where steps are ticked before anything is cut (G24)."""

TOGETHER = frozenset(
    {
        TicketPlace.LINING,
        TicketPlace.JOIN,
        TicketPlace.ARTWORK,
        TicketPlace.FIT,
        TicketPlace.HANG,
    }
)
"""Where steps are ticked that cut nothing, once the parts are cut."""

_STEP_AT = {
    StepCode.TAKE_APART: TicketPlace.APART,
    StepCode.CLEAN: TicketPlace.APART,
    StepCode.FILLET_RAILS: TicketPlace.FILLET,
    StepCode.FILLET_IN: TicketPlace.LINING,
    StepCode.GLAZING: TicketPlace.GLAZING,
    StepCode.BOARD: TicketPlace.BOARDS,
    StepCode.SPACERS: TicketPlace.SPACERS,
    StepCode.RAILS: TicketPlace.RAILS,
    StepCode.JOIN: TicketPlace.JOIN,
    StepCode.FRAMES_TOGETHER: TicketPlace.JOIN,
    StepCode.TREAT: TicketPlace.ARTWORK,
    StepCode.PLACE: TicketPlace.ARTWORK,
    StepCode.SPACERS_IN: TicketPlace.FIT,
    StepCode.FIT: TicketPlace.FIT,
    StepCode.HANG: TicketPlace.HANG,
    StepCode.LABEL: TicketPlace.HANG,
}
"""All others are at the cutter."""

_NOTICE_AT = {
    **dict.fromkeys(
        (
            "border-below-smallest",
            "border-mostly-hidden",
            "weighting-not-used",
            "artwork-bare",
            "artwork-barely-covered",
            "artwork-covered",
            "borders-not-as-given",
            "bridge-below-least",
            "grooves-cross",
            "needs-oval-cutter",
            "borders-uneven",
            "reveal-only-bevel",
            "oval-reveal-narrows",
            "window-off-for-even-reveals",
            "reverse-bevel-attached",
            "float-covered",
            "float-gap",
            "board-thicker-than-blade",
            "blank-longer-than-cut",
            "window-longer-than-cut",
            "setting-beyond-reach",
            "setting-below-scale",
            "needs-cutter-for-ovals",
            "between-scale-marks",
            "moves-not-proven",
            "stop-out-of-reach",
            "object-under-mat",
        ),
        TicketPlace.CUTTER,
    ),
    **dict.fromkeys(
        (
            "fillet-barely-held",
            "fillet-covers-artwork",
            "fillet-in-gap",
            "fillet-lip-shows",
            "fillet-tucked-past-lip",
            "fillets-tight-after-rounding",
        ),
        TicketPlace.FILLET,
    ),
    "fillet-on-paper": TicketPlace.LINING,
    **dict.fromkeys(("object-close-to-glazing", "object-wider-than-box"), TicketPlace.SPACERS),
    "object-stands-out": TicketPlace.ARTWORK,
    **dict.fromkeys(
        (
            "glazing-touches-artwork",
            "acrylic-over-loose-surface",
            "no-uv-filter",
            "paper-without-glazing",
        ),
        TicketPlace.GLAZING,
    ),
    **dict.fromkeys(("board-not-acid-free", "adhesive-on-original"), TicketPlace.ARTWORK),
    **dict.fromkeys(
        (
            "tight-after-rounding",
            "lip-does-not-hold",
            "lip-barely-holds",
            "inner-frame-hidden",
            "tray-lip-not-used",
        ),
        TicketPlace.RAILS,
    ),
    "frame-out-of-square": TicketPlace.APART,
    "frame-in-frame-depth": TicketPlace.JOIN,
    **dict.fromkeys(
        (
            "artwork-covered-by-lip",
            "stack-too-deep",
            "canvas-past-rebate",
            "clip-does-not-fit",
            "canvas-stands-proud",
            "package-loose",
        ),
        TicketPlace.FIT,
    ),
    **dict.fromkeys(
        ("no-wire", "competent-person", "hanging-part-too-weak", "hanging-load-not-known"),
        TicketPlace.HANG,
    ),
}
"""Where a notice is read in time; one that is not listed is read before the work begins."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A notice in its place. head: what it is, "Risk" where the work or the artwork may be lost over it; often nothing."""

    text: str
    head: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What to look at and what to beware of at one place."""

    remarks: tuple[Remark, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Todo:
    """A step with its box, and what is said behind it."""

    text: str
    words: Words

    @property
    def run_on(self) -> str:
        """The text with its cautions behind it."""
        return " – ".join((self.text, *self.words.cautions))


def place_of(step: Step) -> TicketPlace:
    """Return where a step is ticked."""
    return _STEP_AT.get(step.code, TicketPlace.CUTTER)


def words_by_place(steps: Iterable[Step], notices: Iterable[Notice]) -> dict[TicketPlace, Words]:
    """Return cautions and notices by their place. Where the piece has no such place, its notices go to
    the beginning.
    """
    cautions: dict[TicketPlace, list[str]] = {}
    for step in steps:
        cautions.setdefault(place_of(step), []).extend(step.cautions)
    remarks: dict[TicketPlace, list[Remark]] = {}
    for notice in notices:
        at = _NOTICE_AT.get(notice.code, TicketPlace.BEFORE)
        head = "Risk" if notice.concern is Concern.RISK else ""
        remark = Remark(text=notice.message, head=head)
        remarks.setdefault(at if at in cautions else TicketPlace.BEFORE, []).append(remark)
    return {
        place: Words(remarks=tuple(remarks.get(place, ())), cautions=tuple(cautions.get(place, ())))
        for place in TicketPlace
    }


def ticked_at(
    places: frozenset[TicketPlace], steps: Iterable[Step], words: Mapping[TicketPlace, Words]
) -> Iterator[Todo]:
    """Return the steps of some places, in the order of the work.

    A caution stands behind its step, a notice behind the first step of its place.
    """
    said: set[TicketPlace] = set()
    for step in steps:
        place = place_of(step)
        if place in places:
            remarks = () if place in said else words[place].remarks
            said.add(place)
            yield Todo(text=step.text, words=Words(remarks=remarks, cautions=step.cautions))
