"""A virtual test cut: a cutter with faults cuts a board, and cuts it right once it is corrected (B7).

Written apart from the program's edges and corners: the board lies back up, its sides are found by a table
of quarter turns, a cut is a line with two ends on coordinates of the board, and a corner is where two
lines cross. Guide, stops and blade are off by amounts that only the measurements know.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from app.bench import (
    Cutter,
    MatToCut,
    Measured,
    NamedWindow,
    Reads,
    Scale,
    Stops,
    Stroke,
    correct,
    cuts_of,
    usual_cutter,
)
from app.framing import Edges
from app.lengths import ZERO, Length, Size, Unit, mm

BORDER, WIDTH, HEIGHT = mm(50), mm(300), mm(200)
ASKED = MatToCut(
    piece="",
    layer=1,
    blank=Size(WIDTH, HEIGHT),
    reference=Size(WIDTH, HEIGHT),
    windows=(NamedWindow(name="window", x=BORDER, y=BORDER, width=mm(200), height=mm(100)),),
    thickness=mm("1.4"),
    run=mm("1.4"),
)
SIDES = ("left", "top", "right", "bottom")

NEAR_WITH_GUIDE_LEFT = {"left": "bottom", "top": "left", "right": "top", "bottom": "right"}
"""Which side lies at the hand when another is turned to the left, where the guide is; by turning a sheet of
paper with its sides written on."""
NEAR_WITH_GUIDE_RIGHT = {"right": "bottom", "top": "right", "left": "top", "bottom": "left"}
OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Faults:
    """By how much each part is off. guide, near, far: where it stands, less what its scale says.

    needs_start, needs_end: the overcut that leaves a clean corner.
    """

    guide: Length
    near: Length
    far: Length
    needs_start: Length
    needs_end: Length


HUNDREDTHS = st.integers(-150, 150).map(lambda n: Length(Fraction(n, 100)))
"""Up to 1.5 mm, so that three of them and what is described together stay below the 10 that can be corrected."""
FAULTS = st.builds(
    Faults,
    guide=HUNDREDTHS,
    near=HUNDREDTHS,
    far=HUNDREDTHS,
    needs_start=HUNDREDTHS,
    needs_end=HUNDREDTHS,
)


@st.composite
def described(draw: st.DrawFn) -> Cutter:
    """A cutter as it is described before its test cut, with some corrections already."""
    step = mm(draw(st.sampled_from(["0.01", "0.5", "1"])))
    return replace(
        usual_cutter(Unit.MM),
        scales=(Scale(unit=Unit.MM, step=step),),
        reads=draw(st.sampled_from(Reads)),
        stroke=draw(st.sampled_from(Stroke)),
        guide_correction=draw(HUNDREDTHS),
        start_offset=draw(HUNDREDTHS),
        end_offset=draw(HUNDREDTHS),
        stops=Stops(
            near=draw(st.booleans()),
            far=draw(st.booleans()),
            near_correction=draw(HUNDREDTHS),
            far_correction=draw(HUNDREDTHS),
            guide_on_right=draw(st.booleans()),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A cut on the board. border: how far it lies from its side. from_start, from_end: how far its ends lie
    from the sides that they run towards, `towards_start` and `towards_end`."""

    border: Length
    towards_start: str
    from_start: Length
    towards_end: str
    from_end: Length


