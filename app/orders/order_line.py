"""A line of an order without a piece: what it is, what was agreed for it, and where it stands (P12).

A line is changed by agreeing it anew and struck by a further entry; all of it stays in its record. What it costs
was frozen on the day (P7).
"""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from app.journal import Noted, standing_last
from app.money import Money, TaxPolicy, TaxRate
from app.orders.stages import (
    DELETED,
    GOODS_SKIP,
    LEFT_THE_WAY,
    WAY,
    WORK_SKIPS,
    Stage,
    StageChange,
    may_follow,
    skipped_after,
)
from app.pricing import Material, PiecePrice


@dataclass(frozen=True, slots=True, kw_only=True)
class LineAgreed:
    """What was agreed for a line and frozen on the day.

    typed: the fields of its form as they were typed. goods: of the price book; None for anything else.
    minutes: of work, in all; none for what is no work. note: for the bench, never printed for the customer.
    tax_rates, tax_policy: as they stood, for the order's totals.
    """

    typed: dict[str, str]
    what: str
    number: int
    price: PiecePrice
    priced_on: date
    tax_policy: TaxPolicy
    tax_rates: tuple[TaxRate, ...]
    goods: Material | None = None
    minutes: Fraction = Fraction(0)
    note: str = ""
    tax_free: bool = False

    @property
    def is_work(self) -> bool:
        """Whether somebody has to do it, so that it has a job sheet."""
        return self.minutes > 0

    @property
    def quantity(self) -> str:
        """How many at what price, in the shop's price mode: "12 × 3.50 each"."""
        return self.price.lines[0].in_short

    @property
    def rate(self) -> TaxRate:
        """The rate of tax that it bears."""
        code = self.price.lines[0].tax
        return next(rate for rate in self.tax_rates if rate.code == code)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineEntry(Noted):
    """What holds of a line from now on. struck: it is not sold any more."""

    agreed: LineAgreed
    struck: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """A line and its record. number: from 1, within its order. entries: the oldest first; the last one holds."""

    id: int
    number: int
    entries: tuple[LineEntry, ...]
    stage: Stage = Stage.QUOTED
    changes: tuple[StageChange, ...] = ()

    @property
    def agreed(self) -> LineAgreed:
        """What holds now."""
        return self.entries[-1].agreed

    @property
    def struck(self) -> bool:
        """Whether it was taken off."""
        return self.entries[-1].struck

    @property
    def counts(self) -> bool:
        """Whether it is charged."""
        return not self.struck and self.stage not in LEFT_THE_WAY

    @property
    def skips(self) -> frozenset[Stage]:
        """The stages that it does not come to."""
        return WORK_SKIPS if self.agreed.is_work else GOODS_SKIP

    @property
    def may_follow(self) -> tuple[Stage, ...]:
        """What may follow its stage; nothing once it is struck."""
        return () if self.struck else may_follow(self.stage, self.skips)

    @property
    def goes_with(self) -> frozenset[Stage]:
        """What the whole order may come to as far as this line goes: also what it has behind it, or skips from here on."""
        behind = WAY[: WAY.index(self.stage) + 1] if self.stage in WAY else ()
        return frozenset((*self.may_follow, *behind)) | skipped_after(self.stage, self.skips)

    @property
    def holds_order_at(self) -> Stage:
        """Where it holds its order: what is not cut is as good as cut, and goods lie ready."""
        if self.stage is not Stage.ORDERED:
            return self.stage
        return Stage.CUT if self.agreed.is_work else Stage.FRAMED

    @property
    def stage_word(self) -> str:
        """The word of its stage: a job is done where a piece is framed."""
        if self.deleted:
            return DELETED
        return "done" if self.stage is Stage.FRAMED else self.stage.value

    @property
    def deleted(self) -> bool:
        """Whether it went with a quote that was deleted."""
        return self.last_change is not None and self.last_change.deletes

    @property
    def last_change(self) -> StageChange | None:
        """The last change that still stands; None where all were taken back."""
        return standing_last(self.changes, takes_back=lambda change: change.takes_back)

    @property
    def stated(self) -> Money:
        """What it comes to in the price mode it was agreed in."""
        return self.agreed.price.total
