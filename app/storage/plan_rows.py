"""Cutting plans as rows, and back."""

from collections.abc import Iterable
from dataclasses import replace

from app.stock.former_codes import Codes
from app.stock.planning.plans import (
    BinAt,
    Booking,
    CuttingPlan,
    MarkKind,
    Moved,
    NewBooking,
    PartMark,
    PlanSection,
    PlanStage,
)
from app.storage.rows import CuttingPlanRow, PlanBookingRow, PlanPartRow, PlanTickRow
from app.storage.snapshots import SECTIONS


def sections_of(text: str, codes: Codes) -> tuple[PlanSection, ...]:
    """The sections of a JSON, their materials under the codes of today."""
    return tuple(
        replace(
            each,
            material=codes.material(each.material),
            parts=tuple(replace(part, what=codes.what(part.what)) for part in each.parts),
        )
        for each in SECTIONS.read(text)
    )


def plan_of(
    row: CuttingPlanRow,
    sections: tuple[PlanSection, ...],
    marks: Iterable[PlanTickRow],
    bookings: Iterable[PlanBookingRow],
) -> CuttingPlan:
    """The plan of a row, its sections and its record."""
    return CuttingPlan(
        id=row.id,
        version=row.version,
        number=row.number,
        stage=PlanStage(row.stage),
        made_at=row.at,
        by=row.by,
        solver=row.solver,
        sections=sections,
        marks=tuple(map(mark_of, marks)),
        bookings=tuple(map(booking_of, bookings)),
    )


def part_rows(plan_id: int, sections: Iterable[PlanSection]) -> list[PlanPartRow]:
    """A row for every part that lies in a plan."""
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


def mark_row(plan_id: int, mark: PartMark) -> PlanTickRow:
    """The row of a mark."""
    return PlanTickRow(
        plan_id=plan_id,
        part=mark.part,
        mark=mark.mark.value,
        standing=mark.standing,
        note=mark.note,
        at=mark.at,
        by=mark.by,
    )


def mark_of(row: PlanTickRow) -> PartMark:
    """The mark of a row."""
    return PartMark(
        part=row.part,
        mark=MarkKind(row.mark),
        standing=row.standing,
        at=row.at,
        by=row.by,
        note=row.note,
    )


def booking_row(plan_id: int, entry: NewBooking) -> PlanBookingRow:
    """The row of a booking."""
    return PlanBookingRow(
        plan_id=plan_id,
        section=entry.bin.section,
        bin=entry.bin.bin,
        moved=[[moved.item_id, moved.movement_id] for moved in entry.moved],
        at=entry.at,
        by=entry.by,
        takes_back=entry.takes_back,
    )


def booking_of(row: PlanBookingRow) -> Booking:
    """The booking of a row."""
    entry = NewBooking(
        bin=BinAt(section=row.section, bin=row.bin),
        at=row.at,
        by=row.by,
        moved=tuple(Moved(item_id=item, movement_id=movement) for item, movement in row.moved),
        takes_back=row.takes_back,
    )
    return Booking(id=row.id, entry=entry)
