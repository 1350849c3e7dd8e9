"""Reads a mat cutter from its form, and writes the form's text; adds, changes and removes the shop's
cutters.

A number without a mark is in the unit that the page was shown in, `bare`, whatever unit is chosen on it
for the scale: choosing another scale does not change what stands in the other fields.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from app.bench import Cutter, PinRow, Reads, Scale, Stroke, usual_cutter
from app.errors import Fault, Invalid, quoted
from app.forms.reader import Reader
from app.forms.table import (
    LENGTH,
    SIGNED,
    TICK,
    Field,
    Form,
    In,
    Options,
    Typed,
    choice,
    optional,
    text_of,
    values_in,
)
from app.lengths import ZERO, Example, Length, Unit, inches, mm, show
from app.orders import Shop
from app.web.settings.shop_form import UNITS

MOST_CUTTERS = 12

READS: Options = (
    (Reads.BACK_LINE, "the line at the back, where the blade goes in"),
    (Reads.FACE, "the line at the face, where the blade comes out"),
)
STROKES: Options = ((Stroke.PULL, "pulled towards you"), (Stroke.PUSH, "pushed away from you"))

_HOLE, _OFF = Example(mm(10), inches("1/2")), Example(mm("0.5"), inches("1/64"))
_FINEST = {Unit.MM: mm("0.1"), Unit.IN: inches("1/64")}


def _needed(
    name: str, label: str, hint: str, wish: str, *, beside: bool = False, part: str = ""
) -> Field[In]:
    """Return the field of a length that every cutter has."""
    return Field(
        name,
        label,
        LENGTH,
        hint,
        usual=ZERO,
        like=Example.of(lambda unit: getattr(usual_cutter(unit), name)),
        needed=True,
        wish=wish,
        beside=beside,
        part=part,
    )


SCALE = Form[In](
    Field(
        "unit",
        "The scale is in",
        choice(Unit, UNITS, "across"),
        usual=lambda known: known.unit,
        part="scale",
    ),
    _needed(
        "step",
        "It is read in steps of",
        "The finest that you trust yourself to read.",
        "Type the finest step that you read off the scale",
        beside=True,
        part="scale",
    ),
    Field(
        "pins.first",
        "First hole at",
        optional(LENGTH),
        "Blank without holes for a pin.",
        like=_HOLE,
        part="scale",
    ),
    Field(
        "pins.pitch",
        "then one every",
        optional(LENGTH),
        "From hole to hole.",
        like=_HOLE,
        beside=True,
        part="scale",
    ),
)

FIRST = "scales.0"

CUTTER = Form[In](
    Field(
        "name",
        "Name",
        text_of(200),
        "As tickets call it.",
        needed=True,
        wish="Name the cutter, so that it can be told from others",
    ),
    _needed(
        "cut_length",
        "Longest cut",
        "How far the head runs, end to end.",
        "Type the longest cut that the head can make",
    ),
    _needed(
        "deepest_board",
        "Thickest board",
        "That the blade goes through in one cut.",
        "Type the thickest board that the blade goes through",
        beside=True,
    ),
    Field(
        "stroke",
        "The head is",
        choice(Stroke, STROKES, "radios"),
        "With the guide to the left of the bar; with a guide to the right, choose the other.",
        usual=Stroke.PULL,
    ),
    Field("cuts_ovals", "It cuts ovals and round tops too", TICK),
    *SCALE.under(FIRST).fields,
    _needed(
        "guide_reach",
        "The guide goes up to",
        "The largest figure it can be set to.",
        "Type the largest figure that the guide can be set to",
        part="scale",
    ),
    Field(
        "reads",
        "The guide’s figure is the border at",
        choice(Reads, READS, "radios"),
        "Cut a border, measure it on both sides of the board, and see which one agrees.",
        usual=Reads.BACK_LINE,
        part="scale",
    ),
    Field(
        "guide_correction",
        "Add to every setting",
        SIGNED,
        "Minus takes away; blank for none.",
        like=_OFF,
        part="corrections",
    ),
    Field(
        "start_offset",
        "Cuts begin past the corner by",
        SIGNED,
        "Minus for short of it; blank for none.",
        like=_OFF,
        part="corrections",
    ),
    Field(
        "end_offset",
        "Cuts end past the corner by",
        SIGNED,
        "Minus for short of it; blank for none.",
        like=_OFF,
        beside=True,
        part="corrections",
    ),
)


def read_cutter(typed: Typed, shop: Shop, *, was: str = "") -> Cutter:
    """Read the cutter of a form.

    was: its name before, which it may keep.

    Raises: Invalid with every fault, at the form's fields.
    """
    known = In(bare_unit(typed, shop), shop.currency)
    read = CUTTER.reader(typed, known)
    values = CUTTER.values(read, known)
    name = values.pop("name")
    if name and any(_same(name, each.name) and not _same(name, was) for each in shop.cutters):
        read.faults.add("name", f"There is a cutter called {quoted(name)} already.")
    scale = _scale(read, values)
    own = {path: value for path, value in values.items() if not path.startswith("scales.")}
    cutter = read.take(lambda: Cutter(name=name or "?", scales=(scale,), **own))
    _finish(read)
    assert cutter is not None, "without a fault there is a cutter"
    return cutter


def bare_unit(typed: Typed, shop: Shop) -> Unit:
    """Return the unit of a number without a mark on the page that was posted."""
    return Unit(typed["bare"]) if typed.get("bare") in set(Unit) else shop.unit


def _same(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()


def _scale(read: Reader, values: Mapping[str, Any]) -> Scale:
    unit, step, first, pitch = (values[f"{FIRST}.{path}"] for path in SCALE.paths)
    _check_step(read, unit, step)
    if (first is None) != (pitch is None):
        read.faults.add(
            f"{FIRST}.pins.{'first' if first is None else 'pitch'}",
            "Holes for a pin are described by the first one and the pitch; give both, or "
            "neither where there are none.",
        )
    pins = None if first is None or pitch is None else PinRow(first=first, pitch=pitch)
    return Scale(unit=unit, step=step, pins=pins)


def _check_step(read: Reader, unit: Unit, step: Length) -> None:
    """Check that the scale's step is a whole multiple of the finest division of its unit."""
    if step.mm / _FINEST[unit].mm % 1:
        such = "1/16, 1/32 or 1/64" if unit is Unit.IN else "0.5 or 1"
        in_unit = "inches" if unit is Unit.IN else "millimetres"
        read.faults.add(
            f"{FIRST}.step",
            f"The step is {show(step, read.unit, mark=True)}; a scale in {in_unit} is read in steps "
            f"such as {such} {unit.value}.",
        )


