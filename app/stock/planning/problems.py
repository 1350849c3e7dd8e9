"""From the parts of open work and what lies on the rack to one question a material (C1 to C3).

Owns which stock is offered for what, at what cost: offcuts for nothing, whole stock as the price book
has it without limit, whole stock of another size by its share of that.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.cutting import Sheet, SheetPart, SheetProblem, Stick, StickProblem
from app.lengths import ZERO, Size
from app.orders import Shop
from app.pricing import Material
from app.stock.items import Item, StockForm, StockItem, form_of
from app.stock.planning.parts import PartToCut, may_turn

WHOLE = "whole"
"""The id of whole stock in the price book's own size: on the rack as far as it goes, then bought."""

_FREE = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnRack:
    """An item and how many of it no open plan has taken."""

    kept: StockItem
    available: int

    @property
    def id(self) -> str:
        """The id by which the item stands in a planning problem: "item-7"."""
        return f"item-{self.kept.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanningProblem:
    """One material's question to a planner.

    material: as the price book has it now, as it was agreed where it has left the book (in_book).
    parts: those in the question, by their ids. rack: everything on the rack that is of use, the
    oldest first.
    """

    material: Material
    in_book: bool
    asked: StickProblem | SheetProblem
    parts: Mapping[str, PartToCut]
    rack: tuple[OnRack, ...]

    @property
    def form(self) -> StockForm:
        """Whether sticks or sheets are asked for."""
        return StockForm.STICK if isinstance(self.asked, StickProblem) else StockForm.SHEET


def problems_of(
    parts: Iterable[PartToCut],
    book: Mapping[str, Material],
    rack: Iterable[OnRack],
    shop: Shop,
    ask: "Ask | None" = None,
) -> tuple[PlanningProblem, ...]:
    """Return a question for each material of the parts, by its code.

    book: the price book's materials by code. Parts larger than any stock stay in: the planner says
    of them that they fit nowhere. ask: answers what was asked before without making the question again.
    Raises: Invalid where more is asked than one plan can hold.
    """
    ask = ask or problem_of
    items: dict[str, list[OnRack]] = defaultdict(list)
    for each in rack:
        items[each.kept.item.material].append(each)
    return tuple(
        ask(ours, book.get(code), items[code], shop) for (code, _), ours in _by_material(parts)
    )


type Ask = Callable[[Sequence[PartToCut], Material | None, Sequence[OnRack], Shop], PlanningProblem]
"""Asks of one material, as `problem_of` does."""


def _by_material(
    parts: Iterable[PartToCut],
) -> Iterable[tuple[tuple[str, StockForm], Sequence[PartToCut]]]:
    grouped: dict[tuple[str, StockForm], list[PartToCut]] = defaultdict(list)
    for part in parts:
        grouped[part.material.code, part.form].append(part)
    return sorted(grouped.items())


def problem_of(
    parts: Sequence[PartToCut], booked: Material | None, items: Sequence[OnRack], shop: Shop
) -> PlanningProblem:
    """Return the question of one material. booked: as the price book has it. Raises: Invalid."""
    form = parts[0].form
    in_book = booked is not None and form_of(booked) is form
    material = booked if booked is not None and in_book else parts[-1].material
    rack = tuple(
        each
        for each in sorted(items, key=lambda each: each.kept.id)
        if each.available > 0 and each.kept.item.form is form
    )
    ask = _sticks if form is StockForm.STICK else _sheets
    return PlanningProblem(
        material=material,
        in_book=in_book,
        asked=ask(material, parts, rack, shop),
        parts={part.id: part for part in parts},
        rack=rack,
    )


def _sticks(
    material: Material, parts: Sequence[PartToCut], rack: Sequence[OnRack], shop: Shop
) -> StickProblem:
    assert material.profile is not None, "what comes in sticks has its stick"
    usual, habits = material.profile.stick, shop.cutting
    owned = [
        Stick(
            id=each.id,
            length=length,
            copies=each.available,
            cost=length / usual if each.kept.item.whole else _FREE,
        )
        for each in rack
        if (length := each.kept.item.length) is not None and not is_usual(each.kept.item, material)
    ]
    return StickProblem(
        unit=shop.unit,
        stock=(*owned, Stick(id=WHOLE, length=usual)),
        parts=tuple(part.rail for part in parts),
        kerf=shop.saw_loss,
        end_trim=habits.end_trim,
        keep=habits.keep_length,
        together=habits.together,
    )


def _sheets(
    material: Material, parts: Sequence[PartToCut], rack: Sequence[OnRack], shop: Shop
) -> SheetProblem:
    assert material.sheet is not None, "what comes in sheets has its sheet"
    usual, habits = material.sheet.size, shop.cutting
    owned = [
        Sheet(
            id=each.id,
            size=size,
            copies=each.available,
            cost=size.area_m2 / usual.area_m2 if each.kept.item.whole else _FREE,
        )
        for each in rack
        if (size := each.kept.item.size) is not None and not is_usual(each.kept.item, material)
    ]
    turn = may_turn(material)
    return SheetProblem(
        unit=shop.unit,
        stock=(*owned, Sheet(id=WHOLE, size=usual)),
        parts=tuple(
            SheetPart(id=part.id, size=part.size or Size(ZERO, ZERO), turn=turn) for part in parts
        ),
        trim=habits.sheet_trim,
        stages=habits.stages,
        keep=shop.keep,
    )


def is_usual(item: Item, material: Material) -> bool:
    """Tell whether an item is whole stock as the price book has it, a sheet either way round."""
    if not item.whole:
        return False
    if item.length is not None:
        return material.profile is not None and item.length == material.profile.stick
    if item.size is None or material.sheet is None:
        return False
    usual = material.sheet.size
    same = item.size == usual
    return same or (may_turn(material) and item.size == usual.turned())
