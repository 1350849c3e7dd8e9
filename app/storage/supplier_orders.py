"""Orders to suppliers as they are kept.

A writer first claims an order at the version it was read in; then it writes what changed. Lines stay
once the order is sent, and what came is only added.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from app.errors import NotFound
from app.money import CURRENCIES, Currency, Money
from app.orders.change_of_currency import money_in
from app.stock.buying.supplier_orders import (
    Delivery,
    NewDelivery,
    NewLine,
    OrderLine,
    SupplierOrder,
    SupplierStage,
)
from app.storage.codes import material_row
from app.storage.orders import Stamp
from app.storage.paging import ListPage, PageRequest, Stale
from app.storage.rows import (
    DeliveryRow,
    MaterialRow,
    StockMovementRow,
    SupplierOrderLineRow,
    SupplierOrderRow,
)
from app.storage.supplier_order_lists import (
    OPEN,
    Coming,
    SupplierOrderSummary,
    coming,
    page_of_orders,
    stage_counts,
)
from app.storage.supplier_order_rows import (
    delivery_row,
    line_columns,
    line_of,
    supplier_order_of,
)


class SupplierOrders:
    """Keeps orders to suppliers."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(self, number: str, supplier: str, currency: Currency, act: Stamp) -> int:
        """Begin a draft; returns its id."""
        row = SupplierOrderRow(
            version=1,
            number=number,
            supplier=supplier,
            made_on=act.today,
            sent_on=None,
            currency=currency.code,
            note="",
            stage=SupplierStage.DRAFT.value,
            updated_at=act.now,
        )
        self._session.add(row)
        self._session.flush()
        return row.id

    def get(self, order_id: int) -> SupplierOrder:
        """The whole order. Raises: NotFound."""
        row = self._row(order_id)
        return supplier_order_of(row, self._lines(row))

    def draft_for(self, supplier: str) -> int | None:
        """The id of the newest draft for a supplier, any case; None where there is none."""
        drafts = select(SupplierOrderRow.id, SupplierOrderRow.supplier).where(
            SupplierOrderRow.stage == SupplierStage.DRAFT.value
        )
        named = supplier.strip().casefold()
        rows = self._session.execute(drafts.order_by(SupplierOrderRow.id.desc()))
        return next((id_ for id_, name in rows if name.strip().casefold() == named), None)

    def claim(self, order_id: int, expected_version: int, act: Stamp) -> SupplierOrder:
        """Begin to change an order: its version goes up. Returns it as it stands.

        Raises: NotFound, Stale with the order as it is kept now.
        """
        row = self._row(order_id)
        if row.version != expected_version:
            raise Stale(f"Order {row.number}", self.get(order_id))
        row.version += 1
        row.updated_at = act.now
        self._session.flush()
        return self.get(order_id)

    def write_head(self, order: SupplierOrder) -> None:
        """Keep what an order says beside its lines: supplier, note, stage, the day it was sent."""
        row = self._row(order.id)
        row.supplier, row.note = order.supplier, order.note
        row.stage, row.sent_on = order.stage.value, order.sent_on
        self._session.flush()

    def add_line(self, order_id: int, line: NewLine) -> int:
        """Add a line to a draft; returns its id. Raises: NotFound for the material, Invalid."""
        row = SupplierOrderLineRow(
            order_id=order_id, material_id=self._material_id(line.material), **line_columns(line)
        )
        self._session.add(row)
        self._session.flush()
        return row.id

    def write_line(self, line_id: int, line: NewLine) -> None:
        """Keep a line of a draft as it is now."""
        row = self._session.get_one(SupplierOrderLineRow, line_id)
        for name, value in line_columns(line).items():
            setattr(row, name, value)
        self._session.flush()

    def remove_line(self, line_id: int) -> None:
        """Take a line off a draft."""
        self._session.delete(self._session.get_one(SupplierOrderLineRow, line_id))
        self._session.flush()

    def add_delivery(self, line_id: int, entry: NewDelivery) -> int:
        """Write down what came, or the contrary of an entry; returns its id."""
        row = delivery_row(line_id, entry)
        self._session.add(row)
        self._session.flush()
        return row.id

    def item_of(self, delivery: Delivery) -> int:
        """The id of the item of stock that a delivery lies with."""
        found = select(StockMovementRow.item_id).where(
            StockMovementRow.id == delivery.entry.movement_id
        )
        return self._session.scalars(found).one()

    def of_lines(self, line_ids: Iterable[int]) -> Mapping[int, tuple[int, str]]:
        """(id, number) of the order of each of some lines, by the line's id."""
        rows = self._session.execute(
            select(SupplierOrderLineRow.id, SupplierOrderRow.id, SupplierOrderRow.number)
            .join(SupplierOrderRow, SupplierOrderRow.id == SupplierOrderLineRow.order_id)
            .where(SupplierOrderLineRow.id.in_(tuple(line_ids)))
        )
        return {line_id: (order_id, number) for line_id, order_id, number in rows}

    def coming(self) -> dict[str, Coming]:
        """What is on order and in drafts, by the material's code."""
        return coming(self._session)

    def listed(
        self, stages: frozenset[SupplierStage] = frozenset(), page: PageRequest | None = None
    ) -> ListPage[SupplierOrderSummary]:
        """One page of the orders at some stages, all of them where none is named, the newest first."""
        return page_of_orders(self._session, stages, page or PageRequest())

    def stage_counts(self) -> dict[SupplierStage, int]:
        """How many orders stand at each stage."""
        return stage_counts(self._session)

    def denominate(self, currency: Currency) -> None:
        """Carry the costs of drafts and of orders under way over to another currency, figure by figure."""
        open_ = select(SupplierOrderRow).where(
            SupplierOrderRow.stage.in_([stage.value for stage in OPEN])
        )
        for row in self._session.scalars(open_).all():
            old = CURRENCIES[row.currency]
            for line in self._session.scalars(_lines_of(row.id)).all():
                line.cost_minor = money_in(Money(line.cost_minor, old), currency).minor
            row.currency = currency.code
            row.version += 1
        self._session.flush()

    def _row(self, order_id: int) -> SupplierOrderRow:
        row = self._session.get(SupplierOrderRow, order_id)
        if row is None:
            raise NotFound(f"There is no order to a supplier with the id {order_id}.")
        return row

    def _lines(self, row: SupplierOrderRow) -> Iterable[OrderLine]:
        found = self._session.execute(
            _lines_of(row.id)
            .add_columns(MaterialRow.code)
            .join(MaterialRow, MaterialRow.id == SupplierOrderLineRow.material_id)
        ).all()
        came = self._deliveries([line.id for line, _ in found])
        currency = CURRENCIES[row.currency]
        return [line_of(line, code, currency, came.get(line.id, ())) for line, code in found]

    def _deliveries(self, line_ids: Sequence[int]) -> Mapping[int, Sequence[DeliveryRow]]:
        rows = self._session.scalars(
            select(DeliveryRow).where(DeliveryRow.line_id.in_(line_ids)).order_by(DeliveryRow.id)
        )
        by_line: dict[int, list[DeliveryRow]] = defaultdict(list)
        for row in rows:
            by_line[row.line_id].append(row)
        return by_line

    def _material_id(self, code: str) -> int:
        return material_row(self._session, code).id


def _lines_of(order_id: int) -> Select[SupplierOrderLineRow]:
    return (
        select(SupplierOrderLineRow)
        .where(SupplierOrderLineRow.order_id == order_id)
        .order_by(SupplierOrderLineRow.id)
    )
