"""An order: who, which pieces and lines, where each stands, what is due and what was paid.

An order begins as a quote and keeps its id when it is ordered. Each piece keeps, frozen, what
was agreed and priced on the day (P7): nothing here is worked out again from a later price book.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction

from app.errors import FaultCollector, NotFound, quoted
from app.framing import Spec
from app.framing.mass import HEAVIEST_KG
from app.framing.notices.artwork_weight import Support
from app.journal import Noted, not_undone
from app.lengths import Steps
from app.money import Currency, Money, TaxPolicy, TaxRate
from app.orders.copies import least, spread
from app.orders.ledger import Entry
from app.orders.order_line import OrderLine
from app.orders.reductions import Reduction
from app.orders.stages import DELETED, LEFT_THE_WAY, Stage, StageChange, stage_of_order, word_of
from app.pricing import Chosen, PiecePrice

LONGEST_NOTE = 1000
"""Characters that a note to a piece may have."""


class ArtworkKind(StrEnum):
    """What the customer brings, as far as care and drawing ask for it."""

    WATERCOLOUR = "watercolour"
    PRINT = "print"
    PHOTOGRAPH = "photograph"
    DRAWING = "drawing"
    PASTEL = "pastel"
    OIL = "oil"
    CANVAS = "canvas"
    TEXTILE = "textile"
    DOCUMENT = "document"
    OBJECT = "object"
    OTHER = "other"


_PICTURE = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtworkRecord:
    """The artwork in the shop's care.

    support: what it is made of; None where nobody said. weight_kg: as it was weighed, exact; None to
    estimate it (D8). photo: id of its picture; blank where none was taken. Raises: Invalid with every fault.
    """

    title: str = ""
    kind: ArtworkKind = ArtworkKind.OTHER
    condition: str = ""
    declared_value: Money | None = None
    place: str = ""
    support: Support | None = None
    weight_kg: Fraction | None = None
    photo: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        for field, limit in (("title", 120), ("condition", 1000), ("place", 60)):
            given = len(getattr(self, field))
            if given > limit:
                faults.add(
                    f"artwork.{field}",
                    f"The artwork's {field} has {given} characters; at most {limit} are kept.",
                )
        if self.photo and not _PICTURE.fullmatch(self.photo):
            faults.add(
                "artwork.photo",
                f"{quoted(self.photo)} is no id of a picture, which has 32 of the characters 0 to 9 and a to f.",
            )
        if self.weight_kg is not None and not 0 < self.weight_kg <= HEAVIEST_KG:
            faults.add(
                "artwork.weight",
                f"The artwork's weight must be above zero and at most {HEAVIEST_KG} kg.",
            )
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreed:
    """What was agreed for a piece and frozen on the day.

    typed: every field of the quote page as it was typed, to edit it again. steps: the unit and the
    step that the piece is cut in. tax_rates, tax_policy: as they stood, for the order's totals. copies: how
    many alike; the price is that of all of them (P11).
    """

    typed: dict[str, str]
    spec: Spec
    steps: Steps
    chosen: Chosen
    price: PiecePrice
    priced_on: date
    tax_policy: TaxPolicy
    tax_rates: tuple[TaxRate, ...]
    tax_free: bool = False
    copies: int = 1

    @property
    def note(self) -> str:
        """What was noted for the workshop, as it was typed; "" for nothing."""
        return self.typed.get("note", "").strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One of the ways to frame the artwork of a piece. number: from 1 within its piece, never used again."""

    number: int
    agreed: Agreed

    @property
    def letter(self) -> str:
        """What people call it: A to Z, then AA."""
        return design_letter(self.number)


def design_letter(number: int) -> str:
    """Return what the design of a number is called: A to Z, then AA, AB and so on."""
    before, place = divmod(number - 1, 26)
    return (design_letter(before) if before else "") + chr(ord("A") + place)


def sole_design(agreed: Agreed) -> tuple[Design, ...]:
    """Return the designs of a piece that has one."""
    return (Design(number=1, agreed=agreed),)


