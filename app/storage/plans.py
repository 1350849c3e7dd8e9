"""Cutting plans as they are kept, and the parts that they hold or have cut."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, func, literal_column, select
from sqlalchemy.orm import Session

from app.errors import NotFound, quoted
from app.stock.former_codes import Codes
from app.stock.planning.open_work import PartInPlan
from app.stock.planning.plans import (
    BinAt,
    CuttingPlan,
    NewBooking,
    PartMark,
    PlanSection,
    PlanStage,
    reserved_by,
    standing_bookings,
    unbooked,
)
from app.storage.codes import codes_now
from app.storage.memo import Memo
from app.storage.orders import Stamp
from app.storage.paging import ListPage, PageRequest, Stale
from app.storage.plan_rows import (
    booking_of,
    booking_row,
    mark_row,
    part_rows,
    plan_of,
    sections_of,
)
from app.storage.rows import CuttingPlanRow, PlanBookingRow, PlanPartRow, PlanTickRow
from app.storage.snapshots import SECTIONS

_MOST_PLANS = 60
"""Plans whose sections are kept in memory; few are open at a time. Source: ours."""

_SPOILED: ColumnElement[bool] = literal_column("plan_ticks.mark = 'spoiled'")
"""Written out, since a partial index is not used for a bound value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSummary:
    """A plan in a list. bins, booked: how many sticks and sheets it has, and how many are cut."""

    id: int
    number: str
    stage: PlanStage
    made_at: datetime
    by: str
    parts: int
    materials: tuple[str, ...]
    bins: int
    booked: int


