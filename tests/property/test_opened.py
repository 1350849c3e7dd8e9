"""Laws of a price by what is opened, for pieces of any size cut by any habits of the shop.

What is opened covers what is used; the plans pass the checker, which did not make them; the lines of a
price add up; nothing of it depends on what lies on the rack, since nothing of the rack is asked for.
"""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from app.cutting import StickPlan
from app.cutting.checker import faults_of_sheet_plan, faults_of_stick_plan
from app.framing import work_out
from app.lengths import Size, mm
from app.money import Money
from app.orders import CuttingHabits, Shop
from app.orders.standalone_plan import CutAlone, cut_alone, opened_alone
from app.pricing import (
    Charge,
    ChargeBy,
    Chosen,
    Material,
    Measure,
    OpenedSticks,
    PiecePrice,
    Selling,
    price_piece,
)
from app.pricing.opened import opened_for, taken
from app.pricing.uses import Use, uses_of
from tests.builders.values import EUR
from tests.builders.watercolour import WATERCOLOUR, backing, chosen, glazing, mat, moulding, rules
from tests.builders.worked import SHOP

OPENED = Charge(by=ChargeBy.OPENED)
TWICE = Selling(markup=Fraction(2))
sides = st.integers(min_value=60, max_value=1_900)
habits = st.builds(
    lambda end, edge, length, stages: CuttingHabits(
        end_trim=mm(end), sheet_trim=mm(edge), keep_length=mm(length), stages=stages
    ),
    st.sampled_from([0, 10, 25]),
    st.sampled_from([0, 5]),
    st.integers(0, 900),
    st.sampled_from([2, 3, 4]),
)
shops = st.builds(
    lambda cutting, saw, keep: replace(
        SHOP, cutting_habits=cutting, saw_loss=mm(saw), keep=Size(mm(keep), mm(100))
    ),
    habits,
    st.sampled_from(["0", "3", "8.5"]),
    st.sampled_from([100, 150, 400]),
)


@st.composite
def choices(draw: st.DrawFn) -> Chosen:
    """All sheets and sticks by what is opened; the two mats, or mat and backing, may be of one board."""
    top = mat(charge=OPENED, selling=TWICE)
    under = top if draw(st.booleans()) else mat(code="M2", charge=OPENED, selling=TWICE)
    least = replace(
        OPENED,
        minimum_length=mm(draw(st.sampled_from([0, 1500]))),
        step=mm(draw(st.sampled_from([0, 100]))),
    )
    return chosen(
        frames=(moulding(charge=least),),
        mats=(top, under),
        glazing=glazing(charge=replace(OPENED, minimum_area=draw(st.sampled_from(_AREAS)))),
        backing=backing(charge=OPENED, selling=TWICE),
    )


_AREAS = (Fraction(0), Fraction(1, 4))


@st.composite
def priced(draw: st.DrawFn) -> tuple[PiecePrice, tuple[Use, ...], tuple[CutAlone, ...], Shop]:
    artwork = Size(mm(draw(sides)), mm(draw(sides)))
    dimensions = work_out(replace(WATERCOLOUR, artwork=artwork))
    choice, shop = draw(choices()), draw(shops)
    opened = opened_alone(dimensions, choice, shop)
    price = price_piece(dimensions, choice, rules(saw_loss=shop.saw_loss), opened=opened)
    uses = uses_of(dimensions, choice)
    return price, uses, cut_alone(uses, shop), shop


@given(priced())
def test_what_is_charged_covers_what_is_used_and_lines_add_up(
    found: tuple[PiecePrice, tuple[Use, ...], tuple[CutAlone, ...], Shop],
) -> None:
    price, uses, _, _ = found
    for line, use in zip(price.lines, uses, strict=False):
        assert line.code == use.material.code
        assert _charged(line.quantity, line.measure, use.material) >= taken(use) or (
            use.material.charge.by is not ChargeBy.OPENED
        )
    assert price.subtotal == sum((line.amount for line in price.lines), Money.zero(EUR))


def _charged(quantity: Fraction, measure: Measure, material: Material) -> Fraction:
    """A quantity in mm, or m²."""
    if measure is Measure.SHEET:
        assert material.sheet is not None
        return quantity * material.sheet.size.area_m2
    return quantity * 1000


@given(priced())
def test_plans_are_true_use_up_no_less_than_the_parts_and_keep_only_what_is_worth_it(
    found: tuple[PiecePrice, tuple[Use, ...], tuple[CutAlone, ...], Shop],
) -> None:
    _, _, plans, shop = found
    for each in plans:
        used = sum(taken(use) for use in each.uses)
        opened = each.opened
        plan = each.plan
        if isinstance(plan, StickPlan):
            assert faults_of_stick_plan(plan) == ()
        else:
            assert faults_of_sheet_plan(plan) == ()
        assert opened.count == len(plan.bins)
        if isinstance(opened, OpenedSticks):
            assert opened.used_up.mm >= used
            assert all(length >= shop.cutting.keep_length for length in opened.kept)
        else:
            assert opened.used_up * opened.sheet.area_m2 >= used
            assert all(_worth_keeping(size, shop.keep) for size in opened.kept)


def _worth_keeping(size: Size, least: Size) -> bool:
    short, long = sorted((size.width, size.height))
    shortest, longest = sorted((least.width, least.height))
    return short >= shortest and long >= longest


@given(priced())
def test_uses_of_one_material_share_all_of_what_is_opened(
    found: tuple[PiecePrice, tuple[Use, ...], tuple[CutAlone, ...], Shop],
) -> None:
    _, uses, plans, _ = found
    opened: Mapping[str, object] = {each.material.code: each.opened for each in plans}
    shares: dict[str, Fraction] = dict.fromkeys(opened, Fraction(0))
    for use in uses:
        part = opened_for(use, uses, {each.material.code: each.opened for each in plans})
        if part is not None:
            assert 0 < part.share <= 1
            shares[use.material.code] += part.share
    assert set(shares.values()) == {Fraction(1)}
