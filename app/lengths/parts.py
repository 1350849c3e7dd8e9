"""The grammar of one length: numbers, fractions and marks.

Owns what counts as a number and as a mark, and how feet and inches go together. It reads plain
characters (`typed`) and raises `Unreadable` with the end of a sentence; `reading` makes it whole.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from app.lengths.length import MM_PER_INCH, ZERO, Length

MM_PER_MARK = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    "ft": MM_PER_INCH * 12,
}
"""Source: L1; 1 ft = 12 in by the international yard and pound agreement of 1959."""

_WORDS = {
    "mm": r"mm\.?|milli(?:met(?:re|er)s?)?",
    "cm": r"cm\.?|centi(?:met(?:re|er)s?)?",
    "m": r"m\.?|met(?:re|er)s?",
    "in": r"in\.?|inch(?:es)?|\"|''",  # two single quotes are an inch mark, so before feet
    "ft": r"ft\.?|foot|feet|'",
}
_PLURALS = {
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
    "in": "inches",
    "ft": "feet",
}
_FOLLOWING = {"ft": ("in",), "m": ("cm", "mm"), "cm": ("mm",)}
"""The marks that may follow a whole number of a larger one."""

_PART = re.compile(
    r"""
    (?: (?: (?P<whole>[0-9]+) (?: \ ?(?:-|&|and)\ ? | \  ) )?
        (?P<over>[0-9]+) \ ?/\ ? (?P<under>[0-9]+)
      | (?P<decimal> [0-9]+ (?:[.,][0-9]*)? | [.,][0-9]+ )
    )
    \ ? (?: (?: """
    + " | ".join(f"(?P<{mark}>{words})" for mark, words in _WORDS.items())
    + r""" ) (?![a-z]) )?
    (?: \ ? (?:-|,|&|and)? \ ? (?=[0-9.]) )?     # what may stand between feet and inches
    """,
    re.VERBOSE,
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


class Unreadable(Exception):
    """Why a text is no length; the message goes on after what was typed is quoted."""


@dataclass(frozen=True, slots=True)
class NumberPart:
    """A number with its mark, "" where it is bare."""

    number: Fraction
    mark: str


@lru_cache(maxsize=1000)
def read_parts(typed: str) -> tuple[NumberPart, ...]:
    """Return the parts of one length, as (1 ft, 3 3/4 in); all negative after a minus.

    Only the last part may be bare or have a fraction. A form sends the same texts with every key, so what was read is
    remembered. Raises: Unreadable.
    """
    parts: list[NumberPart] = []
    sign = -1 if typed.startswith("-") else 1
    at = len(typed) - len(typed.removeprefix("-").lstrip())
    while at < len(typed):
        match = _PART.match(typed, at)
        if match is None:
            raise Unreadable("cannot be read as a length")
        part = NumberPart(sign * _number(match), next((mark for mark in _WORDS if match[mark]), ""))
        parts.append(_following(parts[-1], part) if parts else part)
        at = match.end()
    if not parts:
        raise Unreadable("cannot be read as a length")
    return tuple(parts)


def sum_of(parts: tuple[NumberPart, ...], bare_mark: str) -> Length:
    """Return the length of the parts together, bare numbers taken in the mark given."""
    lengths = (Length(part.number * MM_PER_MARK[part.mark or bare_mark]) for part in parts)
    return sum(lengths, ZERO)


def _number(match: re.Match[str]) -> Fraction:
    if decimal := match["decimal"]:
        if _THOUSANDS.fullmatch(decimal):
            raise Unreadable("has a comma that may mean thousands or decimals; leave the comma out")
        return Fraction(decimal.replace(",", ".").rstrip(".") or "0")
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise Unreadable("has a fraction over 0; the lower number is 1 or more")
    if match["whole"] and over >= under:
        raise Unreadable("has a fraction of 1 or more after a whole number; less than 1 is wanted")
    return int(match["whole"] or 0) + Fraction(over, under)


def _following(before: NumberPart, part: NumberPart) -> NumberPart:
    """Return a part after another, "3" after feet taken as inches. Raises: Unreadable."""
    mark = part.mark or ("in" if before.mark == "ft" else "")
    if mark not in _FOLLOWING.get(before.mark, ()):
        raise Unreadable("has two numbers that do not go together")
    if before.number.denominator != 1:
        raise Unreadable("has a fraction before its last number; only the last may have one")
    if abs(part.number) * MM_PER_MARK[mark] >= MM_PER_MARK[before.mark]:
        few, many = _PLURALS[mark], _PLURALS[before.mark]
        raise Unreadable(
            f"has too many {few} after the {many}; less than 1 {before.mark} is wanted"
        )
    return NumberPart(part.number, mark)
