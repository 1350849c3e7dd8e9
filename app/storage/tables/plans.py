"""Keeps cutting plans, and the parts that they hold or have cut."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Dialect,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Text,
    TypeDecorator,
    literal_column,
    select,
    text,
)
from sqlalchemy.orm import Mapped, Session, mapped_column

from app.errors import NotFound, quoted
from app.stock.former_codes import Codes
from app.stock.planning.open_work import PartInPlan
from app.stock.planning.plans import (
    BinAt,
    CuttingPlan,
    Moved,
    NewBooking,
    PartMark,
    PlanSection,
    PlanStage,
    reserved_by,
    standing_bookings,
)
from app.storage.journal import ContraryRow, Journal, JournalRow, Sealing
from app.storage.mapping import (
    KEYED,
    STRICT,
    JsonList,
    Row,
    value_of,
)
from app.storage.memo import Memo
from app.storage.paging import Stale, Stamp
from app.storage.snapshots import SECTIONS
from app.storage.tables.materials import FormerCodeRow, MaterialRow, codes_now


class MovedList(TypeDecorator[tuple[Moved, ...]]):
    """Movements that a booking made, as pairs of (item, movement)."""

    impl = JsonList
    cache_ok = True

    def process_bind_param(self, value: Iterable[Moved] | None, dialect: Dialect) -> Any:
        """Return the movements as pairs."""
        return None if value is None else [[each.item_id, each.movement_id] for each in value]

    def process_result_value(self, value: Any, dialect: Dialect) -> tuple[Moved, ...]:
        """Return the movements that the pairs stand for."""
        return tuple(Moved(item_id=item, movement_id=movement) for item, movement in value)


class CuttingPlanRow(Row):
    """A cutting plan. sections: the JSON of its sections, written once."""

    __tablename__ = "cutting_plans"
    __table_args__ = (
        Index("cutting_plans_by_number", "number", unique=True),
        Index("cutting_plans_by_stage", "stage"),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    version: Mapped[int]
    number: Mapped[str]
    stage: Mapped[str]
    solver: Mapped[str]
    sections: Mapped[str]
    made_at: Mapped[datetime] = mapped_column("at")
    by: Mapped[str]
    sealed = Sealing(columns=("id", "number", "solver", "sections", "at", "by"))


class PlanPartRow(Row):
    """A part of a piece in a plan, written once. section, bin: where it lies, from 1."""

    __tablename__ = "plan_parts"
    __table_args__ = (
        Index("plan_parts_by_piece", "piece_id"),
        Index("plan_parts_by_material", "material"),
        KEYED,
    )
    plan_id: Mapped[int] = mapped_column(
        ForeignKey("cutting_plans.id"), primary_key=True, autoincrement=False
    )
    part: Mapped[str] = mapped_column(primary_key=True)
    piece_id: Mapped[int] = mapped_column(ForeignKey("pieces.id"))
    what: Mapped[str]
    material: Mapped[str] = mapped_column(Text(collation="NOCASE"))
    section: Mapped[int]
    bin: Mapped[int]
    to_buy: Mapped[bool]


class PlanTickRow(JournalRow, Row):
    """One mark on a part of a plan, or its taking back, written once."""

    __tablename__ = "plan_ticks"
    __table_args__ = (
        ForeignKeyConstraint(["plan_id", "part"], ["plan_parts.plan_id", "plan_parts.part"]),
        Index("plan_ticks_by_plan", "plan_id"),
        Index("plan_ticks_spoiled", "plan_id", "part", sqlite_where=text("mark = 'spoiled'")),
        STRICT,
    )
    plan_id: Mapped[int]
    part: Mapped[str]
    mark: Mapped[str]
    standing: Mapped[bool]
    note: Mapped[str]


class PlanBookingRow(ContraryRow, Row):
    """One stick or sheet booked as cut, or a booking taken back, written once."""

    __tablename__ = "plan_bookings"
    __table_args__ = (
        Index("plan_bookings_by_plan", "plan_id"),
        Index("plan_bookings_by_taken_back", "takes_back", unique=True),
        STRICT,
    )
    plan_id: Mapped[int] = mapped_column(ForeignKey("cutting_plans.id"))
    section: Mapped[int]
    bin: Mapped[int]
    moved: Mapped[tuple[Moved, ...]] = mapped_column(MovedList)


def sections_of(text: str, codes: Codes) -> tuple[PlanSection, ...]:
    """Read the sections of a JSON, their materials under the codes of today."""
    return tuple(
        replace(
            each,
            material=codes.material(each.material),
            parts=tuple(replace(part, what=codes.what(part.what)) for part in each.parts),
        )
        for each in SECTIONS.read(text)
    )


def part_rows(plan_id: int, sections: Iterable[PlanSection]) -> list[PlanPartRow]:
    """Return a row for every part that lies in a plan."""
    return [
        PlanPartRow(
            plan_id=plan_id,
            part=part.id,
            piece_id=part.piece.piece_id,
            what=part.what,
            material=section.material.code,
            section=number,
            bin=bin_number,
            to_buy=section.sources[bin_number - 1] is None,
        )
        for number, section in enumerate(sections, start=1)
        for bin_number, opened in enumerate(section.bins, start=1)
        for part in section.parts_of(opened)
    ]


_MOST_PLANS = 60
"""Plans whose sections are kept in memory; few are open at a time. Source: ours."""

_SPOILED: ColumnElement[bool] = literal_column("plan_ticks.mark = 'spoiled'")
"""Written out, since a partial index is not used for a bound value."""


class Plans:
    """Keeps cutting plans. lasting: sections that were read before; they are written once."""

    def __init__(self, session: Session, lasting: Memo | None = None) -> None:
        self._session = session
        self._lasting = lasting or Memo()
        self._marks = Journal(session, PartMark, PlanTickRow, PlanTickRow.plan_id)
        self._bookings = Journal(session, NewBooking, PlanBookingRow, PlanBookingRow.plan_id)

    def add(self, number: str, sections: Sequence[PlanSection], solver: str, act: Stamp) -> int:
        """Keep a new plan; returns its id."""
        row = CuttingPlanRow(
            version=1,
            number=number,
            stage=PlanStage.OPEN.value,
            solver=solver,
            sections=SECTIONS.write(tuple(sections)),
            made_at=act.now,
            by=act.who,
        )
        self._session.add(row)
        self._session.flush()
        self._session.add_all(part_rows(row.id, sections))
        self._session.flush()
        return row.id

    def get(self, plan_id: int) -> CuttingPlan:
        """Return a plan with its record. Raises: NotFound."""
        return self._plans([self._row(plan_id)])[0]

    def id_of(self, number: str) -> int:
        """Return the id of the plan with a number, any case. Raises: NotFound."""
        found = self._session.scalars(
            select(CuttingPlanRow.id).where(CuttingPlanRow.number == number.strip().upper())
        ).one_or_none()
        if found is None:
            raise NotFound(f"There is no cutting plan {quoted(number)}.")
        return found

    def open(self) -> tuple[CuttingPlan, ...]:
        """Return every open plan, the oldest first."""
        rows = self._session.scalars(
            select(CuttingPlanRow)
            .where(CuttingPlanRow.stage == PlanStage.OPEN.value)
            .order_by(CuttingPlanRow.id)
        )
        return self._plans(rows.all())

    def reserved(self) -> Counter[int]:
        """Return how many of each item of stock open plans are still to take, by the item's id."""
        return sum((reserved_by(plan) for plan in self.open()), Counter())

    def holds(self, material_id: int) -> str:
        """Return why a material must stay, since an open plan is to be booked from its stock; "" where none is."""
        codes = (
            select(MaterialRow.code)
            .where(MaterialRow.id == material_id)
            .union(select(FormerCodeRow.code).where(FormerCodeRow.material_id == material_id))
        )
        found = (
            select(PlanPartRow.part)
            .join(CuttingPlanRow, CuttingPlanRow.id == PlanPartRow.plan_id)
            .where(PlanPartRow.material.in_(codes), CuttingPlanRow.stage == PlanStage.OPEN.value)
        )
        if self._session.scalars(found.limit(1)).first() is None:
            return ""
        return (
            "is in an open cutting plan, so it stays in the price book. Book or delete the plan "
            "first, or discontinue the material instead."
        )

    def parts_of(self, piece_ids: Iterable[int]) -> Mapping[int, tuple[PartInPlan, ...]]:
        """Return the parts of some pieces that plans hold or have cut, by the piece's id; the oldest plan first."""
        found = self._session.execute(
            select(
                *PlanPartRow.__table__.columns,
                CuttingPlanRow.number,
                CuttingPlanRow.stage,
            )
            .join(CuttingPlanRow, CuttingPlanRow.id == PlanPartRow.plan_id)
            .where(PlanPartRow.piece_id.in_(tuple(piece_ids)))
            .order_by(PlanPartRow.plan_id)
        ).all()
        plan_ids = {row.plan_id for row in found}
        booked, spoiled = self._booked(plan_ids), self._spoiled(plan_ids)
        codes = codes_now(self._session)
        parts: dict[int, list[PartInPlan]] = {}
        for row in found:
            at = BinAt(section=row.section, bin=row.bin)
            part = PartInPlan(
                plan_id=row.plan_id,
                plan_number=row.number,
                plan_stage=PlanStage(row.stage),
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
        """Return the ids of pieces with a part that was spoiled, where that was not taken back."""
        return frozenset(int(part.partition("/")[0]) for _, part in self._spoiled())

    def claim(self, plan_id: int, expected_version: int) -> CuttingPlan:
        """Claim a plan for changing it as a whole. Raises: NotFound, Stale with the plan as it is kept."""
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
        self._marks.add(plan_id, *marks)

    def book(self, plan_id: int, entry: NewBooking) -> int:
        """Write a booking down; returns its id."""
        return self._bookings.add(plan_id, entry)

    def _row(self, plan_id: int) -> CuttingPlanRow:
        row = self._session.get(CuttingPlanRow, plan_id)
        if row is None:
            raise NotFound(f"There is no cutting plan with the id {plan_id}.")
        return row

    def _plans(self, rows: Sequence[CuttingPlanRow]) -> tuple[CuttingPlan, ...]:
        ids = [row.id for row in rows]
        marks, bookings = self._marks.by_owner(ids), self._bookings.by_owner(ids)
        codes = codes_now(self._session)
        return tuple(
            value_of(
                CuttingPlan,
                row,
                sections=self._sections(row, codes),
                marks=tuple(each.entry for each in marks[row.id]),
                bookings=bookings[row.id],
            )
            for row in rows
        )

    def _sections(self, row: CuttingPlanRow, codes: Codes) -> tuple[PlanSection, ...]:
        def read() -> tuple[PlanSection, ...]:
            return sections_of(row.sections, codes)

        return self._lasting.of("sections", (row.id, codes), read, most=_MOST_PLANS)

    def _booked(self, plan_ids: Iterable[int]) -> set[tuple[int, BinAt]]:
        return {
            (plan_id, at)
            for plan_id, bookings in self._bookings.by_owner(plan_ids).items()
            for at in standing_bookings(bookings)
        }

    def _spoiled(self, plan_ids: Iterable[int] | None = None) -> set[tuple[int, str]]:
        """(plan, part) of what stands as spoiled; of some plans, or of all."""
        rows = select(PlanTickRow.plan_id, PlanTickRow.part, PlanTickRow.standing).where(_SPOILED)
        if plan_ids is not None:
            rows = rows.where(PlanTickRow.plan_id.in_(tuple(plan_ids)))
        found = self._session.execute(rows.order_by(PlanTickRow.id))
        last = {(plan_id, part): stands for plan_id, part, stands in found}
        return {key for key, stands in last.items() if stands}
