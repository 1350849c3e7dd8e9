"""Drawings whose figures are read at the bench, on a phone too: never shown smaller than they can be read."""

import re
from math import ceil

from markupsafe import Markup

from app.drawings import view_of

LEAST = 12
"""CSS pixels of the smallest letters. Source: common practice for text that is read standing, at arm's length."""

_LETTERS = re.compile(r'<text [^>]*?font-size="([\d.]+)"')


def readable(svg: str) -> Markup:
    """Return a drawing with the width at which its smallest letters are just readable as its own width.

    The style sheet lets it grow from there to the width of the page, and scroll where the page has less. A drawing
    without a word stays as it is.
    """
    letters = [float(size) for size in _LETTERS.findall(svg)]
    if not letters:
        return Markup(svg)
    width = ceil(view_of(svg).width * LEAST / min(letters))
    return Markup(str(svg).replace("<svg ", f'<svg width="{width}" ', 1))
