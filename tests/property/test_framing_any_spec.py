"""Whatever is asked for: either every part can be cut, or every fault says its field and its figures."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Fault, Invalid
from app.framing import (
    Bevel,
    Dimensions,
    Edges,
    Frame,
    Mat,
    ObjectInBox,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
    in_steps,
    work_out,
)
from app.lengths import ALLOWED_STEPS, ZERO, Length, Size, Steps, Unit, mm
from tests.property.plane import Plan
from tests.property.planning import plans, spec_of

any_length = st.one_of(
    st.integers(-40, 400).map(lambda tenths: Length.of(tenths, Unit.MM)),
    st.integers(-8, 64).map(lambda grains: Length.of(grains, Unit.IN) / 16),
)
any_size = st.builds(Size, any_length, any_length)
any_mat = st.builds(
    Mat,
    thickness=any_length,
    reveal=st.none() | any_length,
    bevel=st.builds(Bevel, degrees=st.integers(30, 90), reverse=st.booleans()),
)
any_frame = st.builds(
    Frame, face=any_length, lip=any_length, rebate_depth=any_length, allowance=any_length
)
any_panel = st.none() | st.builds(Panel, thickness=any_length, trim=any_length)
any_borders = st.none() | st.builds(
    Edges, left=any_length, right=any_length, top=any_length, bottom=any_length
)
any_under = st.builds(UnderMats, way=st.sampled_from(UnderWay), trim=any_length)
any_spacer = st.none() | st.builds(Spacer, depth=any_length, width=any_length)
any_box = st.none() | st.builds(ObjectInBox, clearance=any_length)
any_spec = st.builds(
    Spec,
    unit=st.sampled_from(Unit),
    artwork=any_size,
    artwork_thickness=any_length,
    presentation=st.sampled_from(Presentation),
    overlap=any_length,
    gap=any_length,
    mats=st.lists(any_mat, max_size=4).map(tuple),
    borders=any_borders,
    package=st.none() | any_size,
    weighting=any_length,
    under=any_under,
    frames=st.lists(any_frame, max_size=3).map(tuple),
    glazing=any_panel,
    spacer=any_spacer,
    mount_board=any_panel,
    backing=any_panel,
    boxed=any_box,
)

PATH = re.compile(
    r"artwork\.(width|height|thickness)|overlap|gap|weighting|under_trim|spacer|spacer_width"
    r"|presentation"
    r"|mats(\.[0-3](\.(thickness|reveal|bevel))?)?|borders(\.(left|right|top|bottom))?"
    r"|package(\.(width|height))?|frames\.[0-2]\.(face|lip|rebate_depth|allowance)"
    r"|(glazing|mount_board|backing)\.(thickness|trim)"
)


FIELDS = {
    "artwork": any_size,
    "overlap": any_length,
    "gap": any_length,
    "mats": st.lists(any_mat, max_size=4).map(tuple),
    "borders": any_borders,
    "package": st.none() | any_size,
    "weighting": any_length,
    "under": any_under,
    "frames": st.lists(any_frame, max_size=3).map(tuple),
    "glazing": any_panel,
    "spacer": any_spacer,
    "boxed": any_box,
}


@st.composite
def spoiled_specs(draw: st.DrawFn) -> Spec:
    """A piece that can be made, with one or two of its fields replaced by anything."""
    spec = spec_of(draw(plans()))
    names = draw(st.lists(st.sampled_from(sorted(FIELDS)), min_size=1, max_size=2, unique=True))
    return replace(spec, **{name: draw(FIELDS[name]) for name in names})


def check_faults(faults: tuple[Fault, ...]) -> None:
    for fault in faults:
        assert PATH.fullmatch(fault.path), fault.path
        assert not fault.message[0].islower()
        assert fault.message.endswith(".")
        assert " -" not in fault.message, "a minus is typeset, a double one is a slip"
    assert len(set(faults)) == len(faults)


def check_parts(worked: Dimensions) -> None:
    parts = [
        *((f"window {w.layer}", w.size) for w in worked.windows),
        *((f"face {w.layer}", w.face) for w in worked.windows),
        *((f"blank {layer.layer}", layer.blank) for layer in worked.layers),
        ("package", worked.package),
        *(("sight", f.sight) for f in worked.frames),
        *(("outside", f.outside) for f in worked.frames),
        *(("panel", p) for p in (worked.glazing, worked.mount_board, worked.backing) if p),
    ]
    assert [name for name, size in parts if min(size.width, size.height) <= ZERO] == []
    for layer in worked.layers:
        assert min(length for _, length in layer.borders.sides()) > ZERO
    assert min((length for length, _ in worked.spacers), default=worked.package.width) > ZERO
    assert worked.stack >= ZERO
    for notice in worked.notices:
        assert notice.message.endswith(".")


@given(any_spec | spoiled_specs())
def test_a_spec_is_either_possible_in_every_part_or_said_why_not(spec: Spec) -> None:
    try:
        worked = work_out(spec)
    except Invalid as invalid:
        faults = invalid.faults
    else:
        check_parts(worked)
        for step in ALLOWED_STEPS[spec.unit]:
            in_steps(worked, Steps(unit=spec.unit, step=step))
        return
    check_faults(faults)


@given(plans(), st.integers(0, 400), st.integers(0, 400), st.booleans())
def test_an_object_shares_the_depth_of_its_walls_and_else_changes_no_part(
    plan: Plan, height: int, spacer: int, glazed: bool
) -> None:
    """Source: G22, max(a, b) = a + b - min(a, b), against the sum of all that lies flat (D1)."""
    flat = replace(
        spec_of(plan),
        artwork_thickness=mm(height) / 10,
        spacer=Spacer(depth=mm(spacer) / 10, width=mm(1)),
    )
    if not glazed:
        flat = replace(flat, glazing=None)
    lying = work_out(flat)
    walls = sum((mat.thickness for mat in flat.mats), mm(spacer) / 10)
    boxed = replace(flat, boxed=ObjectInBox(clearance=mm(3)))
    canvas = flat.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    if canvas or (flat.glazing and mm(height) / 10 > walls):
        with pytest.raises(Invalid) as refused:
            work_out(boxed)
        paths = [fault.path for fault in refused.value.faults]
        assert paths == ["presentation" if canvas else "spacer"]
        return
    standing = work_out(boxed)
    assert standing.stack == lying.stack - min(mm(height) / 10, walls)
    assert replace(standing, spec=flat, stack=lying.stack, notices=lying.notices) == lying
