"""Dimensions in the shop's cutting steps, as they are printed on the ticket (L2).

Mat blanks and windows go to the nearest step, glazing, mount board, backing and spacers down, rails of
frames and fillets up, by their long points: short points, rebate and sight follow from those (G12).
Thicknesses and the stack are not cut and stay exact. Where windows go is in `steps_of_mats`.
"""

from collections.abc import Iterator
from dataclasses import replace

from app.framing.dimensions import Dimensions, FrameSizes, frame_within, is_tray
from app.framing.fillets import FilletSizes, colliding, fillets_in_steps
from app.framing.notice import Concern, Notice
from app.framing.notices.fillets import remarks_on_fillets
from app.framing.notices.remarks import remarks_on_borders
from app.framing.notices.reveals import reveals_in_steps, reveals_of_ovals
from app.framing.rounding_of_mats import nearest_size, with_mats_in_steps
from app.framing.spec import Spec
from app.lengths import ZERO, Length, Size, Steps, show


def in_steps(dimensions: Dimensions, steps: Steps) -> Dimensions:
    """Return the same dimensions as the shop cuts them, with a notice where rounding makes them tight."""
    mats = with_mats_in_steps(dimensions, steps)
    rounded = replace(
        mats,
        package=nearest_size(dimensions.package, steps),
        frames=tuple(_frames(dimensions, steps)),
        glazing=_down(dimensions.glazing, steps),
        mount_board=_down(dimensions.mount_board, steps),
        backing=_down(dimensions.backing, steps),
        spacers=tuple((steps.down(length), count) for length, count in dimensions.spacers),
        fillets=_fillets(mats, steps),
    )
    goes_in = rounded.package if rounded.layers else dimensions.package
    tight = (
        *_reveals(dimensions, rounded, steps),
        *_tightness(rounded, goes_in),
        *_fillets_tight(rounded, steps),
    )
    return replace(rounded, notices=(*_notices(dimensions, rounded), *tight))


def _notices(exact: Dimensions, cut: Dimensions) -> Iterator[Notice]:
    """Yield those of the piece; narrow borders, and what is seen inside a fillet, are said as they are cut."""
    yield from remarks_on_borders(cut)
    of_borders = remarks_on_borders(exact)
    of_fillets = remarks_on_fillets(exact)
    anew = remarks_on_fillets(cut)
    for notice in exact.notices:
        if notice in of_borders:
            continue
        if notice not in of_fillets:
            yield notice
        elif anew:
            yield from anew
            anew = ()


def _down(size: Size | None, steps: Steps) -> Size | None:
    if size is None:
        return None
    return Size(width=steps.down(size.width), height=steps.down(size.height))


def _frames(dimensions: Dimensions, steps: Steps) -> Iterator[FrameSizes]:
    spec = dimensions.spec
    for index, (frame, sizes) in enumerate(zip(spec.frames, dimensions.frames, strict=True)):
        outside = Size(steps.up(sizes.outside.width), steps.up(sizes.outside.height))
        yield frame_within(outside, frame, tray=is_tray(spec, index))


def _fillets(mats: Dimensions, steps: Steps) -> tuple[FilletSizes, ...]:
    """mats: in steps."""
    fillet, last = mats.spec.fillet, mats.windows_of(len(mats.layers))
    return fillets_in_steps(mats.fillets, last, fillet, steps) if fillet else ()


def _reveals(exact: Dimensions, cut: Dimensions, steps: Steps) -> Iterator[Notice]:
    """Yield where whole steps, or ovals, make of reveals something else than was asked (G3, G20)."""
    yield from reveals_in_steps(exact, cut, steps)
    yield from reveals_of_ovals(cut, steps)


def _tightness(cut: Dimensions, goes_in: Size) -> tuple[Notice, ...]:
    """Return a notice for each frame whose clearance after rounding is under half the allowance (L2).

    goes_in: what the inner frame takes: mats as they are cut, or an artwork that nobody cuts.
    """
    spec = cut.spec
    notices = []
    inside = goes_in
    for index, (frame, sizes) in enumerate(zip(spec.profiles, cut.surrounds, strict=True)):
        rebate = sizes.rebate
        clearance = min(rebate.width - inside.width, rebate.height - inside.height)
        if not is_tray(spec, index) and clearance < frame.allowance / 2:
            notices.append(_tight(spec, index + 1, clearance))
        inside = sizes.outside
    return tuple(notices)


def _tight(spec: Spec, number: int, clearance: Length) -> Notice:
    allowance = show(spec.profiles[number - 1].allowance, spec.unit, mark=True)
    by = show(abs(clearance), spec.unit, mark=True)
    says = (
        f"frame {number} is {by} too small: what goes into it does not fit"
        if clearance < ZERO
        else f"frame {number} has only {by} of play in total, less than half of the {allowance} "
        "that was asked for"
    )
    return Notice(
        code="tight-after-rounding",
        message=f"After rounding to the shop's steps {says}.",
        concern=Concern.RISK,
    )


def _fillets_tight(cut: Dimensions, steps: Steps) -> tuple[Notice, ...]:
    """Return a notice where the rails as cut leave two fillets no room behind the mat (G19)."""
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
