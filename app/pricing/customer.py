"""What the customer may see of a price: types that have no place for cost or margin (P9)."""

from dataclasses import dataclass
from fractions import Fraction

from app.money import Money, TaxSummary
from app.pricing.lines import PriceLine
from app.pricing.measure import Measure
from app.pricing.uses import LineGroup


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerLine:
    """A price line for the customer. quantity × unit_price (minor units), half up, times copies is the amount."""

    label: str
    group: LineGroup
    part: str
    quantity: Fraction
    measure: Measure
    unit_price: Fraction
    amount: Money
    why: tuple[str, ...]
    copies: int = 1
    together: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPrice:
    """A piece's price for the customer; the sums are those of `PiecePrice`. each: the price of one alike."""

    lines: tuple[CustomerLine, ...]
    subtotal: Money
    discount: Money
    rush: Money
    rounding: Money
    total: Money
    tax_included: bool
    tax_free: bool
    tax: TaxSummary
    copies: int
    each: Money
    by_number: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerTotals:
    """The sums of an order for the customer. What is paid is tax.gross."""

    total: Money
    tax: TaxSummary


def customer_line(line: PriceLine) -> CustomerLine:
    """Return a line without what is the shop's own."""
    return CustomerLine(
        label=line.label,
        group=line.group,
        part=line.part,
        quantity=line.quantity,
        measure=line.measure,
        unit_price=line.unit_price,
        amount=line.amount,
        why=line.why,
        copies=line.copies,
        together=line.together,
    )
