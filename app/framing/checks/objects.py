"""What makes an object in a box impossible: no board to stand on, or glass that lies on it (G22)."""

from app.framing.checks.fault_list import FaultList
from app.framing.objects import least_spacer, room_over_object, walls_of
from app.framing.spec import Presentation
from app.lengths import ZERO

AS_CANVAS = "object-as-canvas"
TOUCHES_GLAZING = "object-touches-glazing"


def check_object(found: FaultList) -> None:
    """A way of showing it that has a mount board, and walls at least as high as it."""
    spec = found.spec
    if spec.boxed is None:
        return
    if spec.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT):
        found.add(
            "presentation",
            f"An object cannot be shown as “{spec.presentation.value}”: it stands on a mount board, "
            "which a stretched canvas has not. Float it in a window, show it in a window that covers "
            "its edges, or close in the frame.",
            AS_CANVAS,
        )
        return
    _check_glazing_clears_it(found)


def _check_glazing_clears_it(found: FaultList) -> None:
    spec = found.spec
    below_zero = spec.spacer is not None and spec.spacer.depth < ZERO
    if spec.glazing is None or below_zero or room_over_object(spec) >= ZERO:
        return
    if spec.artwork_thickness <= ZERO:
        return
    walls = walls_of(spec)
    room = (
        f"there are only {found.say(walls)} from glass to mount board"
        if walls > ZERO
        else "nothing holds the glass off the mount board"
    )
    found.add(
        "spacer",
        f"The object is {found.say(spec.artwork_thickness)} high, but {room}: the glass would lie on it. "
        f"Spacers of at least {found.say(least_spacer(spec))} leave "
        f"{found.say(spec.boxed.clearance if spec.boxed else ZERO)} clear.",
        TOUCHES_GLAZING,
    )
