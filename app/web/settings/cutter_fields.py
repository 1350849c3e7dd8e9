"""The form of a mat cutter as a table of fields, which `cutter_form` reads.

The stroke is asked for as the hand moves the head; it is kept as it is with the guide to the left.
"""

from dataclasses import replace
from typing import Any

from app.bench import Reads, Stroke, usual_cutter, usual_scale
from app.forms.kinds import (
    LENGTH,
    SIGNED,
    TICK,
    FieldKind,
    FormContext,
    In,
    Options,
    choice,
    optional,
    text_of,
)
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed
from app.lengths import ZERO, Example, Unit, inches, mm
from app.web.settings.shop_form import UNITS

READS: Options = (
    (Reads.BACK_LINE, "the line at the back, where the blade goes in"),
    (Reads.FACE, "the line at the face, where the blade comes out"),
)
STROKES: Options = ((Stroke.PULL, "pulled towards you"), (Stroke.PUSH, "pushed away from you"))

_HOLE, _OFF = Example(mm(10), inches("1/2")), Example(mm("0.5"), inches("1/64"))
_STEP = Example.of(lambda unit: usual_scale(unit).step)


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


FIRST, SECOND = "scales.0", "scales.1"
_OWN_UNIT = "in the unit of the first scale"
_SECOND_UNITS: Options = (("", "there is none"), *UNITS)
_STEP_HINT = "The finest that you trust yourself to read."

STEP_WISH = "Type the finest step that you read off the scale"


def _in_second_unit(kind: FieldKind[Any]) -> FieldKind[Any]:
    """Return the same kind of field, whose number without a mark is in the unit of the second scale."""

    def read(read: Reader, path: str, usual: Any) -> Any:
        here, read.unit = read.unit, second_unit(read.typed, read.unit)
        value = kind.read(read, path, usual)
        read.unit = here
        return value

    def text(value: Any, known: FormContext) -> str:
        return kind.text(value, In(known.unit.other, known.currency))

    return replace(kind, read=read, text=text)


_OF_A_STOP = replace(SIGNED, text=lambda value, known: SIGNED.text(value, known) if value else "")
"""Blank where there is nothing to correct, as where there is no stop."""

_SIDE = replace(
    TICK,
    control="radios",
    options=(("", "to the left of the bar"), ("1", "to the right of the bar")),
)


def _holes(at: str, kind: FieldKind[Any], part: str, within: str = "") -> tuple[Field[In], ...]:
    """Return the fields of the holes beside a scale. at: the path of the scale."""
    first = Field[In](
        f"{at}.pins.first",
        "First hole at",
        optional(kind),
        "Blank without holes for a pin.",
        like=_HOLE,
        part=part,
        within=within,
    )
    pitch = replace(
        first,
        path=f"{at}.pins.pitch",
        label="Then one every",
        hint="From hole to hole.",
        beside=True,
    )
    return (first, pitch)


CUTTER = Form[In](
    Field(
        "name",
        "Name",
        text_of(200),
        "As tickets call it.",
        needed=True,
        wish="Name the cutter, so that it can be told from others",
    ),
    Field(
        f"{FIRST}.unit",
        "The scale is in",
        choice(Unit, UNITS, "across"),
        "Where there are two, the one that you use most.",
        usual=lambda known: known.unit,
    ),
    _needed(
        "cut_length",
        "Longest cut",
        f"How far the head runs, end to end; {_OWN_UNIT}.",
        "Type the longest cut that the head can make",
    ),
    _needed(
        "deepest_board",
        "Thickest board",
        f"That the blade goes through in one cut; {_OWN_UNIT}.",
        "Type the thickest board that the blade goes through",
        beside=True,
    ),
    Field(
        "stops.guide_on_right",
        "The guide lies",
        _SIDE,
        "As you stand at the cutter.",
        usual=False,
    ),
    Field(
        "stroke",
        "The head is",
        choice(Stroke, STROKES, "radios"),
        "As your hand moves it, on whichever side the guide lies.",
        usual=Stroke.PULL,
        beside=True,
    ),
    Field("cuts_ovals", "It cuts ovals and round tops too", TICK),
    Field(
        f"{FIRST}.step",
        "The scale is read in steps of",
        LENGTH,
        _STEP_HINT,
        usual=ZERO,
        like=_STEP,
        needed=True,
        wish=STEP_WISH,
        part="scale",
    ),
    *_holes(FIRST, LENGTH, "scale"),
    _needed(
        "guide_reach",
        "The guide goes up to",
        f"The largest figure it can be set to; {_OWN_UNIT}.",
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
        f"{SECOND}.unit",
        "Unit",
        choice(Unit, _SECOND_UNITS),
        within="Second scale",
        part="second",
    ),
    Field(
        f"{SECOND}.step",
        "Read in steps of",
        optional(_in_second_unit(LENGTH)),
        _STEP_HINT,
        like=_STEP,
        within="Second scale",
        part="second",
    ),
    *_holes(SECOND, _in_second_unit(LENGTH), "second", "Second scale"),
    Field("stops.near", "A near stop, at the squaring arm", TICK, part="stops"),
    Field("stops.far", "A far stop, towards the other end of the bar", TICK, part="stops"),
    Field(
        "arm_reach",
        "The squaring arm measures up to",
        optional(LENGTH),
        f"The longest side of a board, {_OWN_UNIT}; blank where you do not say.",
        like=Example(mm(1000), inches(40)),
        part="stops",
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
    Field(
        "stops.near_correction",
        "Add to the near stop",
        _OF_A_STOP,
        "Minus takes away; blank for none.",
        like=_OFF,
        part="corrections",
    ),
    Field(
        "stops.far_correction",
        "Add to the far stop",
        _OF_A_STOP,
        "Minus takes away; blank for none.",
        like=_OFF,
        beside=True,
        part="corrections",
    ),
)


def unit_at(typed: Typed, path: str) -> Unit | None:
    """Return the unit that was chosen in a field; None where none was."""
    return Unit(typed[path]) if typed.get(path) in set(Unit) else None


def second_unit(typed: Typed, first: Unit) -> Unit:
    """Return the unit of what is said of a second scale; where none is chosen, the other one."""
    return unit_at(typed, f"{SECOND}.unit") or first.other
