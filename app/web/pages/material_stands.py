"""How it stands with the materials of a piece in work: in hand, on order, to buy, planned, cut."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.pricing import Chosen, Material
from app.stock.material_states import MaterialState
from app.web.pages.stock import items_of

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
    """One material. shape: of its badge. href: where one sees more: the rack, or what is short."""

    name: str
    code: str
    state: MaterialState
    shape: str
    href: str


def stands_of(chosen: Chosen, states: Mapping[str, MaterialState]) -> tuple[MaterialStand, ...]:
    """The materials of a piece that are cut from stock, in the order of the ticket, each once."""
    by_code = {material.code: material for material in _cut_from_stock(chosen)}
    return tuple(
        _stand(material, states[code]) for code, material in by_code.items() if code in states
    )


def _stand(material: Material, state: MaterialState) -> MaterialStand:
    return MaterialStand(
        name=material.name,
        code=material.code,
        state=state,
        shape=SHAPES[state],
        href="/buying" if state is MaterialState.TO_BUY else items_of(material.code),
    )


def _cut_from_stock(chosen: Chosen) -> Iterator[Material]:
    yield from chosen.mats
    panels = (chosen.fillet, chosen.glazing, chosen.mount_board, chosen.backing, chosen.spacer)
    yield from (each for each in panels if each is not None)
    yield from chosen.frames
