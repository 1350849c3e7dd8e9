"""What a cutter cannot do with a mat, said before it is promised, and what can be done (B4).

Owns the limits and their sentences. They advise: the shop may know another way.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from app.bench.cuts import Cut, cuts_of
from app.bench.cutter import Cutter
from app.bench.mats import MatToCut
from app.bench.settings import MOST_EDGES_NAMED
from app.framing import Concern, Notice
from app.lengths import ZERO, Length, Unit, say, show_on_rule, show_size

_ELSE_STRAIGHT = "cut it by straight-edge, or order it cut"
_ELSE_OVAL = "order it cut, or have it cut where there is a cutter for ovals"
_ELSE_REVERSE = "work it on its own edges"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One thing that a cutter cannot do with a mat. otherwise: what can be done without one."""

    code: str
    says: str
    otherwise: str


def limits_of(mat: MatToCut, cutter: Cutter, unit: Unit) -> tuple[Limit, ...]:
    """Return everything that a cutter cannot do with a mat; sizes of the mat are said in a unit. Source: B4."""
    return tuple(_limits(mat, cutter, unit))


def can_cut(mat: MatToCut, cutter: Cutter) -> bool:
    """Tell whether a cutter can size a mat and cut every window in it."""
    return not limits_of(mat, cutter, cutter.unit)


def limit_notices(
    mats: Iterable[MatToCut],
    cutter: Cutter,
    unit: Unit,
    *,
    others: Sequence[Cutter] = (),
    mat_word: str = "mat",
) -> tuple[Notice, ...]:
    """Return a notice for each limit of each mat.

    unit: of the ticket. others: the shop's other cutters; those that can cut the whole mat are
    named, and only without one it is said what else can be done. mat_word: as the shop calls a mat.
    """
    mats = tuple(mats)
    several = {mat.piece for mat in mats if mat.layer > 1}
    return tuple(
        notice
        for mat in mats
        for notice in _notices(
            mat,
            _name(mat, mat_word, several=mat.piece in several),
            limits_of(mat, cutter, unit),
            (cutter, *others),
        )
    )


def _notices(
    mat: MatToCut, name: str, limits: tuple[Limit, ...], cutters: Sequence[Cutter]
) -> Iterator[Notice]:
    """Yield the limits of the first cutter; the others are asked only where it has any."""
    cutter, *others = cutters
    able = [other.name for other in others if can_cut(mat, other)] if limits else []
    for limit in limits:
        yield Notice(
            code=limit.code,
            message=f"{name} on “{cutter.name}”: {limit.says}. {_way_out(limit, able)}",
            concern=Concern.RISK,
        )


def _name(mat: MatToCut, mat_word: str, *, several: bool) -> str:
    """Return a mat as a sentence begins with it: "Mat 2", "The mat" of a piece that has one, "Mat 1 of 7/2"."""
    of = f" of {mat.piece}" if mat.piece else ""
    if several or of:
        return f"{mat_word.capitalize()} {mat.layer}{of}"
    return f"The {mat_word}"


def _way_out(limit: Limit, able: Sequence[str]) -> str:
    if able:
        return f"It can be cut on {' or '.join(f'“{name}”' for name in able)}."
    return f"{limit.otherwise[0].upper()}{limit.otherwise[1:]}."


def _limits(mat: MatToCut, cutter: Cutter, unit: Unit) -> Iterator[Limit]:
    cuts = cuts_of(mat, cutter)
    yield from _thickness(mat, cutter, unit)
    yield from _lengths(mat, cuts, cutter, unit)
    yield from _guide(cuts, cutter)
    yield from _overcuts(mat, cutter, unit)
    yield from _curves(mat, cutter)
    if mat.reverse and mat.attached:
        yield Limit(
            code="reverse-bevel-attached",
            says="a reverse bevel is cut from the face, which the mat above covers once it is "
            "fixed behind it",
            otherwise=_ELSE_REVERSE,
        )


def _thickness(mat: MatToCut, cutter: Cutter, unit: Unit) -> Iterator[Limit]:
    if mat.thickness > cutter.deepest_board:
        yield Limit(
            code="board-thicker-than-blade",
            says=f"the board is {say(mat.thickness, unit)} thick and the blade goes through "
            f"{_of_cutter(cutter.deepest_board, cutter, unit)}",
            otherwise=_ELSE_STRAIGHT,
        )


