"""What a piece weighs and how it may hang (D2, D3, D4).

Weights are estimates from exact lengths; they are printed rounded and with "about". Anything that
holds weight on a wall is for the customer's wall and a competent person to judge.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import atan2, ceil, degrees, isqrt, sin

from app.errors import FaultCollector
from app.framing.dimensions import Dimensions
from app.framing.mass import HEAVIEST_KG, KG_PER_POUND, mass_text, show_kg
from app.framing.notice import Concern, Notice
from app.lengths import ZERO, Length, Size, Unit, inches, mm, show

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

LEAST_FACTOR, MOST_FACTOR = 1, 20
MOST_DOWN = Fraction(9, 10)
"""Guards against what cannot be meant: below 1 a part would carry less than the piece. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HangingRules:
    """How a shop hangs what it frames (D3 to D5).

    factor: working load of hanging parts over what they carry; from memory, sources differ (a web
    article has 2). no_wire_above_kg, no_wire_above_width, competent_person_above_kg: D4, common
    practice. lift_above_kg: from which two people are advised; from memory, a cautious default.
    fixings_down: share of the height at which the fixings sit; 1/4 to 1/3, common practice.
    wire_below_top: how far under the top edge the taut wire should end, so that it is not seen, and
    least_drop: share of the distance between the fixings that it drops at least; common practice.
    wire_wound: what of the wire goes through each fixing and is wound around itself; common practice,
    50 to 130 mm.
    Raises: Invalid with every fault, at the field's name.
    """

    factor: Fraction = Fraction(4)
    no_wire_above_kg: Fraction = Fraction(10)
    no_wire_above_width: Length = mm(1000)
    competent_person_above_kg: Fraction = Fraction(20)
    lift_above_kg: Fraction = Fraction(15)
    fixings_down: Fraction = Fraction(1, 3)
    wire_below_top: Length = mm(50)
    least_drop: Fraction = Fraction(1, 10)
    wire_wound: Length = mm(100)

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not LEAST_FACTOR <= self.factor <= MOST_FACTOR:
            faults.add("factor", f"The factor must be from {LEAST_FACTOR} to {MOST_FACTOR}.")
        for path in ("no_wire_above_kg", "competent_person_above_kg", "lift_above_kg"):
            if not 0 < getattr(self, path) <= HEAVIEST_KG:
                faults.add(path, f"The weight must be above 0 and at most {HEAVIEST_KG} kg.")
        if self.no_wire_above_width <= ZERO:
            faults.add("no_wire_above_width", "The width is zero or less; it must be above zero.")
        if not 0 < self.fixings_down <= MOST_DOWN:
            faults.add("fixings_down", "The share of the height must be above 0 and at most 9/10.")
        for path in ("wire_below_top", "wire_wound"):
            if getattr(self, path) < ZERO:
                faults.add(path, "The length is less than zero; zero or more is allowed.")
        if not 0 < self.least_drop <= 1:
            faults.add("least_drop", "The share of the distance must be above 0 and at most 1.")
        faults.finish()


USUAL_HANGING = HangingRules()
"""The handbook's defaults."""

_IMPERIAL_HANGING = HangingRules(
    no_wire_above_kg=22 * KG_PER_POUND,
    no_wire_above_width=inches(39),
    competent_person_above_kg=44 * KG_PER_POUND,
    lift_above_kg=33 * KG_PER_POUND,
    wire_below_top=inches(2),
    wire_wound=inches(4),
)


def usual_hanging(unit: Unit) -> HangingRules:
    """Return the defaults as round figures of a unit, in inches and pounds on the cautious side of the metric ones.

    22 lb is 9.98 kg, 33 lb 14.97 kg, 44 lb 19.96 kg, 39 in 990.6 mm, 2 in 50.8 mm, 4 in 101.6 mm.
    Source: ours; 1 lb = 0.45359237 kg and 1 in = 25.4 mm exactly (yard and pound agreement of 1959).
    """
    return USUAL_HANGING if unit is Unit.MM else _IMPERIAL_HANGING


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

    Order as in the spec: mats top first, frames inner first. fixed_grams: points, tape, hanging parts.
    artwork_kg: exact, zero where it is not known. given_frame_kg: the same of a frame that is given.
    """

    mats: tuple[int, ...] = ()
    frames: tuple[int, ...] = ()
    glazing: int = 0
    mount_board: int = 0
    backing: int = 0
    fixed_grams: int = 0
    fillet: int = 0
    artwork_kg: Fraction = Fraction(0)
    given_frame_kg: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWeight:
    """kg in all, exact sum of (part, kg). at_least: something is in it of which no weight is known."""

    parts: tuple[tuple[str, Fraction], ...]
    at_least: bool = False

    @property
    def kg(self) -> Fraction:
        """The whole piece."""
        return sum((kg for _, kg in self.parts), Fraction(0))

    @property
    def how(self) -> str:
        """What stands before it: it is never exact."""
        return "at least" if self.at_least else "about"


def weigh(dimensions: Dimensions, masses: Masses, *, at_least: bool = False) -> PieceWeight:
    """Return the weight of a piece: sheets by area (mats without their windows), rails by length (D2).

    at_least: whether something of it is missing in the masses.
    """
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
    if masses.given_frame_kg:
        parts.append(("frame", masses.given_frame_kg))
    if dimensions.fillets:
        rails = sum((one.long * one.count for one in dimensions.fillet_rails), mm(0))
        parts.append(("fillet", rails.mm * masses.fillet / 1_000_000))
    if masses.artwork_kg:
        parts.append(("artwork", masses.artwork_kg))
    if masses.fixed_grams:
        parts.append(("fixings", Fraction(masses.fixed_grams, 1000)))
    return PieceWeight(parts=tuple(parts), at_least=at_least)


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

    load: least working load of every hanging part; force: that without the factor. pull: of the wire;
    None without one. fixings_down: from the top edge of the outermost frame; fixings_apart: between their
    middles. wire: how long it is cut, rounded up to the millimetre; None without one. at_least: the
    piece weighs more than is known, so that all of it is more. unchosen: nothing is chosen that it hangs by;
    wireless: what is chosen is no wire, where one could be.
    """

    way: HangingWay
    load: int
    force: int
    fixings_down: Length
    fixings_apart: Length
    angle: int | None = None
    pull: int | None = None
    wire: Length | None = None
    at_least: bool = False
    unchosen: bool = False
    wireless: bool = False


