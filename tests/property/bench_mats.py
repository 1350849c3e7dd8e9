"""Random mats for the bench: windows in a grid with uneven columns, rows, gaps and borders."""

from dataclasses import replace
from itertools import accumulate

from hypothesis import strategies as st

from app.bench import Cutter, MatToCut, NamedWindow, Reads, Stroke, usual_cutter
from app.lengths import Size, Unit, mm
from tests.builders.cutters import with_pins

HALVES = st.integers(40, 240)
"""Half millimetres: 20 to 120 mm."""


@st.composite
def mats(
    draw: st.DrawFn, *, piece: str = "", layer: int = 1, attached: bool = False, most: int = 4
) -> MatToCut:
    """A mat with up to `most` by `most` windows, front or reverse bevel, on a trimmed blank or not."""
    lines = []
    for _ in ("x", "y"):
        count = draw(st.integers(1, most))
        spans = [draw(HALVES) for _ in range(2 * count + 1)]  # border, window, gap, ..., border
        lines.append(list(accumulate([0, *spans])))
    xs, ys = ([mm(at) / 2 for at in line] for line in lines)
    windows = tuple(
        NamedWindow(
            name=f"{row}.{column}",
            x=xs[column],
            y=ys[row],
            width=xs[column + 1] - xs[column],
            height=ys[row + 1] - ys[row],
        )
        for row in range(1, len(ys) - 1, 2)
        for column in range(1, len(xs) - 1, 2)
    )
    reference = Size(xs[-1], ys[-1])
    trim = mm(draw(st.integers(0, 10)))
    blank = Size(reference.width - trim * 2, reference.height - trim * 2)
    return MatToCut(
        piece=piece,
        layer=layer,
        blank=blank if attached else reference,
        reference=reference,
        windows=windows,
        thickness=mm("1.4"),
        run=mm(draw(st.sampled_from(["0", "1.4", "2", "0.857143"]))),
        reverse=draw(st.booleans()) and not attached,
        attached=attached,
    )


@st.composite
def pieces(draw: st.DrawFn, *, most: int = 3) -> tuple[MatToCut, ...]:
    """Up to three layers of a piece, all attached or each on its own edges."""
    attached = draw(st.booleans())
    return tuple(
        draw(mats(piece="one", layer=layer, attached=attached and layer > 1, most=most))
        for layer in range(1, draw(st.integers(1, 3)) + 1)
    )


@st.composite
def cutters(draw: st.DrawFn, *, plain: bool = False) -> Cutter:
    """Cutters of every kind that reach everywhere. plain: with nothing corrected."""
    tenths = st.just(0) if plain else st.integers(-30, 30)
    pitch = draw(st.sampled_from([None, 5, 10, 12]))
    usual = usual_cutter(draw(st.sampled_from(Unit)))
    if pitch is not None:
        usual = with_pins(usual, first=mm(draw(st.integers(0, 40))), pitch=mm(pitch))
    return replace(
        usual,
        guide_reach=mm(5000),
        cut_length=mm(5000),
        reads=draw(st.sampled_from(Reads)),
        stroke=draw(st.sampled_from(Stroke)),
        guide_correction=mm(draw(tenths)) / 10,
        start_offset=mm(draw(tenths)) / 10,
        end_offset=mm(draw(tenths)) / 10,
    )
