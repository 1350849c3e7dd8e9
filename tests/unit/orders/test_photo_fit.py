"""How a photo fits the size of the artwork: the words, the second look, and where neither is due."""

from fractions import Fraction

import pytest

from app.lengths import Unit, parse_size
from app.orders.photo_fit import Fit, Proportions, fit_of, in_words, photo_notices

LANDSCAPE, PORTRAIT = parse_size("400x300", unit=Unit.MM), parse_size("300x400", unit=Unit.MM)


def photo(width: int, height: int, shown: Fraction | None = None) -> Proportions:
    taken = Fraction(width, height)
    return Proportions(taken=taken, shown=taken if shown is None else shown)


@pytest.mark.parametrize(
    ("taken", "size", "wanted"),
    [
        (photo(4, 3), LANDSCAPE, Fit.WELL),
        (photo(3, 4), PORTRAIT, Fit.WELL),
        (photo(4, 3), PORTRAIT, Fit.LIES),
        (photo(3, 4), LANDSCAPE, Fit.STANDS),
        (photo(4, 3, Fraction(3, 4)), PORTRAIT, Fit.LIES),  # straightened into it: an egg
        (photo(3, 2), LANDSCAPE, Fit.SIDES),  # 1.5 is 12.5 % more than 1.333
        (photo(14, 10), LANDSCAPE, Fit.WELL),  # 5 % more
        (photo(1, 1), LANDSCAPE, Fit.ENDS),
        (photo(109, 100), PORTRAIT, Fit.SIDES),  # nearly square: it does not lie
        (photo(16, 9, Fraction(4, 3)), LANDSCAPE, Fit.WELL),  # straightened
    ],
)
def test_a_photo_fits_or_is_turned_or_cut_off(
    taken: Proportions, size: object, wanted: Fit
) -> None:
    assert isinstance(size, type(LANDSCAPE))
    assert fit_of(taken, size) is wanted
    assert bool(in_words(wanted)) is (wanted is not Fit.WELL)


def test_a_turned_photo_asks_for_a_second_look_at_the_size() -> None:
    (notice,) = photo_notices(Fit.LIES, PORTRAIT, Unit.MM)
    assert notice.concern.value == "look"
    assert notice.message == (
        "The photo lies across, the size stands. Is the artwork 300 × 400 mm, or 400 × 300 mm?"
    )
    assert photo_notices(Fit.SIDES, LANDSCAPE, Unit.MM) == ()
    assert photo_notices(Fit.WELL, LANDSCAPE, Unit.MM) == ()
