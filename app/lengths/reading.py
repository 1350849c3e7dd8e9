"""Reading lengths and sizes as people type them.

Owns the ways of typing that L1 names, and the bounds of what is read. Whatever is read is exact;
whatever cannot be read is an `Invalid` that quotes it. Which lengths make sense for a part is for
`framing`.
"""

import re

from app.errors import Invalid, quoted
from app.lengths.length import ZERO, Length, Unit, mm
from app.lengths.parts import NumberPart, Unreadable, read_parts, sum_of
from app.lengths.printing import show, show_size
from app.lengths.size import Size
from app.lengths.standard import standard_size
from app.lengths.typed import plain

LONGEST_TEXT = 80
"""Characters; far more than any way of typing a size needs."""

LARGEST = mm(10_000)
"""Source: L1, over 10 m is absurd."""

_LENGTHS = {
    Unit.MM: '400, 40 cm or 15 3/4"',
    Unit.IN: "15 3/4, 15.75 or 40 cm",
}
_SIZES = {
    Unit.MM: '400 x 500, 30 x 40 cm, 16x20" or A3',
    Unit.IN: "16x20, 15 3/4 x 20, 30 x 40 cm or A3",
}
_BY = re.compile(r" ?(?:[x*]|by) ?")
_LABEL = re.compile(
    r"(?:(?P<before>w|h|width|height) ?)?(?P<length>[0-9.,-].*?)(?: ?(?P<after>w|h|wide|high|tall))?"
)
type _Side = tuple[str, tuple[NumberPart, ...]]
_WAY = re.compile(r"[ ,(-]*(landscape|portrait)\)?$")


def parse_length(  # noqa: PLR0913 - each is one plain word of what may be typed, and where
    text: str,
    *,
    unit: Unit,
    path: str = "length",
    zero_ok: bool = False,
    negative_ok: bool = False,
    such_as: str = "",
) -> Length:
    """Read one length; a bare number is in the unit given, a mark wins over it. Source: L1.

    such_as: examples of what is wanted, for an error. Raises: Invalid with one fault at the path, for
    what cannot be read, zero (unless zero_ok), less than zero (unless negative_ok), or more than 10 m
    either way.
    """
    try:
        typed = _typed(text)
        if _BY.search(typed) and any(char.isdigit() for char in typed):
            raise Unreadable("is a size; one length is wanted")
        length = sum_of(read_parts(typed), unit)
        if not length and not zero_ok:
            raise Unreadable("is zero; more than zero is wanted")
        if length < ZERO and not negative_ok:
            least = "zero or more" if zero_ok else "more than zero"
            raise Unreadable(f"is less than zero; {least} is wanted")
        _check_largest(length)
    except Unreadable as error:
        wanted = f"a length such as {such_as or _LENGTHS[unit]}"
        raise _invalid(text, error, path, wanted) from None
    return length


def parse_size(
    text: str, *, unit: Unit, path: str = "size", such_as: str = "", least: Length | None = None
) -> Size:
    """Read a width and a height, in that order, or the name of a standard size. Source: L1.

    One mark is for both sides ("30 x 40 cm"); two may differ ("30 cm x 16 in"). Sides that say
    which they are may come the other way round ("20h x 16w"). "landscape" or "portrait" at the end
    turns the size; a named size is portrait without it. such_as: examples of what is wanted, for an
    error; without them those of an artwork. least: how long each side has to be, where less is absurd; who types less left
    out the unit.
    Raises: Invalid with one fault at the path.
    """
    try:
        words, way = _words_and_way(text)
        named = standard_size(words)
        size = named.size if named else _two_sides(words, unit)
        if least is not None:
            _check_least(text, size, least, unit)
    except Unreadable as error:
        wanted = f"a width and a height such as {such_as or _SIZES[unit]}"
        raise _invalid(text, error, path, wanted) from None
    if not way:
        return size
    upright = Size(*sorted((size.width, size.height)))
    return upright.turned() if way == "landscape" else upright


def is_bare_size(text: str) -> bool:
    """Tell whether a text is a width and a height, both without a mark, so that a unit is taken for them."""
    try:
        words, _ = _words_and_way(text)
        if standard_size(words):
            return False
        each = [part for _, parts in _sides(words) for part in parts]
    except Unreadable:
        return False
    return all(part.number > 0 and not part.mark for part in each)


def _words_and_way(text: str) -> tuple[str, str]:
    """Return a size in plain characters, and "landscape", "portrait" or "" for what it is turned to."""
    typed = _typed(text)
    way = _WAY.search(typed)
    return (typed[: way.start()], way[1]) if way else (typed, "")


def _typed(text: str) -> str:
    """Return the text in plain characters, once it is known to be short."""
    if len(text) > LONGEST_TEXT:
        raise Unreadable(f"is {len(text)} characters long; at most {LONGEST_TEXT} are read")
    return plain(text)


def _two_sides(typed: str, unit: Unit) -> Size:
    (first_label, first), (second_label, second) = _sides(typed)
    bare_mark = second[-1].mark or first[-1].mark or unit
    one, other = _side(first, bare_mark, unit), _side(second, bare_mark, unit)
    return Size(other, one) if _height_first(first_label, second_label) else Size(one, other)


def _sides(typed: str) -> tuple[_Side, _Side]:
    """Return both sides as they are labelled, in the order in which they were typed."""
    texts = _BY.split(typed)
    if not typed:
        raise Unreadable("names no size")
    if not all(texts):
        raise Unreadable("lacks a length beside the x; two are wanted, width x height")
    sides = [_labelled(text) for text in texts]
    if len(sides) != 2:
        count = "one length" if len(sides) == 1 else f"{len(sides)} lengths"
        raise Unreadable(f"is {count}; two are wanted, width x height")
    return sides[0], sides[1]


def _labelled(side: str) -> _Side:
    """Return a side's label, "w", "h" or "" for none, and its parts: "16 in wide", "20h", "w 16"."""
    match = _LABEL.fullmatch(side)
    if match is None:
        raise Unreadable("cannot be read as a size")
    word = match["before"] or match["after"] or ""
    label = "w" if word.startswith("w") else "h" if word else ""
    return label, read_parts(match["length"])


def _height_first(first: str, second: str) -> bool:
    if first and first == second:
        raise Unreadable("names the same side twice; width and height are wanted")
    return first == "h" or second == "w"


def _side(parts: tuple[NumberPart, ...], bare_mark: str, unit: Unit) -> Length:
    side = sum_of(parts, bare_mark)
    if side <= ZERO:
        raise Unreadable(f"has a side of {show(side, unit, mark=True)}; more than zero is wanted")
    _check_largest(side)
    return side


def _check_least(text: str, size: Size, least: Length, unit: Unit) -> None:
    if min(size.width, size.height) >= least:
        return
    shown = show_size(size, unit, mark=True)
    words = "millimetres" if unit is Unit.MM else "inches"
    bare = f"; a number without a mark is in {words}" if is_bare_size(text) else ""
    raise Unreadable(f"is {shown}; each side is {show(least, unit, mark=True)} or more{bare}")


def _check_largest(length: Length) -> None:
    if abs(length) > LARGEST:
        raise Unreadable("is more than 10 m (about 393 in), the most allowed")


def _invalid(text: str, error: Unreadable, path: str, wanted: str) -> Invalid:
    if len(text) <= LONGEST_TEXT and not plain(text):
        return Invalid.at(path, f"Nothing was typed; type {wanted}.", "empty")
    return Invalid.at(path, f"{quoted(text)} {error}. Type {wanted}.")
