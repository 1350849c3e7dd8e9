"""How much height the head and the foot of a ticket take: foreseen from what they say and the faces."""

from dataclasses import dataclass
from math import ceil

from app.documents.kit.faces import BOLD, POINT_MM, SANS, SERIF
from app.documents.ticket.page import TicketPage
from app.documents.ticket.room import Measure

_TALLY = 13.5
"""How high the number of those that are alike and a line of their boxes are, mm."""

_BOXES_IN_A_LINE = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadAndFoot:
    """What stands over the columns of the first page, and under those of every page; heights in mm."""

    first: float
    following: float
    foot: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Letters:
    """Sizes as the style sheets have them: letters in points, the rest in mm.

    name: the number of the order; line, facts: what is said under it. code, drawing: the room beside these for the code
    and the drawing. least: the height that the code takes. bar, bar_line, check: the bar across the page, its line and its smaller words.
    foot, foot_line: the line under the columns.
    """

    name: float
    line: float
    facts: float
    code: float
    drawing: float
    least: float
    bar: float
    bar_line: float
    check: float
    foot: float
    foot_line: float


_WIDE = _Letters(
    name=21.0, line=11.5, facts=14.0, code=39.0, drawing=0.0, least=22.8,
    bar=12.5, bar_line=5.4, check=10.0, foot=9.05, foot_line=3.5,
)  # fmt: skip
_LOW = _Letters(
    name=16.0, line=10.5, facts=10.5, code=39.0, drawing=0.0, least=20.6,
    bar=12.5, bar_line=5.4, check=9.2, foot=9.05, foot_line=3.5,
)  # fmt: skip
_DENSE = _Letters(
    name=16.0, line=9.6, facts=9.6, code=33.0, drawing=22.0, least=20.2,
    bar=11.0, bar_line=4.6, check=8.5, foot=8.05, foot_line=3.0,
)  # fmt: skip

_VERSION = 62.0
"""The width of what says which print it is, beside the head where no code stands there."""


def head_of(page: TicketPage, measure: Measure, wide: float, *, low: bool) -> HeadAndFoot:
    """Measure the head and the foot of a ticket.

    wide: the width of the page; low: of small paper.
    """
    dense = measure.level.dense
    letters = _DENSE if dense else _LOW if low else _WIDE
    who = _dense_who(page, letters, wide) if dense else _who(page, letters, wide)
    who = max(who * POINT_MM, letters.least if page.code else 12.0)
    tally = 0.0
    if page.tally:
        more = sum(map(len, page.tally.boxes)) // _BOXES_IN_A_LINE + low
        tally = _TALLY + 5 * more
    check = f"small grey figures: check in {page.check_name}"
    bar = BOLD.width(page.unit_line, letters.bar) + SANS.width(check, letters.check)
    bars = ceil((bar + (2 if low else 4)) / (wide - 4))
    before = measure.words(page.before, wide)
    foot = SANS.lines(page.cautioned(low=low), letters.foot, wide)
    return HeadAndFoot(
        first=who + 1.2 + tally + 1.2 + letters.bar_line * bars + before + (1.0 if before else 0.0),
        following=13.0,
        foot=1.2 + letters.foot_line * foot,
    )


def _who(page: TicketPage, letters: _Letters, wide: float) -> float:
    """Measure whose ticket it is, in points."""
    room = wide - (letters.code if page.code else 0.0)
    about = (page.customer, page.about)
    return (
        ceil(_title(page, letters) / room) * 1.1 * letters.name
        + sum(min(2, SANS.lines(text, letters.line, room)) for text in about) * 1.22 * letters.line
        + SANS.lines(page.facts, letters.facts, room) * 1.22 * letters.facts
        + (13.0 if page.version and page.code else 0.0)
    )


def _dense_who(page: TicketPage, letters: _Letters, wide: float) -> float:
    """The same where customer and artwork, and what is due with which print it is, follow one another."""
    room = wide - letters.drawing - (letters.code if page.code else _VERSION)
    about = f"{page.customer} · {page.about}"
    version = f"  {page.version.said}" if page.version and page.code else ""
    return (
        ceil(_title(page, letters) / room) * 1.1 * letters.name
        + min(2, SANS.lines(about, letters.line, room)) * 1.22 * letters.line
        + SANS.lines(page.facts + version, letters.facts * 1.03, room) * 1.22 * letters.facts
    )


def _title(page: TicketPage, letters: _Letters) -> float:
    """Measure the number of the order and the piece in one line, mm."""
    title = SERIF.width(page.number, letters.name) + SERIF.width(f" {page.count}", 14)
    return title + (SERIF.width(" Rush it", 14) if page.rush else 0.0)
