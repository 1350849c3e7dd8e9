"""What makes frames, panels and spacers of a spec impossible: rules G11 to G14, G17, G18."""

from app.framing.checks.fault_list import FaultList
from app.framing.dimensions import frame_around
from app.framing.spec import Frame, Panel, Presentation
from app.lengths import ZERO


def check_frames(found: FaultList) -> None:
    """Profiles that exist and leave something to see."""
    for index, frame in enumerate(found.spec.frames):
        _check_profile(found, f"frames.{index}", frame)
    _check_something_is_seen(found)


def _check_profile(found: FaultList, where: str, frame: Frame) -> None:
    if found.above_zero(f"{where}.face", "The moulding's face", frame.face) and (
        frame.lip >= frame.face
    ):
        found.add(
            f"{where}.lip",
            f"The lip is {found.say(frame.lip)}, but the moulding's whole face is "
            f"{found.say(frame.face)}; the lip must be narrower.",
        )
    found.none_negative(
        (
            (f"{where}.lip", "The lip", frame.lip),
            (f"{where}.rebate_depth", "The rebate depth", frame.rebate_depth),
            (f"{where}.allowance", "The play", frame.allowance),
        )
    )


def _is_real(frame: Frame) -> bool:
    return ZERO <= frame.lip < frame.face and frame.allowance >= ZERO


def _check_something_is_seen(found: FaultList) -> None:
    """A lip may not close over the whole package; looked at as far as sizes can be known."""
    spec = found.spec
    package = found.package
    for index, frame in enumerate(spec.frames):
        if not _is_real(frame) or min(package.width, package.height) <= ZERO:
            return
        tray = index == 0 and spec.presentation is Presentation.CANVAS_FLOAT
        sizes = frame_around(package, frame, tray=tray)
        if min(sizes.sight.width, sizes.sight.height) <= ZERO:
            shorter = min(sizes.rebate.width, sizes.rebate.height)
            found.add(
                f"frames.{index}.lip",
                f"A lip of {found.say(frame.lip)} on both sides covers the whole "
                f"{found.say(shorter)} of the rebate, so nothing would be seen; it must be under "
                f"{found.say(shorter / 2)}.",
            )
            return
        package = sizes.outside


def check_panels(found: FaultList) -> None:
    """Glazing, mount board and backing that leave a part to cut."""
    spec = found.spec
    for name, what, panel in (
        ("glazing", "The glazing", spec.glazing),
        ("mount_board", "The mount board", spec.mount_board),
        ("backing", "The backing", spec.backing),
    ):
        if panel is not None:
            _check_panel(found, name, what, panel)


def _check_panel(found: FaultList, name: str, what: str, panel: Panel) -> None:
    found.not_negative(f"{name}.thickness", f"{what}'s thickness", panel.thickness)
    package = found.package
    shorter = min(package.width, package.height)
    if found.not_negative(f"{name}.trim", f"{what}'s trim", panel.trim) and (
        ZERO < shorter <= panel.trim * 2
    ):
        found.add(
            f"{name}.trim",
            f"{what} is trimmed by {found.say(panel.trim)} at each edge, which leaves nothing of "
            f"{found.say(shorter)}; the trim must be under {found.say(shorter / 2)}.",
        )


def check_spacer(found: FaultList) -> None:
    """Spacers that exist and leave the middle open (G14)."""
    spacer = found.spec.spacer
    if spacer is None:
        return
    found.not_negative("spacer", "The spacer's depth", spacer.depth)
    package = found.package
    shorter = min(package.width, package.height)
    if found.above_zero("spacer_width", "The spacers' width", spacer.width) and (
        ZERO < shorter <= spacer.width * 2
    ):
        found.add(
            "spacer_width",
            f"Spacers {found.say(spacer.width)} wide leave nothing open in a glass size of "
            f"{found.say_size(package)}; they must be under {found.say(shorter / 2)}.",
        )
