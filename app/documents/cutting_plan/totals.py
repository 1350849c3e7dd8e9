"""What a whole cutting plan comes to: what is taken and bought, what is lost at cost, what is kept."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from app.cutting import OpenedStick
from app.money import Currency, Money
from app.stock.costs import whole_cost
from app.stock.items import StockItem
from app.stock.planning.plans import Opened, PlanSection


@dataclass(frozen=True, slots=True, kw_only=True)
class WholePlan:
    """A plan in a few numbers.

    pieces: those that its parts are for. least: of how many of its materials nothing can open less. from_rack,
    to_buy: sticks and sheets. offcuts: those worth keeping. waste: what is in no part and in no offcut, at cost;
    None where that is not shown.
    share: of what is opened, at cost too; 0 where nothing of it costs anything.
    """

    parts: int
    pieces: int
    materials: int
    least: int
    from_rack: int
    to_buy: int
    offcuts: int
    waste: Money | None
    share: Fraction


def totals_of(
    sections: Iterable[PlanSection],
    sources: Mapping[int, StockItem],
    currency: Currency,
    *,
    costs: bool = True,
) -> WholePlan:
    """Return what a plan comes to. sources: the items that it takes, by id. costs: whether it says what is lost as an amount.

    A stick or sheet counts at what its item cost, one to be bought at what the price book says; of each material
    the lost share of its length or area is lost of that cost. Rounded half up once, in the sum.
    """
    each = tuple(sections)
    spent, lost = Fraction(0), Fraction(0)
    for section in each:
        cost = sum(_cost(section, source, sources) for source in section.sources)
        spent += cost
        lost += cost * (section.plan.waste_share - section.plan.kept_share)
    to_buy = sum(section.to_buy for section in each)
    return WholePlan(
        parts=sum(len(section.parts) for section in each),
        pieces=len({part.piece.piece_id for section in each for part in section.parts}),
        materials=len({section.material.code for section in each}),
        least=sum(section.plan.proven for section in each),
        from_rack=sum(len(section.bins) for section in each) - to_buy,
        to_buy=to_buy,
        offcuts=sum(offcuts_of(opened) for section in each for opened in section.bins),
        waste=Money(1, currency).times(lost) if costs else None,
        share=lost / spent if spent else Fraction(0),
    )


def offcuts_of(opened: Opened) -> int:
    """Return how many offcuts worth keeping a stick or sheet leaves."""
    if isinstance(opened, OpenedStick):
        return 0 if opened.offcut is None else 1
    return len(opened.offcuts)


def _cost(section: PlanSection, source: int | None, sources: Mapping[int, StockItem]) -> int:
    """Return what a stick or sheet cost, or will, in minor units."""
    item = None if source is None else sources.get(source)
    cost = whole_cost(section.material) if item is None else item.item.unit_cost
    return cost.minor
