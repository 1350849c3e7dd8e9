"""The example of the rule of printed tickets, worked."""

from datetime import UTC, datetime

from app.framing import frame_around
from app.framing.openings import grown
from app.handbook.worked.figures import Figures, Given
from app.lengths import Size, show
from app.orders.printed import (
    TicketFact,
    TicketFacts,
    TicketPrint,
    differences,
    in_words,
    version_of,
)

_PRINTED = datetime(2026, 11, 25, 7, 2, tzinfo=UTC)
_AGAIN = datetime(2026, 11, 25, 9, 10, tzinfo=UTC)


def changed_since(given: Given) -> Figures:
    """M7."""
    wider = given.length("10", "1/2")
    before = _rails(given, given.package)
    after = _rails(given, grown(given.package, wider * 2))
    first = TicketPrint(at=_PRINTED, by="", version=1, snapshot_id=1, cutter="", facts=before)
    again = version_of((first,), after, _AGAIN)
    return {
        "first": f"{again.replaces or again.at:%H:%M}",
        "wider": given.say(wider),
        "said": "; ".join(in_words(differences(before, after))),
        "version": str(again.version),
        "again": f"{again.at:%H:%M}",
    }


def _rails(given: Given, package: Size) -> TicketFacts:
    """Return what a ticket says of the rails around a package (G12)."""
    wide, high = frame_around(package, given.profile).long_points
    says = f"{show(wide, given.unit)} / {show(high, given.unit)}"
    return TicketFacts((TicketFact(part="frame-1", name="rails", says=says),))
