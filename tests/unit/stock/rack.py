"""A small rack: one moulding, one mat, wire by the hundred, tape by the metre."""

from datetime import UTC, datetime
from fractions import Fraction

from app.lengths import Length, Size, mm
from app.money import currency
from app.pricing import (
    Charge,
    ChargeBy,
    CostPer,
    Kind,
    Material,
    Profile,
    Selling,
    SheetStock,
)
from app.stock.items import Form, Item, StockItem
from tests.builders.values import euro

EUR = currency("EUR")
NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)


MOULDING = Material(
    code="LIN-20",
    name="Linden, limewashed",
    kind=Kind.MOULDING,
    cost=euro("9.40"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH),
    selling=Selling(markup=Fraction(3)),
    profile=Profile(
        face=mm(20), lip=mm(6), rebate_depth=mm(14), stick=mm(3000), grams_per_metre=240
    ),
)
MAT = Material(
    code="M-101",
    name="Chalk white",
    kind=Kind.MAT,
    cost=euro("12.00"),
    per=CostPer.SHEET,
    charge=Charge(by=ChargeBy.SHEET_SHARE),
    selling=Selling(markup=Fraction(3)),
    sheet=SheetStock(size=Size(mm(1120), mm(815)), thickness=mm("1.4"), grams_per_m2=980),
)
WIRE = Material(
    code="W-1",
    name="Picture wire set",
    kind=Kind.HARDWARE,
    cost=euro("85.00"),
    per=CostPer.HUNDRED,
    charge=Charge(by=ChargeBy.EACH),
    selling=Selling(price=euro("2.50")),
)
TAPE = Material(
    code="T-1",
    name="Sealing tape",
    kind=Kind.HARDWARE,
    cost=euro("0.20"),
    per=CostPer.METRE,
    charge=Charge(by=ChargeBy.LENGTH),
    selling=Selling(markup=Fraction(2)),
)


STICK = mm(3000)


def sticks(item_id: int, on_hand: int, length: Length = STICK, cost: str = "28.20") -> StockItem:
    item = Item(material="LIN-20", form=Form.STICK, unit_cost=euro(cost), length=length)
    return StockItem(id=item_id, version=1, item=item, on_hand=on_hand)


def offcut(item_id: int, length: Length, cost: str, on_hand: int = 1) -> StockItem:
    item = Item(
        material="LIN-20",
        form=Form.STICK,
        unit_cost=euro(cost),
        length=length,
        whole=False,
        label=f"K-2026-{item_id:04d}",
    )
    return StockItem(id=item_id, version=1, item=item, on_hand=on_hand)
