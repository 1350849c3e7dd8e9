"""Random pieces that can be made, as plans on the plane and as the program's specs."""

from hypothesis import strategies as st

from app.framing import (
    Edges,
    Frame,
    Mat,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
)
from app.lengths import ZERO, Size, Unit
from tests.property.plane import GRAINS_PER_UNIT, Moulding, Plan, as_length

MATTED = ("window", "float")


@st.composite
def plans(draw: st.DrawFn, *, presentations: tuple[str, ...] | None = None) -> Plan:
    """Plans whose figures a shop could meet: sides of 60 mm to 1.5 m, borders from 20 mm."""
    unit = draw(st.sampled_from(Unit))
    per_mm = GRAINS_PER_UNIT[unit] if unit is Unit.MM else GRAINS_PER_UNIT[unit] / 25.4

    def grains(least_mm: float, most_mm: float) -> int:
        return draw(st.integers(int(least_mm * per_mm) + 1, int(most_mm * per_mm)))

    every = tuple(each.value for each in Presentation if each is not Presentation.AS_IT_CAME)
    presentation = draw(st.sampled_from(presentations or every))
    needs_mat, may_have_mat = presentation == "window", presentation in MATTED
    layers = draw(st.integers(1 if needs_mat else 0, 3)) if may_have_mat else 0
    reveals = tuple(grains(2, 15) for _ in range(layers - 1))
    artwork = (grains(60, 1500), grains(60, 1500))
    overlap, gap = grains(0, 12), grains(0, 25)
    weighting, borders, package = 0, None, None
    given = draw(st.sampled_from(("borders", "package", "both"))) if layers else "neither"
    if given in ("borders", "both"):
        borders = (grains(20, 150), grains(20, 150), grains(20, 150), grains(20, 150))
    if given == "both":
        package = (grains(400, 1500), grains(400, 1500))
    if given == "package":
        weighting = draw(st.one_of(st.just(0), st.integers(0, int(20 * per_mm))))
        window = [
            side + (-2 * overlap if presentation == "window" else 2 * gap) + 2 * sum(reveals)
            for side in artwork
        ]
        package = (window[0] + grains(40, 300), window[1] + weighting + grains(40, 300))
    mouldings = []
    for _ in range(draw(st.integers(0, 3))):
        face = grains(8, 100)
        lip = draw(st.integers(0, min(face - 1, int(15 * per_mm))))
        mouldings.append(Moulding(face, lip, draw(st.integers(0, int(6 * per_mm)))))
    return Plan(
        unit=unit,
        presentation=presentation,
        artwork=artwork,
        overlap=overlap,
        gap=gap,
        layers=layers,
        reveals=reveals,
        thicknesses=tuple(grains(0.5, 4) for _ in range(layers)),
        borders=borders,
        package=package,
        weighting=weighting,
        own_edges=draw(st.booleans()),
        trim=draw(st.integers(0, int(10 * per_mm))),
        mouldings=tuple(mouldings),
        panel_trim=draw(st.integers(0, int(3 * per_mm))),
        spacer_width=grains(2, 10),
    )


def spec_of(plan: Plan) -> Spec:
    """The same piece as the program reads it. The first reveal given belongs to layer 2."""
    unit = plan.unit

    def size(pair: tuple[int, int]) -> Size:
        return Size(width=as_length(pair[0], unit), height=as_length(pair[1], unit))

    mats = tuple(
        Mat(
            thickness=as_length(thickness, unit),
            reveal=as_length(plan.reveals[layer - 1], unit) if layer else None,
        )
        for layer, thickness in enumerate(plan.thicknesses)
    )
    panel = Panel(thickness=as_length(20, unit), trim=as_length(plan.panel_trim, unit))
    return Spec(
        unit=unit,
        artwork=size(plan.artwork),
        presentation=Presentation(plan.presentation),
        overlap=as_length(plan.overlap, unit),
        gap=as_length(plan.gap, unit),
        mats=mats,
        borders=Edges(
            **{
                side: as_length(border, unit)
                for side, border in zip(
                    ("left", "right", "top", "bottom"), plan.borders, strict=True
                )
            }
        )
        if plan.borders
        else None,
        package=size(plan.package) if plan.package else None,
        weighting=as_length(plan.weighting, unit),
        under=UnderMats(
            way=UnderWay.OWN_EDGES if plan.own_edges else UnderWay.ATTACHED,
            trim=as_length(plan.trim, unit),
        ),
        frames=tuple(
            Frame(
                face=as_length(moulding.face, unit),
                lip=as_length(moulding.lip, unit),
                rebate_depth=ZERO,
                allowance=as_length(moulding.allowance, unit),
            )
            for moulding in plan.mouldings
        ),
        glazing=panel,
        mount_board=panel,
        backing=panel,
        spacer=Spacer(depth=as_length(10, unit), width=as_length(plan.spacer_width, unit)),
    )
