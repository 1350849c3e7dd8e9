"""Small plans made by hand, for tests that take them as they are or spoil them."""

from fractions import Fraction

from app.cutting import (
    LaidPart,
    LaidRail,
    Maker,
    OpenedSheet,
    OpenedStick,
    Sheet,
    SheetCut,
    SheetPart,
    SheetPlan,
    SheetProblem,
    SheetRest,
    Stick,
    StickPart,
    StickPlan,
    StickProblem,
    StickRest,
    Unplaced,
    Way,
)
from app.lengths import Size, Unit, mm
from tests.builders.values import size


def rail(id: str, copy: int, at: str, length: str) -> LaidRail:
    return LaidRail(id=id, copy=copy, at=mm(at), length=mm(length))


def laid(
    id: str, copy: int, place: tuple[str, str], lies: Size, *, turned: bool = False
) -> LaidPart:
    x, y = place
    return LaidPart(id=id, copy=copy, x=mm(x), y=mm(y), size=lies, turned=turned)


def cut(stage: int, way: Way, at: str, start: str, end: str) -> SheetCut:
    return SheetCut(stage=stage, way=way, at=mm(at), start=mm(start), end=mm(end))


STICKS = StickProblem(
    unit=Unit.MM,
    stock=(
        Stick(id="new", length=mm(3000)),
        Stick(id="o1", length=mm(740), copies=1, cost=Fraction(0)),
    ),
    parts=(
        StickPart(id="A", length=mm(900), copies=3),
        StickPart(id="B", length=mm(600)),
        StickPart(id="L", length=mm(2990)),
    ),
    kerf=mm(4),
    end_trim=mm(10),
    keep=mm(100),
)

STICK_PLAN = StickPlan(
    asked=STICKS,
    bins=(
        OpenedStick(
            stock="o1",
            copy=1,
            parts=(rail("B", 1, "10", "600"),),
            offcut=StickRest(at=mm(614), length=mm(116)),
        ),
        OpenedStick(
            stock="new",
            copy=1,
            parts=(
                rail("A", 1, "10", "900"),
                rail("A", 2, "914", "900"),
                rail("A", 3, "1818", "900"),
            ),
            offcut=StickRest(at=mm(2722), length=mm(268)),
        ),
    ),
    unplaced=(Unplaced(id="L", copies=1, code="too-long", reason="It is longer than any stick."),),
    lower_bound=Fraction(1),
    maker=Maker.SIMPLE,
)
"""By hand. A new stick is used from 10 to 2990: 10 + 900 + 4 = 914, 914 + 900 + 4 = 1818, and
1818 + 900 + 4 = 2722 leave 2990 - 2722 = 268. The owned one is used from 10 to 730: 10 + 600 + 4 = 614
leave 730 - 614 = 116. L is longer than 3000 - 20 = 2980."""

SHEETS = SheetProblem(
    unit=Unit.MM,
    stock=(Sheet(id="full", size=size("1000", "800")),),
    parts=(
        SheetPart(id="M", size=size("300", "400"), copies=2),
        SheetPart(id="G", size=size("500", "380"), turn=False),
    ),
    kerf=mm(4),
    trim=mm(10),
    stages=2,
    keep=size("200", "100"),
)

SHEET_PLAN = SheetPlan(
    asked=SHEETS,
    bins=(
        OpenedSheet(
            stock="full",
            copy=1,
            cuts=(
                cut(0, Way.ACROSS, "6", "0", "1000"),
                cut(0, Way.ACROSS, "790", "0", "1000"),
                cut(0, Way.DOWN, "6", "10", "790"),
                cut(0, Way.DOWN, "990", "10", "790"),
                cut(1, Way.ACROSS, "390", "10", "990"),
                cut(1, Way.ACROSS, "694", "10", "990"),
                cut(2, Way.DOWN, "510", "10", "390"),
                cut(2, Way.DOWN, "410", "394", "694"),
                cut(2, Way.DOWN, "814", "394", "694"),
            ),
            parts=(
                laid("G", 1, ("10", "10"), size("500", "380")),
                laid("M", 1, ("10", "394"), size("400", "300"), turned=True),
                laid("M", 2, ("414", "394"), size("400", "300"), turned=True),
            ),
            offcuts=(
                SheetRest(x=mm(514), y=mm(10), size=size("476", "380")),
                SheetRest(x=mm(818), y=mm(394), size=size("172", "300")),
            ),
        ),
    ),
    unplaced=(),
    lower_bound=Fraction(1),
    maker=Maker.SOLVER,
)
"""By hand. Used from 10 to 990 across and to 790 down; the blade trims from 6 to 10 and from 990, 790 on.
First row 10 to 390: G, then 10 + 500 + 4 = 514 leave 990 - 514 = 476. Second row 390 + 4 = 394 to 694:
M turned, 10 + 400 + 4 = 414, M turned, 414 + 400 + 4 = 818 leave 172 by 300, which turned holds 100 by
200. Below it 694 + 4 = 698 leave 790 - 698 = 92 by 980, narrower than 100."""

TRIMMED = SheetPlan(
    asked=SheetProblem(
        unit=Unit.MM,
        stock=(Sheet(id="full", size=size("100", "100"), copies=1),),
        parts=(
            SheetPart(id="P", size=size("60", "50")),
            SheetPart(id="Q", size=size("40", "30")),
        ),
        stages=2,
        keep=size("90", "90"),
    ),
    bins=(
        OpenedSheet(
            stock="full",
            copy=1,
            cuts=(
                cut(1, Way.ACROSS, "50", "0", "100"),
                cut(2, Way.DOWN, "60", "0", "50"),
                cut(3, Way.ACROSS, "30", "60", "100"),
            ),
            parts=(
                laid("P", 1, ("0", "0"), size("60", "50")),
                laid("Q", 1, ("60", "0"), size("40", "30")),
            ),
        ),
    ),
    unplaced=(),
    lower_bound=Fraction(0),
    maker=Maker.SOLVER,
)
"""By hand. Two stages free a piece of 40 by 50 for Q; a third cut only trims 20 off it."""
