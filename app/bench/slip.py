"""A slip that is noticed: what a measured window comes to, what can be done, what it hints at (B12).

Owns the cures and the hint. Nothing is corrected by a single slip: corrections come from a test cut
(`calibration`), whose sign the hint takes (B1, B7).
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from app.bench.cuts import cuts_of
from app.bench.cutter import LARGEST_CORRECTION
from app.bench.edge import Edge
from app.bench.measured_window import MeasuredWindow, Placed, SlipJob, placed_by
from app.bench.settings import plan_settings
from app.bench.slip_effects import FROM_BACK, effects_of, reveals_of, shows
from app.framing import Concern, Notice
from app.lengths import ZERO, Length, Size, say_on_rule


class CureKind(StrEnum):
    """What can be done.

    NOTHING: it lies as it was asked for. AGAIN: edges that are too far in are cut again. LARGER: the
    whole window is cut larger. LEAVE: it holds as it is, and no further cut makes it better. ANEW: the
    mat is cut anew.
    """

    NOTHING = "nothing"
    AGAIN = "again"
    LARGER = "larger"
    LEAVE = "leave"
    ANEW = "anew"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """What can be done about a window. message: whole sentences. size: of the window then, at the back."""

    kind: CureKind
    message: str
    size: Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """What a measured window comes to.

    off: by edge as seen from the front, the border as it is less the border asked for. known: the edges
    that a measure tells of. summary: what is off, as it stands in the note to a spoiled part; edges are
    named there, and in every sentence, as seen from the back. hint: what it says of the cutter.
    """

    layer: int
    window: str
    off: Mapping[Edge, Length]
    known: tuple[Edge, ...]
    summary: str
    effects: tuple[Notice, ...]
    cure: Cure
    hint: Notice

    @property
    def holds(self) -> bool:
        """Whether the frame still holds the window as it is."""
        return all(notice.concern is not Concern.RISK for notice in self.effects)


def slip_of(job: SlipJob, measured: MeasuredWindow) -> Slip:
    """Return what a measured window comes to.

    Source: B12; the trade's cure of a window that is too large at one edge is common practice.
    Raises: Invalid as `placed_by` does.
    """
    placed = placed_by(job, measured)
    effects = effects_of(job, placed)
    return Slip(
        layer=placed.mat.layer,
        window=placed.asked.name,
        off=placed.off,
        known=placed.known,
        summary=", ".join(_off_in_words(job, placed)) or "as asked for",
        effects=effects,
        cure=_cure(job, placed, effects),
        hint=_hint(job, placed),
    )


def _tolerated(job: SlipJob, length: Length) -> bool:
    """Tell whether a length is no more than can be read off the scale."""
    return abs(length) <= job.step / 2


def _off_in_words(job: SlipJob, placed: Placed) -> Iterator[str]:
    """Yield each border that is off and known, as "left border 48 mm in place of 50 mm"."""
    for edge in FROM_BACK:
        if edge in placed.known and not _tolerated(job, placed.off[edge]):
            asked = job.say(placed.mat.border(placed.asked, edge))
            yield f"{edge.mirrored} border {job.say(placed.borders[edge])} in place of {asked}"


def _cure(job: SlipJob, placed: Placed, effects: tuple[Notice, ...]) -> Cure:
    """Return the least that can be done: what is too small can be cut again, what is too large only evened."""
    far_in = [e for e, off in placed.off.items() if off > ZERO and not _tolerated(job, off)]
    widest = max((-off for off in placed.off.values()), default=ZERO)
    if widest > ZERO and not _tolerated(job, widest):
        return _evened(job, placed, widest, effects)
    if not far_in:
        message = "It lies as it was asked for: there is nothing to cut again."
        return Cure(kind=CureKind.NOTHING, message=message, size=placed.window.size)
    edges = ", ".join(
        f"{edge.mirrored} at {job.say(placed.mat.border(placed.asked, edge))}" for edge in far_in
    )
    asked = placed.asked.size
    message = (
        f"The window is too small there: cut again {edges}; it is {_size(job, asked)} then, as asked for."
        f"{_settings(job, placed.larger(ZERO), far_in)}{_before_the_next(job, placed)}"
    )
    return Cure(kind=CureKind.AGAIN, message=message, size=asked)


def _evened(job: SlipJob, placed: Placed, by: Length, effects: tuple[Notice, ...]) -> Cure:
    """Return the window larger by what is gone at its worst edge, where the piece still holds it."""
    larger = placed.larger(by)
    too_much = next(_shows_too_much(job, larger), "")
    if not too_much and all(each.concern is Concern.NOTE for each in effects_of(job, larger)):
        then = "; ".join(("its borders stay as they were to each other", *shows(job, larger)))
        message = (
            f"Cut the window {job.say(by)} larger at each edge, to {_size(job, larger.window.size)}: {then}."
            f"{_settings(job, larger, tuple(Edge))}{_before_the_next(job, placed)}"
        )
        return Cure(kind=CureKind.LARGER, message=message, size=larger.window.size)
    if any(each.concern is Concern.RISK for each in effects):
        message = f"It cannot be cut larger to mend it: cut {job.mat(placed.mat.layer)} anew."
        return Cure(kind=CureKind.ANEW, message=message, size=placed.asked.size)
    message = (
        f"It holds as it is, but cut larger at each edge {too_much or 'it would hold no more'}: leave it, or cut "
        f"{job.mat(placed.mat.layer)} anew."
    )
    return Cure(kind=CureKind.LEAVE, message=message, size=placed.window.size)


def _shows_too_much(job: SlipJob, larger: Placed) -> Iterator[str]:
    """Yield which mat beneath would show more than twice what was asked for."""
    for layer, reveals in reveals_of(job, larger):
        before = dict(reveals_of(job, larger.larger(ZERO)))[layer]
        widest, asked = max(reveals.values()), max(before.values())
        if widest > asked * 2:
            yield (
                f"{job.say(widest)} of {job.mat(layer)} would show, more than twice the {job.say(asked)} "
                "that was asked for"
            )


def _settings(job: SlipJob, placed: Placed, edges: Iterable[Edge]) -> str:
    """Say where guide and stops are set to cut some edges of a window as it is placed; nothing of curves."""
    edges = tuple(edges)
    mat = replace(placed.mat, windows=placed.windows)
    plan = plan_settings((mat,), job.cutter, ticket=job.unit)
    said = [
        f"{plan.set_text(setting, job.unit)}: {plan.edges_text(cuts)}"
        for setting in plan.settings
        if (
            cuts := tuple(
                cut for cut in setting.cuts if cut.window == placed.window and cut.edge in edges
            )
        )
    ]
    return f" Set the guide to {'; then to '.join(said)}." if said else ""


def _before_the_next(job: SlipJob, placed: Placed) -> str:
    """Say that a mat is cut again only while none is fixed behind it, since the blade would cut both."""
    behind = next(
        (mat for mat in job.mats if mat.layer == placed.mat.layer + 1 and mat.attached), None
    )
    if behind is None:
        return ""
    name = job.mat(behind.layer)
    return (
        f" Do it before {name} is fixed behind {job.mat(placed.mat.layer)}: the blade would cut both. If it is fixed already, "
        "cut both anew."
    )


def _size(job: SlipJob, size: Size) -> str:
    return say_on_rule(size, job.unit)


def _hint(job: SlipJob, placed: Placed) -> Notice:
    """Return what the measured edges say of the guide: correction = asked for − measured (B7)."""
    errors = [
        placed.off[cut.edge] - (job.cutter.on_scale(cut.wanted) - cut.wanted)
        for cut in cuts_of(placed.mat, job.cutter)
        if cut.window == placed.asked and cut.edge in placed.known and not cut.by_straight_edge
    ]
    if not errors:
        return _said(
            "no-hint",
            "None of the measured edges is cut along the guide, so nothing can be said of the guide.",
        )
    mean = sum(errors, ZERO) / len(errors)
    if max(errors) - min(errors) > job.doubt:
        return _said(
            "edges-differ",
            "The edges are off by different amounts, which no correction of the guide mends: see that the board lay "
            "against the guide, and that the guide was locked.",
        )
    if _tolerated(job, mean):
        return _said("guide-true", "The guide is off by no more than can be read off its scale.")
    if abs(mean) > LARGEST_CORRECTION:
        return _said(
            "setting-misread",
            f"More than {job.cutter.say(LARGEST_CORRECTION)} is too much for a correction: the guide was set to another "
            "figure, or the board lay against it with another edge.",
        )
    return _said("guide-off", _correction(job, mean, len(errors)))


def _correction(job: SlipJob, mean: Length, count: int) -> str:
    now = job.cutter.guide_correction
    wide = "too wide" if mean > ZERO else "too narrow"
    say = job.cutter.say
    by = f"{say(abs(mean))} {wide}"
    measured = f"This border is {by}" if count == 1 else f"These borders are {by} on average"
    return (
        f"{measured}. If every cut comes out so, set the correction of the guide "
        f"to {say(now - mean)} instead of {say(now)}. One slip is only a hint: make a test cut to find the correction."
    )


def _said(code: str, message: str) -> Notice:
    return Notice(code=code, message=message, concern=Concern.NOTE)
