"""One piece cut by itself from new stock: what a simple plan opens of each material (C1 to C3).

Owns the step from what a piece takes to a plan for it alone. What lies on the rack is no part of it:
what a piece is charged must be the same tomorrow. Sizes are exact, as they are priced, not yet in
the shop's steps.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from app.cutting import (
    Sheet,
    SheetPart,
    SheetPlan,
    SheetProblem,
    Stick,
    StickPart,
    StickPlan,
    StickProblem,
)
from app.cutting.sheets.simple import simple_sheet_plan
from app.cutting.single_stock import left_of_one_sheet, left_of_one_stick
from app.cutting.sticks.simple import simple_stick_plan
from app.framing import Dimensions
from app.orders.shop import Shop
from app.pricing import (
    NOTHING_OPENED,
    ChargeBy,
    Chosen,
    LineGroup,
    Material,
    Opened,
    OpenedSheets,
    OpenedSticks,
    Trait,
)
from app.pricing.chosen import misfits
from app.pricing.uses import Use, uses_of

_NEW = "new"
_CUT_FROM_STICKS = (LineGroup.FRAME, LineGroup.FILLET, LineGroup.SPACER)
_RAILS_OF_A_FRAME = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class CutAlone:
    """A material of a piece, what the piece takes of it, and what is asked for that alone."""

    material: Material
    uses: tuple[Use, ...]
    asked: StickProblem | SheetProblem

    @property
    def plan(self) -> StickPlan | SheetPlan:
        """The plan for these parts alone, made by the shop's simple rule."""
        if isinstance(self.asked, StickProblem):
            return simple_stick_plan(self.asked)
        return simple_sheet_plan(self.asked)

    @property
    def opened(self) -> Opened:
        """What the simple plan opens, keeps and cannot place. Where that can be told without a plan, none is made."""
        if isinstance(self.asked, StickProblem):
            return _opened_sticks(self.asked)
        return _opened_sheets(self.asked)


def opened_alone(
    dimensions: Dimensions, chosen: Chosen, shop: Shop, copies: int = 1
) -> Mapping[str, Opened]:
    """Return what is opened of each material that is charged by that, by its code (P1), for all copies at once (P11).

    Nothing where none is, or where the choice does not fit the piece, which pricing refuses.
    """
    by_opened = (each.charge.by is ChargeBy.OPENED for _, each in chosen.materials())
    if not any(by_opened) or misfits(chosen, dimensions):
        return NOTHING_OPENED
    uses = uses_of(dimensions, chosen)
    wanted = (use for use in uses if use.material.charge.by is ChargeBy.OPENED)
    return {each.material.code: each.opened for each in cut_alone(wanted, shop, copies)}


def cut_alone(uses: Iterable[Use], shop: Shop, copies: int = 1) -> tuple[CutAlone, ...]:
    """Return each material that comes in sticks or sheets, in the order of the uses.

    shop: for kerf, trims, stages and what is worth keeping. copies: how many alike are cut together.
    """
    by_code: dict[str, list[Use]] = defaultdict(list)
    for use in uses:
        if _is_cut(use):
            by_code[use.material.code].append(use)
    return tuple(_alone(ours, shop, copies) for ours in by_code.values())


def _is_cut(use: Use) -> bool:
    if use.material.kind.is_sheet:
        return True
    return use.material.profile is not None and use.group in _CUT_FROM_STICKS and bool(use.runs)


def _alone(uses: Sequence[Use], shop: Shop, copies: int) -> CutAlone:
    material = uses[0].material
    ask = _sheets_asked if material.kind.is_sheet else _sticks_asked
    return CutAlone(material=material, uses=tuple(uses), asked=ask(material, uses, shop, copies))


def _sticks_asked(material: Material, uses: Sequence[Use], shop: Shop, copies: int) -> StickProblem:
    """Return the question of what rails to cut from sticks; those of each copy are a frame of their own."""
    assert material.profile is not None, "what is cut from sticks has its stick"
    habits = shop.cutting
    parts = (
        StickPart(
            id=f"{number}.{run}" if copy == 0 else f"{copy}.{number}.{run}",
            length=length,
            copies=count * use.count,
            group=f"{copy}.{number}" if use.sawn and use.pieces == _RAILS_OF_A_FRAME else "",
        )
        for copy in range(copies)
        for number, use in enumerate(uses)
        for run, (length, count) in enumerate(use.runs)
    )
    return StickProblem(
        unit=shop.unit,
        stock=(Stick(id=_NEW, length=material.profile.stick),),
        parts=tuple(parts),
        kerf=shop.saw_loss,
        end_trim=habits.end_trim,
        keep=habits.keep_length,
        together=habits.together,
    )


def _sheets_asked(material: Material, uses: Sequence[Use], shop: Shop, copies: int) -> SheetProblem:
    assert material.sheet is not None, "what is cut from sheets has its sheet"
    habits = shop.cutting
    turn = Trait.ONE_WAY not in material.sheet.traits
    return SheetProblem(
        unit=shop.unit,
        stock=(Sheet(id=_NEW, size=material.sheet.size),),
        parts=tuple(
            SheetPart(id=str(number), size=use.size, copies=use.count * copies, turn=turn)
            for number, use in enumerate(uses)
        ),
        trim=habits.sheet_trim,
        stages=habits.stages,
        keep=shop.keep,
    )


def _opened_sticks(asked: StickProblem) -> OpenedSticks:
    stick = asked.stock[0].length
    left = left_of_one_stick(asked)
    if left is not None:
        return OpenedSticks(stick=stick, count=1, kept=left)
    plan = simple_stick_plan(asked)
    lengths = {part.id: part.length for part in asked.parts}
    return OpenedSticks(
        stick=stick,
        count=len(plan.bins),
        kept=tuple(each.offcut.length for each in plan.bins if each.offcut),
        too_long=tuple(lengths[left.id] for left in plan.unplaced for _ in range(left.copies)),
    )


def _opened_sheets(asked: SheetProblem) -> OpenedSheets:
    sheet = asked.stock[0].size
    left = left_of_one_sheet(asked)
    if left is not None:
        return OpenedSheets(sheet=sheet, count=1, kept=left)
    plan = simple_sheet_plan(asked)
    sizes = {part.id: part.size for part in asked.parts}
    return OpenedSheets(
        sheet=sheet,
        count=len(plan.bins),
        kept=tuple(rest.size for each in plan.bins for rest in each.offcuts),
        too_large=tuple(sizes[left.id] for left in plan.unplaced for _ in range(left.copies)),
    )
