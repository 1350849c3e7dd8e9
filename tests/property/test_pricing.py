"""Laws of every price: sums, shares, monotony, turning (P2 to P6)."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from app.framing import Edges, Spec, work_out
from app.lengths import Size, mm
from app.money import Money, TaxPolicy, TaxRounding
from app.pricing import (
    Adjustments,
    Charge,
    ChargeBy,
    Chosen,
    CostPer,
    Material,
    PiecePrice,
    PriceRules,
    Selling,
    SizeBand,
    price_order,
    price_piece,
)
from app.pricing.adjusting import shared_out
from app.pricing.sheetshare import fits, smallest_share
from tests.builders.values import EUR
from tests.builders.watercolour import (
    REDUCED,
    STANDARD,
    WATERCOLOUR,
    backing,
    chosen,
    glazing,
    mat,
    moulding,
    rules,
)

shares = st.fractions(min_value=0, max_value=1, max_denominator=100)
costs = st.integers(min_value=0, max_value=50_000).map(lambda minor: Money(minor, EUR))
sides = st.integers(min_value=60, max_value=2_000)
taxes = st.sampled_from(["standard", "reduced"])


@st.composite
def charges(draw: st.DrawFn) -> Charge:
    """A charge for a sheet material, by any of the rules that go with one."""
    by = draw(st.sampled_from([ChargeBy.AREA, ChargeBy.SHEET_SHARE, ChargeBy.SIZE_BAND]))
    prices = sorted(draw(st.lists(st.integers(0, 9_000), min_size=3, max_size=3)))
    bands = tuple(
        SizeBand(up_to=mm(up_to), price=Money(price, EUR))
        for up_to, price in zip((700, 1400, 2600), prices, strict=True)
    )
    return Charge(
        by=by,
        waste=draw(shares),
        minimum_area=draw(st.fractions(0, 1, max_denominator=20)),
        bands=bands if by is ChargeBy.SIZE_BAND else (),
    )


@st.composite
def sheets(draw: st.DrawFn, plain: Material) -> Material:
    charge = draw(charges())
    by_band = charge.by is ChargeBy.SIZE_BAND
    markup = draw(st.fractions(Fraction(1, 10), 5, max_denominator=50))
    return replace(
        plain,
        charge=charge,
        cost=draw(costs),
        per=draw(st.sampled_from([CostPer.SHEET, CostPer.SQUARE_METRE, CostPer.SQUARE_FOOT])),
        selling=Selling() if by_band else Selling(markup=markup),
        tax=draw(taxes),
    )


@st.composite
def choices(draw: st.DrawFn) -> Chosen:
    """A choice for the watercolour: a frame, two mats, glazing, backing, rings."""
    length = Charge(
        by=ChargeBy.LENGTH,
        waste=draw(shares),
        minimum_length=mm(draw(st.integers(0, 3000))),
        step=mm(draw(st.integers(0, 500))),
    )
    frame = moulding(cost=draw(costs), charge=length, tax=draw(taxes))
    return chosen(
        frames=(frame,),
        mats=(draw(sheets(mat())), draw(sheets(mat()))),
        glazing=draw(sheets(glazing())),
        backing=draw(sheets(backing())),
    )


shops = st.builds(
    lambda included, rounding, step, labour: rules(
        tax_policy=TaxPolicy(included=included, rounding=rounding),
        tax_rates=(STANDARD, REDUCED),
        rounding_step=Money(step, EUR),
        labour_tax=labour,
    ),
    st.booleans(),
    st.sampled_from(TaxRounding),
    st.sampled_from([0, 1, 5, 50, 100, 500]),
    taxes,
)
agreements = st.builds(
    Adjustments, discount=shares, rush=shares.map(lambda share: 2 * share), tax_free=st.booleans()
)


def sized(width: int, height: int) -> Spec:
    return replace(WATERCOLOUR, artwork=Size(mm(width), mm(height)))


@st.composite
def prices(draw: st.DrawFn) -> tuple[PiecePrice, PriceRules]:
    shop = draw(shops)
    dimensions = work_out(sized(draw(sides), draw(sides)))
    return price_piece(dimensions, draw(choices()), shop, draw(agreements)), shop


@given(prices())
def test_a_total_is_the_sum_of_its_lines_and_adjustments(
    priced: tuple[PiecePrice, PriceRules],
) -> None:
    price, shop = priced
    zero = Money.zero(EUR)
    assert price.subtotal == sum((line.amount for line in price.lines), zero)
    assert price.total == price.subtotal + price.discount + price.rush + price.rounding
    assert price.total == sum((line.settled for line in price.lines), zero)
    assert price.cost == sum((line.cost for line in price.lines), zero)
    assert price.margin == price.tax.net - price.cost
    if shop.rounding_step:
        assert price.total.minor % shop.rounding_step.minor == 0
        assert 2 * abs(price.rounding) <= shop.rounding_step


@given(prices())
def test_net_and_tax_are_what_is_paid(priced: tuple[PiecePrice, PriceRules]) -> None:
    price, _ = priced
    assert price.tax.net + price.tax.tax == price.to_pay
    if price.tax_free:
        assert not price.tax.tax
    elif price.tax_included:
        assert price.to_pay == price.total
    if not price.tax_included:
        assert price.tax.net == price.total


@given(prices())
def test_every_line_is_its_quantity_times_its_unit_price_half_up(
    priced: tuple[PiecePrice, PriceRules],
) -> None:
    price, _ = priced
    for line in price.lines:
        exact = line.quantity * line.unit_price
        assert line.amount.minor - Fraction(1, 2) <= exact < line.amount.minor + Fraction(1, 2)
        assert line.why
        assert line.amount.minor >= 0


@given(prices(), st.integers(1, 4))
def test_an_order_is_the_sum_of_its_pieces(
    priced: tuple[PiecePrice, PriceRules], count: int
) -> None:
    price, shop = priced
    totals = price_order([price] * count, shop.tax_terms)
    assert totals.total == price.total * count
    assert totals.cost == price.cost * count
    assert totals.minutes == price.minutes * count
    assert totals.tax.net + totals.tax.tax == totals.to_pay
    if shop.tax_policy.rounding is TaxRounding.BY_LINE:
        assert totals.to_pay == price.to_pay * count


@given(choices(), sides, sides, st.integers(0, 400), st.integers(0, 400))
def test_a_larger_piece_never_costs_less(
    choice: Chosen, width: int, height: int, wider: int, higher: int
) -> None:
    small = price_piece(work_out(sized(width, height)), choice, rules())
    large = price_piece(work_out(sized(width + wider, height + higher)), choice, rules())
    for one, other in zip(small.lines, large.lines, strict=True):
        assert one.amount <= other.amount
    assert small.to_pay <= large.to_pay


@given(choices(), sides, sides)
def test_a_piece_turned_by_90_degrees_costs_the_same(
    choice: Chosen, width: int, height: int
) -> None:
    even = Edges.equal(mm(70))
    one, other = (
        price_piece(work_out(replace(sized(*artwork), borders=even)), choice, rules())
        for artwork in ((width, height), (height, width))
    )
    assert [line.amount for line in one.lines] == [line.amount for line in other.lines]


@given(st.integers(0, 10_000), st.lists(st.integers(0, 5_000), min_size=1, max_size=8))
def test_a_sum_shared_out_adds_up_and_no_part_is_off_by_one(whole: int, weights: list[int]) -> None:
    parts = shared_out(whole, weights)
    assert sum(parts) == whole
    if sum(weights):
        for part, weight in zip(parts, weights, strict=True):
            assert abs(part - Fraction(whole * weight, sum(weights))) < 1


@given(sides, sides, st.integers(100, 2500), st.integers(100, 2500))
def test_a_share_of_a_sheet_has_room_for_the_blank(
    width: int, height: int, sheet_width: int, sheet_height: int
) -> None:
    blank, sheet = Size(mm(width), mm(height)), Size(mm(sheet_width), mm(sheet_height))
    listed = tuple(Fraction(1, n) for n in (12, 8, 6, 4, 3, 2, 1))
    share = smallest_share(blank, sheet, listed)
    assert (share is None) == (not fits(blank, sheet))
    if share is not None:
        assert share * sheet.area_m2 >= blank.area_m2
        # an independent reading: n equal parts in rows and columns, one of which holds the blank
        smaller = [each for each in listed if each < share]
        for each in smaller:
            n = each.denominator
            for columns in (c for c in range(1, n + 1) if n % c == 0):
                cell = (sheet.width / columns, sheet.height / (n // columns))
                straight = blank.width <= cell[0] and blank.height <= cell[1]
                turned = blank.height <= cell[0] and blank.width <= cell[1]
                assert not straight
                assert not turned


@given(dimensions=sides, choice=choices(), shop=shops, agreed=agreements, copies=st.integers(2, 60))
def test_of_more_that_are_alike_one_never_costs_more(
    dimensions: int,
    choice: Chosen,
    shop: PriceRules,
    agreed: Adjustments,
    copies: int,
) -> None:
    """For every way of charging but by what is opened, and work done once of a minor unit or more, or of none.

    Number times the price of one is the total exactly; more alike never make one dearer; all never cost more than as
    many single ones.
    """
    piece = work_out(sized(dimensions, 300))
    prices = [
        price_piece(piece, choice, shop, replace(agreed, copies=number))
        for number in (1, copies, copies + 1)
    ]
    single, several, more = prices
    assert several.each * copies == several.total
    assert sum((line.settled for line in several.lines), Money.zero(EUR)) == several.total
    assert more.each <= several.each <= single.each
    assert several.total <= single.total * copies
    assert price_piece(piece, choice, shop, agreed) == single
