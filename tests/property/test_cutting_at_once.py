"""What is left of one stick or sheet that is enough is what the simple plan leaves of it."""

from hypothesis import given
from hypothesis import strategies as st

from app.cutting import Sheet, SheetPart, SheetProblem, Stick, StickPart, StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.single_stock import left_of_one_sheet, left_of_one_stick
from app.cutting.sticks.simple import simple_stick_plan
from app.lengths import Length, Size, Unit, inches, mm

lengths = st.one_of(
    st.integers(1, 3200).map(lambda halves: mm(halves) / 2),
    st.integers(1, 64 * 60).map(lambda parts: inches(1) * parts / 64),
)
kerfs = st.sampled_from([mm(0), mm(3), mm("8.5"), inches(1) / 8])
trims = st.sampled_from([mm(0), mm(5)])


@given(st.lists(lengths, min_size=1, max_size=6), kerfs, trims, lengths, st.booleans())
def test_of_a_stick(
    rails: list[Length], kerf: Length, trim: Length, keep: Length, grouped: bool
) -> None:
    asked = StickProblem(
        unit=Unit.MM,
        stock=(Stick(id="new", length=mm(3000)),),
        parts=tuple(
            StickPart(id=str(n), length=rail, group="frame" if grouped else "")
            for n, rail in enumerate(rails)
        ),
        kerf=kerf,
        end_trim=trim,
        keep=keep,
    )
    plan, left = simple_stick_plan(asked), left_of_one_stick(asked)
    one_is_enough = not plan.unplaced and len(plan.bins) == 1
    assert (left is not None) == one_is_enough
    if left is not None:
        assert left == tuple(each.offcut.length for each in plan.bins if each.offcut)


sizes = st.builds(Size, lengths, lengths)


def sheet_of(sheet: Size) -> tuple[Sheet, ...]:
    return (Sheet(id="new", size=sheet),)


questions = st.builds(
    SheetProblem,
    unit=st.just(Unit.MM),
    stock=sizes.map(sheet_of),
    parts=st.builds(
        lambda size, turn: (SheetPart(id="a", size=size, turn=turn),), sizes, st.booleans()
    ),
    kerf=kerfs,
    trim=trims,
    stages=st.integers(2, 5),
    keep=st.one_of(st.none(), sizes),
)


@given(questions)
def test_of_a_sheet(asked: SheetProblem) -> None:
    plan, left = simple_sheet_plan(asked), left_of_one_sheet(asked)
    assert (left is not None) == (not plan.unplaced)
    if left is not None:
        planned = [rest.size.area_m2 for each in plan.bins for rest in each.offcuts]
        assert [size.area_m2 for size in left] == sorted(planned, reverse=True)


def test_more_than_one_blank_or_kind_of_stock_wants_a_plan() -> None:
    part, sheet = SheetPart(id="a", size=Size(mm(10), mm(10))), Size(mm(100), mm(100))
    one = Sheet(id="new", size=sheet)
    two = SheetPart(id="a", size=part.size, copies=2)
    for stock, parts in (
        ((one,), (two,)),
        ((one,), (part, SheetPart(id="b", size=part.size))),
        ((one, Sheet(id="old", size=sheet)), (part,)),
        ((one,), ()),
    ):
        assert left_of_one_sheet(SheetProblem(unit=Unit.MM, stock=stock, parts=parts)) is None
    sticks = (Stick(id="new", length=mm(100)), Stick(id="old", length=mm(90)))
    rail = StickPart(id="a", length=mm(10))
    assert left_of_one_stick(StickProblem(unit=Unit.MM, stock=sticks, parts=(rail,))) is None
    assert left_of_one_stick(StickProblem(unit=Unit.MM, stock=sticks[:1], parts=())) is None
