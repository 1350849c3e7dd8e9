"""What is typed with the mark of another unit, told in the shop's own: "1000 mm" is 39 3/8 in, "20 kg" 44.09 lb.

Nothing typed is changed. A bare number, and what is typed with the shop's own mark, is told of nothing.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from app.errors import Invalid
from app.forms.kinds import FieldKind, FormContext
from app.forms.reader import whole_number
from app.framing.mass import WeightOf, in_ounces, parse_mass, usual_text
from app.lengths import Unit, parse_length, show_on_rule


def told_length(text: str, known: FormContext) -> str | None:
    """Return a length that is typed in the other unit as it is read off a rule of the shop's."""
    return _told(
        text,
        lambda unit: parse_length(text, unit=unit, zero_ok=True),
        lambda length: show_on_rule(length, known.unit, mark=True),
        known.unit,
    )


def told_mass(text: str, known: FormContext) -> str | None:
    """Return a weight that is typed in another unit in the shop's usual one."""
    return _told(
        text,
        lambda unit: parse_mass(text, bare=unit),
        lambda kg: usual_text(kg, known.unit),
        known.unit,
    )


def _told[T](
    text: str, read: Callable[[Unit], T], show: Callable[[T], str], unit: Unit
) -> str | None:
    try:
        value, otherwise = read(unit), read(unit.other)
    except Invalid:
        return None
    shown = show(value)
    return shown if value == otherwise and shown != text.strip() else None


def marked(kind: FieldKind[Any], told: Callable[[str, Any], str | None]) -> FieldKind[Any]:
    """Return the same kind of field with the words that are told of what is typed."""
    return replace(kind, told=told)


def in_grams(kind: FieldKind[Any], of: WeightOf) -> FieldKind[Any]:
    """Return the same kind of field for a whole figure of grams (kilograms a cubic metre), which a shop in inches is
    told in ounces (pounds).
    """

    def told(text: str, known: FormContext) -> str | None:
        figure = whole_number(text.strip(), digits=9)
        return in_ounces(figure, of) if figure and known.unit is Unit.IN else None

    return marked(kind, told)
