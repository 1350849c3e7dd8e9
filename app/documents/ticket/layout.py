"""How closely a ticket is set, and how large its drawings are: as roomy as the paper allows.

Owns the choice. Heights are foreseen from what the ticket says, so that it is rarely set twice; only
the finished page shows whether it fits. No density takes letters below 9 pt or cut sizes below 14.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from app.orders import Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class Density:
    """classes: of the style sheet. front: the most height of the front drawing, plan: the room of
    a mat's drawing, mm. in_columns: on one page, the drawings beside the figures; else the mats at
    the cutter have a page of their own, or with `running` follow what is above them. work_first: whether all
    else is on the page before it. checks_whole: whether the checks stay together with the drawing beside them.
    ends_beside: whether the tables of where cuts start and end stand under the drawings, in columns.
    """

    classes: str
    front: int
    plan: tuple[int, int]
    in_columns: bool = True
    work_first: bool = False
    running: bool = False
    checks_whole: bool = True
    ends_beside: bool = False

    @property
    def pages(self) -> int:
        """For how many pages of ticket the density is made."""
        return 1 if self.in_columns else 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What a ticket says, as far as it takes room: texts by the place where they stand.

    above: what the head has beyond its own height, mm. figures: rows of cut sizes; groups: the headings of the cut
    list; settings, steps: rows at the guide; beside: rows of small tables in the narrow column; across: the rows of
    the longest one under the columns, ends: of the same tables in the narrow column, 0 where they are too wide for it.
    front, mats: width over height of what is drawn; none for a piece without mats.
    """

    above: float

    figures: int
    groups: Sequence[str]
    parts: Sequence[str]
    settings: Sequence[str]
    steps: Sequence[str]
    remarks: Sequence[str]
    beside: float
    across: int
    ends: float
    checks: Sequence[str]
    work: Sequence[str]
    care: Sequence[str]
    front: float
    mats: Sequence[float]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Type:
    """Heights of what is set with one class, as they come out on paper, and the width of a letter,
    about; all in mm. wide, narrow: shares of the two columns. foot: what comes to the part below.
    """

    classes: str
    wide: float
    narrow: float
    head: float
    foot: float
    heading: float
    figure: float
    line: float
    letter: float
    small: float
    care: float

    def lines(self, text: str, wide: float) -> int:
        """Estimate how many lines a text takes in a width."""
        return ceil(len(text) * self.letter / wide)


_TYPES = (
    _Type(classes="roomy", wide=0.6, narrow=0.373, head=33, foot=3, heading=8.3, figure=7.1,
          line=4.4, letter=1.5, small=4.4, care=3.9),
    _Type(classes="snug", wide=0.6, narrow=0.373, head=33, foot=0.5, heading=6.9, figure=5.7,
          line=4.1, letter=1.48, small=4.4, care=3.6),
    _Type(classes="snug wide", wide=0.655, narrow=0.32, head=33, foot=0.5, heading=6.9, figure=5.7,
          line=4.1, letter=1.48, small=4.4, care=3.6),
    _Type(classes="tight wide", wide=0.655, narrow=0.32, head=28.2, foot=-3, heading=5.9, figure=5.3,
          line=3.8, letter=1.37, small=3.9, care=3.35),
)  # fmt: skip

_FLOWING = tuple(each for each in _TYPES if each.classes != "snug wide")
"""Over two pages a wider column only makes drawings smaller."""

_ROOM = {Paper.A4: (188.0, 281.0), Paper.LETTER: (193.9, 263.4), Paper.A5: (132.0, 196.0)}
"""Inside the margins, mm."""

_NARROW_PAPER = 150
"""Width under which drawings are kept smaller, mm."""

_SPARE = 8.0
"""What is left free beside drawings, as foresight is not exact, mm: with less of it more tickets are set in
smaller letters around larger drawings, and more of them twice. Source: ours, measured."""

_LEAST_FRONT, _LEAST_PLAN = 28, 32
_MOST_FRONT, _MOST_PLAN = 66, 62


def densities_for(said: Said, paper: Paper) -> tuple[Density, ...]:
    """Return the densities to try: first the roomiest that may fit one page, then those over two pages,
    last the one that takes the fewest.
    """
    in_columns = () if paper is Paper.A5 else tuple(_in_columns(said, paper))
    wide = _ROOM[paper][0]
    flowing = (_flowing(said, each, wide) for each in _FLOWING)
    stacked = _stacked(said, _TYPES[-1], wide)
    # Rather than a last page with a line or two; of as many pages the last one is taken.
    running = (replace(stacked, running=True, checks_whole=whole) for whole in (False, True))
    low = replace(stacked, front=_LEAST_FRONT, plan=(stacked.plan[0], _LEAST_PLAN))
    return tuple(dict.fromkeys((*in_columns, *flowing, stacked, low, *running)))


