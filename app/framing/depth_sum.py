"""What lies in a rebate against its depth, in figures of one form that add up as they stand (D1)."""

from collections.abc import Iterable
from dataclasses import dataclass

from app.framing.objects import room_over_object
from app.framing.spec import Spec
from app.lengths import ZERO, Length, Steps, Unit, exact_text, inches, mm, show

_ON_A_RULE = Steps(unit=Unit.IN, step=inches("1/64"))
_IN_DECIMALS = {
    Unit.MM: Steps(unit=Unit.MM, step=mm("0.01")),
    Unit.IN: Steps(unit=Unit.IN, step=inches("0.001")),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthSum:
    """Figures as text, without their unit. parts: (what, how thick). left: empty where it is too deep by `over`, and
    the other way round. about: "about " where one of them was rounded, else empty.
    """

    parts: tuple[tuple[str, str], ...]
    stack: str
    depth: str
    left: str
    over: str
    about: str


def stacked(spec: Spec) -> tuple[tuple[str, Length], ...]:
    """Return (what, thickness) from the front to the back, without what has no thickness."""
    panels = [
        ("glazing", spec.glazing.thickness if spec.glazing else ZERO),
        *_before_the_board(spec),
        ("mount board", spec.mount_board.thickness if spec.mount_board else ZERO),
        ("backing", spec.backing.thickness if spec.backing else ZERO),
    ]
    return tuple((name, thickness) for name, thickness in panels if thickness)


def _before_the_board(spec: Spec) -> tuple[tuple[str, Length], ...]:
    """Return spacers, mats and artwork; for an object in a box the higher of the object and its walls (G22)."""
    walls = (
        ("spacer", spec.spacer.depth if spec.spacer else ZERO),
        ("mats", sum((mat.thickness for mat in spec.mats), ZERO)),
        ("fillet", spec.fillet.thickness if spec.fillet else ZERO),
    )
    if spec.boxed is None:
        return (*walls, ("artwork", spec.artwork_thickness))
    return walls if room_over_object(spec) >= ZERO else (("object", spec.artwork_thickness),)


def depth_sum(parts: Iterable[tuple[str, Length]], depth: Length, unit: Unit) -> DepthSum:
    """Sum what lies one behind the other in a rebate of a depth.

    Decimals to 0.01 mm or 0.001 in; fractions of an inch where all are on a rule. Parts are rounded up and the depth down,
    so that no more is said to be left than is.
    """
    parts = tuple(parts)
    lengths = (*(thickness for _, thickness in parts), depth)
    ruled = unit is Unit.IN and all(_ON_A_RULE.nearest(each) == each for each in lengths)
    steps = _IN_DECIMALS[unit]

    def text(length: Length) -> str:
        return show(length, unit) if ruled else exact_text(length, unit)

    rounded = [(name, each if ruled else steps.up(each)) for name, each in parts]
    room = depth if ruled else steps.down(depth)
    stack = sum((each for _, each in rounded), ZERO)
    left = room - stack
    return DepthSum(
        parts=tuple((name, text(each)) for name, each in rounded),
        stack=text(stack),
        depth=text(room),
        left=text(left) if left >= ZERO else "",
        over=text(-left) if left < ZERO else "",
        about="" if (*(each for _, each in rounded), room) == lengths else "about ",
    )
