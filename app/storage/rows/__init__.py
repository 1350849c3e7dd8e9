"""The tables as rows, known only in storage.

Columns, keys and indexes are said here and in the migrations, and a test holds the two equal. The
rules within a row (CHECK), the triggers and the word indexes stand in the migrations alone.
Lengths are grains, money is minor units.
"""

from app.storage.rows.book import CounterRow, FormerCodeRow, MaterialRow, ShopRow
from app.storage.rows.invoices import InvoiceRow
from app.storage.rows.orders import (
    CustomerRow,
    LedgerEntryRow,
    OrderRow,
    PieceRow,
    PieceSnapshotRow,
    ReductionRow,
    StageChangeRow,
    StageCountRow,
    StepTickRow,
)
from app.storage.rows.plans import CuttingPlanRow, PlanBookingRow, PlanPartRow, PlanTickRow
from app.storage.rows.row import Row
from app.storage.rows.stock import StockItemRow, StockLevelRow, StockMovementRow
from app.storage.rows.suppliers import DeliveryRow, SupplierOrderLineRow, SupplierOrderRow

__all__ = [
    "CounterRow",
    "CustomerRow",
    "CuttingPlanRow",
    "DeliveryRow",
    "FormerCodeRow",
    "InvoiceRow",
    "LedgerEntryRow",
    "MaterialRow",
    "OrderRow",
    "PieceRow",
    "PieceSnapshotRow",
    "PlanBookingRow",
    "PlanPartRow",
    "PlanTickRow",
    "ReductionRow",
    "Row",
    "ShopRow",
    "StageChangeRow",
    "StageCountRow",
    "StepTickRow",
    "StockItemRow",
    "StockLevelRow",
    "StockMovementRow",
    "SupplierOrderLineRow",
    "SupplierOrderRow",
]