class Plans:
    """Keeps cutting plans. lasting: sections that were read before; they are written once."""

    def __init__(self, session: Session, lasting: Memo | None = None) -> None:
        self._session = session
        self._lasting = lasting or Memo()

    def add(self, number: str, sections: Sequence[PlanSection], solver: str, act: Stamp) -> int:
        """Keep a new plan; returns its id."""
        row = CuttingPlanRow(
            version=1,
            number=number,
            stage=PlanStage.OPEN.value,
            solver=solver,
            sections=SECTIONS.write(tuple(sections)),
            at=act.now,
            by=act.who,
        )
        self._session.add(row)
        self._session.flush()
        self._session.add_all(part_rows(row.id, sections))
        self._session.flush()
        return row.id

    def get(self, plan_id: int) -> CuttingPlan:
        """A plan with its record. Raises: NotFound."""
        return self._plans([self._row(plan_id)])[0]

    def id_of(self, number: str) -> int:
        """The id of the plan with a number, any case. Raises: NotFound."""
        found = self._session.scalars(
            select(CuttingPlanRow.id).where(CuttingPlanRow.number == number.strip().upper())
        ).one_or_none()
        if found is None:
            raise NotFound(f"There is no cutting plan {quoted(number)}.")
        return found

    def open(self) -> tuple[CuttingPlan, ...]:
        """Every open plan, the oldest first."""
        rows = self._session.scalars(
            select(CuttingPlanRow)
            .where(CuttingPlanRow.stage == PlanStage.OPEN.value)
            .order_by(CuttingPlanRow.id)
        )
        return self._plans(rows.all())

    def listed(
        self, stages: frozenset[PlanStage] = frozenset(), page: PageRequest | None = None
    ) -> ListPage[PlanSummary]:
        """One page of the plans at any of some stages (none for all), the newest first."""
        page = page or PageRequest()
        wanted = select(CuttingPlanRow)
        if stages:
            wanted = wanted.where(CuttingPlanRow.stage.in_([stage.value for stage in stages]))
        total = self._session.scalars(select(func.count()).select_from(wanted.subquery())).one()
        rows = self._session.scalars(
            wanted.order_by(CuttingPlanRow.id.desc()).limit(page.size).offset(page.offset)
        ).all()
        return ListPage.of(self._summaries(rows), total, page)

    def reserved(self) -> Counter[int]:
        """How many of each item of stock open plans are still to take, by the item's id."""
        return sum((reserved_by(plan) for plan in self.open()), Counter())

    def spoken_for(self) -> Counter[str]:
        """How many sticks or sheets open plans are still to buy or find, by the material's code."""
        found: Counter[str] = Counter()
        for plan in self.open():
            for at in unbooked(plan):
                if plan.source(at) is None:
                    found[plan.section(at.section).material.code] += 1
        return found

    def hold_material(self, codes: Iterable[str]) -> bool:
        """Whether an open plan is of a material. codes: all that it has and had."""
        found = (
            select(PlanPartRow.part)
            .join(CuttingPlanRow, CuttingPlanRow.id == PlanPartRow.plan_id)
            .where(
                PlanPartRow.material.in_(tuple(codes)),
                CuttingPlanRow.stage == PlanStage.OPEN.value,
            )
        )
        return self._session.scalars(found.limit(1)).first() is not None

    def parts_of(self, piece_ids: Iterable[int]) -> Mapping[int, tuple[PartInPlan, ...]]:
        """What plans hold or have cut of some pieces, by the piece's id; the oldest plan first."""
        found = self._session.execute(
            select(PlanPartRow, CuttingPlanRow.number, CuttingPlanRow.stage)
            .join(CuttingPlanRow, CuttingPlanRow.id == PlanPartRow.plan_id)
            .where(PlanPartRow.piece_id.in_(tuple(piece_ids)))
            .order_by(PlanPartRow.plan_id)
        ).all()
        plan_ids = {row.plan_id for row, _, _ in found}
        booked, spoiled = self._booked(plan_ids), self._spoiled(plan_ids)
        codes = codes_now(self._session)
        parts: dict[int, list[PartInPlan]] = {}
        for row, number, stage in found:
            at = BinAt(section=row.section, bin=row.bin)
            part = PartInPlan(
                plan_id=row.plan_id,
                plan_number=number,
                plan_stage=PlanStage(stage),
                at=at,
                part=row.part,
                what=codes.what(row.what),
                to_buy=row.to_buy,
                booked=(row.plan_id, at) in booked,
                spoiled=(row.plan_id, row.part) in spoiled,
            )
            parts.setdefault(row.piece_id, []).append(part)
        return {piece_id: tuple(each) for piece_id, each in parts.items()}

    def spoiled_pieces(self) -> frozenset[int]:
        """The ids of pieces of which a part was ever spoiled and that was not taken back."""
        return frozenset(int(part.partition("/")[0]) for _, part in self._spoiled())

    def claim(self, plan_id: int, expected_version: int) -> CuttingPlan:
        """A plan for changing it as a whole. Raises: NotFound, Stale with the plan as it is kept."""
        plan = self.get(plan_id)
        if plan.version != expected_version:
            raise Stale(f"Cutting plan {plan.number}", plan)
        return plan

    def move(self, plan_id: int, stage: PlanStage) -> None:
        """Put a plan at a stage; its version goes up. Raises: NotFound."""
        row = self._row(plan_id)
        row.stage = stage.value
        row.version += 1
        self._session.flush()

    def mark(self, plan_id: int, marks: Iterable[PartMark]) -> None:
        """Write marks down."""
        self._session.add_all(mark_row(plan_id, mark) for mark in marks)
        self._session.flush()

    def book(self, plan_id: int, entry: NewBooking) -> int:
        """Write a booking down; returns its id."""
        row = booking_row(plan_id, entry)
        self._session.add(row)
        self._session.flush()
        return row.id

    def _row(self, plan_id: int) -> CuttingPlanRow:
        row = self._session.get(CuttingPlanRow, plan_id)
        if row is None:
            raise NotFound(f"There is no cutting plan with the id {plan_id}.")
        return row

    def _plans(self, rows: Sequence[CuttingPlanRow]) -> tuple[CuttingPlan, ...]:
        ids = [row.id for row in rows]
        marks, bookings = self._ticks(ids), self._bookings(ids)
        codes = codes_now(self._session)
        return tuple(
            plan_of(
                row,
                self._sections(row, codes),
                (each for each in marks if each.plan_id == row.id),
                (each for each in bookings if each.plan_id == row.id),
            )
            for row in rows
        )

    def _sections(self, row: CuttingPlanRow, codes: Codes) -> tuple[PlanSection, ...]:
        def read() -> tuple[PlanSection, ...]:
            return sections_of(row.sections, codes)

        return self._lasting.of("sections", (row.id, codes), read, most=_MOST_PLANS)

    def _ticks(self, plan_ids: Iterable[int]) -> Sequence[PlanTickRow]:
        ours = select(PlanTickRow).where(PlanTickRow.plan_id.in_(tuple(plan_ids)))
        return self._session.scalars(ours.order_by(PlanTickRow.id)).all()

    def _bookings(self, plan_ids: Iterable[int]) -> Sequence[PlanBookingRow]:
        ours = select(PlanBookingRow).where(PlanBookingRow.plan_id.in_(tuple(plan_ids)))
        return self._session.scalars(ours.order_by(PlanBookingRow.id)).all()

    def _booked(self, plan_ids: Iterable[int]) -> set[tuple[int, BinAt]]:
        rows = self._bookings(plan_ids)
        by_plan = {
            plan_id: standing_bookings(booking_of(row) for row in rows if row.plan_id == plan_id)
            for plan_id in {row.plan_id for row in rows}
        }
        return {(plan_id, at) for plan_id, booked in by_plan.items() for at in booked}

    def _spoiled(self, plan_ids: Iterable[int] | None = None) -> set[tuple[int, str]]:
        """(plan, part) of what stands as spoiled; of some plans, or of all."""
        rows = select(PlanTickRow.plan_id, PlanTickRow.part, PlanTickRow.standing).where(_SPOILED)
        if plan_ids is not None:
            rows = rows.where(PlanTickRow.plan_id.in_(tuple(plan_ids)))
        found = self._session.execute(rows.order_by(PlanTickRow.id))
        last = {(plan_id, part): stands for plan_id, part, stands in found}
        return {key for key, stands in last.items() if stands}

    def _summaries(self, rows: Sequence[CuttingPlanRow]) -> Iterable[PlanSummary]:
        ids, codes = [row.id for row in rows], codes_now(self._session)
        booked = Counter(plan_id for plan_id, _ in self._booked(ids))
        parts = self._session.scalars(
            select(PlanPartRow).where(PlanPartRow.plan_id.in_(ids)).order_by(PlanPartRow.section)
        ).all()
        for row in rows:
            ours = [part for part in parts if part.plan_id == row.id]
            yield PlanSummary(
                id=row.id,
                number=row.number,
                stage=PlanStage(row.stage),
                made_at=row.at,
                by=row.by,
                parts=len(ours),
                materials=tuple(dict.fromkeys(codes.current(part.material) for part in ours)),
                bins=len({(part.section, part.bin) for part in ours}),
                booked=booked[row.id],
            )
