"""The page model of a workshop ticket."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from app.days import show_day
from app.documents.kit.arm_rows import ArmRow
from app.documents.kit.page_code import PageCode
from app.documents.ticket.checks import Check
from app.documents.ticket.cut_list import CutGroup
from app.documents.ticket.guide_work import GuideWork
from app.documents.ticket.mat_plans import MatPlan, Table
from app.documents.ticket.setting import Setting, Subject
from app.documents.ticket.version import VersionMark
from app.documents.ticket.work import Todo, Words


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """A group of the cut list, with the cautions and notices that are printed behind it."""

    group: CutGroup
    words: Words


BOXES_IN_ALL = 100
"""Boxes to tick that a head has room for. Source: ours."""

_IN_A_GROUP = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """Several that are alike, to tick one by one. boxes: in groups; note: what one stands for."""

    count: int
    boxes: tuple[str, ...]
    note: str


def tally_of(copies: int) -> Tally | None:
    """Return a box for each; of more than fit one for ten, and one for the rest. None for a single piece."""
    if copies == 1:
        return None
    by = 1 if copies <= BOXES_IN_ALL else 10
    rest = copies % by
    boxes = copies // by + bool(rest)
    note = "a box for each that is framed"
    if by > 1:
        note = f"a box for every {by} that are framed" + (f", the last for {rest}" if rest else "")
    groups = (min(_IN_A_GROUP, boxes - at) for at in range(0, boxes, _IN_A_GROUP))
    return Tally(count=copies, boxes=tuple("☐" * size for size in groups), note=note)


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketPage:
    """Everything that the workshop ticket of one piece says.

    exchanged: whether every mat lies with its back up, so that left and right are exchanged. tally: of several
    that are alike. first: what is done before anything is cut. setting: none before its
    place on paper is chosen. version: which print it is; None where prints are not noted.
    """

    lang: str
    title: str
    setting: Setting | None = None
    number: str
    count: str
    tally: Tally | None
    customer: str
    artwork: str
    artwork_size: str
    place: str
    due: date | None
    rush: bool
    unit_name: str
    unit_line: str
    check_name: str
    mats_name: str
    front: str
    front_words: str
    exchanged: bool
    plans: tuple[MatPlan, ...]
    places: tuple[Table, ...]
    ends: tuple[Table, ...]
    before: Words
    first: tuple[Todo, ...]
    arm: tuple[ArmRow, ...]
    cuts: tuple[CutPart, ...]
    guide: GuideWork | None
    at_cutter: Words
    checks: tuple[Check, ...]
    work: tuple[Todo, ...]
    code: PageCode | None
    version: VersionMark | None
    printed: date

    @property
    def pages(self) -> int:
        """For how many pages it is set."""
        return self.setting.pages if self.setting else 1

    @property
    def style(self) -> str:
        """The rules of style of its level."""
        return self.setting.level.style if self.setting else ""

    @property
    def tables(self) -> tuple[Table, ...]:
        """Where windows lie, and where cuts start and end, in tables of a few rows."""
        if self._under_its_heading:
            return tuple(replace(table, title="", beside_title="") for table in self.ends)
        return tuple(part for table in (*self.places, *self.ends) for part in table.parts)

    @property
    def _under_its_heading(self) -> Table | None:
        """The only table, where it is of all mats: its title is the heading."""
        alone = len(self.ends) == 1 and not self.places
        return self.ends[0] if alone and self.ends[0].of_all else None

    @property
    def about(self) -> str:
        """What is framed, and its size."""
        return f"{self.artwork} · {self.artwork_size}"

    @property
    def facts(self) -> str:
        """When it is due and where it is stored, as far as they take room."""
        due = f"due {show_day(self.due)}   " if self.due else ""
        return due + (f"stored at {self.place}" if self.place else "no place noted")

    def cautioned(self, *, low: bool) -> str:
        """Say what stands at the foot; low: in the one line that small paper has."""
        decide = "makers’ instructions, local codes and licensed practice decide."
        day = show_day(self.printed)
        if low:
            return f"Cautions remind; {decide} Printed {day.partition(' ')[2]}."
        return f"Cautions are reminders; {decide} Printed {day}."

    def headings(self, *, dense: bool) -> Mapping[Subject, tuple[str, str]]:
        """Return each heading, with what stands beside it in smaller letters."""
        guide, exchanged = self.guide, self.exchanged
        table = self._under_its_heading
        about = "" if guide is None else guide.in_short if dense else guide.about
        return {
            Subject.FRONT: ("From the front", ""),
            Subject.FIRST: ("First", ""),
            Subject.CUT: ("Cut", "windows as measured at the back of the board" if guide else ""),
            Subject.CHECK: ("Check", ""),
            Subject.BACK: (
                ("From the back", "left and right exchanged")
                if exchanged
                else ("As they lie on the cutter", "")
            ),
            Subject.TABLES: (table.title, table.beside_title)
            if table
            else ("Where they lie" if self.places else "Where cuts start and end", ""),
            Subject.GUIDE: (self.mats_name, about),
            Subject.WORK: ("Put together", ""),
        }
