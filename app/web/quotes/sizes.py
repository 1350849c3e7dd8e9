"""Standard sizes that can be taken on the quote page by a button."""

import json
from collections.abc import Iterable
from dataclasses import dataclass

from app.errors import Fault
from app.orders.quoting.reader import WHICH_UNIT
from app.orders.quoting.standard_sizes import SizeOffer, taking

TAKE = "take"
"""The action of the buttons, alone or before a colon and the size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OffersView:
    """Sizes to take. next_up: the smallest that holds a package with its borders; else, sizes that would do."""

    sizes: tuple[SizeOffer, ...]
    next_up: bool
    none: bool = False

    def fill(self, offer: SizeOffer) -> str:
        """Return the fields that a size fills, as JSON."""
        return json.dumps(dict(offer.fields), ensure_ascii=False)


def next_sizes(offers: tuple[SizeOffer, ...], *, matted: bool) -> OffersView:
    """Return the standard sizes a piece can be taken up to; where borders could follow and none holds it, so."""
    return OffersView(sizes=offers, next_up=True, none=matted and not offers)


def sizes_that_would_do(faults: Iterable[Fault]) -> OffersView:
    """Return the sizes that faults of the package offer."""
    of_package = (
        each for each in faults if each.path == "package.size" and each.code != WHICH_UNIT
    )
    offered = dict.fromkeys(size for fault in of_package for size in fault.offers)
    return OffersView(sizes=tuple(taking(size) for size in offered), next_up=False)


def taken(action: str, offers: OffersView) -> dict[str, str]:
    """Return the fields that a pressed button fills: of the size that it names, else of the next one."""
    word, _, size = action.partition(":")
    if word != TAKE:
        return {}
    wanted = (offer for offer in offers.sizes if size in ("", offer.size))
    return next((dict(offer.fields) for offer in wanted), {})
