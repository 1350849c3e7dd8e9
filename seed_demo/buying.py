"""The sample's orders to suppliers: one that came, one that came in part, one on its way, a draft.

The table has a row for each line. made, sent: how many days ago, nothing where it was not sent. came:
"41x10=16.80 33x2=16.80", ten of them 41 days ago at 16.80 each or a hundred, as the line is costed.
The acts are the app's own, in the order of their days, so that everything that came lies on the rack.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import groupby

from app.services import buying, deliveries
from app.services.buying import DraftEdit, LineEdit, SupplierOrderAt, ToOrder
from app.services.deliveries import CameOfLine
from app.stock.buying.supplier_orders import OrderLine, SupplierOrder
from app.storage import Stamp, Store
from seed_demo.shop import PEOPLE, euro
from seed_demo.tables import Line, table


@dataclass(frozen=True, slots=True, kw_only=True)
class _Came:
    """So many of a line on a day. cost: as the line's."""

    days_ago: int
    quantity: int
    cost: str


def order_from_suppliers(store: Store, today: date) -> None:
    """Make the orders of the table as they were made, sent and received up to a day."""
    for _, lines in groupby(table("supplier_orders"), key=lambda line: line["order"]):
        _order(store, tuple(lines), today)


def _order(store: Store, lines: tuple[Line, ...], today: date) -> None:
    first = lines[0]
    wanted = [ToOrder(material=each["code"], quantity=int(each["quantity"])) for each in lines]
    made = _act(today, int(first["made"]))
    (order_id,) = buying.make_orders(store, wanted, made)
    order = buying.get(store, order_id)
    buying.edit_draft(store, _at(order), _notes(order, lines), made)
    if not first["sent"]:
        return
    buying.send(store, _at(buying.get(store, order_id)), _act(today, int(first["sent"])))
    days = sorted({each.days_ago for line in lines for each in _came(line)}, reverse=True)
    for days_ago in days:
        order = buying.get(store, order_id)
        came = tuple(_of_day(order, lines, days_ago))
        act = _act(today, days_ago)
        deliveries.receive(store, _at(order), came, act, note=f"Note {1000 + 7 * days_ago}")


def _notes(order: SupplierOrder, lines: tuple[Line, ...]) -> DraftEdit:
    notes = {each["code"]: each["note"] for each in lines}
    return DraftEdit(
        supplier=order.supplier,
        note="",
        lines={
            line.id: LineEdit(
                quantity=line.ordered.quantity,
                cost=line.ordered.cost,
                note=notes[line.ordered.material],
            )
            for line in order.lines
        },
    )


def _of_day(order: SupplierOrder, lines: tuple[Line, ...], days_ago: int) -> Iterable[CameOfLine]:
    by_code: dict[str, OrderLine] = {line.ordered.material: line for line in order.lines}
    for line in lines:
        for each in _came(line):
            if each.days_ago == days_ago:
                yield CameOfLine(
                    line_id=by_code[line["code"]].id,
                    quantity=each.quantity,
                    cost=euro(each.cost),
                    batch=line["batch"],
                )


def _came(line: Line) -> tuple[_Came, ...]:
    found: list[_Came] = []
    for word in line["came"].split():
        days_ago, _, rest = word.partition("x")
        quantity, _, cost = rest.partition("=")
        found.append(_Came(days_ago=int(days_ago), quantity=int(quantity), cost=cost))
    return tuple(found)


def _act(today: date, days_ago: int) -> Stamp:
    """By whoever is named first, in the morning."""
    day = today - timedelta(days=days_ago)
    return Stamp(who=PEOPLE[0], now=datetime.combine(day, time(9, 30), UTC))


def _at(order: SupplierOrder) -> SupplierOrderAt:
    return SupplierOrderAt(id=order.id, version=order.version)
