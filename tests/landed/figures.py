"""The figures of a page or a paper: every number that can be read on it, with its unit, however often it stands there.

Where it stands and in what words is left out, so that a page may be laid out and worded anew and still be held to
say the same.
"""

import re
from collections import Counter
from collections.abc import Iterator
from html import unescape

from lxml.html import HtmlElement, HTMLParser, document_fromstring

UNITS = frozenset({"mm", "cm", "m", "m²", "kg", "g", "g/m²", "lb", "N", "min", "h", "%"})
"""What a number is read together with where it stands behind it. Inches have a mark or are told by their page."""

_APART = re.compile(r"[()\[\]{};“”„…·|×=]|/(?!\d)")
_AROUND = ".,:;!?☐"
_FRACTION = re.compile(r"\d+/\d+\Z")
_WHOLE = re.compile(r"-?\d+\Z")
_UNSEEN = frozenset({"script", "style", "template", "head", "datalist", "noscript"})
_NOT_TYPED_IN = frozenset({"hidden", "radio", "checkbox", "submit", "button", "file"})

type Figures = Counter[str]


def figures_in(text: str) -> Figures:
    """Every figure of a text: "2 1/2 m" is one, and so are "Q-2026-0001" and "13:05"."""
    apart = _APART.sub(" | ", text.replace("−", "-"))
    words = [word for each in apart.split() if (word := each.strip(_AROUND))]
    found: list[str] = []
    before = ""
    for word in words:
        is_number = any(letter.isdecimal() for letter in word)
        if is_number and _FRACTION.match(word) and _WHOLE.match(before):
            found[-1] = f"{before} {word}"
        elif is_number:
            found.append(word)
        elif before and word in UNITS:
            found[-1] += word
        before = word if is_number else ""
    return Counter(found)


def text_of_page(html: str) -> str:
    """What can be read on a page: its words, what stands in its fields, the words in its drawings."""
    body = document_fromstring(html, HTMLParser(remove_comments=True))
    return unescape(" ".join(_read(body)))


def _read(element: HtmlElement) -> Iterator[str]:
    tag = element.tag.rpartition("}")[2]
    if tag not in _UNSEEN and element.get("hidden") is None:
        if tag == "input" and element.get("type", "text") not in _NOT_TYPED_IN:
            yield element.get("value", "")
        elif tag == "option" and element.get("selected") is None:
            pass
        else:
            yield element.text or ""
            for child in element:
                yield from _read(child)
    yield element.tail or ""


def as_text(figures: Figures) -> str:
    """One line, sorted: "12.5mm 40 40mm*3"; read back by `read`."""
    return " | ".join(
        figure if count == 1 else f"{figure} *{count}" for figure, count in sorted(figures.items())
    )


def read(line: str) -> Figures:
    """The figures of a line."""
    found: Figures = Counter()
    for each in line.split(" | ") if line else ():
        figure, _, count = each.partition(" *")
        found[figure] = int(count or 1)
    return found


def difference(before: Figures, now: Figures) -> str:
    """What is gone and what is new; empty where nothing is."""
    gone, new = before - now, now - before
    said = [f"{sign} {as_text(which)}" for sign, which in (("gone:", gone), ("new:", new)) if which]
    return "; ".join(said)
