"""A kept cutting plan at the bench: each stick and sheet with its parts to tick, and to book once it is cut."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.documents.cutting_plan.equal_bins import Done, equal_bins
from app.documents.cutting_plan.sections import sections_of
from app.documents.cutting_plan.stations import StationWork, by_station, station_of
from app.documents.cutting_plan.totals import WholePlan, offcuts_of, totals_of
from app.documents.cutting_plan.work import BinWork, PlanPart, SectionWork, takes_of
from app.documents.kit.printing import Figures
from app.errors import Fault, NotFound
from app.forms.table import values_in
from app.framing import Shape
from app.lengths import Unit, say
from app.orders import Shop
from app.services.bench import PieceAt
from app.services.booked_bin import ToKeep
from app.services.plan_bench import PlanAtBench, ReadyPiece
from app.services.plans import LookedPlan
from app.stock.items import StockItem
from app.stock.planning.as_set import kept_as_measured
from app.stock.planning.fitting import extent_text
from app.stock.planning.plans import BinAt, Booking, CuttingPlan, PlanStage
from app.web.kit.fields import Fields, FormView
from app.web.kit.tally import Tally
from app.web.pieces.together_address import together_at
from app.web.plans.bench_views import (
    BinView,
    BookedView,
    EqualView,
    KeptLine,
    PartLine,
    Progress,
    SectionView,
    StationView,
)
from app.web.plans.form import kept_rest, prefix_of
from app.web.plans.tallies import kept_tally
from app.web.stock.parts import StockPage

MOST_RENEWED = 24
"""Some 2 KiB each are sent with every tick. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPage(StockPage):
    """The page of a kept plan.

    whole: the plan in a few numbers, tally: those that stand above it. ticked: the sticks and sheets whose parts
    were just ticked; none when the page is opened. most_renewed: in a plan
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
    stations: tuple[StationView, ...]
    whole: WholePlan
    tally: tuple[Tally, ...]
    progress: Progress
    bins_booked: int
    bins: int
    ready: tuple[ReadyPiece, ...]
    together: str
    ticked: frozenset[BinAt] = frozenset()
    most_renewed: int = MOST_RENEWED

    @property
    def sections(self) -> tuple[SectionView, ...]:
        """Its materials, station by station."""
        return tuple(section for station in self.stations for section in station.sections)

    @property
    def next(self) -> tuple[str, str] | None:
        """The first stick or sheet still to be cut, as (its address, its words)."""
        for section in self.sections:
            for each in section.bins:
                if each.open and each.unticked:
                    return place_of(
                        self.id, each.work.at
                    ), f"{each.work.name} of {section.work.code}"
        return None

    def renewed(self, each: BinView) -> bool:
        """Tell whether a tick renews the parts of a stick or sheet."""
        return self.bins <= self.most_renewed or each.work.at in self.ticked


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusedBooking:
    """A booking that was refused: what was typed, and its faults."""

    typed: Mapping[str, str]
    faults: tuple[Fault, ...]

    @property
    def sections(self) -> frozenset[int]:
        """The numbers of the materials that it is about."""
        named = (name.split(".") for name in self.typed if name.startswith("bin."))
        return frozenset(int(parts[1]) for parts in named if parts[1].isdecimal())


def plan_fields(
    at: PlanAtBench,
    shop: Shop,
    refused: RefusedBooking | None = None,
    unfolded: Collection[int] = (),
    *,
    costs: bool = True,
) -> dict[str, Any]:
    """Return the fields of the page. unfolded: the numbers of the materials that it opens with. costs: whether it says what is lost
    as an amount.
    """
    return _Views(at, shop, refused, unfolded).fields(costs=costs)


def element_of(at: BinAt) -> str:
    """Return the id of the element of a stick or sheet."""
    return f"bin-{at.section}-{at.bin}"


def place_of(plan_id: int, at: BinAt) -> str:
    """Return the address of a plan opened at a stick or sheet."""
    return f"/plans/{plan_id}?open={at.section}#{element_of(at)}"


class _Views:
    """Makes the views of one plan."""

    def __init__(
        self,
        at: PlanAtBench,
        shop: Shop,
        refused: RefusedBooking | None,
        unfolded: Collection[int],
    ) -> None:
        self.at, self.shop, self.refused, self.unfolded = at, shop, refused, unfolded
        self.plan, self.standing = at.looked.plan, at.looked.standing
        self.by_hand, self.done = at.looked.by_hand, done_of(at)

    def fields(self, *, costs: bool) -> dict[str, Any]:
        figures = Figures(steps=self.shop.steps)
        cutter = self.shop.cutter_in(self.shop.unit)
        works = sections_of(self.plan.sections, self.at.looked.sources, figures, cutter=cutter)
        whole = totals_of(
            self.plan.sections, self.at.looked.sources, self.shop.currency, costs=costs
        )
        stations = tuple(
            self._station(each) for each in by_station(zip(self.plan.sections, works, strict=True))
        )
        sections = tuple(section for each in stations for section in each.sections)
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
            "stations": stations,
            "whole": whole,
            "tally": kept_tally(
                whole,
                left=sum(each.wanted for section in sections for each in section.bins),
                to_buy=sum(section.to_buy for section in sections),
                labels=self._labels(),
            ),
            "progress": Progress.sum_of(each.progress for each in stations),
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

    def _labels(self) -> str:
        """Return the address of the labels of everything that was kept so far and is there; "" for none."""
        return labels_of(item for items in self.at.kept.values() for item in items)

    def _station(self, work: StationWork) -> StationView:
        return StationView(
            title=work.station.title(self.shop.mat_word.value),
            things=work.station.things(self.shop.mat_word.value),
            work=work,
            sections=tuple(self._section(each) for each in work.sections),
        )

    def _section(self, work: SectionWork) -> SectionView:
        bins = tuple(self._bin(each) for each in work.bins)
        left = [each for each in bins if each.wanted]
        by_place = {each.work.at: each for each in bins}
        groups = tuple(
            EqualView(alike=alike, bins=tuple(by_place[each.at] for each in alike.bins))
            for alike in equal_bins(work.bins)
        )
        return SectionView(
            work=work,
            bins=bins,
            groups=groups,
            to_buy=sum(each.missing for each in left),
            takes=takes_of(work.form, [each.work for each in left], self.at.missing),
            unfolded=work.number in self.unfolded or len(self.plan.sections) == 1,
        )

    def _bin(self, work: BinWork) -> BinView:
        booking = self.standing.booked.get(work.at)
        dropped = self.plan.stage is PlanStage.DROPPED
        may = booking is None and not dropped
        return BinView(
            work=work,
            missing=work.at in self.at.missing,
            wanted=self.done.wanted(work),
            element=element_of(work.at),
            path=f"/plans/{self.plan.id}/bins/{work.at.section}/{work.at.bin}",
            item_href="" if work.source is None else f"/stock/items/{work.source}",
            parts=tuple(self._part(part, may) for part in work.parts),
            open=may,
            keeps=tuple(self._keeps(work)) if may else (),
            booked=None if booking is None else self._booking(work.at, booking),
            spoilable=tuple(
                (part.id, f"{work.name}, {part.number}: {part.words} of {part.piece}, {part.size}")
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
        place = usual_place(self.at, work.at)
        prefix = prefix_of(work.at)
        for number, size in enumerate(work.offcuts):
            yield self._keep(f"{prefix}.offcut.{number}", f"Offcut {size}", place)
        for number, each in enumerate(self.at.offered.get(work.at, ())):
            of = f"{each.part.words} of {each.part.piece.name}"
            inside = "" if each.shape is Shape.RECTANGLE else ", rectangle inside the curve"
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
        return BookedView(
            at=booking.entry.at,
            by=booking.entry.by,
            kept=tuple(_kept(each, self.shop.unit) for each in kept),
            labels=labels_of(kept),
        )


def done_of(at: PlanAtBench) -> Done:
    """Return what of a plan is done, for its page and its paper."""
    return Done(
        by_hand=at.looked.by_hand,
        ticked=at.looked.standing.ticked,
        booked=at.looked.standing.booked,
        missing=at.missing,
    )


def labels_of(kept: Iterable[StockItem]) -> str:
    """Return the address of the labels of what was kept and is there; "" where nothing is."""
    there = [str(each.id) for each in kept if each.on_hand > 0]
    return "/stock/labels?items=" + ",".join(there) if there else ""


def usual_place(at: PlanAtBench, where: BinAt) -> str:
    """Return where the rests of a stick or sheet are put unless something else is said: where it was taken from."""
    source = at.looked.plan.source(where)
    item = None if source is None else at.looked.sources.get(source)
    return item.item.place if item else ""


def usual_keep(at: PlanAtBench, where: BinAt) -> ToKeep:
    """Return what is kept of a stick or sheet unless something else is said: all of it that is worth keeping."""
    place = usual_place(at, where)
    return ToKeep(
        offcuts=(place,) * offcuts_of(at.looked.plan.opened(where)),
        fallouts={each.id: place for each in at.offered.get(where, ())},
    )


def parts_meant(at: LookedPlan, named: str) -> tuple[str, ...]:
    """Return the parts that a button ticks: of "station.saw", "section.3" or "bin.3.1" all that can be, else the part itself.

    Raises: NotFound where the plan has no such section, stick or sheet.
    """
    plan, now = at.plan, at.standing
    kind, _, which = named.partition(".")
    if kind not in ("station", "section", "bin"):
        return (named,)
    meant = [where for where in plan.bins() if which == _name_of(plan, where, kind)]
    if not meant:
        raise NotFound(f"{plan.number} has nothing of that name to cut.")
    return tuple(
        part.id
        for where in meant
        if where not in now.booked
        for part in plan.parts_in(where)
        if part.id not in now.spoiled and part.id not in at.by_hand
    )


def _name_of(plan: CuttingPlan, at: BinAt, kind: str) -> str:
    """Return by what buttons of a kind name a stick or sheet."""
    names = {
        "station": station_of(plan.section(at.section)).value,
        "section": str(at.section),
        "bin": f"{at.section}.{at.bin}",
    }
    return names[kind]


def _kept(kept: StockItem, unit: Unit) -> KeptLine:
    item = kept.item
    return KeptLine(
        label=item.label or item.material,
        measure=extent_text(item, unit),
        place=item.place,
        href=f"/stock/items/{kept.id}",
    )
