"""What the dimensions of a possible piece call for saying: notices of geometry and depth.

Owns the rules that compare one length with another (G5, G6, G13, G15 to G18, D1). Rules on weight and on
materials live in `weight` and `care`. Every notice advises; none stops the piece.
"""

from collections.abc import Iterator
from fractions import Fraction

from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.framing.openings import top_borders
from app.framing.spec import DEFAULTS, Presentation, Spec
from app.lengths import ZERO, Length, Unit, inches, mm, show

FIXING_ROOM: dict[Unit, Length] = {Unit.MM: mm(2), Unit.IN: inches("1/16")}
"""Depth left behind the stack for the fixing points. Source: D1, common practice (2 mm)."""

LEAST_SEEN = Fraction(60, 100)
"""Share of a border under which hiding it behind the lip is worth a notice. Source: G13."""


def remarks_on(dimensions: Dimensions) -> tuple[Notice, ...]:
    """The notices of a piece in the order of the work: mats, package, frames, depth."""
    return (
        *_borders(dimensions),
        *_cover(dimensions),
        *_frames(dimensions),
        *_frames_in_frames(dimensions.spec),
        *_depth(dimensions),
    )


def _say(spec: Spec, length: Length) -> str:
    return show(length, spec.unit, mark=True)


def _borders(dimensions: Dimensions) -> Iterator[Notice]:
    spec = dimensions.spec
    if not spec.mats:
        return
    smallest = DEFAULTS[spec.unit].smallest_border
    narrow = [(side, b) for side, b in top_borders(spec).sides() if b < smallest]
    if narrow:
        which = ", ".join(f"{side} {_say(spec, length)}" for side, length in narrow)
        yield Notice(
            code="border-below-smallest",
            message=f"Narrow border: {which}. The smallest usual border is {_say(spec, smallest)}.",
        )
    if spec.weighting and spec.borders is not None:
        yield Notice(
            code="weighting-not-used",
            message="All four borders are given, so the weighting of "
            f"{_say(spec, spec.weighting)} is not used.",
        )


def border_seen(border: Length, allowance: Length, lip: Length) -> Length:
    """What is seen of a border inside the lip (G13): border + allowance/2 - lip."""
    return border + allowance / 2 - lip


def _hidden_borders(dimensions: Dimensions) -> Iterator[Notice]:
    spec = dimensions.spec
    if not spec.mats or not spec.frames:
        return
    frame = spec.frames[0]
    hidden = [
        (side, border, border_seen(border, frame.allowance, frame.lip))
        for side, border in top_borders(spec).sides()
        if border_seen(border, frame.allowance, frame.lip) < border * LEAST_SEEN
    ]
    if hidden:
        which = ", ".join(f"{s} {_say(spec, seen)} of {_say(spec, b)}" for s, b, seen in hidden)
        yield Notice(
            code="border-mostly-hidden",
            message=f"The lip hides much of the border; seen are {which}.",
        )


def _cover(dimensions: Dimensions) -> Iterator[Notice]:
    """How the opening meets the artwork where it does not follow from overlap or gap (G6, G15)."""
    spec = dimensions.spec
    if spec.presentation is Presentation.WINDOW and spec.package and spec.borders:
        yield from _window_over_artwork(dimensions)
    if spec.presentation is Presentation.CLOSE and dimensions.package != spec.artwork:
        yield Notice(
            code="package-loose",
            message="The artwork is smaller than the package by "
            f"{_say(spec, dimensions.package.width - spec.artwork.width)} in width and "
            f"{_say(spec, dimensions.package.height - spec.artwork.height)} in height; "
            "it needs filling or a mat.",
        )


def _window_over_artwork(dimensions: Dimensions) -> Iterator[Notice]:
    spec, window = dimensions.spec, dimensions.windows[-1].size
    for name, covered in (
        ("width", (spec.artwork.width - window.width) / 2),
        ("height", (spec.artwork.height - window.height) / 2),
    ):
        if covered < ZERO:
            yield Notice(
                code="artwork-bare",
                message=f"In {name} the window is {_say(spec, covered * -2)} larger than the "
                f"artwork: {_say(spec, -covered)} is bare at each edge.",
                concern=Concern.RISK,
            )
        elif covered < DEFAULTS[spec.unit].overlap / 2:
            yield Notice(
                code="artwork-barely-covered",
                message=f"In {name} the mat covers only {_say(spec, covered)} of the artwork at "
                "each edge.",
            )
        else:
            yield Notice(
                code="artwork-covered",
                message=f"In {name} the mat covers {_say(spec, covered)} of the artwork at each "
                "edge.",
                concern=Concern.NOTE,
            )