class DesignAct(StrEnum):
    """What happens to a design of a piece. Left open: none of its designs is taken any more."""

    ADDED = "added"
    TAKEN = "taken"
    LEFT_OPEN = "left open"
    REMOVED = "removed"

    @property
    def word(self) -> str:
        """What is said to have happened to a design, as in “design B chosen”. The act is kept under its value."""
        return "chosen" if self is DesignAct.TAKEN else self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignChange(Noted):
    """One act on a design of a piece. design: its number."""

    design: int
    act: DesignAct


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One artwork and its designs, of which one counts (P10). number: from 1, within its order.

    designs: by number, at least one. taken: the number of the one that the customer took; None while
    nobody chose, which is no choice where there is one.
    stage: the least of all that are alike.
    """

    id: int
    number: int
    artwork: ArtworkRecord
    designs: tuple[Design, ...]
    taken: int | None = None
    stage: Stage = Stage.QUOTED
    changes: tuple[StageChange, ...] = ()
    design_changes: tuple[DesignChange, ...] = ()

    @property
    def counted(self) -> Design:
        """The design that everything follows: the taken one, the only one, or the first while none is taken."""
        return next((each for each in self.designs if each.number == self.taken), self.designs[0])

    @property
    def agreed(self) -> Agreed:
        """What was agreed for the design that counts."""
        return self.counted.agreed

    @property
    def undecided(self) -> bool:
        """Whether one of several designs is still to be chosen."""
        return self.several and self.taken is None

    @property
    def several(self) -> bool:
        """Whether it has more designs than one, which are then told apart by their letters."""
        return len(self.designs) > 1

    @property
    def others(self) -> tuple[Design, ...]:
        """The designs that do not count."""
        return tuple(each for each in self.designs if each is not self.counted)

    def by_design(self, number: int | None) -> "Piece":
        """Return the piece as it is with one of its designs taken; as it stands for None. Raises: NotFound."""
        if number is None:
            return self
        if all(each.number != number for each in self.designs):
            raise NotFound(f"Piece {self.number} has no design {design_letter(max(number, 1))}.")
        return replace(self, taken=number)

    @property
    def last_change(self) -> StageChange | None:
        """The last change that still stands; None where all were taken back."""
        return self.standing_changes[-1] if self.standing_changes else None

    @property
    def standing_changes(self) -> tuple[StageChange, ...]:
        """The changes that were not taken back, the oldest first."""
        return not_undone(self.changes, takes_back=lambda change: change.takes_back)

    @property
    def deleted(self) -> bool:
        """Whether it went with a quote that was deleted."""
        return self.last_change is not None and self.last_change.deletes

    @property
    def stage_word(self) -> str:
        """The word of its stage."""
        return DELETED if self.deleted else self.stage.value

    @property
    def copies(self) -> int:
        """How many are alike."""
        return self.agreed.copies

    @property
    def stands(self) -> Mapping[Stage, int]:
        """How many of them stand at each stage where any does; the piece's is the least (P11)."""
        return spread(self.copies, self.stage, self.standing_changes)

    def after(self, change: StageChange) -> "Piece":
        """Return the piece after one more change."""
        changed = replace(self, changes=(*self.changes, change), stage=change.new)
        return replace(changed, stage=least(changed.stands))


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """version: grows with every change, for optimistic locking.

    quote_number is given when the quote is first saved, order_number when it is ordered (M4).
    """

    id: int
    version: int
    customer_id: int
    customer_name: str
    quote_number: str
    quoted_on: date
    valid_until: date
    order_number: str | None = None
    ordered_on: date | None = None
    due: date | None = None
    note: str = ""
    pieces: tuple[Piece, ...] = ()
    entries: tuple[Entry, ...] = ()
    reductions: tuple[Reduction, ...] = ()
    lines: tuple[OrderLine, ...] = ()

    @property
    def stage(self) -> Stage:
        """The least stage of its pieces and its lines; a line that was struck is none of them."""
        lines = (line.holds_order_at for line in self.lines if not line.struck)
        return stage_of_order((*(piece.stage for piece in self.pieces), *lines))

    @property
    def stage_word(self) -> str:
        """What its stage is called."""
        return DELETED if self.deleted else word_of(self.stage, with_pieces=bool(self.pieces))

    @property
    def deleted(self) -> bool:
        """Whether it is a quote that was deleted: its number stays given, and what stood on it in its record (M4)."""
        return self.stage is Stage.DECLINED and any(each.deleted for each in self.standing)

    @property
    def stage_of_pieces(self) -> Stage:
        """The least stage of its pieces; where it has none, its own."""
        return stage_of_order(piece.stage for piece in self.pieces) if self.pieces else self.stage

    @property
    def currency(self) -> Currency:
        """That of what was agreed first, and so of all."""
        return self.all_of_it[0].agreed.price.currency

    @property
    def all_of_it(self) -> "tuple[Piece | OrderLine, ...]":
        """Its pieces, then its lines, whatever became of them."""
        return (*self.pieces, *self.lines)

    @property
    def standing(self) -> "tuple[Piece | OrderLine, ...]":
        """Its pieces, then its lines that were not struck."""
        return (*self.pieces, *(line for line in self.lines if not line.struck))

    @property
    def sold(self) -> "tuple[Piece | OrderLine, ...]":
        """All that is charged: the pieces that count, then the lines that do."""
        return (*self.counting, *(line for line in self.lines if line.counts))

    @property
    def counting(self) -> tuple[Piece, ...]:
        """The pieces that count: all but the declined and cancelled ones."""
        return tuple(piece for piece in self.pieces if piece.stage not in LEFT_THE_WAY)

    @property
    def has_lines(self) -> bool:
        """Whether anything is charged that is no piece."""
        return any(line.counts for line in self.lines)

    def called(self, piece: Piece) -> str:
        """Return a piece among those that count: "piece 2 of 3"; a number that was left out stays so."""
        numbers = [each.number for each in self.counting]
        if piece.number not in numbers:
            return f"piece {piece.number}"
        if numbers == list(range(1, len(numbers) + 1)):
            return f"piece {piece.number} of {len(numbers)}"
        return f"piece {piece.number}, {len(numbers)} in all"

    @property
    def number(self) -> str:
        """The number that people use: the order's, or the quote's until it is ordered."""
        return self.order_number or self.quote_number

    def out_of_date(self, today: date) -> bool:
        """Tell whether a quote is past its validity (P7)."""
        return self.stage is Stage.QUOTED and today > self.valid_until

    def overdue(self, today: date) -> bool:
        """Tell whether work that is not finished was due on an earlier day."""
        unfinished = self.stage in (Stage.ORDERED, Stage.CUT)
        return unfinished and self.due is not None and self.due < today