def hanging(
    outside: Size,
    face: Length,
    kg: Fraction,
    rules: HangingRules = USUAL_HANGING,
    *,
    at_least: bool = False,
) -> Hanging:
    """Return what a framed piece of this outside size and weight asks of its hanging parts (D3, D4).

    The fixings sit in the middle of the side rails' face, a third down; the wire ends 50 mm under
    the top edge and drops at least a tenth of the distance between them, or as the rules say. Where
    so much drop would end above the top edge there is no wire. Forces round up.
    """
    down, apart = outside.height * rules.fixings_down, outside.width - face
    weight = kg * STANDARD_GRAVITY
    drop = _wire_drop(outside, face, rules)
    too_much = kg > rules.no_wire_above_kg or outside.width > rules.no_wire_above_width
    if too_much or drop >= down:
        return Hanging(
            way=HangingWay.STRAPS,
            load=_up(weight * rules.factor),
            force=_up(weight),
            fixings_down=down,
            fixings_apart=apart,
            at_least=at_least,
        )
    angle = atan2(float(drop.mm), float(apart.mm / 2))
    pull = float(weight) * tension_over_weight(angle)
    return Hanging(
        way=HangingWay.WIRE,
        load=max(_up(weight * rules.factor), _up(Fraction(pull) * rules.factor)),
        force=max(_up(weight), _up(Fraction(pull))),
        fixings_down=down,
        fixings_apart=apart,
        at_least=at_least,
        angle=round(degrees(angle)),
        pull=_up(Fraction(pull)),
        wire=wire_to_cut(apart, drop, rules.wire_wound),
    )


def without_wire(asked: Hanging, kg: Fraction, rules: HangingRules = USUAL_HANGING) -> Hanging:
    """Return what is asked where no wire is taken: straps carry the piece and no pull of a wire (D3)."""
    weight = kg * STANDARD_GRAVITY
    return replace(
        asked,
        way=HangingWay.STRAPS,
        load=_up(weight * rules.factor),
        force=_up(weight),
        angle=None,
        pull=None,
        wire=None,
        wireless=asked.way is HangingWay.WIRE,
    )


def wire_to_cut(apart: Length, drop: Length, wound: Length) -> Length:
    """Return how long a wire is cut: both halves of the taut wire and what is wound at each end, rounded up to the mm (D10).

    Source: Pythagoras; each half spans half the distance of the fixings and the drop.
    """
    span = apart.mm**2 + (drop.mm * 2) ** 2
    whole = isqrt(ceil(span))
    taut = whole if whole * whole >= span else whole + 1
    return mm(ceil(taut + wound.mm * 2))


def wire_text(wire: Length, unit: Unit) -> str:
    """Return the length of a wire for who cuts it, rounded up: "about 0.78 m", to the centimetre, or "about 31 in"."""
    if unit is Unit.IN:
        return f"about {ceil(wire.in_unit(unit))} in"
    return f"about {ceil(wire.mm / 10) / Decimal(100):.2f} m"


def fixings_known(dimensions: Dimensions) -> bool:
    """Tell whether it is known where fixings sit: of a frame that is given only by its outside and its face (G24)."""
    given = dimensions.spec.given_frame
    return given is None or (given.outside is not None and given.face is not None)


def _wire_drop(outside: Size, face: Length, rules: HangingRules) -> Length:
    down, apart = outside.height * rules.fixings_down, outside.width - face
    return max(down - rules.wire_below_top, apart * rules.least_drop)


def _up(force: Fraction) -> int:
    return -int(-force // 1)


def _why_no_wire(dimensions: Dimensions, weight: PieceWeight, rules: HangingRules) -> str:
    """Return what about the piece rules a wire out; empty where nothing does."""
    outside, frames = dimensions.outside, dimensions.spec.profiles
    unit = dimensions.spec.unit
    if weight.kg > rules.no_wire_above_kg:
        return f"{weight.how} {show_kg(weight.kg, unit)}"
    if outside.width > rules.no_wire_above_width:
        return f"{show(outside.width, unit, mark=True)} wide"
    down = outside.height * rules.fixings_down
    if frames and _wire_drop(outside, frames[-1].face, rules) >= down:
        return "so low for its width that a wire would show above it"
    return ""


def hanging_notices(
    dimensions: Dimensions, weight: PieceWeight, rules: HangingRules = USUAL_HANGING
) -> tuple[Notice, ...]:
    """Return what weight and width call for saying (D4)."""
    notices = []
    if why := _why_no_wire(dimensions, weight, rules):
        notices.append(
            Notice(
                code="no-wire",
                message=f"The piece is {why}: use no wire, but two straps or a wooden cleat, and two "
                "wall fixings.",
            )
        )
    if weight.kg > rules.competent_person_above_kg:
        limit = mass_text(rules.competent_person_above_kg, dimensions.spec.unit)
        notices.append(
            Notice(
                code="competent-person",
                message=f"The piece is over {limit}: have wall and fixings seen to by a competent person; "
                "local codes apply.",
                concern=Concern.RISK,
            )
        )
    return tuple(notices)
