"""Laws of lengths, for any length."""

import sys
from collections.abc import Callable
from fractions import Fraction
from itertools import accumulate

from hypothesis import example, given
from hypothesis import strategies as st

from app.errors import Invalid
from app.lengths import (
    ALLOWED_STEPS,
    LARGEST,
    ZERO,
    Length,
    Size,
    Steps,
    Unit,
    exact_text,
    from_grains,
    inches,
    mm,
    nearest_fraction_text,
    parse_length,
    parse_size,
    show,
    show_size,
    to_grains,
)

units = st.sampled_from(Unit)
sixty_fourths = st.integers(1, 25_000).map(lambda n: inches(Fraction(n, 64)))
tenths = st.integers(1, 100_000).map(lambda n: mm(Fraction(n, 10)))
on_a_scale = sixty_fourths | tenths
lengths = st.fractions(-10_000, 10_000).map(Length)
steps = st.sampled_from(
    [Steps(unit=unit, step=step) for unit in Unit for step in ALLOWED_STEPS[unit]]
)
signed_inches = st.integers(-25_000, 25_000).map(lambda n: inches(Fraction(n, 64)))
signed_mm = st.integers(-100_000, 100_000).map(lambda n: mm(Fraction(n, 10)))


@given(signed_inches, st.booleans(), units)
def test_inches_on_the_scale_read_back_as_shown(length: Length, mark: bool, shop: Unit) -> None:
    text = show(length, Unit.IN, mark=mark)
    unit = shop if mark else Unit.IN
    assert parse_length(text, unit=unit, zero_ok=True, negative_ok=True) == length


@given(signed_mm, st.booleans(), units)
def test_millimetres_on_the_scale_read_back_as_shown(
    length: Length, mark: bool, shop: Unit
) -> None:
    text = show(length, Unit.MM, mark=mark)
    unit = shop if mark else Unit.MM
    assert parse_length(text, unit=unit, zero_ok=True, negative_ok=True) == length


@given(sixty_fourths, sixty_fourths, units)
def test_a_size_reads_back_as_shown(width: Length, height: Length, shop: Unit) -> None:
    size = Size(width, height)
    assert parse_size(show_size(size, Unit.IN, mark=True), unit=shop) == size
    assert parse_size(show_size(size, Unit.IN), unit=Unit.IN) == size


@given(lengths, units)
def test_exact_text_reads_back_by_program_and_by_hand(length: Length, unit: Unit) -> None:
    text = exact_text(length, unit)
    assert Length.of(text, unit) == length
    if len(text) <= 80:
        assert parse_length(text, unit=unit, zero_ok=True, negative_ok=True) == length


@given(st.fractions(-9_999, 9_999).map(Length), units)
def test_what_is_shown_is_within_the_rounding_it_states(length: Length, unit: Unit) -> None:
    shown = parse_length(show(length, unit), unit=unit, zero_ok=True, negative_ok=True)
    if unit is Unit.MM:
        tolerance = mm("0.05") if abs(length) >= mm(10) else mm("0.005")
    else:
        tolerance = inches("1/64") if abs(length) >= inches("1/2") else inches("0.0005")
    assert abs(shown - length) <= tolerance


@given(st.one_of(st.fractions(-9_999, 9_999).map(Length), sixty_fourths, signed_inches), units)
def test_no_figure_has_more_digits_than_a_person_reads(length: Length, unit: Unit) -> None:
    """At most 2 decimals of a mm from 10 mm on, 3 below; of an inch a fraction down to 1/64, or 3 decimals below 1/2."""
    text = show(length, unit)
    _, _, decimals = text.partition(".")
    if unit is Unit.MM:
        assert len(decimals) <= (2 if abs(length) >= mm(10) else 3)
        assert "/" not in text
    else:
        assert len(decimals) <= (2 if abs(length) >= inches("1/2") else 3)
        _, _, under = text.partition("/")
        assert under in ("", "2", "4", "8", "16", "32", "64")


@given(lengths)
def test_the_check_value_is_within_half_a_thirty_second(length: Length) -> None:
    text = nearest_fraction_text(length)
    shown = parse_length(text, unit=Unit.IN, zero_ok=True, negative_ok=True)
    assert abs(shown - length) <= inches("1/64")


