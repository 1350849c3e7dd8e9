"""Designs of one piece beside each other for its customer: pictures, prices and what differs (P10).

Like the quote it has no field for cost, margin or codes (P9).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import batched, pairwise
from math import ceil

from app.documents.kit.pictures import FrontPicture, hung_picture, in_words
from app.documents.quote.advice import advice_of
from app.documents.quote.details import Detail, artwork_of, borders_of, details_of, outside_of
from app.money import Money
from app.orders import Piece, Shop
from app.orders.piece_report import Findings, findings
from app.pricing import CustomerPrice

NOTHING_SAID = "–"
_NONE = {
    "Frame": "no frame",
    "Border": "no borders",
    "Fillet": "no fillet",
    "Glazing": "no glass",
    "Spacer": "no spacers",
    "Behind it": "no back",
    "Hanging": "no hanging",
    "Extra": "no extras",
}
"""What is said of a design that lacks what another one has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparedDesign:
    """One design. front: its picture. mode: how its price is stated, where tax is charged.

    texts: what is said of it under each of the names that differ, in their order. notes: its own.
    """

    number: int
    letter: str
    front: FrontPicture
    front_words: str
    price: Money
    mode: str
    taken: bool
    texts: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """Designs that stand in one row of a page. rows: (name, texts) of what differs. across: how many have room in it."""

    designs: tuple[ComparedDesign, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]
    across: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Designs of a piece. same: what is said of all of them alike. names: of what differs. notes: of all alike.
    taken: the letter of the design of the piece that is taken, here or not; blank while none is.
    """

    piece: int
    title: str
    same: tuple[Detail, ...]
    names: tuple[str, ...]
    notes: tuple[str, ...]
    designs: tuple[ComparedDesign, ...]
    taken: str = ""

    @property
    def heading(self) -> str:
        """What stands over them."""
        return f"{self.title}: {len(self.designs)} designs"

    @property
    def same_in(self) -> str:
        """What stands before all that is said of them alike."""
        return f"The same in {'both' if len(self.designs) == 2 else 'all'}"

    @property
    def said_of_them(self) -> tuple[str, ...]:
        """Notes of all and what is advised of some."""
        return (*self.notes, *self.advised)

    @property
    def asks(self) -> str:
        """Say what is to be done with them: tick one, or nothing any more."""
        count = len(self.designs)
        if not self.taken:
            return f"{count} designs to choose from. Please tick one."
        if any(each.taken for each in self.designs):
            return f"Design {self.taken} is chosen."
        others = "These were" if count > 1 else "This was"
        return f"Design {self.taken} is chosen. {others} offered beside it."

    @property
    def advised(self) -> tuple[str, ...]:
        """Return what is advised of some designs and not of all, once each: "Designs A and B: We …"."""
        letters: dict[str, list[str]] = {}
        for design in self.designs:
            for note in design.notes:
                letters.setdefault(note, []).append(design.letter)
        return tuple(f"{_named(whose)}: {note}" for note, whose in letters.items())

    def shared_out(self, sheets: int) -> tuple[tuple[ComparedDesign, ...], ...]:
        """Return the designs of each of some sheets, as even as they come; the first ones have one more."""
        each, more = divmod(len(self.designs), sheets)
        ends = [number * each + min(number, more) for number in range(sheets + 1)]
        return tuple(self.designs[start:end] for start, end in pairwise(ends))

    def strips(
        self, across: int, designs: Sequence[ComparedDesign] | None = None
    ) -> tuple[Strip, ...]:
        """Return designs in rows as even as they come, all of them where none are given. across: how many stand in one at most."""
        shown = self.designs if designs is None else designs
        rows = ceil(len(shown) / across)
        return tuple(
            Strip(
                designs=row,
                rows=tuple(
                    (name, tuple(each.texts[n] for each in row))
                    for n, name in enumerate(self.names)
                ),
                across=across,
            )
            for row in batched(shown, ceil(len(shown) / rows))
        )


_ONLY_WHERE_DIFFERENT = "Border"
_ALIKE = {"Glass": "Glazing"}


def _named(letters: Sequence[str]) -> str:
    """As "Design A", "Designs A, B and C"."""
    *others, last = letters
    return f"Designs {', '.join(others)} and {last}" if others else f"Design {last}"


def compare_designs(piece: Piece, shop: Shop, numbers: Iterable[int] = ()) -> Comparison:
    """Compare some designs of a piece, all of them where none is named; unknown ones are left out."""
    wanted = set(numbers)
    chosen = [each for each in piece.designs if not wanted or each.number in wanted]
    pieces = [piece.by_design(each.number) for each in chosen or piece.designs]
    found = [findings(each.artwork, each.agreed, shop) for each in pieces]
    said = [
        _by_name(
            (
                artwork_of(each),
                *details_of(each, its, shop.mat_word.value),
                *outside_of(each, its),
                *borders_of(each.agreed, its),
            )
        )
        for each, its in zip(pieces, found, strict=True)
    ]
    names = tuple(dict.fromkeys(name for each in said for name in each))
    differing = tuple(name for name in names if len({each.get(name) for each in said}) > 1)
    mat = shop.mat_word.value
    none = _NONE | {mat.capitalize(): f"no {mat}"}
    notes = [advice_of(each) for each in found]
    common = tuple(note for note in notes[0] if all(note in each for each in notes))
    return Comparison(
        piece=piece.number,
        title=piece.artwork.title or "Untitled",
        same=tuple(
            detail
            for name, detail in said[0].items()
            if name not in (*differing, _ONLY_WHERE_DIFFERENT)
        ),
        names=tuple(_called(name, said) for name in differing),
        notes=common,
        taken=piece.by_design(piece.taken).counted.letter if piece.taken else "",
        designs=tuple(
            _design(
                each,
                its,
                taken=each.counted.number == piece.taken,
                texts=tuple(
                    ours[name].text if name in ours else none.get(name, NOTHING_SAID)
                    for name in differing
                ),
                notes=tuple(note for note in own if note not in common),
            )
            for each, its, ours, own in zip(pieces, found, said, notes, strict=True)
        ),
    )


def _by_name(details: Iterable[Detail]) -> dict[str, Detail]:
    """Return what is said by its name; one frame and two frames are said under one, and so is all that glazes."""
    return {_ALIKE.get(each.name, each.name.removesuffix("s")): each for each in details}


def _called(name: str, said: Sequence[dict[str, Detail]]) -> str:
    """Return the heading of what differs: in the plural where any of them is."""
    return max((each[name].name for each in said if name in each), key=len)


def _design(
    piece: Piece, found: Findings, *, taken: bool, texts: tuple[str, ...], notes: tuple[str, ...]
) -> ComparedDesign:
    price = piece.agreed.price.customer_view()
    return ComparedDesign(
        number=piece.counted.number,
        letter=piece.counted.letter,
        front=hung_picture(piece.artwork, piece.agreed.chosen, found.exact),
        front_words=in_words(found.exact),
        price=price.total,
        mode=mode_of(price),
        taken=taken,
        texts=texts,
        notes=notes,
    )


def mode_of(price: CustomerPrice) -> str:
    """Say how a price is stated; empty where no tax is charged."""
    if not any(part.tax for part in price.tax.taxes):
        return ""
    return "with tax" if price.tax_included else "without tax"
