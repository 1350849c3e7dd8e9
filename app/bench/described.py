"""What of a described cutter does not hold together, and what is worth another look.

Both are asked where a cutter is described anew; one that is kept already is read as it is.
"""

from collections.abc import Iterator

from app.bench.cutter import Cutter
from app.bench.scale import Scale
from app.errors import Fault
from app.lengths import ZERO, Length, mm

LONGEST_BOARD = mm(3000)
"""No board for mats is longer. Source: from memory, sheets are sold up to about 2.6 m."""


def contradictions(cutter: Cutter) -> tuple[Fault, ...]:
    """Return what cannot be true together, each at the name of its field."""
    return (
        *(
            fault
            for row, scale in enumerate(cutter.scales)
            for fault in _of_holes(f"scales.{row}.pins", scale, cutter.guide_reach)
        ),
        *_of_stops(cutter),
    )


def doubtful(cutter: Cutter) -> tuple[str, ...]:
    """Return a sentence about each length that is possible and hardly meant."""
    return tuple(
        f"{what} {cutter.say(length)}, which is longer than any board: see that it is what you meant."
        for what, length in (
            ("Its longest cut is", cutter.cut_length),
            ("Its guide goes up to", cutter.guide_reach),
            ("Its squaring arm measures up to", cutter.arm_reach),
        )
        if length is not None and length > LONGEST_BOARD
    )


def _of_holes(path: str, scale: Scale, reach: Length) -> Iterator[Fault]:
    pins, say = scale.pins, scale.say
    if pins is None:
        return
    if pins.first > reach:
        yield Fault(
            path=f"{path}.first",
            message=f"The first hole is at {say(pins.first)}, and the guide goes up to {say(reach)} only; "
            "it must be at that or below.",
        )
    if pins.pitch < scale.step:
        yield Fault(
            path=f"{path}.pitch",
            message=f"A hole every {say(pins.pitch)} is closer than the scale can be read, "
            f"{say(scale.step)}; it must be that or more.",
        )
    elif pins.pitch > reach:
        yield Fault(
            path=f"{path}.pitch",
            message=f"A hole every {say(pins.pitch)} is further than the guide goes, {say(reach)}; it "
            "must be that or less.",
        )


def _of_stops(cutter: Cutter) -> Iterator[Fault]:
    stops = cutter.stops
    for name, fitted, length in (
        ("near", stops.near, stops.near_correction),
        ("far", stops.far, stops.far_correction),
    ):
        if length != ZERO and not fitted:
            yield Fault(
                path=f"stops.{name}_correction",
                message=f"The {name} stop is corrected by {cutter.say(length)}, and the cutter is said to have "
                f"no {name} stop; say that it has one, or leave the correction out.",
            )
