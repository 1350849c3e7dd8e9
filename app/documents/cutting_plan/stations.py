"""Where a plan is worked on: at the saw, at the mat cutter, at the glass cutter, each in one go."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from app.documents.cutting_plan.work import SectionWork
from app.pricing import Kind
from app.stock.items import StockForm
from app.stock.planning.plans import PlanSection


class Station(StrEnum):
    """A place of the workshop at which sticks or sheets are cut, in the order of the work."""

    SAW = "saw"
    MATS = "mats"
    GLASS = "glass"

    def title(self, mat_word: str = "mat") -> str:
        """Return its heading: "At the mat cutter". mat_word: what the shop calls a window board."""
        places = {
            Station.SAW: "At the saw",
            Station.MATS: f"At the {mat_word} cutter",
            Station.GLASS: "At the glass cutter",
        }
        return places[self]

    def things(self, mat_word: str = "mat") -> str:
        """Return what is cut there: "mats and boards"."""
        things = {
            Station.SAW: "sticks",
            Station.MATS: f"{mat_word}s and boards",
            Station.GLASS: "glazing",
        }
        return things[self]


def station_of(section: PlanSection) -> Station:
    """Tell where the sticks or sheets of a section are cut."""
    if section.form is StockForm.STICK:
        return Station.SAW
    return Station.GLASS if section.material.kind is Kind.GLAZING else Station.MATS


@dataclass(frozen=True, slots=True, kw_only=True)
class StationWork:
    """What is cut at one station: its sections in the order of the plan."""

    station: Station
    sections: tuple[SectionWork, ...]

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of all its sections, each once (D5)."""
        return tuple(dict.fromkeys(said for each in self.sections for said in each.cautions))

    @property
    def measured(self) -> str:
        """What figures are measured to there: a mitred part along its outside edge, a cut on what lies at the guide."""
        if self.station is Station.SAW:
            return "Rails are measured to the long point, along the outside edge; what is cut square, end to end."
        return "Left and top are those of the piece in hand, as it lies in the drawing, not of the whole sheet."

    @property
    def parts(self) -> int:
        """How many parts are cut there."""
        return sum(len(each.parts) for section in self.sections for each in section.bins)

    @property
    def bins(self) -> int:
        """How many sticks or sheets are cut up there."""
        return sum(len(section.bins) for section in self.sections)


def by_station(
    sections: Iterable[tuple[PlanSection, SectionWork]],
) -> tuple[StationWork, ...]:
    """Return the work by station, in the order of the stations; those at which nothing is cut are left out."""
    there: dict[Station, list[SectionWork]] = {}
    for section, work in sections:
        there.setdefault(station_of(section), []).append(work)
    return tuple(
        StationWork(station=each, sections=tuple(there[each])) for each in Station if each in there
    )
