"""The order of work on a ticket: stations with steps to tick, their cautions and notices.

Owns which step, caution and notice stands at which station. What the steps come to in figures is
worked out elsewhere; here it is put into words.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from app.documents.printing import Figures
from app.framing import Concern, Notice, Presentation, UnderWay
from app.framing.care import Work
from app.orders import Agreed
from app.orders.findings import Findings
from app.pricing import Trait


class Station(StrEnum):
    """Where the work is done, in its order (B6)."""

    START = "Before"
    MATS = "Mats"
    GLAZING = "Glazing"
    ARTWORK = "Artwork"
    RAILS = "Rails"
    JOIN = "Join"
    FIT = "Fit"
    HANG = "Hang"


_CAUTION_AT = {
    Work.MATS: Station.MATS,
    Work.GLASS: Station.GLAZING,
    Work.ACRYLIC: Station.GLAZING,
    Work.RAILS: Station.RAILS,
    Work.JOIN: Station.JOIN,
    Work.FIT: Station.FIT,
    Work.LIFT: Station.FIT,
    Work.HANG: Station.HANG,
}

_NOTICE_AT = {
    "border-below-smallest": Station.MATS,
    "border-mostly-hidden": Station.MATS,
    "weighting-not-used": Station.MATS,
    "artwork-bare": Station.MATS,
    "artwork-barely-covered": Station.MATS,
    "artwork-covered": Station.MATS,
    "borders-not-as-given": Station.MATS,
    "bridge-below-least": Station.MATS,
    "grooves-cross": Station.MATS,
    "needs-oval-cutter": Station.MATS,
    "reveal-only-bevel": Station.MATS,
    "reverse-bevel-attached": Station.MATS,
    "float-covered": Station.MATS,
    "float-gap": Station.MATS,
    "glazing-touches-artwork": Station.GLAZING,
    "acrylic-over-loose-surface": Station.GLAZING,
    "no-uv-filter": Station.GLAZING,
    "paper-without-glazing": Station.GLAZING,
    "board-not-acid-free": Station.ARTWORK,
    "adhesive-on-original": Station.ARTWORK,
    "tight-after-rounding": Station.RAILS,
    "lip-does-not-hold": Station.RAILS,
    "lip-barely-holds": Station.RAILS,
    "inner-frame-hidden": Station.RAILS,
    "tray-lip-not-used": Station.RAILS,
    "artwork-covered-by-lip": Station.FIT,
    "frame-in-frame-depth": Station.FIT,
    "stack-too-deep": Station.FIT,
    "canvas-past-rebate": Station.FIT,
    "canvas-stands-proud": Station.FIT,
    "package-loose": Station.FIT,
    "no-wire": Station.HANG,
    "competent-person": Station.HANG,
}
"""Where a notice is read in time; one that is not listed is read before the work begins."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A notice at its station. risk: the work or the artwork may be lost over it."""

    text: str
    risk: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StationWork:
    """What is done at one station, what to beware of, and what to look at."""

    name: str
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    remarks: tuple[Remark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the order of work is made of."""

    agreed: Agreed
    found: Findings
    figures: Figures
    mat_word: str


def order_of_work(bench: Bench) -> tuple[StationWork, ...]:
    """The stations that the piece has, in the order of the work."""
    steps = _steps(bench)
    cautions: dict[Station, list[str]] = {}
    for work, text in bench.found.cautions:
        cautions.setdefault(_CAUTION_AT[work], []).append(text)
    remarks = _remarks(bench.found.notices)
    return tuple(
        StationWork(
            name=bench.mat_word.capitalize() + "s" if station is Station.MATS else station.value,
            steps=steps.get(station, ()),
            cautions=tuple(cautions.get(station, ())),
            remarks=tuple(remarks.get(station, ())),
        )
        for station in Station
        if station in steps or station in cautions or station in remarks
    )


def _remarks(notices: tuple[Notice, ...]) -> dict[Station, list[Remark]]:
    remarks: dict[Station, list[Remark]] = {}
    for notice in notices:
        at = _NOTICE_AT.get(notice.code, Station.START)
        remark = Remark(text=notice.message, risk=notice.concern is Concern.RISK)
        remarks.setdefault(at, []).append(remark)
    return remarks


def _steps(bench: Bench) -> dict[Station, tuple[str, ...]]:
    by_station = {
        Station.MATS: tuple(_mats(bench)),
        Station.GLAZING: tuple(_glazing(bench.agreed)),
        Station.ARTWORK: tuple(_artwork(bench.agreed)),
        Station.RAILS: tuple(_rails(bench)),
        Station.JOIN: tuple(_join(bench)),
        Station.FIT: tuple(_fit(bench)),
        Station.HANG: tuple(_hang(bench)),
    }
    return {station: steps for station, steps in by_station.items() if steps}


def _mats(bench: Bench) -> Iterator[str]:
    """Source: handbook B3, B6, G7."""
    cut, word = bench.found.cut, bench.mat_word
    if not cut.layers:
        return
    several = len(cut.layers) > 1
    yield "size the blanks edge to edge" if several else "size the blank"
    yield "set the guide, mark the backs" if several else "set the guide, mark the back"
    first = f"{word} 1" if several else "it"
    yield f"cut {first} on a slip sheet, turn, drop out"
    attached = bench.agreed.spec.under.way is UnderWay.ATTACHED
    for layer in cut.layers[1:]:
        number = layer.layer
        if attached:
            yield f"fix {word} {number} behind {word} {number - 1}, cut it from {word} 1’s edges"
        else:
            yield f"cut {word} {number} from its own edges"
    if several and not attached:
        yield f"fix the {word}s together, reveals even"


def _glazing(agreed: Agreed) -> Iterator[str]:
    sheet = agreed.chosen.glazing.sheet if agreed.chosen.glazing else None
    if sheet is None:
        return
    if Trait.ACRYLIC in sheet.traits:
        yield "cut, film on"
        yield "peel, clean without rubbing up a charge"
    else:
        yield "cut, dull the edges"
        yield "clean both faces"


def _artwork(agreed: Agreed) -> Iterator[str]:
    """Boards, spacers, and the artwork onto its board."""
    chosen, presentation = agreed.chosen, agreed.spec.presentation
    boards = [
        name
        for name, material in (
            ("mount board", chosen.mount_board),
            ("backing", chosen.backing),
            ("spacers", chosen.spacer),
        )
        if material is not None
    ]
    if boards:
        yield f"cut {', '.join(boards)}"
    yield "condition as noted"
    match presentation:
        case Presentation.WINDOW:
            yield "place it behind the window, hold it without strain"
        case Presentation.FLOAT:
            yield "raise it, float it in the middle"
        case Presentation.CLOSE:
            yield "place it, free to move"
        case Presentation.CANVAS | Presentation.CANVAS_FLOAT:
            yield "keys and corners sound"


def _rails(bench: Bench) -> Iterator[str]:
    if bench.found.cut.frames:
        yield "longest first, profile the same way round"
        yield "pairs equal, end to end"


def _join(bench: Bench) -> Iterator[str]:
    frames = bench.found.cut.frames
    if frames:
        sizes = ", ".join(bench.figures.size(frame.outside) for frame in frames)
        yield f"{'outsides' if len(frames) > 1 else 'outside'} {sizes}, diagonals equal"
        yield "touch up the corners"


def _fit(bench: Bench) -> Iterator[str]:
    agreed, figures = bench.agreed, bench.figures
    if not bench.found.cut.frames:
        yield "close the package"
        return
    match agreed.spec.presentation:
        case Presentation.CANVAS_FLOAT:
            yield f"centre in the tray, {figures.length(agreed.spec.gap)} all round"
            yield "screw from behind"
        case Presentation.CANVAS:
            yield "seat the canvas, clips"
        case _:
            yield "no dust behind the glazing" if agreed.chosen.glazing else "lay the package in"
            yield "points in"
    if len(bench.found.cut.frames) > 1:
        yield "frames into each other, from the inner one out"
    if agreed.chosen.backing is not None:
        yield "seal the back"


def _hang(bench: Bench) -> Iterator[str]:
    hanging = bench.found.hanging
    if hanging is None:
        return
    yield "fixings level, both sides alike"
    yield "label with number and name"
