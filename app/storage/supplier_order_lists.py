"""Orders to suppliers as records of a list, and what is coming of each material."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from app.money import CURRENCIES, Money
from app.stock.buying.supplier_orders import SupplierStage
from app.storage.paging import ListPage, PageRequest
from app.storage.rows import DeliveryRow, MaterialRow, SupplierOrderLineRow, SupplierOrderRow

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
        """On order and in drafts together."""
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


def coming(session: Session) -> dict[str, Coming]:
    """What is on order and in drafts, by the material's code."""
    rows = session.execute(
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


def page_of_orders(
    session: Session, stages: frozenset[SupplierStage], page: PageRequest
) -> ListPage[SupplierOrderSummary]:
    """One page of the orders at some stages, all of them where none is named, the newest first."""
    at: list[ColumnElement[bool]] = []
    if stages:
        at = [SupplierOrderRow.stage.in_(sorted(stage.value for stage in stages))]
    total = session.scalars(select(func.count()).select_from(SupplierOrderRow).where(*at)).one()
    rows = session.scalars(
        select(SupplierOrderRow)
        .where(*at)
        .order_by(SupplierOrderRow.made_on.desc(), SupplierOrderRow.id.desc())
        .limit(page.size)
        .offset(page.offset)
    ).all()
    sums = _sums(session, [row.id for row in rows])
    return ListPage.of((_summary(row, sums.get(row.id)) for row in rows), total, page)


def stage_counts(session: Session) -> dict[SupplierStage, int]:
    """How many orders stand at each stage."""
    counted = select(SupplierOrderRow.stage, func.count()).group_by(SupplierOrderRow.stage)
    found = {SupplierStage(stage): count for stage, count in session.execute(counted)}
    return {stage: found.get(stage, 0) for stage in SupplierStage}


def _sums(
    session: Session, order_ids: Sequence[int]
) -> Mapping[int, tuple[int, int, int, int, int]]:
    """(lines, ordered, received, outstanding, total in minor units) by order."""
    line = SupplierOrderLineRow
    rows = session.execute(
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


def _summary(row: SupplierOrderRow, sums: Any) -> SupplierOrderSummary:
    lines, ordered, received, outstanding, total = sums or (0, 0, 0, 0, 0)
    stage = SupplierStage(row.stage)
    return SupplierOrderSummary(
        id=row.id,
        number=row.number,
        supplier=row.supplier,
        stage=stage,
        made_on=row.made_on,
        sent_on=row.sent_on,
        lines=lines,
        ordered=ordered,
        received=received,
        outstanding=outstanding if stage is SupplierStage.SENT else 0,
        total=Money(total, CURRENCIES[row.currency]),
    )
