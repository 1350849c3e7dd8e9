"""The list of cutting plans, and the page that asks what to plan."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import ClassVar

from app.counting import counted
from app.days import Calendar, Towards
from app.errors import Fault
from app.forms.kinds import understood_day
from app.lengths import ZERO
from app.orders import Shop
from app.pricing import Kind
from app.services.open_work import OpenWork, Troubled
from app.stock.planning.as_set import say_as_set
from app.stock.planning.open_work import PieceInWork
from app.stock.planning.parts import PartToCut, without_number
from app.stock.planning.plans import PlanStage
from app.storage import PlanSummary
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.listing import ChipRow, Listing, ListQuery, choice
from app.web.materials.page import kind_word
from app.web.plans.form import HABIT, MATERIAL, PIECE, PLANNING
from app.web.stock.parts import StockPage

MOST_PIECES = 300
"""More than this are not listed at once: the first due come first. A form has room for 500 fields."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanRow:
    """A plan in the list.

    customers: for whom its pieces are, at most three named. due: the first day on which one is. materials: how many.
    done: how many sticks and sheets are cut, "3 of 5".
    """

    href: str
    number: str
    stage: PlanStage
    made_at: datetime
    by: str
    customers: str
    due: date | None
    materials: int
    parts: int
    done: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlansPage(StockPage):
    """The list of cutting plans."""

    title: str = "Cutting plans"
    part: str = "Plans"
    wide: bool = True
    listing: Listing[PlanRow]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanQuery(ListQuery):
    """The filters and the page that the address of the list asks for."""

    path: ClassVar[str] = "/plans"
    stage: PlanStage | None = choice(PlanStage)

    @property
    def stages(self) -> frozenset[PlanStage]:
        """The stages that are wanted; empty for all of them."""
        return frozenset({self.stage} if self.stage else ())

    def chips(self) -> ChipRow:
        """Return the filters: all, open, done, deleted."""
        stages = ((stage, stage.word.capitalize()) for stage in PlanStage)
        chips = self.choices("stage", ((None, "All"), *stages))
        return ChipRow(label="Where a plan stands", chips=chips)


def plan_rows(listed: Iterable[PlanSummary]) -> tuple[PlanRow, ...]:
    """Return the lines of the list."""
    return tuple(
        PlanRow(
            href=f"/plans/{each.id}",
            number=each.number,
            stage=each.stage,
            made_at=each.made_at,
            by=each.by,
            customers=_named(each.customers),
            due=each.due,
            materials=len(each.materials),
            parts=each.parts,
            done=f"{each.booked} of {each.bins}",
        )
        for each in listed
    )


def _named(customers: Sequence[str]) -> str:
    """Name customers, of more than three the first two: "Amber Quill, Ode Marsh and 4 more"."""
    if len(customers) <= _MOST_NAMED:
        return ", ".join(customers)
    first = customers[: _MOST_NAMED - 1]
    return f"{', '.join(first)} and {len(customers) - len(first)} more"


