"""What a section says about depth: the stack against the rebate, and what is left or too much."""

from dataclasses import dataclass
from enum import Enum

from app.drawings.canvas.boxes import coordinate
from app.drawings.canvas.canvas import Pencil
from app.drawings.canvas.hatch import OBJECT
from app.drawings.piece.layout import is_tray
from app.drawings.section.profile import SectionProfile
from app.framing import Dimensions, Presentation
from app.framing.objects import room_over_object
from app.framing.usual import FIXING_ROOM
from app.lengths import ZERO, Length, Unit, show


class Tone(Enum):
    """How a depth is meant: a measure, room to spare, or too much."""

    MEASURE = Pencil.MEASURE
    ROOM = Pencil.ROOM
    OVERRUN = Pencil.OVERRUN

    @property
    def strong(self) -> bool:
        """Whether it is what one looks at the section for."""
        return self is not Tone.MEASURE


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """A depth from one place to another. line: 0 for the rebate's own, then further out."""

    text: str
    top: float
    bottom: float
    line: int
    tone: Tone = Tone.MEASURE


def depths_of(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> tuple[Depth, ...]:
    """Return the depths beside a section, as the presentation asks."""
    spec = dimensions.spec
    if not spec.profiles:
        return (_stack(dimensions, profile, unit), *_over_object(dimensions, profile, unit))
    tray = is_tray(dimensions)
    rebate = Depth(
        text=f"{'tray' if tray else 'rebate'} {show(spec.profiles[0].rebate_depth, unit)}",
        top=profile.front,
        bottom=profile.back,
        line=0,
    )
    if tray:
        return (rebate, *_tray(dimensions, profile, unit))
    if spec.presentation is Presentation.CANVAS:
        return (rebate, *_canvas(dimensions, profile, unit))
    return (rebate, *_package(dimensions, profile, unit))


def _stack(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> Depth:
    return Depth(
        text=f"stack {show(dimensions.stack, unit)}",
        top=profile.front,
        bottom=profile.front + coordinate(dimensions.stack),
        line=1,
    )


def _package(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> tuple[Depth, ...]:
    """Stack, room left and the room for fixing points; or the overrun (D1)."""
    spec = dimensions.spec
    fixing = FIXING_ROOM
    left = spec.profiles[0].rebate_depth - fixing - dimensions.stack
    stack, limit = _stack(dimensions, profile, unit), profile.back - coordinate(fixing)
    if left < ZERO:
        over = Depth(
            text=f"too deep by {show(-left, unit)}",
            top=limit,
            bottom=stack.bottom,
            line=2,
            tone=Tone.OVERRUN,
        )
        return (stack, *_over_object(dimensions, profile, unit), over)
    room = Depth(
        text=f"room left {show(left, unit)}",
        top=stack.bottom,
        bottom=limit,
        line=1,
        tone=Tone.ROOM,
    )
    fix = Depth(text=f"fixing {show(fixing, unit)}", top=limit, bottom=profile.back, line=1)
    return (stack, *_over_object(dimensions, profile, unit), room, fix)


def _over_object(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> tuple[Depth, ...]:
    """Return what stays clear between the glazing and an object (G22)."""
    spec = dimensions.spec
    room = room_over_object(spec)
    if spec.boxed is None or spec.glazing is None or not spec.artwork_thickness:
        return ()
    (standing,) = (strip for strip in profile.strips if strip.material is OBJECT)
    return (
        Depth(
            text=f"clear {show(room, unit)}",
            top=standing.top - coordinate(room),
            bottom=standing.top,
            line=2,
            tone=Tone.ROOM,
        ),
    )


def _canvas(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> tuple[Depth, ...]:
    """Canvas and backing, and how far they stand out behind (G16)."""
    stack = _stack(dimensions, profile, unit)
    past = dimensions.stack - dimensions.spec.profiles[0].rebate_depth
    return (
        stack,
        *_difference("past rebate", "room left", past, (profile.back, stack.bottom), unit),
    )


def _tray(dimensions: Dimensions, profile: SectionProfile, unit: Unit) -> tuple[Depth, ...]:
    """Return the canvas against the tray's rim (G17)."""
    spec = dimensions.spec
    canvas, front = profile.strips[0], profile.strips[0].top
    text = f"canvas {show(spec.artwork_thickness, unit)}"
    proud = spec.artwork_thickness - spec.profiles[0].rebate_depth
    return (
        Depth(text=text, top=front, bottom=canvas.bottom, line=1),
        *_difference("proud of rim", "below rim", proud, (front, profile.front), unit),
    )


def _difference(
    more: str, less: str, excess: Length, between: tuple[float, float], unit: Unit
) -> tuple[Depth, ...]:
    """Return what one depth has over another, in the word that fits; nothing where they are equal."""
    if not excess:
        return ()
    word = more if excess > ZERO else less
    top, bottom = sorted(between)
    text = f"{word} {show(abs(excess), unit)}"
    return (Depth(text=text, top=top, bottom=bottom, line=2, tone=Tone.ROOM),)
