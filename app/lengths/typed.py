"""What was typed, in plain characters.

Keyboards, phones and pasted pages write the same length with many characters; here they become
ASCII, so that `parts` reads one alphabet.
"""

import re
import unicodedata

_WRITTEN_FOR = {
    '"': "\N{DOUBLE PRIME}\N{RIGHT DOUBLE QUOTATION MARK}\N{LEFT DOUBLE QUOTATION MARK}"
    "\N{DOUBLE LOW-9 QUOTATION MARK}\N{DOUBLE HIGH-REVERSED-9 QUOTATION MARK}"
    "\N{DOUBLE ACUTE ACCENT}\N{MODIFIER LETTER DOUBLE PRIME}\N{DITTO MARK}",
    "'": "\N{PRIME}\N{RIGHT SINGLE QUOTATION MARK}\N{LEFT SINGLE QUOTATION MARK}"
    "\N{SINGLE HIGH-REVERSED-9 QUOTATION MARK}\N{ACUTE ACCENT}\N{GRAVE ACCENT}"
    "\N{MODIFIER LETTER PRIME}\N{MODIFIER LETTER APOSTROPHE}",
    "-": "\N{MINUS SIGN}\N{EN DASH}\N{EM DASH}\N{FIGURE DASH}\N{HYPHEN}\N{NON-BREAKING HYPHEN}",
    "x": "\N{MULTIPLICATION SIGN}\N{MULTIPLICATION X}\N{HEAVY MULTIPLICATION X}"
    "\N{VECTOR OR CROSS PRODUCT}\N{CYRILLIC SMALL LETTER HA}",
    "/": "\N{FRACTION SLASH}\N{DIVISION SLASH}",
}
_FULL_WIDTH = {0xFF01 + offset: 0x21 + offset for offset in range(94)}
_PLAIN: dict[int, int] = _FULL_WIDTH | {
    ord(char): ord(ascii_char) for ascii_char, chars in _WRITTEN_FOR.items() for char in chars
}
_RAISED_FRACTION = re.compile(
    "([⁰¹²³⁴⁵⁶⁷⁸⁹]+)[/\N{FRACTION SLASH}\N{DIVISION SLASH}]([₀₁₂₃₄₅₆₇₈₉]+)"
)


def plain(text: str) -> str:
    """Lower case, ASCII where it has the character, single blanks, no control characters.

    "¾" becomes " 3/4", so that "15¾" reads as whole and fraction.
    """
    if not text.isascii():
        text = _RAISED_FRACTION.sub(_level, text)
        text = "".join(map(_plain_char, text))
    kept = (char for char in text.translate(_PLAIN) if char.isspace() or char.isprintable())
    return " ".join("".join(kept).casefold().split())


def _level(fraction: re.Match[str]) -> str:
    over, under = (unicodedata.normalize("NFKC", digits) for digits in fraction.groups())
    return f" {over}/{under} "


def _plain_char(char: str) -> str:
    if char.isdecimal():
        return str(unicodedata.decimal(char))
    if unicodedata.decomposition(char).startswith("<fraction>"):
        return f" {unicodedata.normalize('NFKC', char)} "
    return char
