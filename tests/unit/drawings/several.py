"""Pieces with several windows, and with windows that are not rectangles. Invented."""

from app.framing import (
    Align,
    Arrangement,
    Bevel,
    Dimensions,
    Opening,
    Point,
    Shape,
    Slot,
    Spec,
    UnderMats,
    UnderWay,
    rows_of,
    window_letter,
    work_out,
)
from app.lengths import mm
from tests.builders.drawn import BACKING, GLASS, borders, mat, moulding, spec
from tests.builders.values import size


def alike(count: int, width: int, height: int, **more: object) -> tuple[Opening, ...]:
    given = [
        {"name": window_letter(n), "artwork": size(width, height), **more} for n in range(count)
    ]
    return tuple(Opening(**one) for one in given)  # type: ignore[arg-type]


def grid(count: int, columns: int, gap: int) -> Arrangement:
    return Arrangement(rows=rows_of(count, columns), across=mm(gap), down=mm(gap))


def eight_spec() -> Spec:
    """Eight artworks of 110 × 160 in two rows, overlap 5: windows of 100 × 150.

    Package: 60 + 4 × 100 + 3 × 25 + 60 = 595 by 60 + 2 × 150 + 25 + 70 = 455. Outside, with a face
    of 25, a lip of 6 and 3 of allowance: 595 + 3 + 38 = 636 by 496; the package lies 20.5 inside.
    """
    return spec(
        110, 160, mats=(mat(),), borders=borders(60, 60, 60, 70), frames=(moulding(),),
        glazing=GLASS, backing=BACKING, openings=alike(8, 110, 160), arrangement=grid(8, 4, 25),
    )  # fmt: skip


def eight() -> Dimensions:
    return work_out(eight_spec())


def oval() -> Dimensions:
    """A window of 290 × 390 by its axes in borders of 60, 60, 60, 80, without a frame: 410 × 530."""
    return work_out(
        spec(300, 400, mats=(mat(),), borders=borders(60, 60, 60, 80),
             openings=(Opening(name="A", artwork=size(300, 400), shape=Shape.OVAL),))
    )  # fmt: skip


def arch() -> Dimensions:
    """A window of 290 × 390 with a rise of 80, in borders of 60, 60, 60, 80, without a frame."""
    return work_out(
        spec(300, 400, mats=(mat(),), borders=borders(60, 60, 60, 80),
             openings=(Opening(name="A", artwork=size(300, 400), shape=Shape.ARCH, rise=mm(80)),))
    )  # fmt: skip


def uneven() -> Dimensions:
    """Three over two of different sizes, by places that no two share; D has a title slot."""
    places = {"A": (60, 60), "B": (380, 90), "C": (530, 200), "D": (100, 300)}
    at = {name: Point(x=mm(x), y=mm(y)) for name, (x, y) in places.items()}
    return work_out(
        spec(
            100, 100, mats=(mat(), mat(reveal=6)), package=size(700, 580), frames=(moulding(),),
            openings=(
                Opening(name="A", artwork=size(250, 180), at=at["A"]),
                Opening(name="B", window=size(100, 140), at=at["B"]),
                Opening(name="C", artwork=size(120, 120), shape=Shape.OVAL, at=at["C"]),
                Opening(name="D", artwork=size(300, 140), at=at["D"], floats=True,
                        slot=Slot(size=size(90, 12), gap=mm(22))),
            ),
        )
    )  # fmt: skip


