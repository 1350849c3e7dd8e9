"""Room in a row: which is the first that is large enough.

Owns the one question that first-fit rules ask of every stick and sheet they have, answered in about
as many steps as their number has binary digits, so that thousands of kinds on offer cost hardly more
than ten.
"""

from collections.abc import Iterable, Sequence

type Sides = tuple[int, int]
"""Width and height."""


class FirstFit:
    """Whole numbers in a row. What is asked for is above zero, so a room of zero is none.

    A tree whose every node holds the largest of what lies under it (a tournament; textbook practice).
    """

    def __init__(self, rooms: Sequence[int]) -> None:
        self._leaves = 1 << max(len(rooms) - 1, 0).bit_length()
        self._tree = [0] * self._leaves + [*rooms, *[0] * (self._leaves - len(rooms))]
        for node in range(self._leaves - 1, 0, -1):
            self._tree[node] = max(self._tree[2 * node], self._tree[2 * node + 1])

    def first(self, need: int) -> int | None:
        """Return the place of the first room that is at least so much; None where there is none."""
        tree, node = self._tree, 1
        if tree[node] < need:
            return None
        while node < self._leaves:
            node *= 2
            if tree[node] < need:
                node += 1
        return node - self._leaves

    def room(self, place: int) -> int:
        """Tell how much there is at a place."""
        return self._tree[self._leaves + place]

    def put(self, place: int, room: int) -> None:
        """Change what there is at a place."""
        tree, node = self._tree, self._leaves + place
        tree[node] = room
        while node > 1:
            node //= 2
            tree[node] = max(tree[2 * node], tree[2 * node + 1])


class FirstSheet:
    """Sheets in a row; (0, 0) for one that is gone.

    The same tree, with the largest width and the largest height under each node. Where these are of
    different sheets a branch may be looked into for nothing.
    """

    def __init__(self, sheets: Sequence[Sides]) -> None:
        self._leaves = 1 << max(len(sheets) - 1, 0).bit_length()
        empty = (0, 0)
        self._tree = [empty] * self._leaves
        self._tree += [*sheets, *[empty] * (self._leaves - len(sheets))]
        for node in range(self._leaves - 1, 0, -1):
            self._tree[node] = self._of_both(node)

    def first(self, ways: Iterable[Sides]) -> int | None:
        """Return the place of the first sheet that holds a part one of the ways; None where none does."""
        ways, waiting = tuple(ways), [1]
        while waiting:
            node = waiting.pop()
            width, height = self._tree[node]
            for across, down in ways:
                if across <= width and down <= height:
                    if node >= self._leaves:
                        return node - self._leaves
                    waiting += (2 * node + 1, 2 * node)
                    break
        return None

    def gone(self, place: int) -> None:
        """There is none left at a place."""
        node = self._leaves + place
        self._tree[node] = (0, 0)
        while node > 1:
            node //= 2
            self._tree[node] = self._of_both(node)

    def _of_both(self, node: int) -> Sides:
        (a, b), (c, d) = self._tree[2 * node], self._tree[2 * node + 1]
        return (max(a, c), max(b, d))
