"""A test cut: what was asked for against what was measured, and the corrections that follow (B7).

Owns the arithmetic from measured errors to a corrected cutter, and what makes measurements useless.

What a cut runs past its corner is the sum of three things: its overcut, what bound it there, and where
the corner itself came to lie, which is where the border of the neighbouring side was cut. The last is the
guide's, which the same test cut corrects: it brings the corner back to where it was asked for, and no stop
and no mark moves with it, since both are measured from an edge of the board. So what the neighbouring
border came out too wide is taken off what was measured. The first two no reading can tell apart, so
what is left corrects what the cut was stopped by: where a stop bound it, the stop (B9), and the overcut stays
what the blade needs; where it went by a mark, the overcut.

By hand: borders of 50.5 for 50, every cut 1 past its corner. The corner lay at 50.5, so the cut ended at
49.5, half a millimetre past the corner that was asked for. The guide is set 0.5 less, the near stop 0.5
further from the arm, the far stop 0.5 nearer to it; moved by 1, both would end the next cut 0.5 short.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from app.bench.cuts import Cut, cuts_of
from app.bench.cutter import LARGEST_CORRECTION, Cutter
from app.bench.edge import Edge
from app.bench.mats import MatToCut
from app.errors import FaultCollector, Invalid
from app.framing import Concern, Edges, Notice
from app.lengths import ZERO, Length, Size

_STEPS_OF_DOUBT = 2
"""Three readings, each good to half a step, can add up to one and a half. Source: arithmetic."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured on a test mat, on its back, edges named as the board lay on the cutter.

    past_start, past_end: how far each edge's cut runs beyond the corner, as it was cut, at its beginning
    and end, seen at the face; less than zero where it stops short, zero for a clean corner.
    """

    borders: Edges
    window: Size
    past_start: Edges
    past_end: Edges


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What a test cut changes, edges named as the board lay.

    errors: by side, measured less what the scale was set for. past_start, past_end: how far each cut ran
    beyond the corner that was asked for, without what the scale's step took. guide, start, end, near,
    far: what is added to the cutter's own corrections, of the stops last.
    """

    cutter: Cutter
    errors: Edges
    past_start: Edges
    past_end: Edges
    guide: Length
    start: Length
    end: Length
    near: Length
    far: Length
    notices: tuple[Notice, ...]


def correct(cutter: Cutter, asked: MatToCut, measured: Measured) -> Correction:
    """Return the cutter corrected by one test cut.

    asked: a mat with one rectangular window, cut with this cutter's settings and corrections. The
    guide's error is the mean over the four sides of what was measured less what the scale was set
    for, so that the scale's own step is no error. Starts and ends likewise, from the corner that was
    asked for: the mean of what was measured there less what the border of the side that the cut runs
    towards came out too wide, each for the stop that bound it, or for the cutter's overcut where it
    went by a mark.
    Raises: Invalid with every fault, at the fields of `Measured` and of the cutter.
    """
    _check(cutter, asked, measured)
    wanted, off = _asked_borders(asked), _off_by_the_step(cutter, asked)
    errors = Edges(
        **{side: length - wanted[side] - off[side] for side, length in measured.borders.sides()}
    )
    ends = tuple(_ends(asked, cutter, measured))
    guide = -_mean(length for _, length in errors.sides())
    start, end, near, far = (
        _mean(one.past for one in ends if one.bound_by == bound)
        for bound in ("start", "end", "near", "far")
    )
    corrected = replace(
        cutter,
        guide_correction=cutter.guide_correction + guide,
        start_offset=cutter.start_offset - start,
        end_offset=cutter.end_offset - end,
        stops=replace(
            cutter.stops,
            near_correction=cutter.stops.near_correction + near,
            far_correction=cutter.stops.far_correction - far,
        ),
    )
    return Correction(
        cutter=corrected,
        errors=errors,
        past_start=Edges(**{one.side: one.past for one in ends if one.is_start}),
        past_end=Edges(**{one.side: one.past for one in ends if not one.is_start}),
        guide=guide,
        start=-start,
        end=-end,
        near=near,
        far=-far,
        notices=tuple(_uneven(cutter, errors, ends)),
    )


@dataclass(frozen=True, slots=True)
class _End:
    """An end of a cut. side: of the cut. is_start: else its end. bound_by: "near" or "far" stop, or
    "start" or "end" mark.

    past: how far it ran beyond the corner that was asked for, without what the scale's step took.
    """

    side: str
    is_start: bool
    bound_by: str
    past: Length


def _ends(asked: MatToCut, cutter: Cutter, measured: Measured) -> Iterator[_End]:
    """Yield both ends of each cut with what its reading tells."""
    past_start, past_end = dict(measured.past_start.sides()), dict(measured.past_end.sides())
    borders, wanted = dict(measured.borders.sides()), _asked_borders(asked)
    for cut in cuts_of(asked, cutter):
        side = cut.edge_as_it_lies.value
        for is_start, mark, read in (
            (True, cut.start, past_start[side]),
            (False, cut.end, past_end[side]),
        ):
            beside = asked.as_it_lies(mark.edge).value
            if cut.start_to_mark if is_start else cut.end_to_mark:
                bound_by = "start" if is_start else "end"
                by_step = mark.distance - cutter.on_scale(mark.distance)
            else:
                is_near = cut.begins_near is is_start
                bound_by = "near" if is_near else "far"
                by_step = _outwards(cut, near=is_near)
            past = read - (borders[beside] - wanted[beside]) - by_step
            yield _End(side, is_start, bound_by, past)


