"""What frames and the depth of their rebates call for saying (G11, G13, G15 to G18, D1)."""

from collections.abc import Iterator
from fractions import Fraction

from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.spec import Frame, Presentation, Spec
from app.framing.usual import FIXING_ROOM, in_both
from app.lengths import ZERO, Length, say

LEAST_SEEN = Fraction(60, 100)
"""Share of a border under which hiding it behind the lip is worth a notice. Source: G13."""


def remarks_on_frames(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Return the notices of frames and depth: lips first, then frames in frames, then the stack."""
    spec = dimensions.spec
    return (
        *_hidden_borders(dimensions),
        *_lips(spec),
        *_lip_over_artwork(dimensions),
        *_frames_in_frames(spec),
        *_depth(dimensions),
    )


def seen_inside_lip(width: Length, frame: Frame) -> Length:
    """Return what is seen of a border, or of an inner frame's face, inside a frame's lip.

    Negative where the lip reaches past it. Source: G13, border + allowance/2 - lip.
    """
    return width + frame.allowance / 2 - frame.lip


def _hidden_borders(dimensions: Dimensions) -> Iterator[Notice]:
    spec = dimensions.spec
    if not spec.mats or not lip_is_known(spec):
        return
    hidden = [
        (side, border, seen)
        for side, border in dimensions.layers[0].borders.sides()
        if (seen := seen_inside_lip(border, spec.profiles[0])) < border * LEAST_SEEN
    ]
    gone = [side for side, _, seen in hidden if seen <= ZERO]
    if gone:
        yield Notice(
            code="border-hidden",
            message=f"The lip hides the mat entirely {_on_sides(gone)}. Make the border wider, or choose a moulding "
            "with a narrower lip.",
            concern=Concern.RISK,
        )
    partly = [
        f"{side} {say(seen, spec.unit)} of {say(border, spec.unit)}"
        for side, border, seen in hidden
        if seen > ZERO
    ]
    if partly:
        yield Notice(
            code="border-mostly-hidden",
            message=f"The lip hides much of the border; still seen: {', '.join(partly)}.",
        )


def _on_sides(sides: list[str]) -> str:
    """Name sides of a piece as a sentence does: "on the left, on the right and at the top"."""
    *first, last = [f"{'on' if side in ('left', 'right') else 'at'} the {side}" for side in sides]
    return f"{', '.join(first)} and {last}" if first else last


def lip_is_known(spec: Spec) -> bool:
    """Tell whether there is a frame, and one that is given was measured so far."""
    given = spec.given_frame
    return bool(spec.frames) if given is None else given.known_lip is not None


def _lips(spec: Spec) -> Iterator[Notice]:
    for number, frame in enumerate(spec.profiles if lip_is_known(spec) else (), start=1):
        if number > 1 or spec.presentation is not Presentation.CANVAS_FLOAT:
            yield from _lip_holds(spec, number, frame)
        elif frame.lip or frame.allowance:
            yield Notice(
                code="tray-lip-not-used",
                message="A tray frame has no lip and no play; those of the moulding are not used.",
                concern=Concern.NOTE,
            )


def _lip_holds(spec: Spec, number: int, frame: Frame) -> Iterator[Notice]:
    which = "" if len(spec.profiles) == 1 else f" of frame {number}"
    if frame.lip <= frame.allowance / 2:
        yield Notice(
            code="lip-does-not-hold",
            message=f"The lip{which}, {say(frame.lip, spec.unit)}, is not wider than half the "
            f"play, {say(frame.allowance / 2, spec.unit)}: glass and artwork can fall out at the front. "
            "Choose a wider lip, or give less play.",
            concern=Concern.RISK,
        )
    elif frame.lip <= frame.allowance:
        yield Notice(
            code="lip-barely-holds",
            message=f"The lip{which}, {say(frame.lip, spec.unit)}, is not wider than the "
            f"play, {say(frame.allowance, spec.unit)}: glass and mat that slip to one side show their edge.",
        )


def _lip_over_artwork(dimensions: Dimensions) -> Iterator[Notice]:
    """G15: the lip covers a close artwork less where the package is larger than it."""
    spec = dimensions.spec
    close = spec.presentation in (Presentation.CLOSE, Presentation.CANVAS)
    if not close or not lip_is_known(spec):
        return
    covers = -seen_inside_lip(ZERO, spec.profiles[0])
    package = dimensions.package
    loose = (
        ("width", (package.width - spec.artwork.width) / 2),
        ("height", (package.height - spec.artwork.height) / 2),
    )
    for name, room in loose:
        if room > ZERO and covers < room:
            yield Notice(
                code="artwork-bare",
                message=f"In {name} the lip does not reach the artwork: {say(room - covers, spec.unit)} "
                "beside it stays bare at each edge.",
                concern=Concern.RISK,
            )
    covered = [(name, covers - room) for name, room in loose if covers > room]
    if covered:
        which = " and ".join(f"{say(length, spec.unit)} in {name}" for name, length in covered)
        if len({room for _, room in loose}) == 1:
            which = say(covered[0][1], spec.unit)
        yield Notice(
            code="artwork-covered-by-lip",
            message=f"The lip covers {which} of the artwork at each edge; the customer should "
            "agree.",
            concern=Concern.NOTE,
        )


def _frames_in_frames(spec: Spec) -> Iterator[Notice]:
    for number, (inner, outer) in enumerate(
        zip(spec.frames, spec.frames[1:], strict=False), start=2
    ):
        if ZERO < outer.rebate_depth < inner.rebate_depth:
            yield Notice(
                code="frame-in-frame-depth",
                message=f"Frame {number} has a rebate {say(outer.rebate_depth, spec.unit)} deep, but "
                f"the frame inside it is at least {say(inner.rebate_depth, spec.unit)} deep; "
                "it will stand out at the back.",
            )
        seen = seen_inside_lip(inner.face, outer)
        if seen <= ZERO:
            yield Notice(
                code="inner-frame-hidden",
                message=f"The lip of frame {number}, {say(outer.lip, spec.unit)}, hides the whole face "
                f"of the frame inside it, {say(inner.face, spec.unit)}.",
            )


def _depth(dimensions: Dimensions) -> Iterator[Notice]:
    spec = dimensions.spec
    if not spec.profiles:
        return
    depth = spec.profiles[0].rebate_depth
    if not depth:
        return
    match spec.presentation:
        case Presentation.CANVAS:
            yield from _canvas_depth(dimensions, depth)
        case Presentation.CANVAS_FLOAT:
            proud = spec.artwork_thickness - depth
            if proud > ZERO:
                yield Notice(
                    code="canvas-stands-proud",
                    message=f"The canvas is {say(proud, spec.unit)} deeper than the tray and stands "
                    "out in front of it.",
                )
        case _:
            yield from _stack_depth(dimensions, depth)


def clip_offset(dimensions: Dimensions) -> Length | None:
    """Return the offset of the clips that hold a canvas: how far it stands past its rebate with its backing, else nothing.

    None of what is no canvas in a rebate, or where a depth is not known. Source: handbook G16.
    """
    spec = dimensions.spec
    depth = spec.profiles[0].rebate_depth if spec.profiles else ZERO
    if spec.presentation is not Presentation.CANVAS or not depth or not spec.artwork_thickness:
        return None
    return max(dimensions.stack - depth, ZERO)


def _canvas_depth(dimensions: Dimensions, depth: Length) -> Iterator[Notice]:
    past = dimensions.stack - depth
    if past > ZERO:
        spec = dimensions.spec
        yield Notice(
            code="canvas-past-rebate",
            message=f"Canvas and backing stand {say(past, spec.unit)} out of the rebate: use offset "
            f"clips of {say(past, spec.unit)}.",
            concern=Concern.NOTE,
        )


def _stack_depth(dimensions: Dimensions, depth: Length) -> Iterator[Notice]:
    spec = dimensions.spec
    room = FIXING_ROOM
    over = dimensions.stack + room - depth
    if over > ZERO:
        yield Notice(
            code="stack-too-deep",
            message=f"What goes into the frame is {say(dimensions.stack, spec.unit)} deep and needs another "
            f"{in_both(room, spec.unit)} for the fixing points: {say(over, spec.unit)} more than "
            f"the rebate of {say(depth, spec.unit)}. "
            f"{_choose_deeper(spec, say(dimensions.stack + room, spec.unit))}",
            concern=Concern.RISK,
        )


def _choose_deeper(spec: Spec, depth: str) -> str:
    """Return what to do where the frame is not deep enough: another moulding, or what a frame that is given can take."""
    if spec.given_frame is None:
        return f"Choose a moulding with a rebate of at least {depth}."
    return f"Choose a frame with a rebate of at least {depth}, or build this one up to that by a strip on its back."