@given(st.lists(on_a_scale, min_size=1, max_size=200))
def test_sums_never_drift(parts: list[Length]) -> None:
    total = sum(parts, ZERO)
    assert sum(sorted(parts), ZERO) == total
    *_, rest = accumulate((-part for part in parts), initial=total)
    assert rest == ZERO


@given(sixty_fourths, tenths, st.integers(1, 1000))
def test_a_length_added_many_times_is_its_multiple(a: Length, b: Length, times: int) -> None:
    assert sum([a + b] * times, ZERO) == (a + b) * times == a * times + b * times
    assert (a + b) * times / times == a + b
    assert a + b - b == a


@given(lengths, units)
def test_units_convert_back_and_forth(length: Length, unit: Unit) -> None:
    assert Length.of(length.in_unit(unit), unit) == length


@given(lengths, lengths)
def test_turning_twice_changes_nothing_and_keeps_area_and_united_length(
    width: Length, height: Length
) -> None:
    size = Size(width, height)
    assert size.turned().turned() == size
    assert size.turned().area_m2 == size.area_m2
    assert size.turned().united == size.united


@given(lengths, steps)
def test_rounding_keeps_its_side_and_stays_within_a_step(length: Length, steps: Steps) -> None:
    down, up, nearest = steps.down(length), steps.up(length), steps.nearest(length)
    half_down = steps.nearest_half_down(length)
    assert down <= length <= up
    assert up - down in (ZERO, steps.step)
    assert (up == down) == (length == down)
    for rounded in (nearest, half_down):
        assert rounded in (down, up)
        assert abs(rounded - length) * 2 <= steps.step
    assert (nearest == half_down) == (abs(nearest - length) * 2 < steps.step)
    assert half_down <= nearest


@given(lengths, steps)
def test_rounded_lengths_are_whole_steps_and_round_to_themselves(
    length: Length, steps: Steps
) -> None:
    for round_it in (steps.down, steps.up, steps.nearest, steps.nearest_half_down):
        rounded = round_it(length)
        assert (rounded / steps.step).denominator == 1
        assert round_it(rounded) == rounded


@given(st.integers(-25_000, 25_000), steps)
def test_half_a_step_goes_up_or_down_as_asked(count: int, steps: Steps) -> None:
    half_way = steps.step * count + steps.step / 2
    assert steps.nearest(half_way) == steps.up(half_way)
    assert steps.nearest_half_down(half_way) == steps.down(half_way)


@given(st.integers(-(10**7), 10**7), st.integers(-25_000, 25_000))
def test_what_lies_on_either_grid_is_kept_as_a_whole_number(thousandths: int, n: int) -> None:
    for length in (mm(Fraction(thousandths, 1000)), inches(Fraction(n, 64))):
        assert from_grains(to_grains(length)) == length


@given(st.integers(-(2**62), 2**62))
def test_grains_and_lengths_are_one_to_one(grains: int) -> None:
    assert to_grains(from_grains(grains)) == grains


typed_characters = st.text(alphabet="0123456789 .,-/'\"×x*¾½′″”minchftA3by\u00a0−–⁄", max_size=90)  # noqa: RUF001


@given(st.text(max_size=200) | typed_characters, units)
@example("\x00", Unit.MM)
@example("9" * 80, Unit.MM)
@example("." * 80, Unit.MM)
@example("1 " * 40, Unit.MM)
@example("-" * 80, Unit.IN)
@example("١٢" + chr(sys.maxunicode), Unit.MM)
def test_whatever_is_typed_is_read_or_refused_in_one_printable_sentence(
    text: str, unit: Unit
) -> None:
    for outcome in (
        _outcome(lambda: (parse_length(text, unit=unit),)),
        _outcome(lambda: _sides(parse_size(text, unit=unit))),
    ):
        if isinstance(outcome, Invalid):
            assert len(outcome.faults) == 1
            assert outcome.message.isprintable()
            assert len(outcome.message) < 260
        else:
            assert all(ZERO < length <= LARGEST for length in outcome)


def _sides(size: Size) -> tuple[Length, ...]:
    return size.width, size.height


def _outcome(read: Callable[[], tuple[Length, ...]]) -> tuple[Length, ...] | Invalid:
    try:
        return read()
    except Invalid as invalid:
        return invalid
