"""A mat cutter from its form, and back; and the shop with a cutter more, changed or gone.

A bare number is in the unit that the page was shown in, `bare`, whatever unit is chosen on it for the
scale: what stands in the other fields does not change its meaning by that choice.
"""

from collections.abc import Mapping
from dataclasses import replace

from app.bench import Cutter, Reads, Stroke, usual_cutter
from app.errors import Fault, Invalid, quoted
from app.forms.reader import Reader, length_text
from app.lengths import ZERO, Example, Examples, Length, Unit, inches, mm, show
from app.orders import Shop

MOST_CUTTERS = 12

NEEDED = {
    "cut_length": "Type the longest cut that the head can make",
    "guide_reach": "Type the largest figure that the guide can be set to",
    "step": "Type the finest step that you read off the scale",
    "deepest_board": "Type the thickest board that the blade goes through",
}
"""The lengths that every cutter has, with how the sentence begins where one is blank."""

PINS = ("first_pin", "pin_pitch")
SIGNED = ("guide_correction", "start_offset", "end_offset")


def _usual(name: str) -> Example:
    return Example.of(lambda unit: getattr(usual_cutter(unit), name))


_HOLE, _OFF = Example(mm(10), inches("1/2")), Example(mm("0.5"), inches("1/64"))

EXAMPLES: Examples = (
    {name: _usual(name) for name in NEEDED}
    | dict.fromkeys(PINS, _HOLE)
    | dict.fromkeys(SIGNED, _OFF)
)
FIRST_EXAMPLES: Examples = {"cutter.cut_length": EXAMPLES["cut_length"]}

_FINEST = {Unit.MM: mm("0.1"), Unit.IN: inches("1/64")}


def read_cutter(typed: Mapping[str, str], shop: Shop, *, was: str = "") -> Cutter:
    """The cutter of a form. was: its name before, which it may keep.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, bare_unit(typed, shop), shop.currency, EXAMPLES)
    name = read.required("name", "Name the cutter, so that it can be told from others.", 200)
    if name and any(_same(name, each.name) and not _same(name, was) for each in shop.cutters):
        read.faults.add("name", f"There is a cutter called {quoted(name)} already.")
    cutter = _described(read, name or "?")
    _finish(read)
    assert cutter is not None, "without a fault there is a cutter"
    return cutter


def _described(read: Reader, name: str) -> Cutter | None:
    """What the fields say; None, with faults, where that is no cutter."""
    unit = read.choice("unit", Unit, read.unit)
    lengths = {path: read.wanted_length(path, wish, ZERO) for path, wish in NEEDED.items()}
    _check_step(read, unit, lengths["step"])
    first, pitch = (read.length(path) if read.given(path) else None for path in PINS)
    signed = {path: read.signed(path) for path in SIGNED}
    reads = read.choice("reads", Reads, Reads.BACK_LINE)
    stroke = read.choice("stroke", Stroke, Stroke.PULL)
    return read.take(
        lambda: Cutter(
            name=name,
            unit=unit,
            reads=reads,
            stroke=stroke,
            first_pin=first,
            pin_pitch=pitch,
            cuts_ovals=read.given("cuts_ovals"),
            **lengths,
            **signed,
        )
    )


def bare_unit(typed: Mapping[str, str], shop: Shop) -> Unit:
    """The unit of a number without a mark on the page that was posted."""
    return Unit(typed["bare"]) if typed.get("bare") in set(Unit) else shop.unit


def _same(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()


def _check_step(read: Reader, unit: Unit, step: Length) -> None:
    """A scale is read in whole parts of its own unit."""
    if step.mm / _FINEST[unit].mm % 1:
        such = "1/16, 1/32 or 1/64" if unit is Unit.IN else "0.5 or 1"
        in_unit = "inches" if unit is Unit.IN else "millimetres"
        read.faults.add(
            "step",
            f"The step is {show(step, read.unit, mark=True)}; a scale in {in_unit} is read in steps "
            f"such as {such} {unit.value}.",
        )


def _finish(read: Reader) -> None:
    """Raise the faults, of each field the first: a blank length is also no length above zero."""
    firsts: dict[str, Fault] = {}
    for fault in read.faults.faults:
        firsts.setdefault(fault.path, fault)
    if firsts:
        raise Invalid(firsts.values())


def cutter_typed(cutter: Cutter) -> dict[str, str]:
    """The text of every field of the form, in the unit of the scale."""
    unit = cutter.unit
    given: dict[str, Length | None] = {
        path: getattr(cutter, path) for path in (*NEEDED, *PINS, *SIGNED)
    }
    return {
        "bare": unit.value,
        "was": cutter.name,
        "name": cutter.name,
        "unit": unit.value,
        "reads": cutter.reads.value,
        "stroke": cutter.stroke.value,
        "cuts_ovals": "1" if cutter.cuts_ovals else "",
        **{
            path: "" if length is None else length_text(length, unit)
            for path, length in given.items()
        },
    }


def read_first_cutter(read: Reader, unit: Unit) -> tuple[Cutter, ...]:
    """The cutter of the first-run page; none where nothing is said of it. unit: of the shop.

    What is not asked for there is as the usual one has it. Faults are noted at the page's fields.
    """
    if not any(read.given(f"cutter.{field}") for field in ("name", "cut_length")):
        return ()
    scale = read.choice("cutter.unit", Unit, unit)
    usual = usual_cutter(scale)
    read.unit = unit
    name = read.text("cutter.name", 200) or usual.name
    length = read.length("cutter.cut_length", usual.cut_length)
    try:
        return (replace(usual, name=name, cut_length=length),)
    except Invalid as invalid:
        read.faults.take(invalid.under("cutter"))
        return ()


def with_added(shop: Shop, cutter: Cutter) -> Shop:
    """The shop with a cutter more, its last one. Raises: Invalid where it has enough."""
    if len(shop.cutters) >= MOST_CUTTERS:
        raise Invalid.at(
            "name", f"The shop has {len(shop.cutters)} cutters; at most {MOST_CUTTERS} are kept."
        )
    return replace(shop, cutters=(*shop.cutters, cutter))


def with_changed(shop: Shop, number: int, cutter: Cutter) -> Shop:
    """The shop with the cutter of a number, from 1, described anew."""
    cutters = list(shop.cutters)
    cutters[number - 1] = cutter
    return replace(shop, cutters=tuple(cutters))


def without(shop: Shop, number: int) -> Shop:
    """The shop without the cutter of a number."""
    left = (cutter for at, cutter in enumerate(shop.cutters, start=1) if at != number)
    return replace(shop, cutters=tuple(left))


def with_first(shop: Shop, number: int) -> Shop:
    """The shop whose tickets speak of the cutter of a number."""
    first = shop.cutters[number - 1]
    return replace(shop, cutters=(first, *without(shop, number).cutters))
