"""The price book as a file: given, read, and what bringing one in would do."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.services.price_book import Arrival
from app.web.forms.price_file import RowFault
from app.web.templating import Page

MOST_SHOWN = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceFilePage(Page):
    """arrival: what the file that was read would do; None before one was. text: that file.

    more: how many faults are not shown. columns: of the file, in their order.
    """

    columns: tuple[str, ...]
    row_faults: tuple[RowFault, ...]
    more: int
    arrival: Arrival | None
    text: str


def shown(faults: Sequence[RowFault]) -> tuple[tuple[RowFault, ...], int]:
    """The first faults, and how many more there are."""
    return tuple(faults[:MOST_SHOWN]), max(0, len(faults) - MOST_SHOWN)
