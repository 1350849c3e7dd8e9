"""Whatever windows are asked for: either every part can be cut, or every fault says its field."""

import re
from dataclasses import replace
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from app.errors import Fault, Invalid
from app.framing import (
    Align,
    Arrangement,
    Bevel,
    Dimensions,
    Edges,
    Opening,
    Point,
    Shape,
    Slot,
    Spec,
    in_steps,
    snapped_up,
    work_out,
)
from app.lengths import ALLOWED_STEPS, ZERO, Length, Size, Steps, Unit
from tests.property.laying import grids, spec_of

any_length = st.integers(-60, 600).map(lambda grains: Length.of(grains, Unit.MM))
any_size = st.builds(Size, any_length, any_length)
any_slot = st.none() | st.builds(Slot, size=any_size, gap=any_length)
any_opening = st.builds(
    Opening,
    name=st.sampled_from(("A", "B", "C", "A slot", "")),
    artwork=st.none() | any_size,
    window=st.none() | any_size,
    floats=st.none() | st.booleans(),
    overlap=st.none() | any_length,
    gap=st.none() | any_length,
    shape=st.sampled_from(Shape),
    rise=st.none() | any_length,
    at=st.none() | st.builds(Point, x=any_length, y=any_length),
    slot=any_slot,
)
any_arrangement = st.none() | st.builds(
    Arrangement,
    rows=st.lists(st.integers(-1, 4), max_size=3).map(tuple),
    align=st.sampled_from(Align),
    across=st.none() | any_length,
    down=st.none() | any_length,
)
any_borders = st.none() | st.builds(
    Edges, left=any_length, right=any_length, top=any_length, bottom=any_length
)
FIELDS: dict[str, st.SearchStrategy[object]] = {
    "openings": st.lists(any_opening, max_size=4).map(tuple),
    "arrangement": any_arrangement,
    "borders": any_borders,
    "package": st.none() | any_size,
    "weighting": any_length,
    "groove": st.none() | any_length,
    "overlap": any_length,
    "mats": st.just(()),
}


@st.composite
def spoiled(draw: st.DrawFn) -> Spec:
    """Windows that can be made, with up to three fields replaced by anything."""
    spec = spec_of(draw(grids()))
    names = draw(st.lists(st.sampled_from(sorted(FIELDS)), max_size=3, unique=True))
    if "openings" not in names and draw(st.booleans()):
        changed = draw(any_opening)
        spec = replace(spec, openings=(*spec.openings[:-1], changed))
    if draw(st.booleans()):
        bevel = Bevel(degrees=draw(st.integers(30, 90)), reverse=draw(st.booleans()))
        spec = replace(spec, mats=tuple(replace(mat, bevel=bevel) for mat in spec.mats))
    return replace(spec, **{name: draw(FIELDS[name]) for name in names})  # type: ignore[arg-type]


PATH = re.compile(
    r"windows(\.\d+(\.(id|width|height|x|y|overlap|gap|rise|slot|artwork)(\.(width|height|gap))?)?)?"
    r"|arrangement(\.(rows|across|down))?|groove|overlap|gap|weighting|under_trim"
    r"|artwork\.(width|height)|mats(\.\d(\.bevel)?)?|borders(\.(left|right|top|bottom))?"
    r"|package(\.(width|height))?"
)


def check_parts(worked: Dimensions) -> None:
    """Nothing without a size, nothing over anything else, nothing at or past the edge."""
    for window in worked.windows:
        assert min(window.size.width, window.size.height) > ZERO
        assert min(window.face.width, window.face.height) > ZERO
    for layer in worked.layers:
        assert min(length for _, length in layer.borders.sides()) > ZERO
        for one, other in combinations(worked.windows_of(layer.layer), 2):
            across = max(other.x - one.x - one.size.width, one.x - other.x - other.size.width)
            down = max(other.y - one.y - one.size.height, one.y - other.y - other.size.height)
            assert max(across, down) > ZERO
    for line in worked.grooves:
        assert line.x > ZERO
        assert line.x + line.size.width < worked.package.width
    names = [window.name for window in worked.windows_of(1)]
    assert len(set(names)) == len(names)
    assert all(fallout.sound.height > ZERO for fallout in worked.fallouts)


def check_faults(faults: tuple[Fault, ...]) -> None:
    for fault in faults:
        assert PATH.fullmatch(fault.path), fault.path
        assert not fault.message[0].islower()
        assert fault.message.endswith(".")
        assert " -" not in fault.message, "a minus is typeset"
    assert len(set(faults)) == len(faults)


@given(spoiled())
def test_windows_are_either_possible_in_every_part_or_said_why_not(spec: Spec) -> None:
    snapped_up(spec)
    try:
        worked = work_out(spec)
    except Invalid as invalid:
        faults = invalid.faults
    else:
        check_parts(worked)
        for step in ALLOWED_STEPS[spec.unit]:
            in_steps(worked, Steps(unit=spec.unit, step=step))
        assert all(notice.message.endswith(".") for notice in worked.notices)
        return
    check_faults(faults)
