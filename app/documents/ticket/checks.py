"""What is checked before and while a piece is made: stack, package in its rebate, weight, hanging."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from app.documents.kit.printing import Figures
from app.framing import Presentation, Spec
from app.framing.depth_sum import depth_sum, stacked
from app.framing.given_frame import GivenFrame
from app.framing.notices.frames import clip_offset
from app.framing.notices.weight import HangingWay
from app.framing.objects import room_over_object, walls_of
from app.lengths import ZERO
from app.orders import Agreed
from app.orders.hanging_parts import Hardware, WeakPart, of_today
from app.orders.piece_report import Findings
from app.orders.workbench import extra_work
from app.pricing import ChosenCount

SAID_IN_CHECKS = frozenset({"artwork-weight-estimated", "hanging-load-not-known", "object-depth"})
"""Notices that say no more than a check does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One thing to check. text: with its figures. detail: how it came about."""

    name: str
    text: str
    detail: str = ""

    @property
    def said(self) -> str:
        """The text with its detail behind it."""
        return f"{self.text} · {self.detail}" if self.detail else self.text


def checks_of(agreed: Agreed, found: Findings, figures: Figures) -> tuple[Check, ...]:
    """Return the checks of a piece, in the order in which they are made."""
    if not found.cut.surrounds:
        return (
            *_object(found, figures),
            *_fillet(found, figures),
            _weight(found, figures),
        )
    return (
        *_package(found, figures),
        *_stack(agreed, found, figures),
        *_clips(found, figures),
        *_frames_in_frames(agreed.spec, figures),
        *_object(found, figures),
        *_fillet(found, figures),
        *_seen(found, figures),
        *_hanging(found, figures),
    )


def _package(found: Findings, figures: Figures) -> Iterator[Check]:
    """Check what goes into the inner frame against the room there by the rails as they are cut (L2)."""
    cut, spec = found.cut, found.cut.spec
    inside = cut.package if cut.layers else found.exact.package
    if spec.presentation is Presentation.CANVAS_FLOAT:
        yield Check(
            name="Tray",
            text=f"{_on_bars(found)} {figures.size_on_rule(spec.artwork)} in {figures.size_on_rule(cut.frames[0].rebate)}",
            detail=f"gap {figures.on_rule(spec.gap)} at each edge",
        )
        return
    rebate = cut.surrounds[0].rebate
    room = min(rebate.width - inside.width, rebate.height - inside.height)
    yield Check(
        name=spec.package_word.replace("canvas", _on_bars(found)).capitalize(),
        text=f"{figures.size(inside)} in a rebate of {figures.size_on_rule(rebate)}",
        detail=f"{figures.on_rule(room)} play in total",
    )


def _on_bars(found: Findings) -> str:
    """Return what is shown as a canvas is: a board is none."""
    return "panel" if found.facts.panel else "canvas"


def _stack(agreed: Agreed, found: Findings, figures: Figures) -> Iterator[Check]:
    """Check the depth of what lies in the rebate against the rebate (D1)."""
    depth = agreed.spec.profiles[0].rebate_depth
    if not found.exact.stack or not depth:
        return
    said = depth_sum(stacked(agreed.spec), depth, figures.unit)
    over = f"{said.left} left" if said.left else f"{said.over} too deep"
    yield Check(
        name="Stack",
        text=f"{said.about}{said.stack} of {said.depth} in the rebate, {over}",
        detail=" + ".join(f"{name} {thickness}" for name, thickness in said.parts),
    )


def _clips(found: Findings, figures: Figures) -> Iterator[Check]:
    """Check the offset of the clips that hold a canvas (G16)."""
    needed = clip_offset(found.exact)
    if needed is not None:
        yield Check(name="Clips", text=f"offset needed {figures.on_rule(needed)}")


def _frames_in_frames(spec: Spec, figures: Figures) -> Iterator[Check]:
    """Check each inner frame against the rebate of the one that it lies in (G18, D1).

    Of a moulding only the rebate is measured, so that a frame is at least as deep as that.
    """
    for number, (inner, outer) in enumerate(pairwise(spec.frames), start=1):
        if not inner.rebate_depth or not outer.rebate_depth:
            continue
        left = outer.rebate_depth - inner.rebate_depth
        over = (
            f"at most {figures.on_rule(left)} left"
            if left >= ZERO
            else f"at least {figures.on_rule(-left)} too deep"
        )
        yield Check(
            name=f"Frame {number} in frame {number + 1}",
            text=f"at least {figures.on_rule(inner.rebate_depth)} of {figures.on_rule(outer.rebate_depth)} in the "
            f"rebate, {over}",
        )


def _object(found: Findings, figures: Figures) -> Iterator[Check]:
    """Check the room of an object from the glazing to its mount board (G22, D7)."""
    spec = found.exact.spec
    if spec.boxed is None:
        return
    room = room_over_object(spec)
    clear = f"{figures.length(room)} clear over it" if room >= ZERO else ""
    front = "glass" if spec.glazing else "front"
    yield Check(
        name="Object",
        text=f"{figures.length(spec.artwork_thickness)} high"
        if spec.artwork_thickness
        else "height not given",
        detail=", ".join(
            filter(None, (f"{figures.length(walls_of(spec))} from {front} to mount board", clear))
        ),
    )


def _fillet(found: Findings, figures: Figures) -> Iterator[Check]:
    """Check how a fillet divides its face, and what is seen inside it (G19)."""
    fillet, fillets = found.cut.spec.fillet, found.cut.fillets
    if fillet is None or not fillets:
        return
    yield Check(
        name="Fillet",
        text=f"{figures.on_rule(fillet.tuck)} of its face behind the window, "
        f"{figures.on_rule(fillet.face - fillet.tuck)} showing",
        detail=f"{figures.size_on_rule(fillets[0].sight)} inside it" if len(fillets) == 1 else "",
    )


def _seen(found: Findings, figures: Figures) -> Iterator[Check]:
    given = found.cut.spec.given_frame
    if given is not None:
        yield _given(given, figures)
        return
    outer = found.cut.frames[-1]
    yield Check(
        name="Frame",
        text=f"{figures.size(outer.outside)} outside",
        detail=f"{figures.size_on_rule(found.cut.frames[0].sight)} inside the lip"
        if found.cut.spec.presentation is not Presentation.CANVAS_FLOAT
        else "",
    )


def _given(given: GivenFrame, figures: Figures) -> Check:
    """Return a frame that is given, with what was measured of it (G24)."""
    whose = "the customer's own frame" if given.own else "a ready-made frame"
    measured = [
        f"outside {figures.size(given.outside)}" if given.outside else "",
        f"diagonals {figures.length(given.diagonals.falling)} and {figures.length(given.diagonals.rising)}"
        if given.diagonals
        else "",
    ]
    return Check(
        name="Frame",
        text=f"{whose}, rebate {figures.size(given.counted)} measured",
        detail="; ".join(filter(None, measured)),
    )


def _weight(found: Findings, figures: Figures) -> Check:
    """Say what the piece weighs, and how the artwork's part of it is known where that counts (D8)."""
    counts = found.artwork.counts_in(found.weight)
    return Check(
        name="Weight",
        text=f"{found.weight.how} {figures.weight(found.weight.kg)}",
        detail=f"artwork {found.artwork.in_words(figures.unit)}" if counts else "",
    )


