"""Reads a mat cutter from its form, and writes the form's text; adds, changes and removes the shop's
cutters.

A number without a mark is in the unit of the first scale, as it is chosen on the form; what is said of a second
scale in the unit of that. What stands there as the page showed it, in `bare` of the first scale, does not change
its meaning where another unit is chosen.
"""

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from app.bench import Cutter, PinRow, Scale, Stops, contradictions, usual_cutter
from app.errors import Fault, Invalid, quoted
from app.forms.kinds import In
from app.forms.reader import Reader
from app.forms.table import Typed, values_in
from app.lengths import ZERO, Length, Unit, inches, mm
from app.orders import Shop
from app.web.settings.cutter_fields import CUTTER, FIRST, SECOND, STEP_WISH, second_unit, unit_at

MOST_CUTTERS = 12

_FINEST = {Unit.MM: mm("0.1"), Unit.IN: inches("1/64")}
_OF_SCALE = ("step", "pins.first", "pins.pitch")
_OF_STOPS = tuple(field.name for field in fields(Stops))
_LENGTHS = {path for path, field in CUTTER.at.items() if field.like is not None}
"""The paths of all lengths, which have an example each."""


def read_cutter(typed: Typed, shop: Shop, *, was: str = "") -> Cutter:
    """Read the cutter of a form.

    was: its name before, which it may keep.

    Raises: Invalid with every fault, at the form's fields.
    """
    typed = with_units(typed, shop)
    known = In(bare_unit(typed, shop), shop.currency)
    read = CUTTER.reader(typed, known)
    values = CUTTER.values(read, known)
    name = values.pop("name")
    if name and any(_same(name, each.name) and not _same(name, was) for each in shop.cutters):
        read.faults.add("name", f"There is a cutter called {quoted(name)} already.")
    scales = (_scale(read, values, FIRST), *_second_scale(read, values))
    stops = Stops(**{name: values[f"stops.{name}"] for name in _OF_STOPS})
    own = {path: value for path, value in values.items() if "." not in path}
    own["stroke"] = own["stroke"].by_hand(guide_on_right=stops.guide_on_right)
    cutter = read.take(lambda: Cutter(name=name or "?", scales=scales, stops=stops, **own))
    for fault in contradictions(cutter) if cutter is not None else ():
        read.faults.add(fault.path, fault.message)
    _finish(read)
    assert cutter is not None, "without a fault there is a cutter"
    return cutter


def bare_unit(typed: Typed, shop: Shop) -> Unit:
    """Return the unit of a number without a mark on the page that was posted, but for a second scale."""
    return unit_at(typed, "bare") or shop.unit


def with_units(typed: Typed, shop: Shop) -> dict[str, str]:
    """Return what was typed with bare numbers in the units that were chosen for the scales.

    A number that stands as the page showed it gets the mark of the unit that it was shown in, where
    another one was chosen since.
    """
    bare, shown = bare_unit(typed, shop), _begun_as(typed, shop)
    first, second = unit_at(typed, f"{FIRST}.unit") or bare, second_unit(typed, bare)
    marked = {
        path: f"{text} {was.value}"
        for path, text in typed.items()
        if text and text == shown.get(path) and path in _LENGTHS and _is_bare(text)
        for was, now in [(bare.other, second) if path.startswith(SECOND) else (bare, first)]
        if was is not now
    }
    return {**typed, **marked, "bare": first.value}


def begun_in(unit: Unit, typed: Typed, shop: Shop) -> dict[str, str]:
    """Return the form of a new cutter as it begins in another unit, and what was typed as it was meant."""
    bare, shown = bare_unit(typed, shop), _begun_as(typed, shop)
    begun = cutter_typed(usual_cutter(unit), shop) | {"name": "", "was": ""}
    kept = {
        path: f"{text} {bare.value}"
        if path in _LENGTHS and not path.startswith(SECOND) and _is_bare(text) and bare is not unit
        else text
        for path, text in typed.items()
        if path in CUTTER.at and path != f"{FIRST}.unit" and text != shown.get(path, "")
    }
    return begun | kept


def _begun_as(typed: Typed, shop: Shop) -> dict[str, str]:
    """Return what stood in the fields of the page before anybody typed."""
    bare, was = bare_unit(typed, shop), typed.get("was", "")
    stored = [each for each in shop.cutters if _same(each.name, was) and each.unit is bare]
    return cutter_typed(stored[0] if stored else usual_cutter(bare), shop)


def _is_bare(text: str) -> bool:
    """Tell whether a length ends without a mark."""
    return text[-1:].isdigit()


def _same(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()


def _second_scale(read: Reader, values: Mapping[str, Any]) -> Iterator[Scale]:
    """Yield the second scale, where anything is said of one."""
    at = f"{SECOND}.unit"
    if values[at] is not None:
        read.need(f"{SECOND}.step", STEP_WISH)
        yield _scale(read, values, SECOND)
    elif any(read.given(f"{SECOND}.{path}") for path in _OF_SCALE):
        read.faults.add(
            at,
            "A step or holes of a second scale were typed and not which unit it is in; choose one, or "
            "empty its fields where there is none.",
        )


def _scale(read: Reader, values: Mapping[str, Any], at: str) -> Scale:
    """Read one scale. at: its path."""
    unit = values[f"{at}.unit"]
    step, first, pitch = (values[f"{at}.{path}"] for path in _OF_SCALE)
    _check_step(read, at, unit, step or ZERO)
    if (first is None) != (pitch is None):
        read.faults.add(
            f"{at}.pins.{'first' if first is None else 'pitch'}",
            "Holes for a pin are described by the first one and the pitch; give both, or "
            "neither where there are none.",
        )
    pins = None if first is None or pitch is None else PinRow(first=first, pitch=pitch)
    return Scale(unit=unit, step=step or ZERO, pins=pins)


def _check_step(read: Reader, at: str, unit: Unit, step: Length) -> None:
    """Check that the scale's step is a whole multiple of the finest division of its unit."""
    if step / _FINEST[unit] % 1:
        such = "1/16, 1/32 or 1/64" if unit is Unit.IN else "0.5 or 1"
        text = read.raw(f"{at}.step")
        said = f"{text} {unit.value}" if _is_bare(text) else text
        read.faults.add(
            f"{at}.step",
            f"The step is {said}; a scale in {unit.word} is read in steps "
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
    stroke = cutter.stroke.by_hand(guide_on_right=cutter.stops.guide_on_right)
    typed = CUTTER.typed(values_in({"stroke": stroke}, cutter), In(unit, shop.currency))
    return {"bare": unit.value, "was": cutter.name, **typed}


def no_room(shop: Shop) -> str:
    """Say that the shop has as many cutters as are kept; empty where there is room."""
    if len(shop.cutters) < MOST_CUTTERS:
        return ""
    return (
        f"The shop has {len(shop.cutters)} cutters; at most {MOST_CUTTERS} are kept. Delete one to describe "
        "another."
    )


def with_added(shop: Shop, cutter: Cutter) -> Shop:
    """Return the shop with one more cutter, its last. Raises: Invalid where the shop has as many as are kept."""
    if full := no_room(shop):
        raise Invalid.at("name", full)
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
