"""A small rack: one moulding, one mat, wire by the hundred, tape by the metre."""

from datetime import UTC, datetime

from app.lengths import Length, mm
from app.pricing import CostPer, Kind
from app.stock.items import Item, StockForm, StockItem
from tests.builders.materials import (
    BY_LENGTH,
    counted,
    marked_up,
    moulding,
    profile,
    sheet,
    sold_at,
    stock,
)
from tests.builders.values import euro

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)

MOULDING = moulding(
    "LIN-20", "Linden, limewashed", profile("20", "6", "14", 240), "9.40", marked_up("3")
)
MAT = sheet("M-101", "Chalk white", Kind.MAT, stock("1.4", 980), "12.00", marked_up("3"))
WIRE = counted("W-1", "Picture wire set", Kind.HARDWARE, "85.00", sold_at("2.50"))
TAPE = counted(
    "T-1", "Sealing tape", Kind.HARDWARE, "0.20", marked_up("2"),
    per=CostPer.METRE, charge=BY_LENGTH,
)  # fmt: skip


STICK = mm(3000)


def sticks(item_id: int, on_hand: int, length: Length = STICK, cost: str = "28.20") -> StockItem:
    item = Item(material="LIN-20", form=StockForm.STICK, unit_cost=euro(cost), length=length)
    return StockItem(id=item_id, version=1, item=item, on_hand=on_hand)


def offcut(item_id: int, length: Length, cost: str, on_hand: int = 1) -> StockItem:
    item = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro(cost),
        length=length,
        whole=False,
        label=f"K-2026-{item_id:04d}",
    )
    return StockItem(id=item_id, version=1, item=item, on_hand=on_hand)