def _flowing(said: Said, of: _Type, wide: float) -> Density:
    """Lay the ticket out over several pages: on A4 and Letter with the drawings of the mats beside the
    guide, as they fit a page; on A5 above it.
    """
    if wide < _NARROW_PAPER:
        return _stacked(said, of, wide)
    narrow = int(wide * of.narrow)
    return Density(
        classes=of.classes,
        front=_MOST_FRONT,
        plan=(narrow, min(190 // max(len(said.mats), 1) - 6, narrow)),
        in_columns=False,
        work_first=True,
    )


def _stacked(said: Said, of: _Type, wide: float) -> Density:
    """Lay the ticket out over as few pages as can be, with the drawings of the mats side by side above the guide."""
    plan = (min(int(wide / max(len(said.mats), 1)) - 2, 64), 43)
    return Density(classes=of.classes, front=45, plan=plan, in_columns=False)


def _in_columns(said: Said, paper: Paper) -> Iterator[Density]:
    for each in _TYPES:
        under = _foreseen(said, each, paper)
        beside = _ends_beside(said, each, paper) if said.ends else None
        yield from (found for found in (under, beside) if found is not None)


def _ends_beside(said: Said, of: _Type, paper: Paper) -> Density | None:
    """Return the same with the tables under the drawings, which takes less height where the narrow column has room."""
    moved = replace(said, beside=said.beside + said.ends, across=0, ends=0)
    found = _foreseen(moved, of, paper)
    return None if found is None else replace(found, ends_beside=True)


def _foreseen(said: Said, of: _Type, paper: Paper) -> Density | None:
    """Return the drawings as large as the page leaves room for; None where it has not enough."""
    wide, high = _ROOM[paper]
    columns = high - of.head - said.above - _below(said, of, wide)
    main = _main(said, of, wide * of.wide)
    room = columns - of.heading * (2 if said.mats else 1) - _beside(said, of)
    least = _LEAST_FRONT + _LEAST_PLAN * len(said.mats)
    if main > columns or room < least:
        return None
    drawings = max(room - _SPARE, least)
    narrow = wide * of.narrow
    front = min(_MOST_FRONT, narrow / said.front)
    plans = [min(_MOST_PLAN, (narrow - 12) / mat + 12) for mat in said.mats]
    share = min(1.0, drawings / (front + sum(plans)))
    shown = max(_LEAST_FRONT, int(front * share))
    plan = int((drawings - shown) / len(plans)) if plans else 0
    return Density(
        classes=of.classes,
        front=shown,
        plan=(int(narrow), max(_LEAST_PLAN, min(plan, _MOST_PLAN))),
    )


def _main(said: Said, of: _Type, wide: float) -> float:
    """Estimate the height of the wide column: cut list and guide."""
    return (
        of.heading * (2 if said.mats else 1)
        + said.figures * of.figure
        + sum(of.lines(text, wide) * of.line + 0.8 for text in said.groups)
        + sum(max(of.figure, of.lines(text, wide - 66) * of.line) for text in said.parts)
        + sum(max(of.figure, of.lines(text, wide - 50) * of.line) for text in said.settings)
        + sum(of.lines(text, wide - 6) * of.line + 0.5 for text in said.steps)
        + sum(of.lines(text, wide) for text in said.remarks) * of.care
    )


def _beside(said: Said, of: _Type) -> float:
    """Estimate the height of what stands with the drawings in the narrow column: a line under each mat,
    small tables.
    """
    return len(said.mats) * (of.care + 0.6) + said.beside * of.small


def _below(said: Said, of: _Type, wide: float) -> float:
    """Estimate the height of what stands under the columns."""
    half = wide * 0.486
    checks = sum(of.lines(text, half - 19) for text in said.checks) * of.line
    work = sum(of.lines(text, half - 6) * of.line + 1 for text in said.work)
    care = sum(of.lines(text, half - 6) for text in said.care) * of.care
    tables = said.across * of.small + 4 if said.across else 0.0
    return of.heading + of.foot + tables + max(checks, work + care)
