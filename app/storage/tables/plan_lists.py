"""Lists of cutting plans, the newest first, a page at a time: as records for reading."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.stock.planning.plans import NewBooking, PlanStage, standing_bookings
from app.storage.journal import Journal
from app.storage.paging import ListPage, PageRequest
from app.storage.tables.customers import CustomerRow
from app.storage.tables.materials import codes_now
from app.storage.tables.order_pieces import PieceRow
from app.storage.tables.orders import OrderRow
from app.storage.tables.plans import CuttingPlanRow, PlanBookingRow, PlanPartRow


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSummary:
    """A plan in a list. customers: for whom its pieces are, by name; due: the first day on which one of them is, None
    where none is. bins, booked: how many sticks and sheets it has, and how many are cut.
    """

    id: int
    number: str
    stage: PlanStage
    made_at: datetime
    by: str
    parts: int
    materials: tuple[str, ...]
    customers: tuple[str, ...]
    due: date | None
    bins: int
    booked: int


class PlanLists:
    """Answers lists of cutting plans."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._bookings = Journal(session, NewBooking, PlanBookingRow, PlanBookingRow.plan_id)

    def listed(
        self, stages: frozenset[PlanStage] = frozenset(), page: PageRequest | None = None
    ) -> ListPage[PlanSummary]:
        """Return one page of the plans at any of some stages (none for all), the newest first."""
        page = page or PageRequest()
        wanted = select(CuttingPlanRow)
        if stages:
            wanted = wanted.where(CuttingPlanRow.stage.in_([stage.value for stage in stages]))
        total = self._session.scalars(select(func.count()).select_from(wanted.subquery())).one()
        rows = self._session.scalars(
            wanted.order_by(CuttingPlanRow.id.desc()).limit(page.size).offset(page.offset)
        ).all()
        return ListPage.of(self._summaries(rows), total, page)

    def _wanted(self, ids: Sequence[int]) -> Mapping[int, set[tuple[str, date | None]]]:
        """Return for whom the pieces of some plans are and when each is due, by the plan's id."""
        found = self._session.execute(
            select(PlanPartRow.plan_id, CustomerRow.name, OrderRow.due)
            .join(PieceRow, PieceRow.id == PlanPartRow.piece_id)
            .join(OrderRow, OrderRow.id == PieceRow.order_id)
            .join(CustomerRow, CustomerRow.id == OrderRow.customer_id)
            .where(PlanPartRow.plan_id.in_(ids))
            .distinct()
        )
        wanted: dict[int, set[tuple[str, date | None]]] = {id: set() for id in ids}
        for plan_id, name, due in found:
            wanted[plan_id].add((name, due))
        return wanted

    def _summaries(self, rows: Sequence[CuttingPlanRow]) -> Iterable[PlanSummary]:
        ids, codes = [row.id for row in rows], codes_now(self._session)
        booked = self._bookings.by_owner(ids)
        parts = self._session.scalars(
            select(PlanPartRow).where(PlanPartRow.plan_id.in_(ids)).order_by(PlanPartRow.section)
        ).all()
        wanted = self._wanted(ids)
        for row in rows:
            ours = [part for part in parts if part.plan_id == row.id]
            yield PlanSummary(
                id=row.id,
                number=row.number,
                stage=PlanStage(row.stage),
                made_at=row.made_at,
                by=row.by,
                parts=len(ours),
                materials=tuple(dict.fromkeys(codes.current(part.material) for part in ours)),
                customers=tuple(sorted({name for name, _ in wanted[row.id]})),
                due=min((due for _, due in wanted[row.id] if due), default=None),
                bins=len({(part.section, part.bin) for part in ours}),
                booked=len(standing_bookings(booked[row.id])),
            )
