"""Dimensions in the shop's cutting steps, as they are printed on the ticket (L2).

Mat blanks and windows go to the nearest step, glazing, mount board, backing and spacers down, rails of frames and fillets up.
Thicknesses and the stack are not cut and stay exact. Where windows go is in `steps_of_mats`.
"""

from dataclasses import replace

from app.framing.dimensions import Dimensions, FrameSizes
from app.framing.fillets import colliding, fillet_in_steps
from app.framing.notice import Concern, Notice
from app.framing.spec import Frame, Presentation, Spec
from app.framing.steps_of_mats import nearest_size, with_mats_in_steps
from app.lengths import ZERO, Length, Size, Steps, show


def in_steps(dimensions: Dimensions, steps: Steps) -> Dimensions:
    """The same dimensions as the shop cuts them, with a notice where rounding makes them tight."""
    rounded = replace(
        with_mats_in_steps(dimensions, steps),
        package=nearest_size(dimensions.package, steps),
        frames=tuple(_frame(frame, steps) for frame in dimensions.frames),
        glazing=_down(dimensions.glazing, steps),
        mount_board=_down(dimensions.mount_board, steps),
        backing=_down(dimensions.backing, steps),
        spacers=tuple((steps.down(length), count) for length, count in dimensions.spacers),
        fillets=tuple(fillet_in_steps(fillet, steps) for fillet in dimensions.fillets),
    )
    goes_in = rounded.package if rounded.layers else dimensions.package
    tight = (*_tightness(rounded, goes_in), *_fillets_tight(rounded, steps))
    return replace(rounded, notices=(*dimensions.notices, *tight))


def _down(size: Size | None, steps: Steps) -> Size | None:
    if size is None:
        return None
    return Size(width=steps.down(size.width), height=steps.down(size.height))


def _up(size: Size, steps: Steps) -> Size:
    return Size(width=steps.up(size.width), height=steps.up(size.height))


def _frame(frame: FrameSizes, steps: Steps) -> FrameSizes:
    return FrameSizes(
        rebate=_up(frame.rebate, steps),
        sight=_up(frame.sight, steps),
        outside=_up(frame.outside, steps),
    )


def _tightness(cut: Dimensions, goes_in: Size) -> tuple[Notice, ...]:
    """A notice for each frame whose clearance after rounding is under half the allowance (L2).

    goes_in: what the inner frame takes: mats as they are cut, or an artwork that nobody cuts.
    """
    spec = cut.spec
    notices = []
    inside = goes_in
    for number, (frame, sizes) in enumerate(zip(spec.frames, cut.frames, strict=True), start=1):
        tray = number == 1 and spec.presentation is Presentation.CANVAS_FLOAT
        clearance = _clearance(sizes, frame, inside)
        if not tray and clearance < frame.allowance / 2:
            notices.append(_tight(spec, number, clearance))
        inside = sizes.outside
    return tuple(notices)


def _tight(spec: Spec, number: int, clearance: Length) -> Notice:
    allowance = show(spec.frames[number - 1].allowance, spec.unit, mark=True)
    by = show(abs(clearance), spec.unit, mark=True)
    says = (
        f"frame {number} is {by} too small for what goes into it, which does not enter"
        if clearance < ZERO
        else f"frame {number} has {by} of clearance in all, less than half its allowance of "
        f"{allowance}"
    )
    return Notice(
        code="tight-after-rounding",
        message=f"After rounding to the shop's steps {says}.",
        concern=Concern.RISK,
    )


def _fillets_tight(cut: Dimensions, steps: Steps) -> tuple[Notice, ...]:
    """A notice where the rails as cut leave two fillets no room behind the mat (G19)."""
    if cut.spec.fillet is None:
        return ()
    windows = cut.windows_of(len(cut.layers))
    pairs = list(colliding(windows, cut.fillets, cut.spec.fillet.tuck + steps.step))
    if not pairs:
        return ()
    named = ", ".join(f"{one} and {other}" for one, other in pairs)
    return (
        Notice(
            code="fillets-tight-after-rounding",
            message="After rounding to the shop's steps the fillets of these windows lie on each "
            f"other behind the mat: {named}.",
            concern=Concern.RISK,
        ),
    )


def _clearance(sizes: FrameSizes, frame: Frame, inside: Size) -> Length:
    """The lesser room between what goes in and the rebate that the cut rails make."""
    walls = (frame.face - frame.lip) * 2
    return min(
        sizes.outside.width - walls - inside.width,
        sizes.outside.height - walls - inside.height,
    )
