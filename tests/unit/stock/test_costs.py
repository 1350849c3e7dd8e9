"""What one item costs, and what is left of that in an offcut. Figures by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import Invalid
from app.lengths import Size, mm
from app.pricing import CostPer, Material
from app.stock.costs import cost_by_book, part_cost, whole_cost
from app.stock.items import Item, StockForm
from app.stock.offcuts import Offcut
from app.stock.wording import counted
from tests.builders.rack import MAT, MOULDING, TAPE, WIRE, sticks
from tests.builders.values import euro


@pytest.mark.parametrize(
    ("material", "cost"),
    [
        (MOULDING, "28.20"),  # 3 m at 9.40
        (replace(MOULDING, per=CostPer.STICK), "9.40"),
        # 3000 mm = 9.84251968… ft (1 ft = 304.8 mm), at 9.40: 92.5196…
        (replace(MOULDING, per=CostPer.FOOT), "92.52"),
        (MAT, "12.00"),
        # 1.120 × 0.815 = 0.9128 m² at 12.00: 10.9536
        (replace(MAT, per=CostPer.SQUARE_METRE), "10.95"),
        # 1 sq ft = 0.09290304 m²: 0.9128 m² = 9.82530… sq ft at 12.00: 117.9036…
        (replace(MAT, per=CostPer.SQUARE_FOOT), "117.90"),
        (WIRE, "0.85"),
        (TAPE, "0.20"),  # counted by the metre
    ],
)
def test_one_costs_what_the_price_book_says(material: Material, cost: str) -> None:
    assert whole_cost(material) == euro(cost)


def test_another_size_costs_its_share_by_the_book() -> None:
    assert cost_by_book(MOULDING, length=mm(1500)) == euro("14.10")
    # 560 × 815 is half of 1120 × 815
    assert cost_by_book(MAT, size=Size(mm(560), mm(815))) == euro("6.00")
    assert cost_by_book(WIRE) == euro("0.85")


def test_an_offcut_keeps_its_share_of_the_cost() -> None:
    stick = sticks(1, 1).item
    assert part_cost(stick, length=mm(740)) == euro("6.96")  # 28.20 × 740/3000 = 6.956
    sheet = Item(
        material="M-101",
        form=StockForm.SHEET,
        unit_cost=euro("12.00"),
        size=Size(mm(1120), mm(815)),
    )
    # 400 × 300 = 0.12 m² of 0.9128 m²: 12.00 × 0.131463… = 1.5776
    assert part_cost(sheet, size=Size(mm(400), mm(300))) == euro("1.58")
    with pytest.raises(ValueError, match="a part of a stick has a length"):
        part_cost(sheet, length=mm(100))


@given(st.lists(st.integers(1, 500), min_size=1, max_size=6))
def test_the_parts_of_a_stick_are_worth_no_more_than_it_but_for_the_rounding(
    lengths: list[int],
) -> None:
    whole = sum(lengths)
    stick = sticks(1, 1, mm(whole)).item
    parts = sum(part_cost(stick, length=mm(each)).minor for each in lengths)
    assert abs(parts - stick.unit_cost.minor) <= Fraction(len(lengths), 2)


def test_an_offcut_becomes_an_item_with_its_label() -> None:
    offcut = Offcut(material="LIN-20", unit_cost=euro("6.96"), length=mm(740), place="Bin 1")
    item = offcut.labelled("K-2026-0007")
    assert (item.form, item.whole, item.label, item.place) == (
        StockForm.STICK,
        False,
        "K-2026-0007",
        "Bin 1",
    )
    with pytest.raises(Invalid, match="The length must be above zero"):
        replace(offcut, length=mm(0))
    with pytest.raises(Invalid, match="at most 60"):
        replace(offcut, batch="x" * 61)


@pytest.mark.parametrize(
    ("count", "material", "text"),
    [
        (1, MOULDING, "1 stick"),
        (-1, MOULDING, "−1 stick"),
        (0, MOULDING, "0 sticks"),
        (12, MAT, "12 sheets"),
        (200, WIRE, "200"),
        (30, TAPE, "30 m"),
    ],
)
def test_stock_is_counted_in_its_own_words(count: int, material: Material, text: str) -> None:
    assert counted(count, material) == text
