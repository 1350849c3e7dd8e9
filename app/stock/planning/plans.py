"""Cutting plans that are kept: what they were made from, and what was done with them.

Owns the plan as a value, its record of marks and bookings, and what stands of that. A plan is never
worked out again: what was kept is what is cut. Sections and the bins of a section are numbered from 1.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from app import journal
from app.cutting import OpenedSheet, OpenedStick, Plan, StickPlan
from app.errors import Conflict, Invalid, NotFound
from app.journal import Contrary, Noted, Written, standing_by
from app.pricing import Material
from app.stock.items import StockForm
from app.stock.planning.parts import PartToCut, PieceRef, part_id
from app.stock.planning.problems import WHOLE, OnRack, PlanningProblem, is_usual

type Opened = OpenedStick | OpenedSheet


class PlanStage(StrEnum):
    """Where a plan stands. DONE: everything is booked. DROPPED: what was not booked is open again."""

    OPEN = "open"
    DONE = "done"
    DROPPED = "dropped"

    @property
    def word(self) -> str:
        """The stage as people read it: a plan that was dropped is called deleted."""
        return "deleted" if self is PlanStage.DROPPED else self.value


class MarkKind(StrEnum):
    """What is marked on a part: that it was cut, or that it was spoiled and is wanted again."""

    CUT = "cut"
    SPOILED = "spoiled"


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class BinAt:
    """A stick or sheet of a plan: the number of its section, its own number there, both from 1."""

    section: int
    bin: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPart:
    """A part as it was planned. key, words, copy: as of the part. what: material and size (`PartToCut`)."""

    piece: PieceRef
    key: str
    words: str
    what: str
    copy: int = 1

    @property
    def id(self) -> str:
        """The id of the part: "17/frame-1.top"."""
        return part_id(self.piece.piece_id, self.copy, self.key)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSection:
    """The plan of one material. material: as the price book had it, or as it was agreed (in_book).

    parts: those that lie in its bins. sources: of each bin, the item of the rack it is taken from, by
    id; None for one that is to be bought.
    Raises: Invalid where these do not go with the plan.
    """

    material: Material
    in_book: bool
    plan: Plan
    parts: tuple[PlannedPart, ...]
    sources: tuple[int | None, ...]

    def __post_init__(self) -> None:
        if len(self.sources) != len(self.plan.bins):
            raise Invalid.at("sources", "Each stick or sheet of a plan is from somewhere.")
        laid = Counter(part.id for opened in self.plan.bins for part in opened.parts)
        if laid != Counter(part.id for part in self.parts):
            raise Invalid.at("parts", "The parts of a section are those that lie in its plan.")

    @property
    def form(self) -> StockForm:
        """Whether it is about sticks or sheets."""
        return StockForm.STICK if isinstance(self.plan, StickPlan) else StockForm.SHEET

    @property
    def bins(self) -> tuple[Opened, ...]:
        """The sticks or sheets in their order."""
        return self.plan.bins

    @property
    def to_buy(self) -> int:
        """How many sticks or sheets are needed beyond those on the rack."""
        return sum(1 for source in self.sources if source is None)

    def part(self, part_id: str) -> PlannedPart:
        """Return the part of an id. Raises: NotFound."""
        for part in self.parts:
            if part.id == part_id:
                return part
        raise NotFound("The plan has no such part.")

    def parts_of(self, opened: Opened) -> tuple[PlannedPart, ...]:
        """Return the parts of one stick or sheet, in the order in which they lie there."""
        by_id = {part.id: part for part in self.parts}
        return tuple(by_id[laid.id] for laid in opened.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMark(Noted):
    """A part marked, or its mark taken back (standing False). note: why it was spoiled."""

    part: str
    mark: MarkKind
    standing: bool
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A movement of stock that a booking made."""

    item_id: int
    movement_id: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBooking(Contrary):
    """A bin booked as cut, or a booking taken back (takes_back: its id).

    moved: what it did to the stock, the stick or sheet first, then what was kept of it.
    """

    bin: BinAt
    moved: tuple[Moved, ...]