def _finish(read: Reader) -> None:
    """Raise the first fault of each field: a blank length would also be refused as not above zero."""
    firsts: dict[str, Fault] = {}
    for fault in read.faults.faults:
        firsts.setdefault(fault.path, fault)
    if firsts:
        raise Invalid(firsts.values())


def cutter_typed(cutter: Cutter, shop: Shop) -> dict[str, str]:
    """Return the text of every field of the form, in the unit of the scale, and its hidden fields."""
    unit = cutter.unit
    typed = CUTTER.typed(values_in(cutter), In(unit, shop.currency))
    return {"bare": unit.value, "was": cutter.name, **typed}


def with_added(shop: Shop, cutter: Cutter) -> Shop:
    """Return the shop with one more cutter, its last. Raises: Invalid where the shop has as many as are kept."""
    if len(shop.cutters) >= MOST_CUTTERS:
        raise Invalid.at(
            "name", f"The shop has {len(shop.cutters)} cutters; at most {MOST_CUTTERS} are kept."
        )
    return replace(shop, cutters=(*shop.cutters, cutter))


def with_changed(shop: Shop, number: int, cutter: Cutter) -> Shop:
    """Return the shop with the cutter of a number, from 1, replaced."""
    cutters = list(shop.cutters)
    cutters[number - 1] = cutter
    return replace(shop, cutters=tuple(cutters))


def without(shop: Shop, number: int) -> Shop:
    """Return the shop without the cutter of a number."""
    left = (cutter for at, cutter in enumerate(shop.cutters, start=1) if at != number)
    return replace(shop, cutters=tuple(left))


def with_first(shop: Shop, number: int) -> Shop:
    """Return the shop with the cutter of a number moved to the front, so that tickets are made for it."""
    first = shop.cutters[number - 1]
    return replace(shop, cutters=(first, *without(shop, number).cutters))
