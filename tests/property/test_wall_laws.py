"""What holds of pieces that hang together, whatever their sizes: equal gaps, centred, none on another, all on the wall."""

from itertools import combinations, pairwise

from hypothesis import given
from hypothesis import strategies as st

from app.drawings.wall.hanging import Alignment, Hanging, HungPlace, ToHang, even_rows, hang
from app.drawings.wall.things import THINGS, Thing
from app.errors import Invalid
from app.lengths import ZERO, Size, Unit, inches, mm

LENGTHS = st.one_of(
    st.integers(60, 1400).map(mm), st.integers(4, 1600).map(lambda n: inches(n) / 32)
)
SIZES = st.lists(st.builds(Size, LENGTHS, LENGTHS), min_size=1, max_size=9).map(tuple)
GAPS = st.one_of(st.just(ZERO), st.integers(0, 300).map(mm), st.just(inches("1.5")))
WALLS = st.one_of(
    st.none(), st.builds(Size, st.integers(500, 9000).map(mm), st.integers(1000, 5000).map(mm))
)
TYPED = st.one_of(st.none(), st.integers(0, 3000).map(mm))


@st.composite
def wanted(draw: st.DrawFn) -> ToHang:
    sizes = draw(SIZES)
    rows = draw(st.one_of(st.none(), st.integers(1, len(sizes))))
    middle = draw(TYPED)
    return ToHang(
        sizes=sizes,
        unit=draw(st.sampled_from(Unit)),
        gap=draw(GAPS),
        rows=() if rows is None else even_rows(len(sizes), rows),
        alignment=draw(st.sampled_from(Alignment)),
        thing=draw(st.sampled_from(Thing)),
        middle=middle,
        above=draw(TYPED) if middle is None else None,
        wall=draw(WALLS),
    )


def hung(asked: ToHang) -> Hanging | None:
    """The hanging, or None where a sentence says why there is none, at the field that it is about."""
    try:
        return hang(asked)
    except Invalid as invalid:
        faults = invalid.faults
    assert {fault.path for fault in faults} <= {"wall", "height", "above"}
    assert all(fault.message.endswith(".") for fault in faults)
    return None


def in_rows(hanging: Hanging) -> list[tuple[HungPlace, ...]]:
    places = iter(hanging.places)
    return [tuple(next(places) for _ in range(count)) for count in hanging.rows]


@given(wanted())
def test_neighbours_in_a_row_are_one_gap_apart_and_so_are_rows(asked):
    if hanging := hung(asked):
        rows = in_rows(hanging)
        for row in rows:
            assert all(right.left - left.right == asked.gap for left, right in pairwise(row))
        # The highest piece of a row fills it, however the others are aligned.
        highest = [max(row, key=lambda place: place.size.height) for row in rows]
        assert all(upper.foot - lower.top == asked.gap for upper, lower in pairwise(highest))


@given(wanted())
def test_each_row_and_the_whole_are_centred_about_one_line(asked):
    if hanging := hung(asked):
        for row in in_rows(hanging):
            assert row[0].left == -row[-1].right
        assert max(place.right for place in hanging.places) * 2 == hanging.size.width
        assert min(place.foot for place in hanging.places) == hanging.foot
        assert max(place.top for place in hanging.places) == hanging.top


@given(wanted())
def test_in_a_row_centres_or_edges_stand_on_one_level(asked):
    if hanging := hung(asked):
        for row in in_rows(hanging):
            levels = {
                Alignment.CENTRES: {place.middle for place in row},
                Alignment.TOPS: {place.top for place in row},
                Alignment.BOTTOMS: {place.foot for place in row},
            }
            assert len(levels[asked.alignment]) == 1


@given(wanted())
def test_no_piece_lies_on_another(asked):
    if hanging := hung(asked):
        for one, other in combinations(hanging.places, 2):
            beside = one.right <= other.left or other.right <= one.left
            above = one.top <= other.foot or other.top <= one.foot
            assert beside or above


@given(wanted())
def test_every_piece_keeps_its_size_and_its_turn(asked):
    if hanging := hung(asked):
        assert tuple(place.size for place in hanging.places) == asked.sizes
        assert sum(hanging.rows) == len(asked.sizes)
        assert hanging.rows == (asked.rows or hanging.rows)


@given(wanted())
def test_all_of_it_is_on_the_wall_and_clear_of_what_stands_there(asked):
    if hanging := hung(asked):
        assert hanging.foot >= ZERO
        thing, left = THINGS.get(asked.thing), hanging.thing_left
        if thing is not None and left is not None:
            clear_above = hanging.foot >= thing.height
            clear_beside = left >= hanging.size.width / 2
            assert clear_above if thing.beneath else clear_beside
        if hanging.wall is not None and hanging.wall_left is not None:
            right = hanging.wall_left + hanging.wall.width
            assert hanging.top <= hanging.wall.height
            assert hanging.wall_left <= -(hanging.size.width / 2)
            assert hanging.size.width / 2 <= right
            if thing is not None and left is not None:
                assert hanging.wall_left <= left
                assert left + thing.size.width <= right


@given(wanted())
def test_what_is_typed_counts(asked):
    if hanging := hung(asked):
        thing = THINGS.get(asked.thing)
        if asked.middle is not None:
            assert hanging.middle == asked.middle
        elif asked.above is not None and thing is not None and thing.beneath:
            assert hanging.foot == thing.height + asked.above


@given(wanted())
def test_on_a_wall_that_goes_on_nothing_is_refused_but_a_typed_height(asked):
    if asked.wall is None and asked.middle is None:
        hang(asked)


@given(st.integers(1, 60), st.data())
def test_rows_are_even_and_the_longer_ones_come_first(count, data):
    rows = even_rows(count, data.draw(st.integers(1, count)))
    assert sum(rows) == count
    assert max(rows) - min(rows) <= 1
    assert list(rows) == sorted(rows, reverse=True)
