"""The sample's counter: artworks become typed pieces, and typed pieces are agreed as the app agrees them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from random import Random

from app.orders import Agreed, ArtworkRecord, Customer, Shop
from app.orders.quoting.agreement import agree
from app.orders.quoting.reader import FindMaterial
from app.pricing import Kind, Material
from seed_demo.artworks import brought_in
from seed_demo.customers import TRADE_DISCOUNT
from seed_demo.designs import Fields, design
from seed_demo.given_frames import with_given_frames

type Made = tuple[ArtworkRecord, Agreed]

_HOW_MANY = ((1, 62), (2, 20), (3, 10), (4, 5), (6, 3))
"""Pieces of a quote and their shares."""

_CERTIFICATES = {"artwork.title": "Certificate of the regatta", "artwork.kind": "document"}
_OF_ONE = ("artwork.support", "artwork.weight", "artwork.declared_value", "artwork.condition")
"""What is noted of a single artwork and of no certificate."""

_OF_THE_FIRST = ("frames.", "mats.", "glazing.", "backing.", "mount_board.")
"""What the pieces of a set have in common."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What a quote's pieces have in common beside their design. discount: as typed, in per cent."""

    customer: Customer
    rush: bool
    discount: str = ""

    @property
    def fields(self) -> Fields:
        """As typed."""
        typed = {
            "rush": "1" if self.rush else "",
            "discount": TRADE_DISCOUNT.get(self.customer.name, self.discount),
        }
        return {field: text for field, text in typed.items() if text}


def finder(materials: Iterable[Material]) -> FindMaterial:
    """Finds the sample's materials by their codes."""
    by_code = {(material.code, material.kind): material for material in materials}

    def find(text: str, kind: Kind) -> Material | None:
        return by_code.get((text, kind))

    return find


def designs(random: Random) -> Iterator[tuple[Fields, ...]]:
    """The typed pieces of one quote after another, without end; half of the larger ones are sets."""
    arriving = brought_in(random)
    counts, shares = zip(*_HOW_MANY, strict=True)
    while True:
        wanted = random.choices(counts, shares)[0]
        pieces = tuple(design(next(arriving), random) for _ in range(wanted))
        yield _as_set(pieces) if random.random() < 0.5 else pieces


def _as_set(pieces: tuple[Fields, ...]) -> tuple[Fields, ...]:
    """Those shown as the first is, in its unit, take its frame, mats, glazing and boards."""
    first = pieces[0]
    shared = {field: text for field, text in first.items() if field.startswith(_OF_THE_FIRST)}
    return (first, *(_like(first, shared, piece) for piece in pieces[1:]))


def _like(first: Fields, shared: Fields, piece: Fields) -> Fields:
    alike = all(
        piece.get(field) == first.get(field) for field in ("presentation", "unit", "sizing")
    )
    if first["presentation"] != "window" or not alike:
        return piece
    own = {field: text for field, text in piece.items() if not field.startswith(_OF_THE_FIRST)}
    return own | shared


class Quoter:
    """Agrees quote after quote. different: how many sets of pieces there are before they come round."""

    def __init__(self, shop: Shop, find: FindMaterial, random: Random, *, different: int) -> None:
        self._shop = shop
        self._find = find
        arriving = designs(random)
        self._typed = with_given_frames(tuple(next(arriving) for _ in range(different)))
        self._made: dict[tuple[tuple[str, str], ...], Made] = {}

    def quote(self, number: int, terms: Terms, quoted_on: date) -> tuple[Made, ...]:
        """The pieces of a quote at its day's prices. Raises: Invalid where one is impossible."""
        return tuple(
            self._agree(typed | terms.fields, terms.customer.tax_free, quoted_on)
            for typed in self._typed[number % len(self._typed)]
        )

    def alike(self, made: Made, copies: int) -> Made:
        """The same design so many times, for certificates. Raises: Invalid where that is impossible."""
        _, agreed = made
        own = {path: text for path, text in agreed.typed.items() if path not in _OF_ONE}
        typed = {**own, **_CERTIFICATES, "copies": str(copies)}
        return self._agree(typed, agreed.tax_free, agreed.priced_on)

    def _agree(self, typed: Fields, tax_free: bool, quoted_on: date) -> Made:
        """The price book never changes in the sample, so a piece that comes round is priced once."""
        key = (*typed.items(), ("tax_free", str(tax_free)))
        if key not in self._made:
            self._made[key] = agree(
                typed, self._shop, self._find, today=quoted_on, tax_free=tax_free
            )
        artwork, agreed = self._made[key]
        return artwork, replace(agreed, priced_on=quoted_on)
