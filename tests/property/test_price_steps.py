"""At the size that a price step names the line costs as much more or less, and up to there it does not (P14).

The piece is priced anew at each size, by its borders; the steps themselves are worked out without that.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from app.framing import Edges, Spec, work_out
from app.lengths import Length, Size, mm
from app.money import Money
from app.pricing import Charge, ChargeBy, Chosen, CostPer, Material, Selling, SizeBand, price_piece
from app.pricing.steps import PriceStep, Way, steps_of
from app.pricing.uses import uses_of
from tests.builders.values import EUR
from tests.builders.watercolour import WATERCOLOUR, backing, chosen, glazing, mat, moulding, rules

BORDER = mm(400)
"""Wide enough to be made narrower by every step that is looked at."""

waste = st.fractions(0, 1, max_denominator=20)
sides = st.integers(60, 900)
cutting_steps = st.sampled_from([mm("0.5"), mm(1), mm(Fraction(254, 160))])


@st.composite
def sheet_charges(draw: st.DrawFn) -> Charge:
    by = draw(st.sampled_from([ChargeBy.AREA, ChargeBy.SHEET_SHARE, ChargeBy.SIZE_BAND]))
    limits = sorted(draw(st.lists(st.integers(1000, 4000), min_size=4, max_size=4, unique=True)))
    prices = draw(st.lists(st.integers(0, 9000), min_size=4, max_size=4))
    return Charge(
        by=by,
        waste=draw(waste),
        minimum_area=draw(st.fractions(0, 5, max_denominator=20)),
        bands=tuple(
            SizeBand(up_to=mm(up_to), price=Money(price, EUR))
            for up_to, price in zip(limits, prices, strict=True)
        )
        if by is ChargeBy.SIZE_BAND
        else (),
    )


@st.composite
def sheets(draw: st.DrawFn, plain: Material) -> Material:
    charge = draw(sheet_charges())
    by_band = charge.by is ChargeBy.SIZE_BAND
    assert plain.sheet is not None
    of = Size(mm(draw(st.integers(900, 2600))), mm(draw(st.integers(900, 2600))))
    return replace(
        plain,
        charge=charge,
        per=draw(st.sampled_from([CostPer.SHEET, CostPer.SQUARE_METRE, CostPer.SQUARE_FOOT])),
        selling=Selling() if by_band else Selling(markup=Fraction(5, 2)),
        sheet=replace(plain.sheet, size=of),
    )


@st.composite
def choices(draw: st.DrawFn) -> Chosen:
    length = Charge(
        by=ChargeBy.LENGTH,
        waste=draw(waste),
        minimum_length=mm(draw(st.integers(0, 12_000))),
        step=mm(draw(st.integers(0, 700))),
    )
    return chosen(
        frames=(moulding(charge=length),),
        mats=(draw(sheets(mat())), draw(sheets(mat()))),
        glazing=draw(sheets(glazing())),
        backing=draw(sheets(backing())),
    )


def changed(spec: Spec, way: Way, by: Length) -> Spec:
    assert spec.borders is not None
    borders = spec.borders
    if way.across:
        return replace(spec, borders=replace(borders, left=borders.left + by * way.sign))
    return replace(spec, borders=replace(borders, top=borders.top + by * way.sign))


def sizes_on_the_way(step: PriceStep, each: Length) -> Iterator[Length]:
    """Some sizes short of a step: the last ones, and one half-way."""
    count = int(step.by / each)
    return (each * number for number in {count - 1, count - 2, count // 2} if 0 < number < count)


@given(choices(), sides, sides, cutting_steps)
def test_a_price_step_is_where_the_line_jumps_and_by_how_much(
    choice: Chosen, width: int, height: int, each: Length
) -> None:
    shop = rules()
    spec = replace(
        WATERCOLOUR, artwork=Size(mm(width), mm(height)), borders=Edges.equal(BORDER), package=None
    )
    dimensions = work_out(spec)
    price = price_piece(dimensions, choice, shop)
    for place, (use, line) in enumerate(
        zip(uses_of(dimensions, choice), price.lines, strict=False)
    ):
        found = steps_of(use, line, shop.saw_loss, each)
        for step, ways in (
            (found.smaller, (Way.NARROWER, Way.LOWER)),
            (found.larger, (Way.WIDER, Way.HIGHER)),
        ):
            if step is None or step.by >= BORDER:
                continue

            def amount(way: Way, by: Length, at: int = place) -> Money:
                return price_piece(work_out(changed(spec, way, by)), choice, shop).lines[at].amount

            for way in step.ways:
                assert amount(way, step.by) - line.amount == step.difference
                assert step.begins or step.difference.minor
            for way in ways:
                for short in sizes_on_the_way(step, each):
                    assert amount(way, short) == line.amount
