"""Fallouts that are worth keeping: by their size, and of which board they are (C5)."""

from dataclasses import dataclass

from app.framing import Shape
from app.lengths import Size
from app.orders.order import Agreed
from app.orders.piece_report import Findings
from app.pricing import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFallout:
    """What drops out of a window and is kept. sound: whole through the board; board: what it is of."""

    layer: int
    window: str
    sound: Size
    shape: Shape
    board: Material


def fallouts_to_keep(agreed: Agreed, found: Findings, keep: Size) -> tuple[KeptFallout, ...]:
    """Return the fallouts at least the keep size, either way round, layer 1 first, in the shop's steps."""
    down = agreed.steps.down
    kept = (
        KeptFallout(
            layer=fallout.layer,
            window=fallout.name,
            sound=Size(down(fallout.sound.width), down(fallout.sound.height)),
            shape=fallout.shape,
            board=agreed.chosen.mats[fallout.layer - 1],
        )
        for fallout in found.cut.fallouts
    )
    return tuple(each for each in kept if _holds(each.sound, keep))


def _holds(size: Size, least: Size) -> bool:
    """Tell whether a piece of the least size can be cut out of it."""
    turned = least.turned()
    return any(
        size.width >= wanted.width and size.height >= wanted.height for wanted in (least, turned)
    )