def many_windows() -> dict[str, Dimensions]:
    """Everything that is hard to draw about several windows."""
    sizes = [(150, 100), (100, 150), (120, 120), (200, 130), (90, 140)]
    scattered = tuple(
        Opening(
            name=window_letter(n),
            window=size(50 + 3 * n % 17, 60 + 5 * n % 23),
            at=Point(x=mm(50 + (n % 6) * 130 + 7 * n % 29), y=mm(50 + (n // 6) * 150 + 5 * n % 31)),
        )
        for n in range(24)
    )
    frame = (moulding(),)
    specs = {
        "three over two": spec(
            200, 150, mats=(mat(), mat(reveal=6)), borders=borders(60, 60, 60, 60), frames=frame,
            openings=tuple(
                Opening(name=window_letter(n), artwork=size(*one)) for n, one in enumerate(sizes)
            ),
            arrangement=Arrangement(rows=(3, 2), align=Align.BOTTOM, across=mm(25), down=mm(30)),
        ),
        "shapes in a row": spec(
            100, 150, mats=(mat("2.4"),), borders=borders(60, 60, 60, 60), frames=frame, groove=mm(8),
            openings=(
                Opening(name="A", artwork=size(150, 200), shape=Shape.ARCH),
                Opening(name="B", artwork=size(200, 200), shape=Shape.OVAL),
                Opening(name="C", artwork=size(150, 200), floats=True),
            ),
            arrangement=Arrangement(rows=(3,), across=mm(30)),
        ),
        "title slot and groove": spec(
            250, 350, mats=(mat(), mat(reveal=5)), borders=borders(70, 70, 70, 70), frames=frame,
            groove=mm(10), openings=alike(1, 250, 350, slot=Slot(size=size(120, 18), gap=mm(35))),
        ),
        "three mats": spec(
            110, 160, mats=(mat(), mat(reveal=6), mat(reveal=4)), borders=borders(70, 70, 70, 80),
            frames=frame, under=UnderMats(way=UnderWay.OWN_EDGES, trim=mm(3)),
            openings=alike(4, 110, 160), arrangement=grid(4, 2, 40),
        ),
        "trimmed behind": spec(
            110, 160, mats=(mat(), mat(reveal=6)), borders=borders(70, 70, 70, 80), frames=frame,
            under=UnderMats(trim=mm(3)), openings=alike(4, 110, 160), arrangement=grid(4, 2, 40),
        ),
        "twenty-four": spec(
            60, 60, mats=(mat(),), borders=borders(50, 50, 50, 60), frames=frame,
            openings=alike(24, 60, 60), arrangement=grid(24, 6, 22),
        ),
        "twenty-four in a row": spec(
            60, 90, mats=(mat(),), borders=borders(50, 50, 50, 60), frames=frame,
            openings=alike(24, 60, 90), arrangement=grid(24, 24, 22),
        ),
        "twenty-four in a column": spec(
            60, 90, mats=(mat(),), borders=borders(50, 50, 50, 60), frames=frame,
            openings=alike(24, 60, 90), arrangement=grid(24, 1, 22),
        ),
        "scattered": spec(
            100, 100, mats=(mat(), mat(reveal=6)), package=size(900, 700), frames=frame,
            openings=scattered,
        ),
        "two tiny": spec(
            20, 15, mats=(mat(),), borders=borders(20, 20, 20, 22), frames=(moulding(10, 4),),
            openings=alike(2, 20, 15, overlap=mm(1)), arrangement=grid(2, 2, 10),
        ),
        "panoramas": spec(
            700, 150, mats=(mat(), mat(reveal=6)), borders=borders(60, 60, 60, 60), frames=frame,
            openings=alike(3, 700, 150), arrangement=grid(3, 3, 40),
        ),
        "three, two, one": spec(
            130, 90, mats=(mat(),), borders=borders(60, 60, 60, 60), frames=frame,
            openings=alike(6, 130, 90),
            arrangement=Arrangement(rows=(3, 2, 1), across=mm(25), down=mm(25)),
        ),
        "reverse bevels": spec(
            110, 160, mats=(mat(bevel=Bevel(reverse=True)),), borders=borders(60, 60, 60, 70),
            frames=frame, openings=alike(3, 110, 160), arrangement=grid(3, 3, 25),
        ),
        "long names": spec(
            110, 160, mats=(mat(),), borders=borders(60, 60, 60, 70), frames=frame,
            openings=tuple(
                Opening(name=name, artwork=size(110, 160))
                for name in ("Grandmother", "Harbour 1931", "The twins")
            ),
            arrangement=grid(3, 3, 25),
        ),
    }  # fmt: skip
    drawn = {name: work_out(one) for name, one in specs.items()}
    return {"eight": eight(), "oval": oval(), "arch": arch(), "uneven": uneven(), **drawn}
