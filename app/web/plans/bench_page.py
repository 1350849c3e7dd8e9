"""A kept cutting plan at the bench: each stick and sheet with its parts to tick, and to book once it is cut."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.documents.cutting_plan.equal_bins import EqualBins, equal_bins
from app.documents.cutting_plan.work import BinWork, PlanPart, SectionWork, sections_of
from app.documents.kit.printing import Figures
from app.errors import Fault
from app.forms.table import values_in
from app.framing import Shape
from app.lengths import Unit, say
from app.orders import Shop
from app.services.bench import PieceAt
from app.services.plan_bench import PlanAtBench, ReadyPiece
from app.stock.items import StockItem
from app.stock.planning.as_set import kept_as_measured
from app.stock.planning.fitting import extent_text
from app.stock.planning.plans import BinAt, Booking, PartMark, PlanStage
from app.web.kit.fields import Fields, FormView
from app.web.pieces.together_address import together_at
from app.web.plans.form import kept_rest, prefix_of
from app.web.stock.parts import StockPage

MOST_RENEWED = 24
"""Some 2 KiB each are sent with every tick. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """A part with its box to tick.

    tickable: whether it can be ticked now. outdated: how the piece has changed since. by_hand: whether it was cut
    by hand meanwhile, so that it is not cut again.
    """

    part: PlanPart
    element: str
    href: str
    tickable: bool
    tick: PartMark | None
    spoiled: PartMark | None
    outdated: str
    by_hand: bool

    @property
    def done(self) -> bool:
        """Whether the part is ticked as cut, or was cut by hand."""
        return self.tick is not None or self.by_hand


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptLine:
    """A rest that was kept: its label, its size, its place."""

    label: str
    measure: str
    place: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BookedView:
    """A booking that stands.

    labels: the address at which labels of what was kept are printed; "" for none.
    """

    at: datetime
    by: str
    kept: tuple[KeptLine, ...]
    labels: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BinView:
    """A stick or sheet to cut up.

    path: the address of its actions. open: whether it can be booked.
    """

    work: BinWork
    element: str
    path: str
    item_href: str
    parts: tuple[PartLine, ...]
    open: bool
    keeps: tuple[FormView[Shop], ...]
    booked: BookedView | None
    spoilable: tuple[tuple[str, str], ...]

    @property
    def unticked(self) -> int:
        """How many parts are neither ticked nor spoiled."""
        return sum(not line.done and line.spoiled is None for line in self.parts)

    @property
    def all_by_hand(self) -> bool:
        """Whether every part of it was cut by hand meanwhile, so that nothing is bought or cut for it."""
        return all(line.by_hand for line in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class EqualView:
    """Sticks or sheets that are cut alike, at least one."""

    alike: EqualBins
    bins: tuple[BinView, ...]

    @property
    def element(self) -> str:
        """The id of the element that holds them all."""
        return f"like-{self.bins[0].element}"

    @property
    def open(self) -> bool:
        """Whether one of them is not booked yet."""
        return any(each.booked is None for each in self.bins)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionView:
    """The sticks or sheets of one material. groups: those that are cut alike together.

    to_buy: how many of them are to be bought.
    """

    work: SectionWork
    bins: tuple[BinView, ...]
    groups: tuple[EqualView, ...]
    to_buy: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPage(StockPage):
    """The page of a kept plan.

    cut: how many parts are ticked or booked. of: how many there are without the spoiled ones. ticked:
    the stick or sheet whose part was just ticked; None when the page is opened. most_renewed: in a plan
    of at most so many sticks and sheets, a tick renews all of them, so that ticks of others show. together: the
    address at which the mats of its pieces are cut by setting of the guide; "" where it holds none.
    """

    part: str = "Plans"
    wide: bool = True
    id: int
    version: int
    number: str
    stage: PlanStage
    made_at: datetime
    by: str
    solver: str
    check_name: str
    unit_name: str
    sections: tuple[SectionView, ...]
    cut: int
    of: int
    bins_booked: int
    bins: int
    ready: tuple[ReadyPiece, ...]
    together: str
    ticked: BinAt | None = None
    most_renewed: int = MOST_RENEWED

    @property
    def next(self) -> tuple[str, str] | None:
        """The first stick or sheet still to be cut, as (id of its element, its words)."""
        for section in self.sections:
            for each in section.bins:
                if each.open:
                    return each.element, f"{each.work.name} of {section.work.code}"
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusedBooking:
    """A booking that was refused: what was typed, and its faults."""

    typed: Mapping[str, str]
    faults: tuple[Fault, ...]


def plan_fields(
    at: PlanAtBench, shop: Shop, refused: RefusedBooking | None = None
) -> dict[str, Any]:
    """Return the fields of the page."""
    return _Views(at, shop, refused).fields()


def element_of(at: BinAt) -> str:
    """Return the id of the element of a stick or sheet."""
    return f"bin-{at.section}-{at.bin}"


class _Views:
    """Makes the views of one plan."""

    def __init__(self, at: PlanAtBench, shop: Shop, refused: RefusedBooking | None) -> None:
        self.at, self.shop, self.refused = at, shop, refused
        self.plan, self.standing = at.looked.plan, at.looked.standing
        self.by_hand = at.looked.by_hand

    def fields(self) -> dict[str, Any]:
        figures = Figures(steps=self.shop.steps)
        cutter = self.shop.cutter_in(self.shop.unit)
        works = sections_of(self.plan, self.at.looked.sources, figures, cutter=cutter)
        parts = [part.id for part in self.plan.parts() if part.id not in self.standing.spoiled]
        return {
            "id": self.plan.id,
            "version": self.plan.version,
            "number": self.plan.number,
            "stage": self.plan.stage,
            "made_at": self.plan.made_at,
            "by": self.plan.by,
            "solver": self.plan.solver,
            "check_name": figures.check_name,
            "unit_name": figures.unit_name,
            "sections": tuple(self._section(work) for work in works),
            "cut": sum(
                id in self.standing.ticked or id in self.by_hand or self._booked(id) for id in parts
            ),
            "of": len(parts),
            "bins_booked": len(self.standing.booked),
            "bins": sum(1 for _ in self.plan.bins()),
            "ready": self.at.ready,
            "together": self._together(),
        }

    def _together(self) -> str:
        """Return the address of its pieces with mats, each once, in the order of the plan."""
        pieces = dict.fromkeys(
            PieceAt(order_id=part.piece.order_id, number=part.piece.number)
            for part in self.plan.parts()
            if part.key.startswith("mat-")
        )
        held = bool(pieces) and self.plan.stage is not PlanStage.DROPPED
        return together_at(pieces) if held else ""

    def _booked(self, part_id: str) -> bool:
        return self.plan.bin_of(part_id) in self.standing.booked

    def _section(self, work: SectionWork) -> SectionView:
        bins = tuple(self._bin(each) for each in work.bins)
        to_buy = sum(
            each.work.source is None and each.booked is None and not each.all_by_hand
            for each in bins
        )
        by_place = {each.work.at: each for each in bins}
        groups = tuple(
            EqualView(alike=alike, bins=tuple(by_place[each.at] for each in alike.bins))
            for alike in equal_bins(work.bins)
        )
        return SectionView(work=work, bins=bins, groups=groups, to_buy=to_buy)

    def _bin(self, work: BinWork) -> BinView:
        booking = self.standing.booked.get(work.at)
        dropped = self.plan.stage is PlanStage.DROPPED
        may = booking is None and not dropped
        return BinView(
            work=work,
            element=element_of(work.at),
            path=f"/plans/{self.plan.id}/bins/{work.at.section}/{work.at.bin}",
            item_href="" if work.source is None else f"/stock/items/{work.source}",
            parts=tuple(self._part(part, may) for part in work.parts),
            open=may,
            keeps=tuple(self._keeps(work)) if may else (),
            booked=None if booking is None else self._booking(work.at, booking),
            spoilable=tuple(
                (part.id, f"{part.number}  {part.words} of {part.piece}, {part.size}")
                for part in work.parts
                if part.id not in self.standing.spoiled and (may or booking is not None)
            ),
        )

    def _part(self, part: PlanPart, may: bool) -> PartLine:
        return PartLine(
            part=part,
            element="part-" + part.id.replace("/", "-").replace(".", "-"),
            href=f"/orders/{part.order_id}/pieces/{part.piece_number}",
            tickable=may and part.id not in self.standing.spoiled and part.id not in self.by_hand,
            tick=self.standing.ticked.get(part.id),
            spoiled=self.standing.spoiled.get(part.id),
            outdated=self.at.looked.outdated.get(part.id, ""),
            by_hand=part.id in self.by_hand,
        )

    def _keeps(self, work: BinWork) -> Iterator[FormView[Shop]]:
        source = None if work.source is None else self.at.looked.sources.get(work.source)
        place = source.item.place if source else ""
        prefix = prefix_of(work.at)
        for number, size in enumerate(work.offcuts):
            yield self._keep(f"{prefix}.offcut.{number}", f"Offcut {size}", place)
        for number, each in enumerate(self.at.offered.get(work.at, ())):
            of = f"{each.part.words} of {each.part.piece.name}"
            inside = "" if each.shape is Shape.RECTANGLE else ", square inside the curve"
            sound = kept_as_measured(each.sound, self.shop.steps)
            words = f"Fallout {say(sound, self.shop.unit)} of the {of}{inside}"
            yield self._keep(f"{prefix}.fallout.{number}", words, place)

    def _keep(self, path: str, words: str, place: str) -> FormView[Shop]:
        rest = kept_rest(path, words)
        usual = rest.typed(values_in({"keep": True, "place": place}), self.shop)
        posted = self.refused is not None and any(
            name.startswith(path.rsplit(".", 2)[0] + ".") for name in self.refused.typed
        )
        typed = self.refused.typed if self.refused is not None and posted else usual
        make = Fields(typed, self.refused.faults if self.refused else ())
        return FormView(rest, self.shop, make)

    def _booking(self, at: BinAt, booking: Booking) -> BookedView:
        kept = self.at.kept.get(at, ())
        there = [str(each.id) for each in kept if each.on_hand > 0]
        return BookedView(
            at=booking.entry.at,
            by=booking.entry.by,
            kept=tuple(_kept(each, self.shop.unit) for each in kept),
            labels="/stock/labels?items=" + ",".join(there) if there else "",
        )


def _kept(kept: StockItem, unit: Unit) -> KeptLine:
    item = kept.item
    return KeptLine(
        label=item.label or item.material,
        measure=extent_text(item, unit),
        place=item.place,
        href=f"/stock/items/{kept.id}",
    )
