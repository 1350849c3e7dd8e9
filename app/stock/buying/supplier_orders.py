"""Orders to suppliers: their stages, their lines, what has come of each and what is outstanding.

Owns the values and the one table of what may follow what. Deliveries are a record that only grows; a
mistake is corrected by a contrary entry.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from app.errors import Conflict, FaultCollector, Invalid
from app.journal import Contrary, Written, standing
from app.lengths import Length, Size
from app.money import Currency, Money, show_money
from app.stock.items import StockForm
from app.stock.levels import LARGEST_COUNT
from app.stock.purchase_unit import BuyingUnit

LONGEST_SUPPLIER = 120
LONGEST_NOTE = 500
LONGEST_WORD = 60
"""Of a batch and of a place, as of an item."""


class SupplierStage(StrEnum):
    """Where an order to a supplier stands. CLOSED: nothing more is awaited, whether all came or not."""

    DRAFT = "draft"
    SENT = "sent"
    CLOSED = "closed"
    DROPPED = "dropped"

    @property
    def word(self) -> str:
        """The stage as people read it: an order that was dropped is called deleted."""
        return "deleted" if self is SupplierStage.DROPPED else self.value


MAY_FOLLOW: dict[SupplierStage, tuple[SupplierStage, ...]] = {
    SupplierStage.DRAFT: (SupplierStage.SENT, SupplierStage.DROPPED),
    SupplierStage.SENT: (SupplierStage.CLOSED,),
    SupplierStage.CLOSED: (SupplierStage.SENT,),
    SupplierStage.DROPPED: (),
}
"""A closed order is awaited again where it was closed by mistake or a delivery was taken back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewLine:
    """A line before it is kept: so many of a material, as it is bought.

    material: its code. name: what it is called on paper. cost: of `cost_for` of the unit. note: what
    the supplier is told of it, such as the supplier's own number.
    Raises: Invalid with every fault, at "quantity", "cost", "note".
    """

    material: str
    name: str
    form: StockForm
    unit: BuyingUnit
    quantity: int
    cost: Money
    cost_for: int = 1
    length: Length | None = None
    size: Size | None = None
    note: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not 1 <= self.quantity <= LARGEST_COUNT:
            faults.add(
                "quantity",
                f"{self.unit.counted(self.quantity)} cannot be ordered; 1 to {LARGEST_COUNT} can.",
            )
        if self.cost.minor < 0 or self.cost_for < 1:
            faults.add("cost", f"The cost is {show_money(self.cost)}; zero or more is allowed.")
        if len(self.note) > LONGEST_NOTE:
            faults.add(
                "note",
                f"The note has {len(self.note)} characters; at most {LONGEST_NOTE} are kept.",
            )
        faults.finish()

    @property
    def total(self) -> Money:
        """The cost of the line, rounded half up."""
        return cost_of(self.quantity, self.cost, self.cost_for)


