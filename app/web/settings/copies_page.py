"""Pages about the copies of the data: which there are, what putting one back means."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from app.counting import counted
from app.days import show_moment
from app.services.backups import KeptCopy, State
from app.storage import Copy, Lost, Place, Why
from app.web.kit.fields import FieldView
from app.web.kit.listing import Chip
from app.web.kit.templating import Page
from app.web.looking import Open

WHY = {
    Why.BY_HAND: "by hand",
    Why.START: "at start",
    Why.DAILY: "daily",
    Why.UPDATE: "before an update",
    Why.RESTORE: "before a restore",
    Why.REMOVAL: "before something was deleted",
}

PLACES = {Place.HERE: "here", Place.SECOND: "second folder"}

NUMBERS_SHOWN = 12
"""Numbers of what would be lost. Source: ours, as many as are looked through."""

ADDRESS = "/settings/data"


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyRow:
    """One copy. made: when, in words; problem: what is wrong with it, blank where nothing is; usable: whether it may be opened."""

    name: str
    href: str
    made: str
    why: str
    size: str
    orders: str
    checked: str
    where: str
    problem: str

    @property
    def usable(self) -> bool:
        """Whether it may be seen and put back."""
        return not self.problem


@dataclass(frozen=True, slots=True, kw_only=True)
class DataPage(Page):
    """The page of the shop's data: where it is, its copies, and the sample.

    looked_at: the copy that is open beside. back: the copy that was made before the last restore, while it is the newest.
    here_only: whether this machine itself asks, which alone can open a copy beside and names folders.
    """

    title: str = "Data"
    section: str = "Settings"
    nav_sections: tuple[Chip, ...]
    path_of_data: Path
    folder: Path
    sample: bool
    copies: tuple[CopyRow, ...]
    looked_at: Open | None
    back: CopyRow | None
    second: FieldView
    away: Path | None
    troubles: tuple[str, ...]
    here_only: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RestorePage(Page):
    """The page that asks before a copy is put in the place of the data. lost: lines of what was added since."""

    title: str = "Restore a copy"
    section: str = "Settings"
    copy: CopyRow
    lost: tuple[str, ...]


def rows(copies: Sequence[KeptCopy]) -> tuple[CopyRow, ...]:
    """Return a row for each copy."""
    return tuple(row(kept, copies) for kept in copies)


def row(kept: KeptCopy, among: Sequence[KeptCopy]) -> CopyRow:
    """Return what is said of a copy. among: all that are there."""
    best, note = kept.best, kept.best.note
    return CopyRow(
        name=kept.name,
        href=f"{ADDRESS}/copies/{kept.name}",
        made=when(kept, among),
        why=_why(best),
        size=size_in_words(best.size),
        orders=str(note.orders) if note is not None and best.whole else "–",
        checked=_checked(best),
        where=" and ".join(_where(copy) for copy in kept.at),
        problem=note.problems[0] if note is not None and note.problems else "",
    )


def newest_before_restore(copies: Sequence[KeptCopy]) -> CopyRow | None:
    """Return the copy that was made before a restore, while nothing newer was made."""
    if not copies or copies[0].best.why is not Why.RESTORE:
        return None
    return row(copies[0], copies)


def lines_of(lost: Lost) -> tuple[str, ...]:
    """Return what would be lost, a line each."""
    found = (
        _numbers(lost.orders, "order"),
        _numbers(lost.quotes, "quote"),
        _numbers(lost.invoices, "invoice or credit note", "invoices and credit notes"),
        counted(lost.customers, "customer") if lost.customers else "",
        counted(lost.payments, "payment") if lost.payments else "",
    )
    return tuple(line for line in found if line)


def troubles_of(state: State | None) -> tuple[str, ...]:
    """Return what went wrong with the copies."""
    return state.troubles if state is not None else ()


def size_in_words(size: int) -> str:
    """Return a size of a file: "512 kB", "4.2 MB". A kilobyte has 1000 bytes (IEC 80000-13)."""
    if size < 1_000_000:
        return f"{max(size // 1000, 1)} kB"
    tenths = size // 100_000
    return f"{tenths // 10}.{tenths % 10} MB"


def when(kept: KeptCopy, among: Sequence[KeptCopy] = ()) -> str:
    """Return when a copy was made, in words; with the seconds where another one is of the same minute."""
    shown = show_moment(kept.best.made_at)
    alike = [each for each in among if show_moment(each.best.made_at) == shown]
    return f"{shown}:{kept.best.made_at:%S}" if len(alike) > 1 else shown


def _why(copy: Copy) -> str:
    damaged = copy.why is Why.RESTORE and copy.note is not None and not copy.whole
    return "damaged file, kept aside" if damaged else WHY[copy.why]


def _numbers(numbers: Sequence[str], one: str, many: str = "") -> str:
    if not numbers:
        return ""
    shown = ", ".join(numbers[:NUMBERS_SHOWN])
    more = len(numbers) - NUMBERS_SHOWN
    further = f" and {more} more" if more > 0 else ""
    return f"{counted(len(numbers), one, many)}: {shown}{further}"


def _checked(copy: Copy) -> str:
    moment: datetime | None = copy.checked_at
    if moment is None:
        return "not yet"
    return "not whole" if not copy.whole else show_moment(moment)


def _where(copy: Copy) -> str:
    words = PLACES[copy.place]
    return words if copy.whole or copy.note is None else f"{words} (not whole)"
