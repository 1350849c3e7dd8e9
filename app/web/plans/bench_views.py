"""What the page of a plan at the bench shows: parts, sticks and sheets, materials and stations, and how far each is."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from app.documents.cutting_plan.equal_bins import EqualBins
from app.documents.cutting_plan.stations import StationWork
from app.documents.cutting_plan.work import BinWork, PlanPart, SectionWork, Take
from app.orders import Shop
from app.stock.planning.plans import PartMark
from app.web.kit.fields import FormView
from app.web.plans.form import name_of_bins


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
class Progress:
    """How many parts are cut, of how many that are not spoiled. ticked, unticked: of those that can still be ticked."""

    cut: int
    of: int
    ticked: int
    unticked: int

    @classmethod
    def of_lines(cls, lines: Iterable[PartLine], *, booked: bool) -> "Progress":
        """Count the parts of a stick or sheet."""
        whole = [line for line in lines if line.spoiled is None]
        return cls(
            cut=sum(booked or line.done for line in whole),
            of=len(whole),
            ticked=sum(line.tickable and line.done for line in whole),
            unticked=sum(line.tickable and not line.done for line in whole),
        )

    @classmethod
    def sum_of(cls, each: Iterable["Progress"]) -> "Progress":
        """Add several together."""
        parts = tuple(each)
        return cls(
            cut=sum(one.cut for one in parts),
            of=sum(one.of for one in parts),
            ticked=sum(one.ticked for one in parts),
            unticked=sum(one.unticked for one in parts),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BinView:
    """A stick or sheet to cut up.

    path: the address of its actions. open: whether it can be booked. missing: whether it is not on the rack.
    wanted: whether it is still to be fetched.
    """

    work: BinWork
    missing: bool
    wanted: bool
    element: str
    path: str
    item_href: str
    parts: tuple[PartLine, ...]
    open: bool
    keeps: tuple[FormView[Shop], ...]
    booked: BookedView | None
    spoilable: tuple[tuple[str, str], ...]

    @property
    def progress(self) -> Progress:
        """How many of its parts are cut."""
        return Progress.of_lines(self.parts, booked=self.booked is not None)

    @property
    def bookable(self) -> bool:
        """Whether all of it is cut and it is not booked yet."""
        return self.open and not self.unticked and any(line.done for line in self.parts)

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

    to_buy: how many of them are to be bought still. takes: where those that are still wanted are. unfolded: whether the page opens with it open.
    """

    work: SectionWork
    bins: tuple[BinView, ...]
    groups: tuple[EqualView, ...]
    to_buy: int
    takes: tuple[Take, ...]
    unfolded: bool

    @property
    def element(self) -> str:
        """The id of the element that holds them all."""
        return f"section-{self.work.number}"

    @property
    def progress(self) -> Progress:
        """How many of its parts are cut."""
        return Progress.sum_of(each.progress for each in self.bins)

    @property
    def booked(self) -> int:
        """How many of its sticks or sheets are booked."""
        return sum(each.booked is not None for each in self.bins)

    @property
    def spoilable(self) -> tuple[tuple[str, str], ...]:
        """The parts that can be noted as spoiled, as (id, words)."""
        return tuple(part for each in self.bins for part in each.spoilable)


@dataclass(frozen=True, slots=True, kw_only=True)
class StationView:
    """What is cut at one station."""

    title: str
    things: str
    work: StationWork
    sections: tuple[SectionView, ...]

    @property
    def mark(self) -> str:
        """What its ids and the fields about all of it are named by."""
        return self.work.station.value

    @property
    def progress(self) -> Progress:
        """How many of its parts are cut."""
        return Progress.sum_of(each.progress for each in self.sections)

    @property
    def bookable(self) -> "Bookable":
        """The sticks or sheets that are cut, not booked yet, and on the rack."""
        return self._bookable(missing=False)

    @property
    def bookable_missing(self) -> "Bookable":
        """The sticks or sheets that are cut and not booked yet, and that the rack does not hold."""
        return self._bookable(missing=True)

    def _bookable(self, *, missing: bool) -> "Bookable":
        bins = (each for section in self.sections for each in section.bins)
        return Bookable(
            bins=tuple(each for each in bins if each.bookable and each.missing == missing)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bookable:
    """Sticks or sheets of a station that can be booked in one act."""

    bins: tuple[BinView, ...]

    @property
    def count(self) -> int:
        """How many they are."""
        return len(self.bins)

    @property
    def names(self) -> str:
        """What the form that books them all posts."""
        return name_of_bins(each.work.at for each in self.bins)
