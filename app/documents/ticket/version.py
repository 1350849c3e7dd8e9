"""Which print a ticket is, as it stands at its head, and what is said of the one that it replaces (M7)."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from app.documents.kit.printing import time_of
from app.documents.ticket.work import Remark
from app.orders.printed import TicketVersion, in_brief


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionMark:
    """The version of a ticket and when it was printed. replaces: the ticket that it stands for now, if any."""

    text: str
    replaces: str = ""

    @property
    def said(self) -> str:
        """Both in one line."""
        return ", ".join(filter(None, (self.text, self.replaces)))


UNNOTED = VersionMark(text="This print is not on record")
"""Of a ticket that was printed while nothing could be written down."""


def version_mark(version: TicketVersion, today: date) -> VersionMark:
    """As "Version 2, printed 09:10", "replaces the one printed 07:02"; of a copy "Copy of version 1, printed 07:02".

    One that is printed for parts to be cut anew is no plain copy.
    """
    number, at = version.version, time_of(version.at, today)
    text = f"Version {number}, printed {at}"
    if version.copy:
        again = f"Version {number}, printed {at}, to cut anew"
        text = again if version.spoiled else f"Copy of version {number}, printed {at}"
    if version.replaces is None:
        return VersionMark(text=text)
    return VersionMark(
        text=text, replaces=f"replaces the one printed {time_of(version.replaces, today)}"
    )


def said_of_change(version: TicketVersion) -> Iterator[Remark]:
    """Yield what is spoiled, what differs from the ticket that this one replaces, and what was done by that one."""
    if version.spoiled:
        yield Remark(text=f"Spoiled: {', '.join(version.spoiled)}; cut anew.", head="Check")
    if version.changes:
        yield Remark(text=f"{'; '.join(in_brief(version.changes))}.", head="Check")
    if version.done:
        done = "; ".join(version.done)
        yield Remark(text=f"Done before the change: {done}.")
