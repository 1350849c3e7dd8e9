"""In which unit a bare size was said.

At a counter people say bare numbers in the unit they think in. Owns the rule that tells a bare size which is
no usual artwork as it is read from one that is, and which of its readings is the likeliest. Asks nobody:
whoever reads a size decides what becomes of a doubt. Source: L4, common practice.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from app.errors import Invalid
from app.lengths.length import Length, Unit, inches, mm
from app.lengths.parts import Unreadable, read_parts
from app.lengths.reading import is_bare_size, parse_size
from app.lengths.size import Size
from app.lengths.standard import Family, is_one_of
from app.lengths.typed import plain

MARKS = ("cm", "in", "mm")
"""What a bare size may have been said in. Of readings that are equally likely the first counts: who says
metric numbers to a framer mostly says centimetres. Common practice."""

LEAST_SIDE: Mapping[str, Length] = {"cm": mm(60), "in": inches("19/8"), "mm": mm(60)}
"""No side of a usual artwork is under this, by the mark that it is read with. Source: L4."""

SMALL: Mapping[Unit, Length] = {Unit.MM: mm(130), Unit.IN: inches(5)}
"""Where both sides are under this, a usual size with the same numbers is the likelier one. Source: L4."""

LONGEST_SHEET = mm(2440)
"""For a price book without a sheet: boards of 8 x 4 ft are the longest that are sold. Common practice."""

USUAL = frozenset({Family.ISO_A, Family.ISO_B, Family.PHOTO, Family.FRAME_IN, Family.FRAME_MM})
"""ISO 216, photographs and frames: an exact one beats the rest. Source: L4."""

type Readings = Mapping[str, Size]
"""What a bare size comes to, by the mark that it is read with; none of more than 10 m."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """answers: the size as typed, marked with each unit that it may have been said in; the likeliest first."""

    answers: tuple[str, ...]

    @property
    def likely(self) -> str:
        """The size as typed with the mark of the likeliest unit."""
        return self.answers[0]


@lru_cache(maxsize=1000)
def doubt_about(text: str, *, unit: Unit, longest: Length = LONGEST_SHEET) -> Doubt | None:
    """Return what is to be asked about a typed size; None where it is as it is read.

    unit: the one that bare numbers are read in. longest: the longest sheet in the price book. Never about a
    size with a mark or a name, nor about one that cannot be read. A form sends the same texts with every key, so the
    answers are remembered. Source: L4.
    """
    if not is_bare_size(text):
        return None
    readings = _readings(text, unit)
    artworks = [
        mark for mark in readings if mark != unit and _is_an_artwork(mark, readings[mark], longest)
    ]
    if not artworks or _stands(readings, artworks, unit, longest):
        return None
    likely = min(artworks, key=lambda mark: _rank(mark, readings[mark], text))
    return Doubt(
        tuple(with_mark(text, mark) for mark in sorted(readings, key=lambda mark: mark != likely))
    )


WIDEST_BORDER = 6
"""A bare number up to this is plausible as a border in inches, beside a size that was said in inches. Source: ours, L4."""


def doubt_about_border(text: str, size: str) -> Doubt | None:
    """Return what is to be asked about a border that would be read in mm; None where it is as it is read.

    size: the artwork's, as typed. Who said that in inches, and then a bare number as small as this, mostly means
    inches. Source: L4.
    """
    number = _bare_number(text)
    if number is None or not said_in_other(size, Unit.MM) or not 0 < number <= WIDEST_BORDER:
        return None
    return Doubt(tuple(with_mark(text, mark) for mark in ("in", "mm")))


def mark_bare(text: str, unit: Unit) -> str:
    """Return a typed length or size with the unit that its bare numbers were read in; any other text as it is."""
    return with_mark(text, unit) if _bare_number(text) is not None or is_bare_size(text) else text


def _bare_number(text: str) -> Fraction | None:
    try:
        parts = read_parts(plain(text))
    except Unreadable:
        return None
    bare = all(not part.mark for part in parts)
    return sum((part.number for part in parts), Fraction(0)) if bare else None


def said_in_other(size: str, unit: Unit) -> bool:
    """Tell whether a size was typed with marks of inches in a piece of millimetres, or the other way round."""
    return bool((_IN_INCHES if unit is Unit.MM else _METRIC).search(plain(size)))


_METRIC = re.compile(r"(?<=[0-9 ])(?:mm|cm)\b")
_IN_INCHES = re.compile(r"(?<=[0-9 ])(?:in\b|inch|\"|'')")


def with_mark(text: str, mark: str) -> str:
    """Return a bare size with a mark for both of its sides, all else as typed: "30 x 40 cm landscape"."""
    numbers = [at for at, char in enumerate(text) if char.isnumeric()]
    end = numbers[-1] + 1 if numbers else len(text)
    while text[end : end + 1] in (".", ","):
        end += 1
    rest = text[end:]
    return f"{text[:end]} {mark}{' ' if rest[:1].isalnum() else ''}{rest}"


def _readings(text: str, unit: Unit) -> Readings:
    readings = {}
    for mark in MARKS:
        try:
            readings[mark] = parse_size(with_mark(text, mark), unit=unit)
        except Invalid:
            continue
    return readings


def _is_an_artwork(mark: str, size: Size, longest: Length) -> bool:
    sides = (size.width, size.height)
    return min(sides) >= LEAST_SIDE[mark] and max(sides) <= longest


def _stands(readings: Readings, artworks: list[str], unit: Unit, longest: Length) -> bool:
    """Tell whether a size is a usual artwork as it is read: in bounds, and not small with usual numbers."""
    size = readings.get(unit)
    if size is None or not _is_an_artwork(unit, size, longest):
        return False
    small = max(size.width, size.height) < SMALL[unit]
    return not (small and any(is_one_of(readings[mark], USUAL) for mark in artworks))


def _rank(mark: str, size: Size, text: str) -> tuple[int, int]:
    """Return the lower the likelier: a usual size, another with a name, the rest; fractions are said of inches."""
    named = 0 if is_one_of(size, USUAL) else 1 if is_one_of(size) else 2
    fraction = mark == "in" and "/" in plain(text)
    return named, -1 if fraction else MARKS.index(mark)