Booking = Written[NewBooking]
"""A booking as it is kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """A plan as it is kept. version: grows with every booking and with its stage, not with marks.

    number: "P-2026-0007". solver: what it was made with, its version included; "" for our own rule.
    marks, bookings: the oldest first.
    """

    id: int
    version: int
    number: str
    stage: PlanStage
    made_at: datetime
    by: str
    sections: tuple[PlanSection, ...]
    solver: str = ""
    marks: tuple[PartMark, ...] = ()
    bookings: tuple[Booking, ...] = ()
    _places: Mapping[str, BinAt] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        places = {laid.id: at for at in self.bins() for laid in self.opened(at).parts}
        object.__setattr__(self, "_places", places)  # asked of every part of a page

    def section(self, number: int) -> PlanSection:
        """Return the section of a number. Raises: NotFound."""
        if not 1 <= number <= len(self.sections):
            raise NotFound(f"{self.number} has no section {number}.")
        return self.sections[number - 1]

    def opened(self, at: BinAt) -> Opened:
        """Return one stick or sheet. Raises: NotFound."""
        bins = self.section(at.section).bins
        if not 1 <= at.bin <= len(bins):
            raise NotFound(f"Section {at.section} of {self.number} has no number {at.bin}.")
        return bins[at.bin - 1]

    def source(self, at: BinAt) -> int | None:
        """Return the item that a stick or sheet is taken from; None where it is to be bought."""
        self.opened(at)
        return self.section(at.section).sources[at.bin - 1]

    def bins(self) -> Iterator[BinAt]:
        """Yield every stick and sheet, in their order."""
        for section, each in enumerate(self.sections, start=1):
            for number in range(1, len(each.bins) + 1):
                yield BinAt(section=section, bin=number)

    def parts_in(self, at: BinAt) -> tuple[PlannedPart, ...]:
        """Return the parts of one stick or sheet."""
        return self.section(at.section).parts_of(self.opened(at))

    def parts(self) -> tuple[PlannedPart, ...]:
        """Return every part of the plan."""
        return tuple(part for section in self.sections for part in section.parts)

    def bin_of(self, part_id: str) -> BinAt:
        """Tell where a part lies. Raises: NotFound."""
        if part_id not in self._places:
            raise NotFound(f"{self.number} has no such part.")
        return self._places[part_id]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStanding:
    """What stands of a plan's record.

    booked: bookings that were not taken back, by bin. ticked, spoiled: marks that were not, by part.
    """

    booked: Mapping[BinAt, Booking]
    ticked: Mapping[str, PartMark]
    spoiled: Mapping[str, PartMark]


def standing(plan: CuttingPlan) -> PlanStanding:
    """Return what stands of the record."""
    return PlanStanding(
        booked=standing_bookings(plan.bookings),
        ticked=_standing_marks(plan.marks, MarkKind.CUT),
        spoiled=_standing_marks(plan.marks, MarkKind.SPOILED),
    )


def standing_bookings(bookings: Sequence[Booking]) -> dict[BinAt, Booking]:
    """Return the bookings that were not taken back, by bin. bookings: the oldest first."""
    return {booking.entry.bin: booking for booking in journal.standing(bookings)}


def _standing_marks(marks: Iterable[PartMark], kind: MarkKind) -> dict[str, PartMark]:
    of_kind = (each for each in marks if each.mark is kind)
    return standing_by(of_kind, lambda each: each.part, stands=lambda each: each.standing)


def unbooked(plan: CuttingPlan) -> tuple[BinAt, ...]:
    """Return the sticks and sheets that are still to be cut; none of a plan that is not open."""
    if plan.stage is not PlanStage.OPEN:
        return ()
    booked = standing_bookings(plan.bookings)
    return tuple(at for at in plan.bins() if at not in booked)


def reserved_by(plan: CuttingPlan) -> Counter[int]:
    """Tell how many of each item an open plan still takes, by the item's id."""
    sources = (plan.source(at) for at in unbooked(plan))
    return Counter(source for source in sources if source is not None)


def beyond_rack(plan: CuttingPlan) -> Counter[str]:
    """Tell how many sticks or sheets an open plan needs beyond those on the rack, by the material's code."""
    return Counter(
        plan.section(at.section).material.code for at in unbooked(plan) if plan.source(at) is None
    )


def held_parts(plan: CuttingPlan) -> tuple[PlannedPart, ...]:
    """Return the parts that an open plan is still to cut; spoiled ones are open work again."""
    spoiled = standing(plan).spoiled
    return tuple(
        part for at in unbooked(plan) for part in plan.parts_in(at) if part.id not in spoiled
    )


def check_bookable(plan: CuttingPlan, at: BinAt) -> None:
    """Raises: NotFound; Conflict unless the bin of an open plan is still to be booked."""
    plan.opened(at)
    if plan.stage is PlanStage.DROPPED:
        raise Conflict(f"{plan.number} was deleted; nothing more is cut by it.")
    booking = standing_bookings(plan.bookings).get(at)
    if booking is not None:
        by = f" by {booking.entry.by}" if booking.entry.by else ""
        raise Conflict(
            f"Number {at.bin} of section {at.section} is booked already{by}. Undo that first "
            "if it was a slip."
        )


def section_of(problem: PlanningProblem, plan: Plan) -> PlanSection:
    """Return a planned problem as it is kept: its bins taken from the rack as far as that goes."""
    laid = {part.id for opened in plan.bins for part in opened.parts}
    return PlanSection(
        material=problem.material,
        in_book=problem.in_book,
        plan=plan,
        parts=tuple(planned(problem.parts[id]) for id in problem.parts if id in laid),
        sources=allocated(plan, problem.material, problem.rack),
    )


def planned(part: PartToCut) -> PlannedPart:
    """Return a part as a plan keeps it."""
    return PlannedPart(
        piece=part.piece, key=part.key, words=part.words, what=part.what, copy=part.copy
    )


def allocated(plan: Plan, material: Material, rack: Sequence[OnRack]) -> tuple[int | None, ...]:
    """Return the item that each bin is taken from: whole stock from the oldest item on; None to buy.

    Raises: Conflict where an item of the plan is no longer free.
    """
    free = {each.kept.id: each.available for each in rack}
    usual = [each.kept.id for each in rack if is_usual(each.kept.item, material)]
    owned = {each.id: each.kept.id for each in rack}
    sources: list[int | None] = []
    for opened in plan.bins:
        if opened.stock == WHOLE:
            source = next((id for id in usual if free[id] > 0), None)
        else:
            source = owned.get(opened.stock)
            if source is None or free[source] < 1:
                raise Conflict(
                    f"A piece of {material.code} that the plan takes from the rack is gone: it was "
                    "cut, or another plan has taken it. Plan again."
                )
        if source is not None:
            free[source] -= 1
        sources.append(source)
    return tuple(sources)
