"""The ticket of a piece that was printed: when, and whether it still holds (M7)."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from app.documents.kit.printing import time_of
from app.orders.printed import in_words
from app.services.ticket_prints import Printed


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRow:
    """Something that the ticket says otherwise now. was, now: "" where it had, or has, nothing of it."""

    what: str
    was: str
    now: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedView:
    """said: the print, in a sentence. changes: clauses of what it says wrongly now; none while it holds. rows: the same,
    figure by figure. ticket: the address to print it again.
    """

    said: str
    changes: tuple[str, ...]
    rows: tuple[ChangeRow, ...]
    ticket: str

    @property
    def old(self) -> bool:
        """Whether the paper in the shop does not hold any more."""
        return bool(self.changes)


def printed_views(
    found: Mapping[int, Printed], order_id: int, now: datetime
) -> dict[int, PrintedView]:
    """By the number of a piece, what is said of its ticket; times are on the clock of now."""
    return {
        number: _view(printed, f"/orders/{order_id}/pieces/{number}/ticket.pdf", now)
        for number, printed in found.items()
    }


def _view(printed: Printed, ticket: str, now: datetime) -> PrintedView:
    last = printed.last
    at = time_of(last.at.astimezone(now.tzinfo), now.date())
    by = f" by {last.by}" if last.by else ""
    if not printed.changes:
        said = f"Ticket printed {at}{by}, version {last.version}."
    elif printed.of_piece or printed.of_order:
        said = f"Printed {at}{by}, before this change"
    else:
        said = f"Printed {at}{by}, settings changed since"
    return PrintedView(
        said=said,
        changes=in_words(printed.changes),
        rows=tuple(
            ChangeRow(what=each.subject, was=each.was, now=each.now) for each in printed.changes
        ),
        ticket=ticket,
    )
