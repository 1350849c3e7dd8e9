"""What a quote, or the confirmation of an order, says: its page model.

It has no field for cost, margin or codes (P9): what a customer may not see cannot be printed by mistake.
"""

from dataclasses import dataclass, replace

from app.documents.kit.party import PartyPaper
from app.documents.kit.pictures import FrontPicture
from app.documents.kit.total_lines import Sum, together
from app.documents.quote.comparison import Comparison, Strip
from app.documents.quote.details import Detail
from app.documents.quote.totals import QuotedLine
from app.documents.quote.wall import Hung


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedPiece:
    """One piece as its customer sees it. line: what it is, in one line. details: what is between, name by name.

    front: its picture. compared: its designs, where one is still to be chosen; details, notes and sums are then what
    they have in common, and from what to what they come (P10). totals_only: whether its lines are left out.
    numbered: whether its number stands before its title. alone: whether nothing else is on the paper.
    """

    number: int
    title: str
    line: str
    front: FrontPicture | None
    front_words: str
    details: tuple[Detail, ...]
    notes: tuple[str, ...]
    sums: tuple[Sum, ...]
    compared: Comparison | None = None
    totals_only: bool = False
    alone: bool = False
    numbered: bool = False

    @property
    def heading(self) -> str:
        """What stands over what is said of it."""
        return f"{self.number} · {self.title}" if self.numbered else self.title

    @property
    def shown(self) -> tuple[Sum, ...]:
        """Return its sums as they are printed: lines, where the shop shows them, and what it comes to where that is not
        said by the total of all.
        """
        *lines, total = self.sums
        said = () if self.totals_only or self.compared else tuple(lines)
        needs_total = not self.alone or total.label != "Subtotal"
        return (*said, total) if needs_total else said


type HungStrip = tuple[Strip, tuple[Hung, ...]]
"""Designs that stand in a row, and how their pictures hang."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteSheet:
    """One sheet of a quote. wall: how high it is, wide: a column of it, mm. folded: whether what is said runs on.

    parted: whether what its designs have in common and what is advised follow on a sheet of their own, with the total and
    the signature where they end the quote; rest: whether this is that sheet. part, parts: which of several sheets it is, that
    the designs of a piece are shared out on.
    hung: the pictures of its pieces; strips: the designs of a piece with theirs.
    """

    first: bool
    last: bool
    classes: str
    pieces: tuple[QuotedPiece, ...] = ()
    folded: bool = False
    parted: bool = False
    rest: bool = False
    part: int = 1
    parts: int = 1
    wall: float = 0
    wide: float = 0
    hung: tuple[Hung, ...] = ()
    strips: tuple[HungStrip, ...] = ()

    @property
    def ends_designs(self) -> bool:
        """Whether what its designs have in common stands beneath them."""
        return self.part == self.parts and not self.parted

    @property
    def letters(self) -> str:
        """Say which designs stand on it: "Designs F to J"."""
        shown = [design.letter for strip, _ in self.strips for design in strip.designs]
        return f"Design {shown[0]}" if len(shown) == 1 else f"Designs {shown[0]} to {shown[-1]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotePaper(PartyPaper):
    """Everything that a quote or a confirmation says.

    taxed: whether the rate of tax stands beside each line
    without a piece. terms: what is promised and asked; small_print: of sizes, weights and walls. sheets: how it is
    set, which its paper decides.
    """

    warning: str
    pieces: tuple[QuotedPiece, ...]
    lines: tuple[QuotedLine, ...]
    taxed: bool
    sums: tuple[Sum, ...]
    payments: tuple[Sum, ...]
    terms: tuple[str, ...]
    small_print: tuple[str, ...]
    to_sign: bool
    sheets: tuple[QuoteSheet, ...] = ()

    @property
    def alone(self) -> bool:
        """Tell whether it is about one piece and nothing else."""
        return len(self.pieces) == 1 and not self.lines and self.pieces[0].compared is None

    @property
    def accepted(self) -> str:
        """What is signed, with what is promised and asked where that stands nowhere else."""
        with_designs = " with the designs that are ticked" if self.choosing else ""
        promised = self.terms if self.alone else ()
        return " ".join((f"I accept this quote{with_designs}.", *promised))

    def total_apart(self, *, folded: bool) -> bool:
        """Tell whether the total stands at the end, and not beside the one piece that it is of."""
        return not self.alone or folded

    def beside_total(self, *, folded: bool) -> tuple[str, ...]:
        """Return what is said beside a total that stands apart: terms, or where nothing is signed of sizes and walls."""
        if not self.total_apart(folded=folded):
            return ()
        if not self.to_sign:
            return self.small_print
        return () if self.alone else self.terms

    def beneath_total(self, *, folded: bool) -> tuple[str, ...]:
        """Return what is said of sizes and walls at the very end, where it is not said beside the total."""
        beside = self.total_apart(folded=folded) and not self.to_sign
        return () if beside else self.small_print

    @property
    def closing_sums(self) -> tuple[Sum, ...]:
        """Return the sums as they are printed: of one piece alone nothing is said of all pieces."""
        if len(self.pieces) > 1 or self.lines:
            return self.sums
        whole = together(of_lines=False)
        return tuple(
            replace(each, label="Subtotal") if each.label == whole else each for each in self.sums
        )

    @property
    def choosing(self) -> bool:
        """Tell whether a design is still to be chosen of some piece."""
        return any(piece.compared is not None for piece in self.pieces)
