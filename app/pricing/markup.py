"""From cost to sell price: a markup number, a sliding table, or a price given outright (P4)."""

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from app.errors import FaultCollector
from app.money import Money, show_money
from app.pricing.codes import check_code

LARGEST_MARKUP = Fraction(100)
"""A guard against a percentage typed as a factor. Source: ours."""


def _markup_message(factor: Fraction) -> str:
    return (
        f"The markup is {float(factor):g}; a factor above 0 and up to {LARGEST_MARKUP} is allowed "
        "(2.5 sells at two and a half times the cost)."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkupStep:
    """The markup for unit costs up to and including `up_to`; None is the rest.

    Raises: Invalid at "up_to", "factor".
    """

    up_to: Money | None
    factor: Fraction

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.up_to is not None and self.up_to.minor <= 0:
            faults.add(
                "up_to", f"The step ends at {show_money(self.up_to)}; it must be above zero."
            )
        if not 0 < self.factor <= LARGEST_MARKUP:
            faults.add("factor", _markup_message(self.factor))
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkupTable:
    """A sliding markup over the unit cost (P4). steps: ascending, the last one open.

    Raises: Invalid with every fault, at "code", "name", "steps", "steps.1.up_to".
    """

    code: str
    name: str
    steps: tuple[MarkupStep, ...]

    def __post_init__(self) -> None:
        faults = FaultCollector()
        check_code(faults, self.code)
        if not self.name.strip():
            faults.add("name", "The name is empty; it is what you will find the table by.")
        self._check_steps(faults)
        faults.finish()

    def _check_steps(self, faults: FaultCollector) -> None:
        if not self.steps or self.steps[-1].up_to is not None:
            faults.add("steps", "The last step must be open, so that every cost finds its markup.")
        closed = [step.up_to for step in self.steps[:-1]]
        for index, up_to in enumerate(closed):
            if up_to is None:
                faults.add(f"steps.{index}.up_to", "Only the last step may be open.")
        given = [(index, up_to) for index, up_to in enumerate(closed) if up_to is not None]
        if len({up_to.currency for _, up_to in given}) > 1:
            faults.add("steps", "The steps are in different currencies.")
        for (_, lower), (index, upper) in pairwise(given):
            if upper.minor <= lower.minor:
                faults.add(
                    f"steps.{index}.up_to",
                    f"This step ends at {show_money(upper)}, which is not above the one before, "
                    f"{show_money(lower)}; list them from the lowest cost up.",
                )

    def factor_for(self, unit_cost: Fraction) -> Fraction:
        """Return the factor for a cost in minor units per charged unit; a step's end belongs to it."""
        for step in self.steps:
            if step.up_to is None or unit_cost <= step.up_to.minor:
                return step.factor
        return self.steps[-1].factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Selling:
    """How the sell price comes about: at most one of a number, a sliding table, a price (P4).

    None of them is right only for what is charged by size band, which has its own prices.
    table: code of a markup table. price: per charged unit - metre or foot by the cost basis,
    m² or sq ft likewise, sheet, each. A stick is charged by the metre.
    Raises: Invalid at "selling", "selling.markup", "selling.price".
    """

    markup: Fraction | None = None
    table: str | None = None
    price: Money | None = None

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if self.markup is not None and not 0 < self.markup <= LARGEST_MARKUP:
            faults.add("selling.markup", _markup_message(self.markup))
        if self.price is not None and self.price.minor < 0:
            faults.add(
                "selling.price",
                f"The sell price is {show_money(self.price)}; zero or more is allowed.",
            )
        if self.ways > 1:
            faults.add("selling", "Give one of: a markup, a markup table, or a sell price.")
        faults.finish()

    @property
    def ways(self) -> int:
        """How many of the three are given."""
        return sum(value is not None for value in (self.markup, self.table, self.price))
