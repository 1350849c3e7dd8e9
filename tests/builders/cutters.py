"""Cutters in few words: with holes for a pin, with a second scale."""

from dataclasses import replace

from app.bench import Cutter, PinRow, Scale
from app.lengths import Length, Unit, inches, mm


def with_pins(cutter: Cutter, *, first: Length, pitch: Length) -> Cutter:
    """The cutter with holes for a pin along the scale in use."""
    in_use, *others = cutter.scales
    pinned = replace(in_use, pins=PinRow(first=first, pitch=pitch))
    return replace(cutter, scales=(pinned, *others))


HALVES = Scale(unit=Unit.MM, step=mm("0.5"), pins=PinRow(first=mm(10), pitch=mm(10)))
SIXTEENTHS = Scale(
    unit=Unit.IN, step=inches("1/16"), pins=PinRow(first=inches("1/2"), pitch=inches("1/2"))
)


def with_both_scales(cutter: Cutter) -> Cutter:
    """The cutter with half millimetres, a hole every 10 mm from 10 on, and sixteenths, one every 1/2" from 1/2" on."""
    return replace(cutter, scales=(HALVES, SIXTEENTHS))
