"""Pairs found by going from the left against every pair held up one by one (shapely distances)."""

from dataclasses import dataclass
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, box

from app.framing import Shape
from app.framing.pairs import close_pairs
from app.lengths import Length, Size, mm


@dataclass(frozen=True, slots=True)
class Laid:
    x: Length
    y: Length
    size: Size
    shape: Shape = Shape.RECTANGLE


whole = st.integers(0, 60)
rectangles = st.lists(st.tuples(whole, whole, st.integers(1, 30), st.integers(1, 30)), max_size=8)


@given(rectangles, st.integers(0, 20))
def test_every_close_pair_is_found_once_in_order(
    sides: list[tuple[int, int, int, int]], within: int
) -> None:
    laid = [Laid(mm(x), mm(y), Size(mm(w), mm(h))) for x, y, w, h in sides]
    by_hand = []
    for (one, a), (other, b) in combinations(enumerate(sides), 2):
        # Within so much in both directions is: a square of that half width around one meets the other.
        reach = box(a[0] - within, a[1] - within, a[0] + a[2] + within, a[1] + a[3] + within)
        if reach.intersects(box(b[0], b[1], b[0] + b[2], b[1] + b[3])):
            by_hand.append((laid[one], laid[other]))
    found = close_pairs(laid, mm(within))
    assert [(pair.one, pair.other) for pair in found] == by_hand


@given(rectangles)
def test_windows_overlap_exactly_where_their_bridge_is_below_zero(
    sides: list[tuple[int, int, int, int]],
) -> None:
    laid = [Laid(mm(x), mm(y), Size(mm(w), mm(h))) for x, y, w, h in sides]
    shapes = [box(x, y, x + w, y + h) for x, y, w, h in sides]
    overlapping = sum(one.intersection(two).area > 0 for one, two in combinations(shapes, 2))
    pairs = close_pairs(laid, mm(100))
    assert len(pairs) == len(list(combinations(laid, 2)))
    assert sum(pair.bridge < mm(0) for pair in pairs) == overlapping


@given(st.lists(st.tuples(whole, whole, st.integers(1, 30)), min_size=2, max_size=6))
def test_circles_are_as_far_apart_as_their_outlines(circles: list[tuple[int, int, int]]) -> None:
    """Source: plane geometry; shapely's own distance of middles, less the radii."""
    laid = [Laid(mm(x), mm(y), Size(mm(d), mm(d)), Shape.OVAL) for x, y, d in circles]
    for pair in close_pairs(laid, mm(200)):
        first, second = (circles[laid.index(one)] for one in (pair.one, pair.other))
        middles = [Point(x + d / 2, y + d / 2) for x, y, d in (first, second)]
        between = middles[0].distance(middles[1]) - (first[2] + second[2]) / 2
        assert -1e-9 <= between - float(pair.bridge.mm) < 0.01 + 1e-9