_MOST_NAMED = 3
"""Of more customers the first are named, the others are counted. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceChoice:
    """A piece that may be planned.

    parts: "4 rails, 2 mats". several: of how many that are alike, with how many parts together, as "160 parts of 20
    alike"; "" for a single piece. again: whether it has parts that were spoiled.
    """

    field: FieldView
    name: str
    title: str
    customer: str
    href: str
    due: date | None
    late: bool
    parts: str
    several: str
    again: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialChoice:
    """A material of which there are parts to cut.

    parts: how many. longest: the longest or largest of them, in words.
    """

    field: FieldView
    parts: int
    longest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPlanPage(StockPage):
    """The page that asks what to plan.

    more: how many pieces are not listed. due: the field of the filter above the list. by_simple_rule: the solver
    of cutting plans is not installed.
    """

    part: str = "Plans"
    wide: bool = True
    due: FieldView
    due_by: date | None
    pieces: tuple[PieceChoice, ...]
    more: int
    materials: tuple[MaterialChoice, ...]
    planning: FormView[Shop]
    troubled: tuple[Troubled, ...]
    parts_in_all: int
    by_simple_rule: bool

    @property
    def action(self) -> str:
        """The address that the form is posted to: with the day until which is listed what is due."""
        return f"/plans/new?due={self.due_by.isoformat()}" if self.due_by else "/plans/new"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choosing:
    """What the page of a new plan is made of.

    typed: None when the page is opened, where everything is ticked.
    """

    work: OpenWork
    shop: Shop
    today: date
    typed: Mapping[str, str] | None = None
    faults: tuple[Fault, ...] = ()

    @property
    def listed(self) -> tuple[PieceInWork, ...]:
        """The pieces with open parts, as many as the page lists."""
        return self.plannable[:MOST_PIECES]

    @property
    def plannable(self) -> tuple[PieceInWork, ...]:
        """Every piece with open parts."""
        return tuple(piece for piece in self.work.pieces if piece.open_parts)

    @property
    def fields(self) -> Fields:
        """The maker of the form's fields; everything is ticked until something was posted."""
        if self.typed is not None:
            return Fields(self.typed, self.faults)
        ticked = {f"{PIECE}{piece.ref.piece_id}": "1" for piece in self.listed}
        ticked |= {f"{MATERIAL}{code}": "1" for code in {p.material.code for p in self.work.parts}}
        return Fields({"together": HABIT, **ticked}, self.faults)

    def choosing(self, what: str, *, ticked: bool) -> dict[str, str]:
        """Return what was typed with all "pieces" or "materials" ticked, or none of them."""
        boxes = {
            "pieces": {f"{PIECE}{piece.ref.piece_id}" for piece in self.listed},
            "materials": {f"{MATERIAL}{part.material.code}" for part in self.work.parts},
        }[what]
        others = {name: text for name, text in (self.typed or {}).items() if name not in boxes}
        return others | dict.fromkeys(boxes, "1") if ticked else others

    def pieces(self) -> tuple[PieceChoice, ...]:
        """Return the pieces with their boxes, the first due first."""
        make = self.fields
        return tuple(
            PieceChoice(
                field=make.field(f"{PIECE}{piece.ref.piece_id}", piece.ref.name),
                name=piece.ref.name,
                title=piece.ref.title or "Untitled",
                customer=piece.ref.customer,
                href=f"/orders/{piece.ref.order_id}/pieces/{piece.ref.number}",
                due=piece.ref.due,
                late=piece.ref.due is not None and piece.ref.due < self.today,
                parts=parts_in_words(piece.open_parts, self.shop),
                several=_several_in_words(piece),
                again=any(stands.spoiled for stands in piece.parts),
            )
            for piece in self.listed
        )

    def materials(self) -> tuple[MaterialChoice, ...]:
        """Return the materials of the parts with their boxes, mouldings first, by code."""
        make = self.fields
        by_code: dict[str, list[PartToCut]] = {}
        for part in self.work.parts:
            by_code.setdefault(part.material.code, []).append(part)
        ordered = sorted(
            by_code.values(), key=lambda ps: (ps[0].material.kind.is_sheet, ps[0].material.code)
        )
        return tuple(
            MaterialChoice(
                field=make.field(
                    f"{MATERIAL}{parts[0].material.code}",
                    f"{parts[0].material.code} {parts[0].material.name}",
                ),
                parts=len(parts),
                longest=_largest(parts, self.shop),
            )
            for parts in ordered
        )

    def planning(self) -> FormView[Shop]:
        """Return the fields that say how to plan."""
        return FormView(PLANNING, self.shop, self.fields)


def due_field(text: str, calendar: Calendar, faults: tuple[Fault, ...]) -> FieldView:
    """Return the field of the day until which work is shown, with what its text was understood as."""
    understood = understood_day(text, calendar, Towards.COMING)
    told = {"due": understood} if understood else {}
    hint = f"As {calendar.example}, Friday or in 2 weeks; the next such day."
    return Fields({"due": text}, faults, told).field("due", "Due until", hint=hint)


def _largest(parts: Sequence[PartToCut], shop: Shop) -> str:
    if any(part.size is not None for part in parts):
        largest = max(parts, key=lambda part: part.size.area_m2 if part.size else 0)
        return f"the largest {_said(largest, shop)}"
    longest = max(parts, key=lambda part: part.length or ZERO)
    return f"the longest {_said(longest, shop)}"


def _said(part: PartToCut, shop: Shop) -> str:
    extent = part.size if part.size is not None else part.length
    assert extent is not None, "a part has a length or a size"
    return say_as_set(extent, shop.steps)


def _several_in_words(piece: PieceInWork) -> str:
    """Count the open parts of several that are alike: "160 parts of 20 alike"; "" for a single piece."""
    if max((stands.part.copy for stands in piece.parts), default=1) == 1:
        return ""
    copies = len({part.copy for part in piece.open_parts})
    return f"{counted(len(piece.open_parts), 'part')} of {copies} alike"


def parts_in_words(parts: Iterable[PartToCut], shop: Shop) -> str:
    """Count the parts in words: "4 rails, 2 mats, 1 glazing"."""
    counts: Counter[str] = Counter()
    for part in parts:
        counts["rail" if part.length is not None else _kind(part, shop)] += 1
    return ", ".join(counted(number, word) for word, number in counts.items())


def _kind(part: PartToCut, shop: Shop) -> str:
    """Return the word for a part: mats of every layer have the same one."""
    if part.material.kind is Kind.MAT:
        return kind_word(Kind.MAT, shop)
    return without_number(part.words)
