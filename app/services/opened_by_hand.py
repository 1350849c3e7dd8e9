"""What the parts of one piece open of whole stock where they are cut by hand (C1 to C3), and off which items it comes.

Looks at it alone: who takes it off the rack is `off_the_rack`. Only of materials of which stock is written down.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

from app.cutting import StickProblem
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.sticks.simple import simple_stick_plan
from app.errors import Invalid
from app.orders import Shop
from app.pricing import Material
from app.stock.consumption import TakenOff, taken_off
from app.stock.items import StockItem
from app.stock.planning.parts import PartToCut
from app.stock.planning.problems import PlanningProblem, is_usual, problems_of
from app.storage import UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeStock:
    """What parts are cut from by hand, read once for however many pieces.

    book: materials as the price book has them, by code. items: the whole sticks or sheets of each that are written down, also
    those of which none is left, the oldest first.
    """

    book: Mapping[str, Material]
    items: Mapping[str, Sequence[StockItem]]
    shop: Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """How many sticks or sheets the parts of one piece open of a material, and the items that they may come off."""

    problem: PlanningProblem
    count: int
    items: tuple[StockItem, ...]


def whole_stock(work: UnitOfWork, codes: Iterable[str]) -> WholeStock:
    """Return what lies whole of some materials."""
    book = work.materials.several(set(codes))
    items: dict[str, list[StockItem]] = defaultdict(list)
    for kept in work.stock.of_materials(book, gone=True):
        if kept.item.whole:
            items[kept.item.material].append(kept)
    return WholeStock(book=book, items=dict(items), shop=work.shop.get())


def openings(work: UnitOfWork, parts: Iterable[PartToCut], stock: WholeStock) -> Iterator[Opening]:
    """Yield what some parts of one piece open of each material of which whole stock is written down."""
    there = tuple(part for part in parts if part.material.code in stock.items)
    for problem, count in _opened(work, there, stock):
        whole = [
            kept for kept in stock.items[problem.material.code] if kept.item.form is problem.form
        ]
        items = [kept for kept in whole if is_usual(kept.item, problem.material)] or whole
        if items and count:
            yield Opening(problem=problem, count=count, items=tuple(items))


def leaving(
    found: Iterable[Opening], gone: Mapping[int, int] = MappingProxyType({})
) -> Iterator[tuple[PlanningProblem, TakenOff]]:
    """Yield what leaves the rack. gone: what is taken as having left each item before."""
    for opening in found:
        items = [
            replace(kept, on_hand=kept.on_hand - gone.get(kept.id, 0)) for kept in opening.items
        ]
        for taken in taken_off(Fraction(opening.count), items):
            if taken.count:
                yield opening.problem, taken


def _opened(
    work: UnitOfWork, parts: Sequence[PartToCut], stock: WholeStock
) -> tuple[tuple[PlanningProblem, int], ...]:
    """Return how many new sticks or sheets the parts of one piece open of each material; nothing where they are too many for a plan.

    It is one answer a piece, planned again only where a part, its material or the shop changed: so the memory holds as many
    pieces as it holds of what they need.
    """
    codes = dict.fromkeys(part.material.code for part in parts)

    def plan() -> tuple[tuple[PlanningProblem, int], ...]:
        try:
            asked = problems_of(parts, stock.book, (), stock.shop)
        except Invalid:
            return ()
        return tuple((each, _bins_of(each)) for each in asked if each.in_book)

    same = (*parts, *(stock.book[code] for code in codes), stock.shop)
    return work.lasting.of("opened by hand", None, plan, same=same)


def _bins_of(problem: PlanningProblem) -> int:
    """Tell how many sticks or sheets a simple plan opens."""
    asked = problem.asked
    if isinstance(asked, StickProblem):
        return len(simple_stick_plan(asked).bins)
    return len(simple_sheet_plan(asked).bins)