@dataclass(frozen=True, slots=True, kw_only=True)
class NewDelivery(Contrary):
    """So many of a line that came, or, below zero, that did not come after all.

    cost: what was paid for `cost_for` of them. movement_id: of the stock. Raises: Invalid with every fault, at "quantity", "cost", "batch", "place",
    "note".
    """

    quantity: int
    cost: Money
    cost_for: int
    movement_id: int
    batch: str = ""
    place: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if not 1 <= abs(self.quantity) <= LARGEST_COUNT:
            faults.add("quantity", f"{self.quantity} cannot have come; 1 to {LARGEST_COUNT} can.")
        if (self.quantity < 0) != (self.takes_back is not None):
            faults.add("quantity", "Only an entry that takes another back is below zero.")
        if self.cost.minor < 0 or self.cost_for < 1:
            faults.add("cost", f"The cost is {show_money(self.cost)}; zero or more is allowed.")
        limits = (("batch", LONGEST_WORD), ("place", LONGEST_WORD), ("note", LONGEST_NOTE))
        for field, limit in limits:
            given = len(getattr(self, field))
            if given > limit:
                faults.add(field, f"The {field} has {given} characters; at most {limit} are kept.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery(Written[NewDelivery]):
    """An entry as it is kept."""

    line_id: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """A line as it is kept, with what came of it, the oldest first."""

    id: int
    ordered: NewLine
    deliveries: tuple[Delivery, ...] = ()

    @property
    def received(self) -> int:
        """How many came in all."""
        return sum(delivery.entry.quantity for delivery in self.deliveries)

    @property
    def outstanding(self) -> int:
        """How many are still to come."""
        return max(0, self.ordered.quantity - self.received)

    @property
    def beyond(self) -> int:
        """How many more came than were ordered."""
        return max(0, self.received - self.ordered.quantity)

    @property
    def paid(self) -> Money:
        """The amount paid for what came, each entry rounded half up."""
        zero = Money.zero(self.ordered.cost.currency)
        entries = (delivery.entry for delivery in self.deliveries)
        costs = (cost_of(each.quantity, each.cost, each.cost_for) for each in entries)
        return sum((cost for cost in costs if cost.currency == zero.currency), zero)

    @property
    def last_paid(self) -> NewDelivery | None:
        """The last entry that was not taken back, which tells what the material costs now."""
        stand = standing(self.deliveries)
        return stand[-1].entry if stand else None


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierOrder:
    """An order to one supplier, as it is kept.

    currency: of all its costs. sent_on: None until it is sent. Raises: Invalid at "supplier", "note".
    """

    id: int
    version: int
    number: str
    supplier: str
    made_on: date
    currency: Currency
    stage: SupplierStage = SupplierStage.DRAFT
    sent_on: date | None = None
    note: str = ""
    lines: tuple[OrderLine, ...] = ()

    def __post_init__(self) -> None:
        check_head(self.supplier, self.note)

    @property
    def outstanding(self) -> int:
        """How many of all lines are still to come; 0 for an order that is not under way."""
        if self.stage is not SupplierStage.SENT:
            return 0
        return sum(line.outstanding for line in self.lines)

    @property
    def total(self) -> Money:
        """The total of the order at the costs that were noted with it."""
        return sum((line.ordered.total for line in self.lines), Money.zero(self.currency))

    @property
    def paid(self) -> Money:
        """The amount paid for what came."""
        return sum((line.paid for line in self.lines), Money.zero(self.currency))

    def line(self, line_id: int) -> OrderLine:
        """Return one of its lines. Raises: Conflict where it has none of that id."""
        for line in self.lines:
            if line.id == line_id:
                return line
        raise Conflict(f"{self.number} has no such line; look at it again.")


def check_head(supplier: str, note: str) -> None:
    """Raises: Invalid with every fault of an order's head, at "supplier", "note"."""
    faults = FaultCollector()
    if not supplier.strip():
        faults.add("supplier", "Say who the order goes to.", "empty")
    for field, text, limit in (
        ("supplier", supplier, LONGEST_SUPPLIER),
        ("note", note, LONGEST_NOTE),
    ):
        if len(text) > limit:
            faults.add(field, f"The {field} has {len(text)} characters; at most {limit} are kept.")
    faults.finish()


def cost_of(quantity: int, cost: Money, cost_for: int) -> Money:
    """Return what a quantity comes to, half up where the cost is for more than one. Source: M1."""
    return cost.times(Fraction(quantity, cost_for))


def check_move(order: SupplierOrder, new: SupplierStage) -> None:
    """Raises: Conflict unless `new` may follow the stage of the order, Invalid for an empty one sent."""
    allowed = MAY_FOLLOW[order.stage]
    if new not in allowed:
        words = " or ".join(f"“{stage.word}”" for stage in allowed)
        rest = f"only {words} can follow." if allowed else "nothing follows it; make a new one."
        raise Conflict(
            f"{order.number} is “{order.stage.word}” and cannot become “{new.word}”: {rest}"
        )
    if new is SupplierStage.SENT and not order.lines:
        raise Invalid.at(
            "lines", f"{order.number} has no line; put something on it first.", "count"
        )


def settled_stage(order: SupplierOrder) -> SupplierStage:
    """Tell where an order stands after a delivery or its taking back: closed once all has come."""
    if order.stage not in (SupplierStage.SENT, SupplierStage.CLOSED):
        return order.stage
    left = any(line.outstanding for line in order.lines)
    return SupplierStage.SENT if left else SupplierStage.CLOSED
