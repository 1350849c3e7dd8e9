"""Whether what lies behind mats goes behind its glass, and into its frame (G13, G25).

An artwork lies with its middle behind that of its window, so it reaches past the mat wherever a border is narrower
than what the mat covers of it. Owns the sentences: a risk while it stands past the glass, a fault of a new piece
where it does not go into the rebate. Nothing is trimmed to fit.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from app.errors import Fault
from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.spec import Edges
from app.lengths import ZERO, Size, say

_TO_DO = (
    "Make the border at least as wide as the part of the artwork behind it, or the overlap smaller."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Past:
    """An artwork that reaches past its glass. past: how far at each edge, below zero where it ends within."""

    name: str
    size: Size
    past: Edges


def remarks_on_fit(dimensions: Dimensions) -> Iterator[Notice]:
    """Yield a risk for each artwork that reaches past its glass."""
    glass = say(dimensions.package, dimensions.spec.unit)
    for each in _past_the_glass(dimensions):
        larger = (
            each.size.width > dimensions.package.width
            or each.size.height > dimensions.package.height
        )
        does = (
            f"is larger than its glass size, {glass}"
            if larger
            else f"does not lie wholly behind its glass, {glass}"
        )
        yield Notice(
            code="artwork-past-glass",
            message=f"{_called(dimensions, each)}, {does}: {_where(dimensions, each)}. {_TO_DO}",
            concern=Concern.RISK,
        )


def faults_of_fit(dimensions: Dimensions) -> tuple[Fault, ...]:
    """Return why an artwork does not go into the frame, at the border that is too narrow.

    Glass and mats may be pushed to one side of the rebate, so all of the play is room at either edge.
    """
    if not dimensions.surrounds:
        return ()
    rebate = dimensions.surrounds[0].rebate
    play = {
        ("left", "right"): rebate.width - dimensions.package.width,
        ("top", "bottom"): rebate.height - dimensions.package.height,
    }
    for each in _past_the_glass(dimensions):
        past = dict(each.past.sides())
        for sides, room in play.items():
            if sum((max(past[side], ZERO) for side in sides), ZERO) > room:
                first = next(side for side in sides if past[side] > ZERO)
                does = f"does not go into the frame, whose rebate is {say(rebate, dimensions.spec.unit)}"
                message = (
                    f"{_called(dimensions, each)}, {does}: {_where(dimensions, each)}. {_TO_DO}"
                )
                return (Fault(path=_path(dimensions, first), message=message),)
    return ()


def _past_the_glass(dimensions: Dimensions) -> Iterator[_Past]:
    package = dimensions.package
    windows = {each.name: each for each in dimensions.windows if each.layer == 1}
    for name, size in dimensions.artworks:
        window = windows.get(name)
        if window is None:
            continue
        left = window.x + (window.size.width - size.width) / 2
        top = window.y + (window.size.height - size.height) / 2
        past = Edges(
            left=-left,
            right=left + size.width - package.width,
            top=-top,
            bottom=top + size.height - package.height,
        )
        if any(length > ZERO for _, length in past.sides()):
            yield _Past(name=name, size=size, past=past)


def _called(dimensions: Dimensions, each: _Past) -> str:
    of = f" in window {each.name}" if each.name else ""
    return f"The artwork{of}, {say(each.size, dimensions.spec.unit)}"


def _where(dimensions: Dimensions, each: _Past) -> str:
    unit = dimensions.spec.unit
    past = [f"{say(by, unit)} at the {side}" for side, by in each.past.sides() if by > ZERO]
    return f"it stands out {', '.join(past)}"


def _path(dimensions: Dimensions, side: str) -> str:
    """Return what the size in that direction was given by: the border, the glass, the outside, or the frame."""
    spec = dimensions.spec
    if spec.given_frame is not None:
        return "given_frame.rebate" if spec.given_frame.own else "given_frame"
    if spec.outside is not None:
        return "outside"
    return f"borders.{side}" if spec.borders is not None else "package"
