"""What a cutting plan comes to, in words: what it opens, what is lost and kept, how good it is (C6)."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from app.counting import count_text
from app.cutting import Maker, Plan, StickPlan
from app.money import show_percent
from app.pricing import Material
from app.stock.items import StockItem
from app.stock.wording import counted

TENTHS = 1
"""Decimals of a share of what a plan opens, in percent. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTotals:
    """facts: (what, figure) pairs, of which waste and kept are two. proven: whether nothing can be better;
    goodness: that in words, briefly: as a line of a list has room for.

    simple: whether it is our own simple rule's. split: frames whose rails are of several sticks.
    """

    facts: tuple[tuple[str, str], ...]
    waste: str
    kept: str
    proven: bool
    goodness: str
    briefly: str
    simple: bool
    split: tuple[str, ...]


def summary_of(
    plan: Plan, material: Material, taken: Sequence[StockItem | None], pieces: Mapping[str, str]
) -> PlanTotals:
    """Return what a plan of one material comes to.

    taken: of each stick or sheet the item that it is cut from, None where it is to be bought. pieces:
    the name of the piece that each part is for.
    """
    return PlanTotals(
        facts=tuple(_facts(plan, material, taken)),
        waste=_waste(plan),
        kept=show_percent(plan.kept_share, TENTHS),
        proven=plan.proven,
        goodness=_goodness(plan, material),
        briefly="least waste possible"
        if plan.proven
        else f"at most {_above(plan, material)} more than the minimum",
        simple=plan.maker is Maker.SIMPLE,
        split=tuple(_split(plan, pieces)),
    )


def _facts(
    plan: Plan, material: Material, taken: Sequence[StockItem | None]
) -> Iterator[tuple[str, str]]:
    offcuts = [item for item in taken if item is not None and not item.item.whole]
    whole = sum(1 for item in taken if item is not None and item.item.whole)
    to_buy = sum(1 for item in taken if item is None)
    parts = sum(len(opened.parts) for opened in plan.bins)
    yield "parts", count_text(parts)
    if offcuts:
        yield "offcuts from the rack", count_text(len(offcuts))
    if whole:
        yield "whole from the rack", counted(whole, material)
    if to_buy:
        yield "to buy", counted(to_buy, material)
    yield "waste", _waste(plan)
    yield "kept as offcuts", show_percent(plan.kept_share, TENTHS)


def _waste(plan: Plan) -> str:
    return show_percent(plan.waste_share - plan.kept_share, TENTHS)


def _goodness(plan: Plan, material: Material) -> str:
    if plan.proven:
        if not plan.cost:
            return "Least waste possible: nothing whole is opened."
        return "Least waste possible: no plan for these parts opens less."
    least = counted(ceil(plan.lower_bound), material)
    return f"At most {_above(plan, material)} more than the minimum, which is {least}."


def _above(plan: Plan, material: Material) -> str:
    """Count how many more a plan opens than it needs to, at most: "1 sheet"."""
    return counted(ceil(plan.cost - plan.lower_bound), material)


def _split(plan: Plan, pieces: Mapping[str, str]) -> Iterator[str]:
    """Name the pieces with a frame whose rails lie on more than one stick; frames of one that stand alike are counted."""
    if not isinstance(plan, StickPlan):
        return
    group = {part.id: part.group for part in plan.asked.parts if part.group}
    on: Counter[str] = Counter()
    name: dict[str, str] = {}
    for opened in plan.bins:
        here = {group[laid.id] for laid in opened.parts if laid.id in group}
        on.update(here)
        name |= {group[laid.id]: pieces[laid.id] for laid in opened.parts if laid.id in group}
    alike = Counter((name[id], sticks) for id, sticks in on.items() if sticks > 1)
    for (piece, sticks), frames in alike.items():
        yield (
            f"{piece}: {sticks} sticks"
            if frames == 1
            else f"{piece}: {frames} frames on {sticks} sticks each"
        )
