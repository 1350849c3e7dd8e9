"""An order to a supplier as a CSV file for a spreadsheet or for the supplier's own reading.

One row a line; lengths and sizes in the shop's unit. Costs only where they are asked for.
"""

import csv
import io

from app.lengths import exact_text
from app.orders import Shop
from app.stock.buying.supplier_orders import OrderLine, SupplierOrder
from app.web.kit.spreadsheet import amount, safe

COLUMNS = (
    "order",
    "supplier",
    "date",
    "code",
    "name",
    "note",
    "quantity",
    "unit",
    "length",
    "width",
    "height",
    "measured_in",
)
COSTS = ("cost", "cost_for", "total", "currency")


def write_order(order: SupplierOrder, shop: Shop, *, costs: bool) -> str:
    """Return the order as CSV with a head row.

    costs: whether to say what each line is expected to cost.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS + COSTS if costs else COLUMNS)
    for line in order.lines:
        cells = _cells(order, line, shop)
        writer.writerow((*cells, *_costs(line)) if costs else cells)
    return out.getvalue()


def _cells(order: SupplierOrder, line: OrderLine, shop: Shop) -> tuple[str, ...]:
    ordered, unit = line.ordered, shop.unit
    size = ordered.size
    measured = ordered.length is not None or size is not None
    return (
        safe(order.number),
        safe(order.supplier),
        (order.sent_on or order.made_on).isoformat(),
        safe(ordered.material),
        safe(ordered.name),
        safe(ordered.note),
        str(ordered.quantity),
        ordered.unit.value,
        "" if ordered.length is None else exact_text(ordered.length, unit),
        "" if size is None else exact_text(size.width, unit),
        "" if size is None else exact_text(size.height, unit),
        unit.value if measured else "",
    )


def _costs(line: OrderLine) -> tuple[str, ...]:
    ordered = line.ordered
    return (
        amount(ordered.cost),
        str(ordered.cost_for),
        amount(ordered.total),
        ordered.cost.currency.code,
    )
