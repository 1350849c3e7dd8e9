"""Cutting plans, their parts, marks and bookings."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index, Text, text
from sqlalchemy.orm import Mapped, mapped_column

from app.storage.rows.row import KEYED, STRICT, Row


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
    at: Mapped[datetime]
    by: Mapped[str]


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


class PlanTickRow(Row):
    """One mark on a part of a plan, or its taking back, written once."""

    __tablename__ = "plan_ticks"
    __table_args__ = (
        ForeignKeyConstraint(["plan_id", "part"], ["plan_parts.plan_id", "plan_parts.part"]),
        Index("plan_ticks_by_plan", "plan_id"),
        Index("plan_ticks_spoiled", "plan_id", "part", sqlite_where=text("mark = 'spoiled'")),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    plan_id: Mapped[int]
    part: Mapped[str]
    mark: Mapped[str]
    standing: Mapped[bool]
    note: Mapped[str]
    at: Mapped[datetime]
    by: Mapped[str]


class PlanBookingRow(Row):
    """One stick or sheet booked as cut, or a booking taken back, written once."""

    __tablename__ = "plan_bookings"
    __table_args__ = (
        Index("plan_bookings_by_plan", "plan_id"),
        Index("plan_bookings_by_taken_back", "takes_back", unique=True),
        STRICT,
    )
    id: Mapped[int] = mapped_column(primary_key=True)
    plan_id: Mapped[int] = mapped_column(ForeignKey("cutting_plans.id"))
    section: Mapped[int]
    bin: Mapped[int]
    moved: Mapped[list[Any]]
    at: Mapped[datetime]
    by: Mapped[str]
    takes_back: Mapped[int | None] = mapped_column(ForeignKey("plan_bookings.id"))
