"""A test cut: what was asked for against what was measured, and the corrections that follow (B7).

Owns the arithmetic from measured errors to a corrected cutter, and what makes measurements useless.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from app.bench.cuts import cuts_of
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
    """What was measured on a test mat, on its back, edges named as seen from the front.

    past_start, past_end: how far each edge's cut runs beyond the corner at its beginning and end,
    seen at the face; less than zero where it stops short, zero for a clean corner.
    """

    borders: Edges
    window: Size
    past_start: Edges
    past_end: Edges


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What a test cut changes. errors: measured less asked, by side. guide, start, end: what is
    added to the cutter's own corrections."""

    cutter: Cutter
    errors: Edges
    guide: Length
    start: Length
    end: Length
    notices: tuple[Notice, ...]


def correct(cutter: Cutter, asked: MatToCut, measured: Measured) -> Correction:
    """Return the cutter corrected by one test cut.

    asked: a mat with one rectangular window, cut with this cutter's settings and corrections. The
    guide's error is the mean over the four sides of what was measured less what the scale was set
    for, so that the scale's own step is no error; start and end likewise.
    Raises: Invalid with every fault, at the fields of `Measured` and of the cutter.
    """
    _check(cutter, asked, measured)
    wanted, off = _asked_borders(asked), _off_by_the_step(cutter, asked)
    errors = Edges(
        **{side: length - wanted[side] - off[side] for side, length in measured.borders.sides()}
    )
    guide, start, end = (
        -_mean(edges) for edges in (errors, measured.past_start, measured.past_end)
    )
    corrected = replace(
        cutter,
        guide_correction=cutter.guide_correction + guide,
        start_offset=cutter.start_offset + start,
        end_offset=cutter.end_offset + end,
    )
    return Correction(
        cutter=corrected,
        errors=errors,
        guide=guide,
        start=start,
        end=end,
        notices=tuple(_uneven(cutter, errors, measured)),
    )


def _asked_borders(asked: MatToCut) -> dict[str, Length]:
    (window,) = asked.windows
    return {edge.value: asked.border(window, edge) for edge in Edge}


def _off_by_the_step(cutter: Cutter, asked: MatToCut) -> dict[str, Length]:
    """By side, how much larger than wanted the border was set because the scale has steps."""
    return {
        cut.edge.value: cutter.on_scale(cut.wanted) - cut.wanted for cut in cuts_of(asked, cutter)
    }


def _mean(edges: Edges) -> Length:
    return sum((length for _, length in edges.sides()), ZERO) / 4


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


def _uneven(cutter: Cutter, errors: Edges, measured: Measured) -> Iterator[Notice]:
    """Yield what one correction for all sides cannot cure."""
    doubt = cutter.step * _STEPS_OF_DOUBT
    for code, edges, says in (
        (
            "borders-uneven",
            errors,
            "The four borders are off by different amounts, up to {} apart: "
            "the board is not square, or the guide not parallel to the cut. The mean is corrected.",
        ),
        (
            "starts-uneven",
            measured.past_start,
            "The cuts begin up to {} apart from each other: "
            "see that the stop holds. The mean is corrected.",
        ),
        (
            "ends-uneven",
            measured.past_end,
            "The cuts end up to {} apart from each other: see that "
            "the stop holds. The mean is corrected.",
        ),
    ):
        lengths = [length for _, length in edges.sides()]
        apart = max(lengths) - min(lengths)
        if apart > doubt:
            yield Notice(code=code, message=says.format(cutter.say(apart)), concern=Concern.LOOK)
