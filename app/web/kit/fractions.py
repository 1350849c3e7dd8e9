"""Sets the fractions of a page as fractions, wherever they stand, so that no figure is broken by the end of a line.

Sentences, facts and lists are plain text until they are printed; here each proper fraction of inches in them,
"20 5/8", is held to its whole number and marked for the fraction figures of the font.
"""

import re

_OVER = re.compile(r"/(?P<denominator>2|4|8|16|32|64)(?![\d/])(?:\"|&#34;|&quot;)?")
_BEFORE = re.compile(r"(?:(?P<after>\d )|[\s>]|^)[\"“(]?(?P<start>[±+−~]?)(?P<numerator>[1-9]\d?)$")
_UNTOUCHED = re.compile(r"<(?:textarea|option|title|text|tspan|desc|code|pre|script|style)\b")
_NO_BREAK = "\N{NO-BREAK SPACE}"


def with_fractions_set(html: str) -> str:
    """Return a page whose fractions are marked, `<span class="fraction">5/8"</span>`, and held to their whole number.

    A fraction is proper, in lowest terms, of halves down to 1/64; a day as 12/14, or 2/4 of anything, is none. What is
    typed into, drawn, or quoted as code stays as it is.
    """
    parts: list[str] = []
    done = 0
    for over in _OVER.finditer(html):
        before = _BEFORE.search(html, max(done, over.start() - _LONGEST), over.start())
        if before is None or not _is_fraction(before, over):
            continue
        start = before.start("start")
        parts.append(html[done : start - 1 if before["after"] else start])
        blank = _NO_BREAK if before["after"] else ""
        parts.append(f'{blank}<span class="fraction">{html[start : over.end()]}</span>')
        done = over.end()
    return "".join((*parts, html[done:]))


_LONGEST = 5
"""Characters before the stroke: a digit, a blank, a sign and a numerator of two digits."""


def _is_fraction(before: re.Match[str], over: re.Match[str]) -> bool:
    """Tell whether a numerator over a denominator is a proper fraction in lowest terms, in a text that is only read."""
    numerator, html, at = int(before["numerator"]), over.string, over.start()
    if numerator % 2 == 0 or numerator >= int(over["denominator"]):
        return False
    tag = html.rfind("<", 0, at)
    return tag < html.rfind(">", 0, at) and not _UNTOUCHED.match(html, tag)
