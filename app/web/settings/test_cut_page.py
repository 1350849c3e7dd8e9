"""The page of a test cut: what to cut, what to measure, and the corrections that follow (B7)."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.bench import (
    Correction,
    Cut,
    Cutter,
    MatToCut,
    cuts_of,
    limit_notices,
    marks_of,
    plan_settings,
)
from app.drawings import back_marks
from app.forms.kinds import In
from app.framing import Edges, Notice
from app.lengths import ZERO, Length, Unit, show_size
from app.web.kit.fields import FormView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page
from app.web.pieces.cutter_panel import GuidePanel, MatMarks, guide_panel, mat_marks
from app.web.settings.test_cut_form import SIDES


@dataclass(frozen=True, slots=True, kw_only=True)
class MatShown:
    """The test mat as it is to be cut.

    limits: why this cutter cannot cut it.
    """

    window: str
    panel: GuidePanel
    marks: MatMarks
    limits: tuple[Notice, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionChange:
    """One figure of the cutter before and after the correction, and why it changes."""

    what: str
    before: str
    after: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionResult:
    """What a test cut found.

    changes_anything: whether there is a correction to keep. of_corners: why starts and ends are not
    corrected by what was measured there.
    """

    changes: tuple[CorrectionChange, ...]
    notices: tuple[Notice, ...]
    changes_anything: bool
    remark: str
    of_corners: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TestCutPage(Page):
    """The page of a test cut.

    scale: the unit of the scale that is set and read. other_scale: that of the other one, if there is one.
    mat: None while the fields of the test mat cannot be read. found: None until what was measured is
    compared. typed: (name, text) of all that was typed, to be posted again when the corrections are
    kept.
    """

    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    number: int
    name: str
    version: str
    scale: Unit
    other_scale: Unit | None
    mat_fields: FormView[In]
    measured: FormView[In]
    sides: tuple[str, ...] = SIDES
    mat: MatShown | None
    found: CorrectionResult | None
    typed: tuple[tuple[str, str], ...]


def mat_shown(mat: MatToCut, cutter: Cutter, word: str) -> MatShown:
    """Return the test mat with its settings, in the unit of the scale."""
    plan = plan_settings((mat,), cutter)
    return MatShown(
        window=show_size(mat.windows[0].size, cutter.unit, mark=True),
        panel=guide_panel(plan, lambda _: word),
        marks=mat_marks(
            mat,
            cutter,
            cutter.unit,
            name=f"the test {word}",
            drawing=back_marks(marks_of(mat, cutter), plan, cutter.unit),
        ),
        limits=limit_notices((mat,), cutter, cutter.unit),
    )


def found_by(before: Cutter, mat: MatToCut, found: Correction) -> CorrectionResult:
    """Return the corrections with their reasons."""
    after, say = found.cutter, before.say
    changes = (
        CorrectionChange(
            what="Added to every setting",
            before=say(before.guide_correction),
            after=say(after.guide_correction),
            why=_why_guide(before, found),
        ),
        CorrectionChange(
            what="The guide for this border",
            before=say(_setting(before, mat)),
            after=say(_setting(after, mat)),
            why="As it is set on the scale, to its nearest step.",
        ),
        *_of_ends(before, cuts_of(mat, before), found),
    )
    changed = any((found.guide, found.start, found.end, found.near, found.far))
    return CorrectionResult(
        changes=changes,
        notices=found.notices,
        changes_anything=changed,
        remark=_remark(before, found, changed=changed),
        of_corners=_OF_CORNERS if any(length for _, length in found.errors.sides()) else "",
    )


def _of_ends(
    before: Cutter, cuts: tuple[Cut, ...], found: Correction
) -> Iterator[CorrectionChange]:
    """Yield what is corrected at starts and ends: the overcut, or the stop that bound the cuts there (B9)."""
    after, say = found.cutter, before.say
    at_start, at_end = found.past_start, found.past_end
    if any(cut.start_to_mark for cut in cuts):
        yield CorrectionChange(
            what="Cuts begin past the corner by",
            before=say(before.start_offset),
            after=say(after.start_offset),
            why=_why_end(before, at_start, found.start, ("began", "begin")),
        )
    if any(cut.end_to_mark for cut in cuts):
        yield CorrectionChange(
            what="Cuts end past the corner by",
            before=say(before.end_offset),
            after=say(after.end_offset),
            why=_why_end(before, at_end, found.end, ("ended", "end")),
        )
    begin_near = cuts[0].begins_near
    at_near, at_far = (at_start, at_end) if begin_near else (at_end, at_start)
    if any(cut.stops.near is not None for cut in cuts):
        yield CorrectionChange(
            what="Added to every near stop",
            before=say(before.stops.near_correction),
            after=say(after.stops.near_correction),
            why=_why_stop(
                before, at_near, found.near, "began" if begin_near else "ended", near=True
            ),
        )
    if any(cut.stops.far is not None for cut in cuts):
        yield CorrectionChange(
            what="Added to every far stop",
            before=say(before.stops.far_correction),
            after=say(after.stops.far_correction),
            why=_why_stop(
                before, at_far, found.far, "ended" if begin_near else "began", near=False
            ),
        )


def _setting(cutter: Cutter, mat: MatToCut) -> Length:
    """Return where the guide is set for the one border of a test mat."""
    return cutter.on_scale(cuts_of(mat, cutter)[0].wanted)


def _why_guide(cutter: Cutter, found: Correction) -> str:
    each = _each(cutter, found.errors)
    if not found.guide:
        return f"The borders came out right on average ({each})."
    wide = "too wide" if found.guide < ZERO else "too narrow"
    less = "less" if found.guide < ZERO else "more"
    by = cutter.say(abs(found.guide))
    return f"The borders came out {by} {wide} on average ({each}), so each is set {by} {less}."


def _why_end(cutter: Cutter, past: Edges, change: Length, words: tuple[str, str]) -> str:
    """Say why one end of the cuts is corrected.

    words: ("began", "begin") or ("ended", "end").
    """
    was, now = words
    if not change:
        return (
            f"The cuts {was} at the corners that were asked for on average ({_each(cutter, past)})."
        )
    by = cutter.say(abs(change))
    where = "past" if change < ZERO else "short of"
    when = "later" if (change < ZERO) == (now == "begin") else "sooner"
    return (
        f"The cuts {was} {by} {where} the corners that were asked for on average "
        f"({_each(cutter, past)}), so they {now} {by} {when}."
    )


def _why_stop(cutter: Cutter, past: Edges, change: Length, was: str, *, near: bool) -> str:
    """Say why a stop is corrected. was: "began" or "ended", what the cuts did there."""
    at = f"As the stop stood on its scale, the cuts {was}"
    if not change:
        return f"{at} at the corners that were asked for on average ({_each(cutter, past)})."
    by = cutter.say(abs(change))
    where = "past" if (change > ZERO) is near else "short of"
    to = "further from" if change > ZERO else "nearer to"
    return (
        f"{at} {by} {where} the corners that were asked for on average ({_each(cutter, past)}), "
        f"so it is set {by} {to} the squaring arm."
    )


def _each(cutter: Cutter, edges: Edges) -> str:
    return ", ".join(f"{side} {_signed(cutter, length)}" for side, length in edges.sides())


def _signed(cutter: Cutter, length: Length) -> str:
    return f"+{cutter.say(length)}" if length > ZERO else cutter.say(length)


_OF_CORNERS = (
    "You measured from the corners as they were cut. They move with the borders, which the guide now brings "
    "back; so what a border came out too wide is taken off what the cuts ran past there."
)


def _remark(cutter: Cutter, found: Correction, *, changed: bool) -> str:
    if not changed:
        return "What was measured is what was asked for: there is nothing to correct."
    if found.guide and abs(found.guide) * 2 < cutter.step:
        return (
            f"The guide is off by less than half a step of its scale, {cutter.say(cutter.step)}: "
            "most settings stay as they are."
        )
    return ""
