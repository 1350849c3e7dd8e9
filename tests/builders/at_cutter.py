"""Mats and cutters in few words for the tests of the bench: millimetres unless said."""

from dataclasses import replace

from app.bench import Cutter, MatToCut, NamedWindow, mats_to_cut, usual_cutter
from app.framing import (
    Dimensions,
    Edges,
    Mat,
    Presentation,
    Shape,
    Spec,
    UnderMats,
    UnderWay,
    in_steps,
    work_out,
)
from app.lengths import ZERO, Length, Size, Steps, Unit, mm
from tests.builders.cutters import with_pins

CUTTER = with_pins(usual_cutter(Unit.MM), first=mm(10), pitch=mm(10))
"""Half millimetres, holes every 10 mm, guide reaching 200 mm, and nothing corrected."""

HALF = Steps(unit=Unit.MM, step=mm("0.5"))


def window(name: str, x: str, y: str, width: str, height: str) -> NamedWindow:
    return NamedWindow(name=name, x=mm(x), y=mm(y), width=mm(width), height=mm(height))


def oval(name: str, x: str, y: str, width: str, height: str) -> NamedWindow:
    return replace(window(name, x, y, width, height), shape=Shape.OVAL)


def mat(
    width: str,
    height: str,
    *windows: NamedWindow,
    piece: str = "",
    layer: int = 1,
    attached: bool = False,
    run: str = "1.4",
    reverse: bool = False,
) -> MatToCut:
    """A mat whose blank is what borders are measured from."""
    size = Size(mm(width), mm(height))
    return MatToCut(
        piece=piece,
        layer=layer,
        blank=size,
        reference=size,
        windows=windows,
        thickness=mm("1.4"),
        run=mm(run),
        reverse=reverse,
        attached=attached,
    )


def framed_by(
    left: str, right: str, top: str, bottom: str, *, piece: str = "", layer: int = 1
) -> MatToCut:
    """A mat with one window of 200 x 100 inside the borders given."""
    borders = [mm(border) for border in (left, right, top, bottom)]
    size = Size(borders[0] + mm(200) + borders[1], borders[2] + mm(100) + borders[3])
    return MatToCut(
        piece=piece,
        layer=layer,
        blank=size,
        reference=size,
        windows=(
            NamedWindow(name="window", x=borders[0], y=borders[2], width=mm(200), height=mm(100)),
        ),
        thickness=mm("1.4"),
        run=mm("1.4"),
        attached=layer > 1,
    )


def piece_cut(
    *reveals: str,
    borders: tuple[str, str, str, str] = ("70", "70", "70", "80"),
    way: UnderWay = UnderWay.ATTACHED,
    trim: str = "0",
) -> Dimensions:
    """A watercolour of 420 x 297 behind mats with the reveals given, in steps of half a millimetre."""
    left, right, top, bottom = (mm(border) for border in borders)
    spec = Spec(
        unit=Unit.MM,
        artwork=Size(mm(420), mm(297)),
        presentation=Presentation.WINDOW,
        overlap=mm(5),
        gap=ZERO,
        mats=(
            Mat(thickness=mm("1.4")),
            *(Mat(thickness=mm("1.4"), reveal=mm(reveal)) for reveal in reveals),
        ),
        borders=Edges(left=left, right=right, top=top, bottom=bottom),
        under=UnderMats(way=way, trim=mm(trim)),
    )
    return in_steps(work_out(spec), HALF)


def sketch_piece() -> tuple[MatToCut, ...]:
    """Two mats, the under one attached: borders 70 70 70 80 and 76 76 76 86."""
    return mats_to_cut(piece_cut("6", trim="3"))


def rows_of_eight() -> MatToCut:
    """Two rows of four windows, 100 x 150, 20 apart, borders 60 and 80 at the bottom."""
    return mat(
        "580",
        "460",
        *(
            window(f"{row}{column}", str(60 + 120 * column), str(60 + 170 * index), "100", "150")
            for index, row in enumerate("AB")
            for column in range(4)
        ),
    )


def plain(cutter: Cutter) -> Cutter:
    """A cutter that reaches everywhere, so that only the order is in question."""
    return replace(cutter, guide_reach=mm(2000))


def in_mm(length: Length) -> str:
    return str(length.mm)
