"""A target price is met to the cent, however tax is charged and rounded (P13)."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Invalid
from app.money import Money, Taxed, TaxPolicy, TaxRounding, taxed_parts
from app.orders.target_price import met
from tests.builders.values import EUR, euro
from tests.builders.watercolour import REDUCED, STANDARD

amounts = st.lists(
    st.tuples(
        st.integers(1, 50_000).map(lambda minor: Money(minor, EUR)),
        st.sampled_from([STANDARD, REDUCED]),
    ),
    min_size=1,
    max_size=6,
)
policies = st.builds(TaxPolicy, included=st.booleans(), rounding=st.sampled_from(TaxRounding))


@given(amounts, policies, st.data())
def test_what_is_left_to_pay_is_what_was_asked_for(
    lines: list[tuple[Money, object]], policy: TaxPolicy, data: st.DataObject
) -> None:
    charged = Taxed(rounded=taxed_parts(lines, policy), untaxed=Money.zero(EUR))  # type: ignore[arg-type]
    if charged.gross.minor < 2:
        return
    asked = Money(data.draw(st.integers(1, charged.gross.minor - 1)), EUR)
    found = met(charged, asked, euro("10.00"), Fraction(30))
    left = charged.less(found.off, with_tax=True)
    assert left.gross == asked
    assert found.net == left.net
    assert found.margin == found.net - euro("10.00")
    assert found.below_cost == (left.net < euro("10.00"))
    assert found.share == Fraction((charged.gross - asked).minor, charged.gross.minor)


def test_prices_without_tax_are_met_with_it() -> None:
    """100.00 and 20 % are 120.00; to be paid are 99.00: 21.00 off, 99.00 / 1.2 = 82.50 left without tax."""
    policy = TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT)
    charged = Taxed(rounded=taxed_parts([(euro("100.00"), STANDARD)], policy), untaxed=euro("0"))
    found = met(charged, euro("99.00"), euro("90.00"), Fraction(0))
    assert (found.off, found.net) == (euro("21.00"), euro("82.50"))
    assert (found.margin, found.below_cost) == (euro("-7.50"), True)
    assert found.earned_per_hour is None


@pytest.mark.parametrize(
    ("asked", "said"), [("0", "give it away"), ("-1.00", "give it away"), ("120.00", "no less")]
)
def test_no_discount_meets_nothing_or_more(asked: str, said: str) -> None:
    policy = TaxPolicy(included=True, rounding=TaxRounding.BY_LINE)
    charged = Taxed(rounded=taxed_parts([(euro("120.00"), STANDARD)], policy), untaxed=euro("0"))
    with pytest.raises(Invalid, match=said):
        met(charged, euro(asked), euro("0"), Fraction(0))
