"""A stick's or sheet's cost shared out: by hand, and to the last minor unit by law."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.cutting import LaidPart, LaidRail, OpenedSheet, OpenedStick, SheetRest, StickRest
from app.lengths import ZERO, Size, mm
from app.money import Money
from app.stock.cost_allocation import SoundFallout, cost_shares, shared_out
from tests.builders.values import EUR, euro


def stick(*lengths: int, rest: int = 0) -> OpenedStick:
    laid, at = [], 0
    for number, length in enumerate(lengths):
        laid.append(LaidRail(id=f"r{number}", copy=1, at=mm(at), length=mm(length)))
        at += length + 10
    offcut = StickRest(at=mm(at), length=mm(rest)) if rest else None
    return OpenedStick(stock="whole", copy=1, parts=tuple(laid), offcut=offcut)


def test_a_stick_costs_by_length_and_the_saws_loss_is_waste() -> None:
    shares = cost_shares(euro("30.00"), stick(600, 500, rest=900), mm(3000), [True])
    assert shares.parts == {"r0": euro("6.00"), "r1": euro("5.00")}
    assert shares.kept == (euro("9.00"),)
    assert shares.waste == euro("10.00")


def test_what_is_not_kept_is_waste() -> None:
    shares = cost_shares(euro("30.00"), stick(600, rest=900), mm(3000), [False])
    assert (shares.kept, shares.waste) == ((), euro("24.00"))


def test_a_fallout_takes_its_share_off_its_mat() -> None:
    whole = Size(mm(1000), mm(1000))
    opened = OpenedSheet(
        stock="whole",
        copy=1,
        cuts=(),
        parts=(LaidPart(id="m", copy=1, x=ZERO, y=ZERO, size=Size(mm(500), mm(400))),),
        offcuts=(SheetRest(x=mm(500), y=ZERO, size=Size(mm(500), mm(1000))),),
    )
    fallout = SoundFallout(part="m", size=Size(mm(300), mm(200)))
    shares = cost_shares(euro("10.00"), opened, whole, [True], [fallout])
    # 0.2 m² of 1 m² is 2.00, of which 0.06 m² is 0.60.
    assert shares.parts == {"m": euro("1.40")}
    assert (shares.kept, shares.fallouts, shares.waste) == (
        (euro("5.00"),),
        (euro("0.60"),),
        euro("3.00"),
    )


def test_shares_of_a_cent_never_make_more_of_it() -> None:
    # Each half of one cent would be a cent by itself.
    amounts, rest = shared_out(Money(1, EUR), [Fraction(1, 2), Fraction(1, 2)])
    assert (amounts, rest) == ((Money(1, EUR), Money(0, EUR)), Money(0, EUR))


@given(
    st.integers(0, 10**7),
    st.lists(st.integers(1, 900), min_size=1, max_size=12),
    st.integers(0, 500),
    st.booleans(),
)
def test_value_out_is_value_in(minor: int, lengths: list[int], rest: int, keep: bool) -> None:
    """Law: parts, what is kept and waste add up to the cost, none below zero."""
    whole = mm(sum(lengths) + 10 * len(lengths) + rest)
    opened = stick(*lengths, rest=rest)
    kept = [keep] if rest else []
    shares = cost_shares(Money(minor, EUR), opened, whole, kept)
    every = [*shares.parts.values(), *shares.kept, *shares.fallouts, shares.waste]
    assert sum(money.minor for money in every) == minor
    assert min(money.minor for money in every) >= 0
    for laid in opened.parts:
        exact = minor * laid.length.mm / whole.mm
        assert abs(shares.parts[laid.id].minor - exact) <= 1


def test_an_offcut_that_nothing_is_said_of_is_an_error_of_ours() -> None:
    with pytest.raises(ValueError, match="zip"):
        cost_shares(euro("30.00"), stick(600, rest=900), mm(3000), [])
