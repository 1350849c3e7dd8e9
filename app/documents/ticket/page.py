"""The page model of a workshop ticket."""

from dataclasses import dataclass
from datetime import date

from app.documents.kit.arm_rows import ArmRow
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
    that are alike. first: what is done before anything is cut. version: which print it is; None where prints are not noted.
    """

    lang: str
    title: str
    density: Density
    number: str
    count: str
    tally: Tally | None
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
