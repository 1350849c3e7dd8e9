"""Keeps orders to suppliers, and lists them.

A writer first claims an order at the version it was read in; then it writes what changed. Lines stay
once the order is sent, and what came is only added.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    ForeignKey,
    Index,
    Select,
    func,
    select,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import NotFound
from app.journal import Written
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
from app.storage.journal import ContraryRow, Journal
from app.storage.mapping import STRICT, Columns, Row, columns_of, value_of, write
from app.storage.paging import ListPage, PageRequest, Stale, Stamp
from app.storage.tables.materials import MaterialRow, material_row
from app.storage.tables.stock import StockMovementRow


class SupplierOrderRow(Row):
    """An order to a supplier."""

    __tablename__ = "supplier_orders"
    __table_args__ = (
        Index("supplier_orders_by_number", "number", unique=True),
        Index("supplier_orders_by_stage", "stage", "made_on"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    number: Mapped[str]
    supplier: Mapped[str]
    made_on: Mapped[date]
    sent_on: Mapped[date | None]
    currency: Mapped[str]
    note: Mapped[str]
    stage: Mapped[str]
    updated_at: Mapped[datetime]


class SupplierOrderLineRow(Row):
    """A line of an order to a supplier; as it is once the order is sent."""

    __tablename__ = "supplier_order_lines"
    __table_args__ = (
        Index("supplier_order_lines_by_order", "order_id"),
        Index("supplier_order_lines_by_material", "material_id"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    order_id: Mapped[int] = mapped_column(ForeignKey("supplier_orders.id"))
    material_id: Mapped[int] = mapped_column(ForeignKey("materials.id"))
    name: Mapped[str]
    form: Mapped[str]
    unit: Mapped[str]
    length: Mapped[int | None]
    width: Mapped[int | None]
    height: Mapped[int | None]
    quantity: Mapped[int]
    cost_minor: Mapped[int]
    cost_for: Mapped[int]
    note: Mapped[str]


class DeliveryRow(ContraryRow, Row):
    """So many of a line that came, or the contrary entry of one, written once."""

    __tablename__ = "deliveries"
    __table_args__ = (
        Index("deliveries_by_line", "line_id"),
        Index("deliveries_by_taken_back", "takes_back", unique=True),
        STRICT,
    )
    line_id: Mapped[int] = mapped_column(ForeignKey("supplier_order_lines.id"))
    quantity: Mapped[int]
    currency: Mapped[str]
    cost_minor: Mapped[int]
    cost_for: Mapped[int]
    batch: Mapped[str]
    place: Mapped[str]
    note: Mapped[str]
    movement_id: Mapped[int] = mapped_column(ForeignKey("stock_movements.id"))


def _line_of(
    row: SupplierOrderLineRow,
    code: str,
    currency: Currency,
    deliveries: Iterable[Written[NewDelivery]],
) -> OrderLine:
    """Return the line of a row. code: of its material. deliveries: its own, the oldest first."""
    return OrderLine(
        id=row.id,
        ordered=value_of(NewLine, row, material=code, cost=Money(row.cost_minor, currency)),
        deliveries=tuple(
            Delivery(id=each.id, line_id=row.id, entry=each.entry) for each in deliveries
        ),
    )


def _line_columns(line: NewLine) -> Columns:
    """Return the columns of a line, but for its order and its material; its order has the currency."""
    return columns_of(line, but=("material", "cost")) | {"cost_minor": line.cost.minor}


OPEN = (SupplierStage.DRAFT, SupplierStage.SENT)


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrderSummary:
    """An order to a supplier in a list. outstanding: of all lines, while the order is under way."""

    id: int
    number: str
    supplier: str
    stage: SupplierStage
    made_on: date
    sent_on: date | None
    lines: int
    ordered: int
    received: int
    outstanding: int
    total: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """Of a material: how many were ordered and have not come, and how many stand in drafts."""

    on_order: int = 0
    drafted: int = 0

    @property
    def in_all(self) -> int:
        """How many are on order or in drafts."""
        return self.on_order + self.drafted


_RECEIVED: ColumnElement[int] = (
    select(func.coalesce(func.sum(DeliveryRow.quantity), 0))
    .where(DeliveryRow.line_id == SupplierOrderLineRow.id)
    .correlate(SupplierOrderLineRow)
    .scalar_subquery()
)
_OUTSTANDING: ColumnElement[int] = func.max(0, SupplierOrderLineRow.quantity - _RECEIVED)
_TOTAL: ColumnElement[int] = (
    2 * SupplierOrderLineRow.quantity * SupplierOrderLineRow.cost_minor
    + SupplierOrderLineRow.cost_for
) // (2 * SupplierOrderLineRow.cost_for)
"""Quantity × cost, half up as `cost_of` rounds it: both are whole and above zero."""


class SupplierOrders:
    """Keeps orders to suppliers."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._deliveries = Journal(session, NewDelivery, DeliveryRow, DeliveryRow.line_id)

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
        """Return the whole order. Raises: NotFound."""
        row = self._row(order_id)
        return value_of(SupplierOrder, row, lines=self._lines(row))

    def draft_for(self, supplier: str) -> int | None:
        """Return the id of the newest draft for a supplier, any case; None where there is none."""
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
            order_id=order_id, material_id=self._material_id(line.material), **_line_columns(line)
        )
        self._session.add(row)
        self._session.flush()
        return row.id

    def write_line(self, line_id: int, line: NewLine) -> None:
        """Keep a line of a draft as it is now."""
        row = self._session.get_one(SupplierOrderLineRow, line_id)
        write(row, _line_columns(line))
        self._session.flush()

    def remove_line(self, line_id: int) -> None:
        """Take a line off a draft."""
        self._session.delete(self._session.get_one(SupplierOrderLineRow, line_id))
        self._session.flush()

    def add_delivery(self, line_id: int, entry: NewDelivery) -> int:
        """Write down what came, or the contrary of an entry; returns its id."""
        return self._deliveries.add(line_id, entry)

    def item_of(self, delivery: Delivery) -> int:
        """Return the id of the stock item that a delivery went to."""
        found = select(StockMovementRow.item_id).where(
            StockMovementRow.id == delivery.entry.movement_id
        )
        return self._session.scalars(found).one()

    def of_lines(self, line_ids: Iterable[int]) -> Mapping[int, tuple[int, str]]:
        """Return (id, number) of the order of each of some lines, by the line's id."""
        rows = self._session.execute(
            select(SupplierOrderLineRow.id, SupplierOrderRow.id, SupplierOrderRow.number)
            .join(SupplierOrderRow, SupplierOrderRow.id == SupplierOrderLineRow.order_id)
            .where(SupplierOrderLineRow.id.in_(tuple(line_ids)))
        )
        return {line_id: (order_id, number) for line_id, order_id, number in rows}

    def coming(self) -> dict[str, Coming]:
        """Return how many are on order and in drafts, by the material's code."""
        rows = self._session.execute(
            select(MaterialRow.code, SupplierOrderRow.stage, func.sum(_OUTSTANDING))
            .select_from(SupplierOrderLineRow)
            .join(SupplierOrderRow, SupplierOrderRow.id == SupplierOrderLineRow.order_id)
            .join(MaterialRow, MaterialRow.id == SupplierOrderLineRow.material_id)
            .where(SupplierOrderRow.stage.in_([stage.value for stage in OPEN]))
            .group_by(MaterialRow.code, SupplierOrderRow.stage)
        )
        sums: dict[tuple[str, str], int] = {(code, stage): left for code, stage, left in rows}
        return {
            code: Coming(
                on_order=sums.get((code, SupplierStage.SENT.value), 0),
                drafted=sums.get((code, SupplierStage.DRAFT.value), 0),
            )
            for code, _ in sums
        }

    def listed(
        self, stages: frozenset[SupplierStage] = frozenset(), page: PageRequest | None = None
    ) -> ListPage[SupplierOrderSummary]:
        """Return one page of the orders at some stages, all of them where none is named, the newest first."""
        page = page or PageRequest()
        at: list[ColumnElement[bool]] = []
        if stages:
            at = [SupplierOrderRow.stage.in_(sorted(stage.value for stage in stages))]
        total = self._session.scalars(
            select(func.count()).select_from(SupplierOrderRow).where(*at)
        ).one()
        rows = self._session.scalars(
            select(SupplierOrderRow)
            .where(*at)
            .order_by(SupplierOrderRow.made_on.desc(), SupplierOrderRow.id.desc())
            .limit(page.size)
            .offset(page.offset)
        ).all()
        sums = self._sums([row.id for row in rows])
        return ListPage.of((_summary(row, sums.get(row.id)) for row in rows), total, page)

    def stage_counts(self) -> dict[SupplierStage, int]:
        """Return how many orders stand at each stage."""
        counted = select(SupplierOrderRow.stage, func.count()).group_by(SupplierOrderRow.stage)
        found = {SupplierStage(stage): count for stage, count in self._session.execute(counted)}
        return {stage: found.get(stage, 0) for stage in SupplierStage}

    def holds(self, material_id: int) -> str:
        """Return why a material must stay, since a supplier's order names it; "" where none does."""
        lines = select(SupplierOrderLineRow.id).where(
            SupplierOrderLineRow.material_id == material_id
        )
        if self._session.scalars(lines.limit(1)).first() is None:
            return ""
        return (
            "stands on an order to a supplier, so it stays in the price book. Discontinue it "
            "instead; no new quote finds it then."
        )

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

    def _lines(self, row: SupplierOrderRow) -> tuple[OrderLine, ...]:
        found = self._session.execute(
            _lines_of(row.id)
            .add_columns(MaterialRow.code)
            .join(MaterialRow, MaterialRow.id == SupplierOrderLineRow.material_id)
        ).all()
        came = self._deliveries.by_owner([line.id for line, _ in found])
        currency = CURRENCIES[row.currency]
        return tuple(_line_of(line, code, currency, came[line.id]) for line, code in found)

    def _sums(self, order_ids: Sequence[int]) -> Mapping[int, tuple[int, int, int, int, int]]:
        """(lines, ordered, received, outstanding, total in minor units) by order."""
        line = SupplierOrderLineRow
        rows = self._session.execute(
            select(
                line.order_id,
                func.count(),
                func.sum(line.quantity),
                func.sum(_RECEIVED),
                func.sum(_OUTSTANDING),
                func.sum(_TOTAL),
            )
            .where(line.order_id.in_(order_ids))
            .group_by(line.order_id)
        )
        return {id_: (lines, *sums) for id_, lines, *sums in rows}  # type: ignore[misc]

    def _material_id(self, code: str) -> int:
        return material_row(self._session, code).id


def _lines_of(order_id: int) -> Select[SupplierOrderLineRow]:
    return (
        select(SupplierOrderLineRow)
        .where(SupplierOrderLineRow.order_id == order_id)
        .order_by(SupplierOrderLineRow.id)
    )


def _summary(row: SupplierOrderRow, sums: Any) -> SupplierOrderSummary:
    lines, ordered, received, outstanding, total = sums or (0, 0, 0, 0, 0)
    sent = row.stage == SupplierStage.SENT.value
    return value_of(
        SupplierOrderSummary,
        row,
        lines=lines,
        ordered=ordered,
        received=received,
        outstanding=outstanding if sent else 0,
        total=Money(total, CURRENCIES[row.currency]),
    )
