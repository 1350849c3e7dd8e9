"""How it stands with the materials: of a piece in a few words, and of a whole order as one list, each material once."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.counting import counted, plural
from app.stock.material_states import MaterialState
from app.web.pieces.material_states import MaterialStand

_WORST_FIRST = tuple(MaterialState)[::-1]
_BY_WORDS = {state.value: state for state in MaterialState}


@dataclass(frozen=True, slots=True, kw_only=True)
class StockState:
    """How it stands with some materials, in words; to_buy: whether one of them has to be bought."""

    words: str
    to_buy: bool


def stock_state(stands: Iterable[MaterialStand]) -> StockState | None:
    """Say how it stands with materials by the worst that there is: "3 of 4 materials to buy"; None where none waits."""
    states = [state for each in stands if (state := _state(each))]
    if not states:
        return None
    worst = max(states, key=tuple(MaterialState).index)
    found = states.count(worst)
    if worst in (MaterialState.TO_BUY, MaterialState.ON_ORDER):
        of = f" of {len(states)}" if found < len(states) else ""
        noun = "material" if len(states) == 1 else plural("material")
        words = f"{found}{of} {noun} {worst}"
        return StockState(words=words, to_buy=worst is MaterialState.TO_BUY)
    nearer = {
        MaterialState.IN_HAND: "materials in hand",
        MaterialState.PLANNED: "in a cutting plan",
        MaterialState.CUT: "all parts cut",
    }
    return StockState(words=nearer[worst], to_buy=False)


def _state(stand: MaterialStand) -> MaterialState | None:
    """Return the state of a material that is waited for; None for what was used or cut by hand."""
    return None if stand.keep else _BY_WORDS.get(stand.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderMaterial:
    """One material of an order in one state. pieces: the numbers of the pieces for which it stands so."""

    stand: MaterialStand
    pieces: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderMaterials:
    """Every material that an order waits for, the worst first. summed: "17 materials: 4 to buy, 13 in hand".

    worst: of each material its worst state, each material once.
    """

    rows: tuple[OrderMaterial, ...]
    worst: tuple[MaterialStand, ...]
    summed: str


def materials_of_order(
    stands: Mapping[int, tuple[MaterialStand, ...]],
) -> OrderMaterials:
    """Gather the materials of the pieces of an order. stands: how it stands with those of each piece, by its number.

    A material of which one piece has enough and another has not is told once for each state.
    """
    pieces: dict[tuple[str, MaterialState], list[int]] = {}
    found: dict[tuple[str, MaterialState], MaterialStand] = {}
    for number, of_piece in stands.items():
        for stand in of_piece:
            if state := _state(stand):
                pieces.setdefault((stand.code, state), []).append(number)
                found.setdefault((stand.code, state), stand)
    keys = sorted(found, key=lambda key: (_WORST_FIRST.index(key[1]), found[key].name.casefold()))
    worst = {code: found[code, state] for code, state in reversed(keys)}
    return OrderMaterials(
        rows=tuple(OrderMaterial(stand=found[key], pieces=tuple(pieces[key])) for key in keys),
        worst=tuple(worst.values()),
        summed=_summed(tuple(worst.values())),
    )


def _summed(stands: tuple[MaterialStand, ...]) -> str:
    """Say how many materials stand at each state: "17 materials: 4 to buy, 13 in hand"."""
    states = [_state(each) for each in stands]
    parts = [f"{states.count(state)} {state}" for state in _WORST_FIRST if state in states]
    return f"{counted(len(stands), 'material')}: {', '.join(parts)}" if parts else ""
