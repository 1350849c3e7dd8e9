"""What a piece weighs and how it may hang (D2, D3, D4).

Weights are estimates from exact lengths; they are printed rounded and with "about". Anything that
holds weight on a wall is for the customer's wall and a competent person to judge.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import atan2, degrees, sin

from app.framing.dimensions import Dimensions
from app.framing.notice import Concern, Notice
from app.lengths import Length, Size, mm, show

DENSITIES: dict[str, int] = {
    "float glass": 2500,
    "acrylic": 1190,
    "MDF": 750,
    "mat board": 700,
    "foam board": 120,
    "pine": 500,
    "oak": 700,
}
"""kg/m³. Source: float glass as quoted from EN 572-1, acrylic from public data on cast PMMA (both
handbook D2); the others from memory, as defaults to be overruled in the price book."""

STANDARD_GRAVITY = Fraction(980665, 100000)
"""m/s². Source: the conventional value of the 3rd CGPM, 1901 (NIST SP 811)."""

LOAD_FACTOR = 4
"""Working load of hanging parts over what they carry. Source: from memory; sources differ (section 9)."""

NO_WIRE_ABOVE_KG = 10
NO_WIRE_ABOVE_WIDTH = mm(1000)
COMPETENT_PERSON_ABOVE_KG = 20
FIXINGS_DOWN = Fraction(1, 3)
"""How far down the sides the fixings sit. Source: 1/4 to 1/3, common practice (section 9)."""

WIRE_BELOW_TOP = mm(50)
"""How far under the top edge the taut wire should end, so that it is not seen. Common practice."""


def grams_per_m2(thickness: Length, density: int) -> int:
    """Weight of a sheet by area, rounded to the gram. density: kg/m³.

    Source: kg/m³ times mm is g/m²; glass 2.5 kg per m² and mm as quoted from EN 572-1.
    """
    return round(thickness.mm * density)


def sheet_kg(size: Size, per_m2: int) -> Fraction:
    """Weight of one part of a sheet, in kg. per_m2: g/m²."""
    return size.area_m2 * per_m2 / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Masses:
    """What the materials of a piece weigh: sheets in g/m², mouldings in g per metre of rail.

    Order as in the spec: mats top first, frames inner first. fixed_grams: artwork, hardware.
    """

    mats: tuple[int, ...] = ()
    frames: tuple[int, ...] = ()
    glazing: int = 0
    mount_board: int = 0
    backing: int = 0
    fixed_grams: int = 0
    fillet: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWeight:
    """kg in all, exact sum of (part, kg)."""

    parts: tuple[tuple[str, Fraction], ...]

    @property
    def kg(self) -> Fraction:
        """The whole piece."""
        return sum((kg for _, kg in self.parts), Fraction(0))


def weigh(dimensions: Dimensions, masses: Masses) -> PieceWeight:
    """The weight of a piece: sheets by area (mats without their windows), rails by length (D2)."""
    parts: list[tuple[str, Fraction]] = []
    for layer, per_m2 in zip(dimensions.layers, masses.mats, strict=True):
        cut_out = sum((w.area_m2 for w in dimensions.windows_of(layer.layer)), Fraction(0))
        kg = sheet_kg(layer.blank, per_m2) - cut_out * per_m2 / 1000
        parts.append((f"mat {layer.layer}", kg))
    for name, size, per_m2 in (
        ("glazing", dimensions.glazing, masses.glazing),
        ("mount board", dimensions.mount_board, masses.mount_board),
        ("backing", dimensions.backing, masses.backing),
    ):
        if size is not None:
            parts.append((name, sheet_kg(size, per_m2)))
    for number, (frame, per_metre) in enumerate(
        zip(dimensions.frames, masses.frames, strict=True), start=1
    ):
        rails = sum(frame.long_points, mm(0)) * 2
        parts.append((f"frame {number}", rails.mm * per_metre / 1_000_000))
    if dimensions.fillets:
        rails = sum((one.long * one.count for one in dimensions.fillet_rails), mm(0))
        parts.append(("fillet", rails.mm * masses.fillet / 1_000_000))
    if masses.fixed_grams:
        parts.append(("artwork and fixings", Fraction(masses.fixed_grams, 1000)))
    return PieceWeight(parts=tuple(parts))


def tension_over_weight(angle: float) -> float:
    """Pull of a wire over the weight it carries; angle in radians from the horizontal.

    Source: statics, T = W / (2 sin α) (D3). Raises: ValueError at or below zero.
    """
    if angle <= 0:
        raise ValueError("a wire without drop cannot carry anything")
    return 1 / (2 * sin(angle))


class HangingWay(StrEnum):
    """What carries the piece: a wire, or two straps or a cleat where a wire is not offered."""

    WIRE = "wire"
    STRAPS = "straps"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """How a piece may hang. Forces in newton, angle in whole degrees from the horizontal.

    load: least working load of every hanging part. pull: of the wire; None without one.
    fixings_down: from the top edge; fixings_apart: between them.
    """

    way: HangingWay
    load: int
    fixings_down: Length
    fixings_apart: Length
    angle: int | None = None
    pull: int | None = None


def hanging(outside: Size, face: Length, kg: Fraction, factor: int = LOAD_FACTOR) -> Hanging:
    """What a framed piece of this outside size and weight asks of its hanging parts (D3, D4).

    The fixings sit in the middle of the side rails' face, a third down; the wire ends 50 mm under
    the top edge and drops at least a tenth of the distance between them. Where so much drop would
    end above the top edge there is no wire. Forces round up.
    """
    down, apart = outside.height * FIXINGS_DOWN, outside.width - face
    weight = kg * STANDARD_GRAVITY
    drop = _wire_drop(outside, face)
    if kg > NO_WIRE_ABOVE_KG or outside.width > NO_WIRE_ABOVE_WIDTH or drop >= down:
        return Hanging(
            way=HangingWay.STRAPS,
            load=_up(weight * factor),
            fixings_down=down,
            fixings_apart=apart,
        )
    angle = atan2(float(drop.mm), float(apart.mm / 2))
    pull = float(weight) * tension_over_weight(angle)
    return Hanging(
        way=HangingWay.WIRE,
        load=max(_up(weight * factor), _up(Fraction(pull) * factor)),
        fixings_down=down,
        fixings_apart=apart,
        angle=round(degrees(angle)),
        pull=_up(Fraction(pull)),
    )


def _wire_drop(outside: Size, face: Length) -> Length:
    return max(outside.height * FIXINGS_DOWN - WIRE_BELOW_TOP, (outside.width - face) / 10)


def _up(force: Fraction) -> int:
    return -int(-force // 1)


def _why_no_wire(dimensions: Dimensions, kg: Fraction) -> str:
    """What about the piece rules a wire out; empty where nothing does."""
    outside, frames = dimensions.outside, dimensions.spec.frames
    if kg > NO_WIRE_ABOVE_KG:
        return f"about {float(kg):.1f} kg"
    if outside.width > NO_WIRE_ABOVE_WIDTH:
        return f"{show(outside.width, dimensions.spec.unit, mark=True)} wide"
    if frames and _wire_drop(outside, frames[-1].face) >= outside.height * FIXINGS_DOWN:
        return "so low for its width that a wire would show above it"
    return ""


def hanging_notices(dimensions: Dimensions, kg: Fraction) -> tuple[Notice, ...]:
    """What weight and width call for saying (D4)."""
    notices = []
    if why := _why_no_wire(dimensions, kg):
        notices.append(
            Notice(
                code="no-wire",
                message=f"The piece is {why}: no wire, but two straps or a wooden cleat and two "
                "wall fixings.",
            )
        )
    if kg > COMPETENT_PERSON_ABOVE_KG:
        notices.append(
            Notice(
                code="competent-person",
                message=f"Over {COMPETENT_PERSON_ABOVE_KG} kg: wall and fixings need a competent "
                "person, and local codes apply.",
                concern=Concern.RISK,
            )
        )
    return tuple(notices)
