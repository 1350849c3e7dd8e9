"""Says how it stands with the materials of a piece: in hand, on order, to buy, planned or cut, and, once it is
framed, what hardware it took off the rack.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from app.lengths import Unit
from app.pricing import Chosen, Material
from app.pricing.measure import natural_measure
from app.pricing.wording import short_quantity
from app.services.cut_by_hand import CutUp
from app.stock.consumption import UsedUp
from app.stock.material_states import MaterialState
from app.web.kit.listing import items_of

SHAPES = {
    MaterialState.CUT: "collected",
    MaterialState.PLANNED: "cut",
    MaterialState.IN_HAND: "framed",
    MaterialState.ON_ORDER: "ordered",
    MaterialState.TO_BUY: "quoted",
}
"""The shapes of the stages of work, fuller the nearer a material is to being cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialStand:
    """The state of one material of a piece.

    words: the state in words. shape: the shape of its badge. href: where one sees more: the stock, or
    the list of what is short. keep: where an offcut of it is kept, "" where nothing was cut by hand.
    """

    name: str
    code: str
    words: str
    shape: str
    href: str
    keep: str = ""


def stands_of(chosen: Chosen, states: Mapping[str, MaterialState]) -> tuple[MaterialStand, ...]:
    """List the materials of a piece that are cut from stock, each once, in the order of the ticket."""
    by_code = {material.code: material for material in _cut_from_stock(chosen)}
    return tuple(
        _stand(material, states[code]) for code, material in by_code.items() if code in states
    )


def stands_of_cut(cut: Iterable[CutUp]) -> tuple[MaterialStand, ...]:
    """List what a piece was cut from by hand, each with where what is left over of it is kept."""
    return tuple(
        MaterialStand(
            name=each.material.name,
            code=each.material.code,
            words="cut by hand",
            shape=SHAPES[MaterialState.CUT],
            href=items_of(each.material.code),
            keep=f"/stock/offcuts/new?item={each.item_id}&taken=1",
        )
        for each in cut
    )


def stands_of_used(
    used: Iterable[UsedUp], unit: Unit, how: str = "used"
) -> tuple[MaterialStand, ...]:
    """List what left the rack for a framed piece, or with a line. unit: of the page. how: the word for it."""
    return tuple(
        MaterialStand(
            name=each.material.name,
            code=each.material.code,
            words=f"{short_quantity(each.used, natural_measure(each.material.per), unit)} {how}",
            shape=SHAPES[MaterialState.CUT],
            href=items_of(each.material.code),
        )
        for each in used
    )


def _stand(material: Material, state: MaterialState) -> MaterialStand:
    return MaterialStand(
        name=material.name,
        code=material.code,
        words=state.value,
        shape=SHAPES[state],
        href="/buying" if state is MaterialState.TO_BUY else items_of(material.code),
    )


def _cut_from_stock(chosen: Chosen) -> Iterator[Material]:
    yield from chosen.mats
    panels = (chosen.fillet, chosen.glazing, chosen.mount_board, chosen.backing, chosen.spacer)
    yield from (each for each in panels if each is not None)
    yield from chosen.frames


def took_words(used: Iterable[UsedUp]) -> str:
    """Say what left the rack, in a sentence to follow another; "" where nothing did."""
    taken = [each for each in used if each.count]
    if not taken:
        return ""
    said = f" Took {_listed(taken)} off the rack."
    below = [each for each in taken if each.on_hand < 0]
    for each in below:
        said += f" The record of {each.material.name} is below zero now; count what is there."
    for each in taken:
        if each.reserved_by:
            said += f" {each.material.name} was reserved by {' and '.join(each.reserved_by)}, which lacks it now."
    return said


def not_taken_words(missing: Iterable[Material]) -> str:
    """Say of what was cut that nothing left the rack, which has none; "" where there is no such material."""
    names = ", ".join(each.name for each in missing)
    return f" Not taken, not on the rack: {names}." if names else ""


def put_back_words(back: Iterable[UsedUp]) -> str:
    """Say what lies on the rack again, in a sentence to follow another; "" where nothing does."""
    there = [each for each in back if each.count]
    return f" Put {_listed(there)} back on the rack." if there else ""


def _listed(used: Iterable[UsedUp]) -> str:
    return ", ".join(each.words for each in used)


def sold_words(used: Iterable[UsedUp], jobs: Iterable[str]) -> str:
    """Say that something was sold over the counter, what left the rack by that, and which work is taken as done."""
    named = ", ".join(jobs)
    done = (
        f" Taken as done: {named}. If work is still to be done, undo its line until it is ordered."
        if named
        else ""
    )
    return f"Sold, paid and handed over.{took_words(used)}{done}"
