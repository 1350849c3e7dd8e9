"""Which boards of a piece are bought in the very size that it takes, so that nobody cuts their outside.

Owns the comparison: by the size of the sheet as bought and the part as it is cut, not by a name.
"""

from app.framing import Dimensions
from app.lengths import Size, Steps
from app.orders.order import Agreed
from app.pricing import Material, Trait


def ready_mats(agreed: Agreed, cut: Dimensions) -> frozenset[int]:
    """Return the layers whose blanks are bought in their size. cut: in the steps that were agreed."""
    layers = zip(cut.layers, agreed.chosen.mats, strict=True)
    return frozenset(
        layer.layer for layer, board in layers if comes_in(board, layer.blank, agreed.steps)
    )


def ready_boards(agreed: Agreed, cut: Dimensions) -> frozenset[str]:
    """Return "mount board" and "backing", as far as they are bought in their size. cut: as above."""
    chosen = agreed.chosen
    boards = (
        ("mount board", chosen.mount_board, cut.mount_board),
        ("backing", chosen.backing, cut.backing),
    )
    return frozenset(
        name
        for name, board, size in boards
        if board is not None and size is not None and comes_in(board, size, agreed.steps)
    )


def comes_in(board: Material, size: Size, steps: Steps) -> bool:
    """Tell whether a sheet of a board, to the nearest step, is a part of a size; turned too where it may be."""
    if board.sheet is None:
        return False
    sheet = board.sheet.size
    bought = Size(steps.nearest(sheet.width), steps.nearest(sheet.height))
    ways = (bought,) if Trait.ONE_WAY in board.sheet.traits else (bought, bought.turned())
    return size in ways
