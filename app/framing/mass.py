"""Weights as people type them and as they are shown: exact kilograms.

Owns the reading and the printing of a weight, whether of an artwork or of what a hanging part may bear.
What weighs how much is for `weight` and `artwork_weight`.
"""

import re
from enum import StrEnum
from fractions import Fraction

from app.errors import Invalid, quoted
from app.lengths import Unit, inches
from app.lengths.typed import plain

KG_PER_POUND = Fraction(45359237, 100_000_000)
"""Source: international yard and pound agreement of 1959, NIST SP 811 appendix B."""

OUNCES_PER_POUND = 16
"""Source: 1 lb = 16 oz (avoirdupois), NIST SP 811 appendix B."""

KG_PER_MARK: dict[str, Fraction] = {
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
    "lb": KG_PER_POUND,
    "oz": KG_PER_POUND / OUNCES_PER_POUND,
}

USUAL_MARK = {Unit.MM: "kg", Unit.IN: "lb"}
"""What a bare number is in, by the unit that a shop measures in. Source: common practice."""

HEAVIEST_KG = 1000
"""More than this is no weight of a picture. Source: ours, against a slip of the finger."""

LONGEST_TEXT = 40

_WORDS = {
    "kg": r"kg\.?|kgs\.?|kilos?|kilogram(?:me)?s?",
    "g": r"g\.?|gr\.?|gram(?:me)?s?",
    "lb": r"lbs?\.?|pounds?",
    "oz": r"oz\.?|ounces?",
}
_FOLLOWING = {"kg": "g", "lb": "oz"}
"""The mark that may follow a whole number of a larger one."""