def _frames(dimensions: Dimensions) -> Iterator[Notice]:
    yield from _hidden_borders(dimensions)
    spec = dimensions.spec
    for number, frame in enumerate(spec.frames, start=1):
        tray = number == 1 and spec.presentation is Presentation.CANVAS_FLOAT
        which = "" if len(spec.frames) == 1 else f" of frame {number}"
        if tray:
            if frame.lip or frame.allowance:
                yield Notice(
                    code="tray-lip-not-used",
                    message="A tray has neither lip nor allowance; those of the moulding are not "
                    "used.",
                    concern=Concern.NOTE,
                )
        elif frame.lip <= frame.allowance / 2:
            yield Notice(
                code="lip-does-not-hold",
                message=f"The lip{which}, {_say(spec, frame.lip)}, is not wider than half the "
                f"allowance, {_say(spec, frame.allowance / 2)}: the package can fall through "
                "the front.",
                concern=Concern.RISK,
            )
        elif frame.lip <= frame.allowance:
            yield Notice(
                code="lip-barely-holds",
                message=f"The lip{which}, {_say(spec, frame.lip)}, is not wider than the "
                f"allowance, {_say(spec, frame.allowance)}: a package that slips to one side "
                "shows its edge.",
            )
    yield from _lip_over_artwork(spec)


def _lip_over_artwork(spec: Spec) -> Iterator[Notice]:
    if spec.presentation not in (Presentation.CLOSE, Presentation.CANVAS) or not spec.frames:
        return
    frame = spec.frames[0]
    covered = frame.lip - frame.allowance / 2
    if covered > ZERO:
        yield Notice(
            code="artwork-covered-by-lip",
            message=f"The lip covers {_say(spec, covered)} of the artwork at each edge; the "
            "customer should agree.",
            concern=Concern.NOTE,
        )


def _frames_in_frames(spec: Spec) -> Iterator[Notice]:
    for number, (inner, outer) in enumerate(
        zip(spec.frames, spec.frames[1:], strict=False), start=2
    ):
        if ZERO < outer.rebate_depth < inner.rebate_depth:
            yield Notice(
                code="frame-in-frame-depth",
                message=f"Frame {number} has a rebate {_say(spec, outer.rebate_depth)} deep, but "
                f"the frame inside it is at least {_say(spec, inner.rebate_depth)} deep; "
                "it will stand out at the back.",
            )


def _depth(dimensions: Dimensions) -> Iterator[Notice]:
    spec = dimensions.spec
    if not spec.frames:
        return
    depth = spec.frames[0].rebate_depth
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
                    message=f"The canvas is {_say(spec, proud)} deeper than the tray and stands "
                    "out in front of it.",
                )
        case _:
            yield from _stack_depth(dimensions, depth)


def _canvas_depth(dimensions: Dimensions, depth: Length) -> Iterator[Notice]:
    past = dimensions.stack - depth
    if past > ZERO:
        spec = dimensions.spec
        yield Notice(
            code="canvas-past-rebate",
            message=f"Canvas and backing stand {_say(spec, past)} out of the rebate: offset clips "
            f"of {_say(spec, past)}.",
            concern=Concern.NOTE,
        )


def _stack_depth(dimensions: Dimensions, depth: Length) -> Iterator[Notice]:
    spec = dimensions.spec
    room = FIXING_ROOM[spec.unit]
    over = dimensions.stack + room - depth
    if over > ZERO:
        yield Notice(
            code="stack-too-deep",
            message=f"The stack is {_say(spec, dimensions.stack)} and needs "
            f"{_say(spec, room)} behind it for the fixing points: {_say(spec, over)} more than "
            f"the rebate of {_say(spec, depth)}. A moulding with a rebate of at least "
            f"{_say(spec, dimensions.stack + room)} would hold it.",
            concern=Concern.RISK,
        )


def depth_left(dimensions: Dimensions) -> Length | None:
    """Rebate depth less the stack: what is left behind it; None without a frame (D1)."""
    frames = dimensions.spec.frames
    return frames[0].rebate_depth - dimensions.stack if frames else None
