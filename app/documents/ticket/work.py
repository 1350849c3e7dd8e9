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


class Place(StrEnum):
    """A place on the ticket, in the order of the work (B6)."""

    BEFORE = "before"
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


TOGETHER = frozenset({Place.LINING, Place.JOIN, Place.ARTWORK, Place.FIT, Place.HANG})
"""Where steps are ticked that cut nothing."""

_STEP_AT = {
    StepCode.FILLET_RAILS: Place.FILLET,
    StepCode.FILLET_IN: Place.LINING,
    StepCode.GLAZING: Place.GLAZING,
    StepCode.BOARD: Place.BOARDS,
    StepCode.SPACERS: Place.SPACERS,
    StepCode.RAILS: Place.RAILS,
    StepCode.JOIN: Place.JOIN,
    StepCode.PLACE: Place.ARTWORK,
    StepCode.SPACERS_IN: Place.FIT,
    StepCode.FIT: Place.FIT,
    StepCode.FRAMES_TOGETHER: Place.FIT,
    StepCode.HANG: Place.HANG,
    StepCode.LABEL: Place.HANG,
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
            "object-under-mat",
        ),
        Place.CUTTER,
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
        Place.FILLET,
    ),
    "fillet-on-paper": Place.LINING,
    **dict.fromkeys(("object-close-to-glazing", "object-wider-than-box"), Place.SPACERS),
    "object-stands-out": Place.ARTWORK,
    **dict.fromkeys(
        (
            "glazing-touches-artwork",
            "acrylic-over-loose-surface",
            "no-uv-filter",
            "paper-without-glazing",
        ),
        Place.GLAZING,
    ),
    **dict.fromkeys(("board-not-acid-free", "adhesive-on-original"), Place.ARTWORK),
    **dict.fromkeys(
        (
            "tight-after-rounding",
            "lip-does-not-hold",
            "lip-barely-holds",
            "inner-frame-hidden",
            "tray-lip-not-used",
        ),
        Place.RAILS,
    ),
    **dict.fromkeys(
        (
            "artwork-covered-by-lip",
            "frame-in-frame-depth",
            "stack-too-deep",
            "canvas-past-rebate",
            "canvas-stands-proud",
            "package-loose",
        ),
        Place.FIT,
    ),
    **dict.fromkeys(
        ("no-wire", "competent-person", "hanging-part-too-weak", "hanging-load-not-known"),
        Place.HANG,
    ),
}
"""Where a notice is read in time; one that is not listed is read before the work begins."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A notice in its place. risk: the work or the artwork may be lost over it."""

    text: str
    risk: bool


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


def place_of(step: Step) -> Place:
    """Where a step is ticked."""
    return _STEP_AT.get(step.code, Place.CUTTER)


def words_by_place(steps: Iterable[Step], notices: Iterable[Notice]) -> dict[Place, Words]:
    """Cautions and notices by their place; a place that the piece has not leaves its notices to
    the beginning.
    """
    cautions: dict[Place, list[str]] = {}
    for step in steps:
        cautions.setdefault(place_of(step), []).extend(step.cautions)
    remarks: dict[Place, list[Remark]] = {}
    for notice in notices:
        at = _NOTICE_AT.get(notice.code, Place.BEFORE)
        remark = Remark(text=notice.message, risk=notice.concern is Concern.RISK)
        remarks.setdefault(at if at in cautions else Place.BEFORE, []).append(remark)
    return {
        place: Words(remarks=tuple(remarks.get(place, ())), cautions=tuple(cautions.get(place, ())))
        for place in Place
    }


def put_together(steps: Iterable[Step], words: Mapping[Place, Words]) -> Iterator[Todo]:
    """The steps that cut nothing, in the order of the work. A caution stands behind its step, a
    notice behind the first one of its place.
    """
    said: set[Place] = set()
    for step in steps:
        place = place_of(step)
        if place in TOGETHER:
            remarks = () if place in said else words[place].remarks
            said.add(place)
            yield Todo(text=step.text, words=Words(remarks=remarks, cautions=step.cautions))
