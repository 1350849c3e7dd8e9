"""Whether the chosen hanging parts bear what is asked of them, and which others would (D3).

Owns the comparison. What is asked is for `app.framing.notices.weight`; the load of a part is that of the price
book of today, since that is what is taken from the drawer.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType

from app.framing import Notice
from app.framing.mass import KG_PER_POUND
from app.framing.notice import Concern
from app.framing.notices.weight import STANDARD_GRAVITY, Hanging, HangingWay
from app.lengths import Unit
from app.pricing import Bears, ChargeBy, ChosenCount, Material

type Hardware = Mapping[str, Material]
"""The hardware of the price book as it is today, by every code that it has or had, in small letters."""

NO_HARDWARE: Hardware = MappingProxyType({})

MOST_NAMED = 3
"""Parts that would do, the weakest first. Our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeakPart:
    """A part that bears less than is asked of it. instead: those that would do, the weakest first, `MOST_NAMED` at most."""

    part: Material
    instead: tuple[Material, ...]


def bears_of(material: Material) -> Bears:
    """Tell how a part carries the piece; where nobody said, what is charged by length is a wire."""
    if material.hanging is not None:
        return material.hanging.bears
    return Bears.WIRE if material.charge.by is ChargeBy.LENGTH else Bears.RING


def load_of(material: Material) -> Fraction | None:
    """Return its working load in kg; None where it is not known."""
    return None if material.hanging is None else material.hanging.load_kg


def of_today(taken: ChosenCount, hardware: Hardware) -> Material:
    """Return a chosen part as the price book has it today; as it was agreed where it has it no more."""
    return hardware.get(taken.material.code.casefold(), taken.material)


def enough(material: Material, hanging: Hanging) -> bool:
    """Tell whether a part of known load bears what is asked of every part."""
    load = load_of(material)
    return load is not None and load * STANDARD_GRAVITY >= hanging.load


def as_sold(newton: int, unit: Unit) -> str:
    """Return a force in the kilograms or pounds that parts are sold by, rounded up to a tenth: 20 N are "2.1 kg"."""
    sold, word = _sold_by(newton / STANDARD_GRAVITY, unit)
    return f"{Decimal(ceil(sold * 10)) / 10:.1f} {word}"


def load_text(kg: Fraction, unit: Unit) -> str:
    """Return the load of a part in the same unit: as exact as that has it in three decimals, else rounded down to a tenth.

    15 kg are "15 kg" where one measures in millimetres and "33 lb" where in inches, never more than the part bears.
    """
    sold, word = _sold_by(kg, unit)
    if (sold * 1000).denominator != 1:
        sold = Fraction(floor(sold * 10), 10)
    return f"{(Decimal(int(sold * 1000)) / 1000).normalize():f} {word}"


def _sold_by(kg: Fraction, unit: Unit) -> tuple[Fraction, str]:
    """Return a weight in the unit that parts are sold by, and its mark."""
    return (kg, "kg") if unit is Unit.MM else (kg / KG_PER_POUND, "lb")


def bearing_parts(taken: Iterable[ChosenCount], hardware: Hardware) -> tuple[Material, ...]:
    """Return the chosen parts that the piece hangs by, each once."""
    parts = dict.fromkeys(of_today(each, hardware) for each in taken)
    return tuple(part for part in parts if bears_of(part) is not Bears.NOTHING)


def loads_not_known(parts: Iterable[Material]) -> tuple[Material, ...]:
    """Return those of the parts that a piece hangs by whose load nobody told."""
    return tuple(part for part in parts if load_of(part) is None)


def weak_parts(
    hanging: Hanging, parts: Iterable[Material], hardware: Hardware
) -> tuple[WeakPart, ...]:
    """Return the parts of known load that bear less than is asked of every part."""
    offered = {part.code: part for part in hardware.values() if part.active}
    return tuple(
        WeakPart(part=part, instead=_that_would_do(part, hanging, offered.values()))
        for part in parts
        if load_of(part) is not None and not enough(part, hanging)
    )


def hanging_part_notices(
    hanging: Hanging, parts: Sequence[Material], hardware: Hardware, unit: Unit
) -> tuple[Notice, ...]:
    """Return what is to be said of the parts that a piece hangs by: too weak, or of unknown load."""
    return (
        *_too_weak(hanging, weak_parts(hanging, parts, hardware), unit),
        *_not_known(hanging, loads_not_known(parts), unit),
    )


def _too_weak(hanging: Hanging, weak: Iterable[WeakPart], unit: Unit) -> Iterator[Notice]:
    """Yield a risk where the part bears less even than the piece pulls, without the factor."""
    for each in weak:
        part, load = each.part, load_of(each.part) or Fraction(0)
        least = "at least " if hanging.at_least else ""
        yield Notice(
            code="hanging-part-too-weak",
            message=f"“{part.name}” ({part.code}) bears {load_text(load, unit)}, but each part must bear {least}"
            f"{as_sold(hanging.load, unit)}. {_would_do(each, hanging, unit)}",
            concern=Concern.RISK if load * STANDARD_GRAVITY < hanging.force else Concern.LOOK,
        )


def _ways_instead(part: Material, hanging: Hanging) -> frozenset[Bears]:
    """Return the kinds of part to take instead: its own; where there can be no wire, straps or cleats."""
    way = bears_of(part)
    if way is Bears.WIRE and hanging.way is HangingWay.STRAPS:
        return frozenset({Bears.RING, Bears.CLEAT})
    return frozenset({way})


def _that_would_do(
    part: Material, hanging: Hanging, offered: Iterable[Material]
) -> tuple[Material, ...]:
    """Return those that bear enough, the weakest first."""
    ways = _ways_instead(part, hanging)
    strong = [each for each in offered if bears_of(each) in ways and enough(each, hanging)]
    strong.sort(key=lambda each: (load_of(each) or Fraction(0), each.code))
    return tuple(strong[:MOST_NAMED])


def _would_do(weak: WeakPart, hanging: Hanging, unit: Unit) -> str:
    """Say what to take instead of a part that is too weak."""
    if not weak.instead:
        ways = _ways_instead(weak.part, hanging)
        called = " or ".join(_CALLED[each] for each in Bears if each in ways)
        return f"No {called} of the price book bears as much."
    named = [
        f"{each.code} ({load_text(load_of(each) or Fraction(0), unit)})" for each in weak.instead
    ]
    return f"Take {' or '.join(named)} of the price book."


_CALLED = {Bears.RING: "ring or strap", Bears.WIRE: "wire", Bears.CLEAT: "cleat"}


def _not_known(hanging: Hanging, parts: Iterable[Material], unit: Unit) -> Iterator[Notice]:
    names = [f"“{part.name}”" for part in parts]
    if names:
        yield Notice(
            code="hanging-load-not-known",
            message=f"The price book has no working load for {', '.join(names)}: "
            f"each part that carries the piece must bear {as_sold(hanging.load, unit)} or more.",
            concern=Concern.NOTE,
        )
