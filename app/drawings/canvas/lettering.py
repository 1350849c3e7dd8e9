"""How much room words take on a drawing, without asking a font.

Widths are those of a wide sans-serif face, so that a narrower one leaves more room and never less.
Source: advance widths of DejaVu Sans in 1/100 em, from its own metrics, rounded up by class.
"""

_NARROW = frozenset("iljI.,:;'|!·")
_SMALL = frozenset(" \N{NO-BREAK SPACE}ftr/()-[]")
_WIDE = frozenset("mwMW%@–—…→×+=<>−≥≤")


def width_of(text: str, font: float) -> float:
    """Return the width of a line of text at a font size, never less than what it takes."""
    return font * sum(map(_em, text))


def _em(char: str) -> float:
    if char in _NARROW:
        return 0.36
    if char in _SMALL:
        return 0.42
    if char in _WIDE or ord(char) > 0x2E7F:
        return 1.0
    return 0.78 if char.isupper() else 0.65


def lines_of(text: str, font: float, width: float) -> tuple[str, ...]:
    """Return the text broken at blanks into lines no wider than a width, but for a single long word.

    At a no-break space it is not broken.
    """
    lines: list[str] = []
    for word in filter(None, text.split(" ")):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, font) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