def _outwards(cut: Cut, *, near: bool) -> Length:
    """Return by how much the scale's step lets a cut run further than wanted; the near stop lets it by standing nearer."""
    wanted, set_at = cut.stops_wanted, cut.stops
    exact, at = (wanted.near, set_at.near) if near else (wanted.far, set_at.far)
    if exact is None or at is None:
        return ZERO
    return exact - at if near else at - exact


def _asked_borders(asked: MatToCut) -> dict[str, Length]:
    """Return the borders that were asked for, by side as the board lies."""
    (window,) = asked.windows
    return {asked.as_it_lies(edge).value: asked.border(window, edge) for edge in Edge}


def _off_by_the_step(cutter: Cutter, asked: MatToCut) -> dict[str, Length]:
    """By side as the board lies, how much larger than wanted the border was set because the scale has steps."""
    return {
        cut.edge_as_it_lies.value: cutter.on_scale(cut.wanted) - cut.wanted
        for cut in cuts_of(asked, cutter)
    }


def _mean(lengths: Iterable[Length]) -> Length:
    """Return the mean; zero of none."""
    lengths = tuple(lengths)
    return sum(lengths, ZERO) / len(lengths) if lengths else ZERO


def _check(cutter: Cutter, asked: MatToCut, measured: Measured) -> None:
    if len(asked.windows) != 1 or not asked.windows[0].straight or asked.reverse:
        raise Invalid.at(
            "test", "A test cut is one rectangular window with its bevel towards the face."
        )
    found = FaultCollector()
    _check_readings(found, cutter, measured)
    if not found:
        _check_sums(found, cutter, asked, measured)
    _check_ends(found, cutter, measured)
    found.finish()


def _check_readings(found: FaultCollector, cutter: Cutter, measured: Measured) -> None:
    readings = (
        *((f"borders.{side}", f"The {side} border", b) for side, b in measured.borders.sides()),
        ("window.width", "The window's width", measured.window.width),
        ("window.height", "The window's height", measured.window.height),
    )
    for path, what, length in readings:
        if length <= ZERO:
            found.add(path, f"{what} was measured as {cutter.say(length)}; it must be above zero.")


def _check_ends(found: FaultCollector, cutter: Cutter, measured: Measured) -> None:
    for name, edges in (("past_start", measured.past_start), ("past_end", measured.past_end)):
        for side, past in edges.sides():
            if abs(past) > LARGEST_CORRECTION:
                found.add(
                    f"{name}.{side}",
                    f"The cut at the {side} was measured {cutter.say(past)} from its corner; at "
                    f"most {cutter.say(LARGEST_CORRECTION)} either way can be corrected.",
                )


def _check_sums(found: FaultCollector, cutter: Cutter, asked: MatToCut, measured: Measured) -> None:
    """Borders and window fill the board, so readings that do not add up are not worth a correction."""
    borders, window = measured.borders, measured.window
    doubt = cutter.step * _STEPS_OF_DOUBT
    for path, what, read, board in (
        (
            "window.width",
            "Left border, window and right border",
            borders.left + window.width + borders.right,
            asked.reference.width,
        ),
        (
            "window.height",
            "Top border, window and bottom border",
            borders.top + window.height + borders.bottom,
            asked.reference.height,
        ),
    ):
        if abs(read - board) > doubt:
            found.add(
                path,
                f"{what} were measured as {cutter.say(read)} together, and the board is "
                f"{cutter.say(board)}; they may differ by {cutter.say(doubt)}. Measure again.",
            )
    wanted = _asked_borders(asked)
    for side, length in borders.sides():
        error = length - wanted[side]
        if abs(error) > LARGEST_CORRECTION:
            found.add(
                f"borders.{side}",
                f"The {side} border came out {cutter.say(error)} from what was asked; more than "
                f"{cutter.say(LARGEST_CORRECTION)} is no matter of a correction: look at the guide "
                "and the scale.",
            )


def _uneven(cutter: Cutter, errors: Edges, ends: Iterable[_End]) -> Iterator[Notice]:
    """Yield what one correction for all sides cannot cure."""
    doubt = cutter.step * _STEPS_OF_DOUBT
    ends = tuple(ends)
    for code, lengths, says in (
        (
            "borders-uneven",
            [length for _, length in errors.sides()],
            "The four borders are off by different amounts, up to {} apart: "
            "the board is not square, or the guide not parallel to the cut. The mean is corrected.",
        ),
        (
            "starts-uneven",
            [one.past for one in ends if one.is_start],
            "The cuts begin up to {} apart from each other: "
            "see that the stop holds. The mean is corrected.",
        ),
        (
            "ends-uneven",
            [one.past for one in ends if not one.is_start],
            "The cuts end up to {} apart from each other: see that "
            "the stop holds. The mean is corrected.",
        ),
    ):
        apart = max(lengths) - min(lengths)
        if apart > doubt:
            yield Notice(code=code, message=says.format(cutter.say(apart)), concern=Concern.LOOK)


def doubt_of(cutter: Cutter) -> Length:
    """Return by how much three readings of one board may differ from it."""
    return cutter.step * _STEPS_OF_DOUBT