def cut_on(cutter: Cutter, faults: Faults) -> dict[str, Line]:
    """Cut the board by what the program says to set and to mark, on a cutter with these faults."""
    near_of = NEAR_WITH_GUIDE_RIGHT if cutter.stops.guide_on_right else NEAR_WITH_GUIDE_LEFT
    starts_far = (cutter.stroke is Stroke.PULL) is not cutter.stops.guide_on_right
    lines = {}
    for cut in cuts_of(ASKED, cutter):
        # Back up, left and right of the front have changed places.
        side = {"left": "right", "right": "left"}.get(cut.edge.value, cut.edge.value)
        length = HEIGHT if side in ("left", "right") else WIDTH
        marks = {
            "start": BORDER - cutter.start_offset,
            "end": BORDER - cutter.end_offset,
        }
        at = {name: cutter.on_scale(mark) for name, mark in marks.items()}
        at_near, at_far = ("end", "start") if starts_far else ("start", "end")
        if cut.stops.near is not None:
            at[at_near] = cut.stops.near + faults.near
        if cut.stops.far is not None:
            at[at_far] = length - (cut.stops.far + faults.far)
        near = near_of[side]
        towards = {at_near: near, at_far: OPPOSITE[near]}
        run = ASKED.run if cutter.reads is Reads.FACE else ZERO
        lines[side] = Line(
            border=cutter.on_scale(cut.wanted) + run + faults.guide,
            towards_start=towards["start"],
            from_start=at["start"],
            towards_end=towards["end"],
            from_end=at["end"],
        )
    return lines


def read_off(lines: dict[str, Line], faults: Faults) -> Measured:
    """Measure the board: borders, window, and how far each cut runs beyond the line that it meets."""
    borders = Edges(**{side: lines[side].border for side in SIDES})
    return Measured(
        borders=borders,
        window=Size(WIDTH - borders.left - borders.right, HEIGHT - borders.top - borders.bottom),
        past_start=Edges(
            **{
                side: lines[line.towards_start].border - line.from_start - faults.needs_start
                for side, line in lines.items()
            }
        ),
        past_end=Edges(
            **{
                side: lines[line.towards_end].border - line.from_end - faults.needs_end
                for side, line in lines.items()
            }
        ),
    )


@given(described(), FAULTS)
@settings(max_examples=200, deadline=None)
def test_one_test_cut_makes_the_next_one_right(cutter: Cutter, faults: Faults) -> None:
    """Borders and ends come to lie where they were asked for, but for half a step of the scale each."""
    corrected = correct(cutter, ASKED, read_off(cut_on(cutter, faults), faults)).cutter
    again = cut_on(corrected, faults)
    half = cutter.step / 2
    for line in again.values():
        assert abs(line.border - BORDER) <= half
        assert abs(line.from_start - (BORDER - faults.needs_start)) <= half
        assert abs(line.from_end - (BORDER - faults.needs_end)) <= half


@given(described(), FAULTS)
@settings(max_examples=100, deadline=None)
def test_on_a_scale_without_steps_to_miss_every_corner_is_clean(
    cutter: Cutter, faults: Faults
) -> None:
    fine = replace(cutter, scales=(Scale(unit=Unit.MM, step=mm("0.01")),))
    corrected = correct(fine, ASKED, read_off(cut_on(fine, faults), faults)).cutter
    seen = read_off(cut_on(corrected, faults), faults)
    assert seen.borders == Edges.equal(BORDER)
    assert seen.past_start == seen.past_end == Edges.equal(ZERO)


@given(described(), FAULTS)
@settings(max_examples=100, deadline=None)
def test_a_second_test_cut_finds_nothing_left_to_correct(cutter: Cutter, faults: Faults) -> None:
    once = correct(cutter, ASKED, read_off(cut_on(cutter, faults), faults))
    twice = correct(once.cutter, ASKED, read_off(cut_on(once.cutter, faults), faults))
    assert (twice.guide, twice.start, twice.end, twice.near, twice.far) == (ZERO,) * 5
    assert twice.cutter == once.cutter


@given(described(), FAULTS)
@settings(max_examples=100, deadline=None)
def test_what_a_stop_binds_corrects_the_stop_and_the_guide_its_own_fault(
    cutter: Cutter, faults: Faults
) -> None:
    """The corrections are the faults taken back; a stop of a blade described rightly moves by its own alone."""
    known = replace(cutter, start_offset=faults.needs_start, end_offset=faults.needs_end)
    found = correct(known, ASKED, read_off(cut_on(known, faults), faults))
    stops = known.stops
    assert found.guide == -(faults.guide + known.guide_correction)
    assert (found.start, found.end) == (ZERO, ZERO)
    assert found.near == (-(faults.near + stops.near_correction) if stops.near else ZERO)
    assert found.far == (-(faults.far + stops.far_correction) if stops.far else ZERO)
