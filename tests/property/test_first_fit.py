"""First fit by a tree against first fit by looking at one place after another."""

from hypothesis import given
from hypothesis import strategies as st

from app.cutting.first_fit import FirstFit, FirstSheet

ROOMS = st.lists(st.integers(0, 12), max_size=20)
SIDES = st.tuples(st.integers(0, 12), st.integers(0, 12))


@given(ROOMS, st.lists(st.tuples(st.integers(0, 19), st.integers(0, 12)), max_size=8))
def test_the_first_room_that_is_large_enough(
    rooms: list[int], changes: list[tuple[int, int]]
) -> None:
    tree, now = FirstFit(rooms), list(rooms)
    for place, room in [*changes, (0, 0)]:
        for need in range(1, 14):
            wanted = next((n for n, each in enumerate(now) if each >= need), None)
            assert tree.first(need) == wanted
        if place < len(now):
            tree.put(place, room)
            now[place] = room
            assert tree.room(place) == room


@given(
    st.lists(SIDES, max_size=20),
    st.lists(st.tuples(st.integers(1, 12), st.integers(1, 12)), min_size=1, max_size=2),
    st.lists(st.integers(0, 19), max_size=6),
)
def test_the_first_sheet_that_holds_a_part_one_way_or_the_other(
    sheets: list[tuple[int, int]], ways: list[tuple[int, int]], gone: list[int]
) -> None:
    tree, now = FirstSheet(sheets), list(sheets)
    for place in [*gone, 0]:
        wanted = next(
            (n for n, (w, h) in enumerate(now) if any(a <= w and b <= h for a, b in ways)), None
        )
        assert tree.first(ways) == wanted
        if place < len(now):
            tree.gone(place)
            now[place] = (0, 0)