_PART = re.compile(
    r"(?:(?:(?P<whole>[0-9]{1,9})[ -])?(?P<over>[0-9]{1,9}) ?/ ?(?P<under>[0-9]{1,9})"
    r"|(?P<decimal>[0-9]{1,9}(?:[.,][0-9]{0,12})?|[.,][0-9]{1,12}))"
    r" ?(?:(?:"
    + "|".join(f"(?P<{mark}>{words})" for mark, words in _WORDS.items())
    + r")(?![a-z]))?"
    r"(?: ?(?:,|&|and)? ?(?=[0-9.]))?"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


class _UnreadableMass(Exception):
    """Why a text is no weight; the sentence goes on after what was typed is quoted."""


def parse_mass(text: str, *, bare: Unit | None, path: str = "weight") -> Fraction:
    """Read a weight in kilograms, exact: "2.3 kg", "850 g", "5 lb 4 oz", "5 1/2 lb".

    bare: which shop's usual unit a number without a mark is in; None where a mark must stand.
    Raises: Invalid with one fault at the path, for what cannot be read, zero, or over 1000 kg.
    """
    try:
        if len(text) > LONGEST_TEXT:
            raise _UnreadableMass(
                f"is {len(text)} characters long; at most {LONGEST_TEXT} are read"
            )
        kg = _sum_of(_parts(plain(text)), bare)
        if not kg:
            raise _UnreadableMass("is zero; more than zero is wanted")
        if kg > HEAVIEST_KG:
            raise _UnreadableMass(f"is more than {HEAVIEST_KG} kg, the most that is read")
    except _UnreadableMass as error:
        wanted = "a weight such as 2.3 kg, 850 g or 5 lb 4 oz"
        if not text.strip():
            raise Invalid.at(path, f"Nothing was typed; type {wanted}.", "empty") from None
        raise Invalid.at(path, f"{quoted(text)} {error}. Type {wanted}.") from None
    return kg


def _parts(typed: str) -> list[tuple[Fraction, str]]:
    """(number, mark) one after another, "" for a bare number."""
    parts: list[tuple[Fraction, str]] = []
    at = 0
    while at < len(typed):
        match = _PART.match(typed, at)
        if match is None:
            raise _UnreadableMass("cannot be read as a weight")
        parts.append((_number(match), next((mark for mark in _WORDS if match[mark]), "")))
        at = match.end()
    if not parts:
        raise _UnreadableMass("cannot be read as a weight")
    return parts


def _number(match: re.Match[str]) -> Fraction:
    if decimal := match["decimal"]:
        if _THOUSANDS.fullmatch(decimal):
            raise _UnreadableMass("has a comma that may mean thousands or decimals; leave it out")
        return Fraction(decimal.replace(",", ".").rstrip(".") or "0")
    over, under = int(match["over"]), int(match["under"])
    if not under:
        raise _UnreadableMass("has a fraction over 0; the lower number is 1 or more")
    if match["whole"] and over >= under:
        raise _UnreadableMass(
            "has a fraction of 1 or more after a whole number; less than 1 is wanted"
        )
    return int(match["whole"] or 0) + Fraction(over, under)


def _sum_of(parts: list[tuple[Fraction, str]], bare: Unit | None) -> Fraction:
    """Return one number with its mark, or two as pounds and ounces go together."""
    (first, mark), *rest = parts
    if not mark:
        if bare is None:
            raise _UnreadableMass("has no mark that says what it is in, as kg, g, lb or oz")
        mark = USUAL_MARK[bare]
    kg = first * KG_PER_MARK[mark]
    if not rest:
        return kg
    (second, of_second), *more = rest
    following = _FOLLOWING.get(mark, "")
    if more or not following or of_second not in ("", following) or not parts[0][1]:
        raise _UnreadableMass("has two numbers that do not go together")
    if first.denominator != 1:
        raise _UnreadableMass("has a fraction before its last number; only the last may have one")
    smaller = second * KG_PER_MARK[following]
    if smaller >= KG_PER_MARK[mark]:
        raise _UnreadableMass(
            f"has too many {following} after the {mark}; less than 1 {mark} is wanted"
        )
    return kg + smaller


def mass_text(kg: Fraction, unit: Unit) -> str:
    """Return a weight for its field, with its mark, in whichever writing reads back as exactly this one.

    unit: that a shop measures in; its own marks come first.
    """
    marks = ("lb", "oz", "kg", "g") if unit is Unit.IN else ("kg", "g", "lb", "oz")
    for most in (3, 9):
        for mark in marks:
            if (text := _decimal(kg / KG_PER_MARK[mark], most)) is not None:
                return f"{text} {mark}"
    return f"{kg} kg"


def _decimal(number: Fraction, most: int) -> str | None:
    """Return a number with at most so many decimals; None where it has more."""
    scaled = number * 10**most
    if scaled.denominator != 1:
        return None
    whole, rest = divmod(int(scaled), 10**most)
    decimals = f"{rest:0{most}d}".rstrip("0")
    return f"{whole}.{decimals}" if decimals else str(whole)


def exact_text(kg: Fraction) -> str:
    """Kilograms as a decimal, or as a fraction where that does not end: "8.748", "7/3"."""
    return _decimal(kg, 20) or str(kg)


def usual_text(kg: Fraction, unit: Unit) -> str:
    """Return a weight in the shop's usual unit, to the gram or a hundredth of a pound: what was understood."""
    per, places = (Fraction(1), 3) if unit is Unit.MM else (KG_PER_POUND, 2)
    rounded = Fraction(int(kg / per * 10**places + Fraction(1, 2)), 10**places)
    return f"{_decimal(rounded, places)} {USUAL_MARK[unit]}"


def tenths(number: Fraction) -> str:
    """Return a number to a tenth, half up, at least 0.1."""
    rounded = max(int(number * 10 + Fraction(1, 2)), 1)
    return f"{rounded // 10}.{rounded % 10}"


def show_kg(kg: Fraction, unit: Unit) -> str:
    """Return a weight in one unit system: kilograms to a tenth, at least 0.1, or pounds and whole ounces on a piece in
    inches, at least an ounce; half up: "3.2 kg", "6 lb 15 oz", "13 oz".
    """
    return f"{tenths(kg)} kg" if unit is Unit.MM else _pounds_and_ounces(kg)


def _pounds_and_ounces(kg: Fraction) -> str:
    ounces = max(int(kg / KG_PER_MARK["oz"] + Fraction(1, 2)), 1)
    pounds, rest = divmod(ounces, OUNCES_PER_POUND)
    said = (f"{number} {mark}" for number, mark in ((pounds, "lb"), (rest, "oz")) if number)
    return " ".join(said)


def show_mass(kg: Fraction, unit: Unit) -> str:
    """Return a weight that may be a sheet of paper: in whole grams, or tenths of an ounce, where it is light."""
    if kg >= (1 if unit is Unit.MM else KG_PER_POUND):
        return show_kg(kg, unit)
    if unit is Unit.MM:
        return f"{max(int(kg * 1000 + Fraction(1, 2)), 1)} g"
    return f"{tenths(kg / KG_PER_MARK['oz'])} oz"


_FOOT = inches(12).mm / 1000


class WeightOf(StrEnum):
    """What a figure is the weight of, with the words of a shop in inches."""

    ONE = ""
    METRE = "a foot"
    SQUARE_METRE = "a sq ft"
    CUBIC_METRE = "a cu ft"


_FEET = {WeightOf.ONE: 0, WeightOf.METRE: 1, WeightOf.SQUARE_METRE: 2, WeightOf.CUBIC_METRE: 3}
"""How often the foot goes into it."""


def in_ounces(figure: int, of: WeightOf) -> str:
    """Return a figure of grams, for a cubic metre of kilograms, to a hundredth, half up: "0.66 oz a sq ft".

    Source: 1 lb = 0.45359237 kg, 16 oz to the pound, 1 ft = 0.3048 m, all exact (NIST SP 811, appendix B).
    """
    scale = _FOOT ** _FEET[of]
    if of is WeightOf.CUBIC_METRE:
        return f"{_hundredths(figure * scale / KG_PER_POUND)} lb {of}"
    ounces = figure * scale / 1000 / KG_PER_MARK["oz"]
    return f"{_hundredths(ounces)} oz {of}".rstrip()


def _hundredths(number: Fraction) -> str:
    return _decimal(Fraction(int(number * 100 + Fraction(1, 2)), 100), 2) or "0"
