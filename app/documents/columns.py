"""Two columns of equal height, as nearly as the text lets itself be estimated."""

from collections.abc import Callable, Sequence


def in_two_columns[Item](
    items: Sequence[Item], height: Callable[[Item], int]
) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """The items in two columns, in their order, the longer one as short as can be.

    Of equal ways the one with more in the first column is taken.
    """

    def longer(at: int) -> int:
        return max(sum(map(height, items[:at])), sum(map(height, items[at:])))

    best = min(reversed(range(len(items) + 1)), key=longer)
    return tuple(items[:best]), tuple(items[best:])


def lines_in(text: str, letters: int) -> int:
    """About how many lines a text takes; letters: that fit one."""
    return -(-len(text) // letters) if text else 0