def _lengths(mat: MatToCut, cuts: tuple[Cut, ...], cutter: Cutter, unit: Unit) -> Iterator[Limit]:
    """Two limits of one length: to size a blank its longer side is cut from edge to edge; a window
    needs its longest cut with both offsets, while the board may stand out at the ends."""
    if max(mat.blank.width, mat.blank.height) > cutter.cut_length:
        yield Limit(
            code="blank-longer-than-cut",
            says=f"the blank of {show_size(mat.blank, unit, mark=True)} is longer than the cut "
            f"length, {_of_cutter(cutter.cut_length, cutter, unit)}, and cannot be sized in one cut",
            otherwise="size it by straight-edge, or order it cut",
        )
    longest = max((cut.length for cut in cuts), default=ZERO)
    if longest > cutter.cut_length:
        yield Limit(
            code="window-longer-than-cut",
            says=f"a cut of {show_on_rule(longest, unit, mark=True)} is longer than the cut length, "
            f"{_of_cutter(cutter.cut_length, cutter, unit)}",
            otherwise=_ELSE_STRAIGHT,
        )


def _guide(cuts: tuple[Cut, ...], cutter: Cutter) -> Iterator[Limit]:
    """Settings are said as the scale reads, whatever the ticket's unit (L3)."""
    beyond = [cut for cut in cuts if cutter.beyond_reach(cut.wanted)]
    if beyond:
        yield Limit(
            code="setting-beyond-reach",
            says=f"the guide reaches {cutter.say(cutter.guide_reach)}, too short for "
            f"{_edges(beyond, cutter)}",
            otherwise="draw these lines on the board and cut them by straight-edge, or order it cut",
        )
    below = [cut for cut in cuts if cutter.below_scale(cut.wanted)]
    if below:
        yield Limit(
            code="setting-below-scale",
            says=f"the scale begins above {_edges(below, cutter)}",
            otherwise="draw these lines on the board and cut them by straight-edge",
        )


def _overcuts(mat: MatToCut, cutter: Cutter, unit: Unit) -> Iterator[Limit]:
    """A window is too small for the head where a cut runs past its corners by as much as its side is long.

    Source: common practice; the bound is ours.
    """
    past = cutter.start_offset + cutter.end_offset
    small = [
        window
        for window in mat.windows
        if window.straight and past > ZERO and min(window.width, window.height) <= past
    ]
    if small:
        yield Limit(
            code="overcuts-as-large-as-window",
            says=f"the cuts run {_of_cutter(past, cutter, unit)} past the corners in all, which is as much as a side of "
            f"{', '.join(f'{one.name} ({show_size(one.size, unit, mark=True)})' for one in small)}",
            otherwise="cut so small a window by hand with a fine blade, or make it larger",
        )


def _curves(mat: MatToCut, cutter: Cutter) -> Iterator[Limit]:
    curved = [window for window in mat.windows if not window.straight]
    if curved and not cutter.cuts_ovals:
        names = ", ".join(f"{window.name} ({window.shape})" for window in curved)
        yield Limit(
            code="needs-cutter-for-ovals",
            says=f"a straight-line cutter cannot make {names}",
            otherwise=_ELSE_OVAL,
        )


def _edges(cuts: Sequence[Cut], cutter: Cutter) -> str:
    """Return each of a few edges with its setting, named as the board lies; of many, how many they are and how far they go.

    They are the edges that a step, a plan of the back and a mark name: whoever draws a line by this draws it where
    the board lies (G10).
    """
    if len(cuts) <= MOST_EDGES_NAMED:
        named = ", ".join(
            f"{_edge(cut)} at {cutter.say(cutter.on_scale(cut.wanted))}" for cut in cuts
        )
        lies = "face down" if cuts[0].mat.back_up else "face up"
        return f"{named}, named as the board lies {lies}"
    settings = sorted(cutter.on_scale(cut.wanted) for cut in cuts)
    return (
        f"{len(cuts)} edges of its windows, at {cutter.say(settings[0])} to "
        f"{cutter.say(settings[-1])}"
    )


def _edge(cut: Cut) -> str:
    """Name an edge as it lies: "left of A", and "the left edge" where the mat has one window."""
    if len(cut.mat.windows) == 1:
        return f"the {cut.edge_as_it_lies} edge"
    return f"{cut.edge_as_it_lies} of {cut.window.name}"


def _of_cutter(length: Length, cutter: Cutter, unit: Unit) -> str:
    """Return a length of the cutter in its own unit, and where the ticket has the other one in that too."""
    said = cutter.say(length)
    return said if unit is cutter.unit else f"{said} ({show_on_rule(length, unit, mark=True)})"
