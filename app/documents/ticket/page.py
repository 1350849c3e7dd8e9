"""The page model of a workshop ticket."""

from dataclasses import dataclass
from datetime import date

from app.documents.kit.page_code import PageCode
from app.documents.ticket.checks import Check
from app.documents.ticket.cut_list import CutGroup
from app.documents.ticket.guide_work import GuideWork
from app.documents.ticket.layout import Density
from app.documents.ticket.mat_plans import MatPlan, Table
from app.documents.ticket.version import VersionMark
from app.documents.ticket.work import Todo, Words


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """A group of the cut list, with the cautions and notices that are printed behind it."""

    group: CutGroup
    words: Words


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketPage:
    """Everything that the workshop ticket of one piece says.

    exchanged: whether every mat lies with its back up, so that left and right are exchanged.
    version: which print it is; None where prints are not noted.
    """

    lang: str
    title: str
    density: Density
    number: str
    count: str
    customer: str
    artwork: str
    artwork_size: str
    place: str
    due: date | None
    rush: bool
    unit: str
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
    cuts: tuple[CutPart, ...]
    guide: GuideWork | None
    at_cutter: Words
    checks: tuple[Check, ...]
    work: tuple[Todo, ...]
    code: PageCode | None
    version: VersionMark | None
    printed: date