def _hanging(found: Findings, figures: Figures) -> Iterator[Check]:
    """Say the weight and what carries it (D3, D4); where its fixings go is said at the step that fixes them.

    Nothing is said of a piece for which nothing is chosen to hang it by.
    """
    yield _weight(found, figures)
    hanging = found.hung
    if hanging is None or hanging.unchosen:
        return
    least = "at least " if hanging.at_least else ""
    unknown = [part.code for part in found.loads_not_known]
    if hanging.way is HangingWay.WIRE:
        text = f"wire at {hanging.angle}°, pulls {least}{figures.load(hanging.pull or 0)}"
    elif hanging.wireless:
        text = "no wire"
    else:
        text = "two straps or a wooden cleat, no wire"
    yield Check(
        name="Hanging",
        text=text,
        detail=f"each part bears at least {figures.load(hanging.load)}"
        + (f"; load of {', '.join(unknown)} not known" if unknown else ""),
    )


def hardware_to_take(agreed: Agreed, found: Findings, hardware: Hardware) -> tuple[str, ...]:
    """List hanging parts and extras to take, as "2 × R1 Hanging ring"; how long a wire is cut is said at its step.

    Extras that are work have a step of their own. hardware: of the price book today. A part that is too weak says so here,
    where it is fetched (D3).
    """
    at_steps = {work.code for work in extra_work(agreed)}
    extras = (each for each in agreed.chosen.extras if each.material.code not in at_steps)
    ready_made, copies = agreed.chosen.ready_made, agreed.copies
    weak = {each.part: each for each in found.too_weak}
    return (
        *((f"1 × {ready_made.code} {ready_made.name}",) if ready_made else ()),
        *(
            _taken(each, copies) + _warned(weak.get(of_today(each, hardware)))
            for each in agreed.chosen.hardware
        ),
        *(_taken(each, copies) for each in extras),
    )


def _taken(taken: ChosenCount, copies: int) -> str:
    """As "2 × R1 Hanging ring", of 20 alike "40 × R1 Hanging ring, 2 for each"."""
    named = f"{taken.material.code} {taken.material.name}"
    if copies == 1:
        return f"{taken.count} × {named}"
    return f"{taken.count * copies} × {named}, {taken.count} for each"


def _warned(weak: WeakPart | None) -> str:
    """Warn of a part that is too weak, with those to take instead: " (TOO WEAK: take R5 or R9 instead)"."""
    if weak is None:
        return ""
    if not weak.instead:
        return " (TOO WEAK, and no such part of the price book bears enough)"
    return f" (TOO WEAK: take {' or '.join(each.code for each in weak.instead)} instead)"
