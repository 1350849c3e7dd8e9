"""Laws of an outside that is asked for and of a frame that is given: they are the inverse of one that is made (G23, G24)."""

from dataclasses import replace
from fractions import Fraction
from math import isqrt

from hypothesis import given
from hypothesis import strategies as st

from app.framing import Frame, Presentation, Spec, work_out
from app.framing.given_frame import Diagonals, GivenFrame
from app.lengths import ZERO, Length, Size, Unit, mm

TENTHS = st.integers(1, 4000).map(lambda tenths: mm(Fraction(tenths, 10)))
SIZES = st.builds(Size, width=TENTHS, height=TENTHS)


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    face = draw(st.integers(2, 800))
    lip = draw(st.integers(0, face - 1))
    return Frame(
        face=mm(Fraction(face, 10)),
        lip=mm(Fraction(lip, 10)),
        rebate_depth=ZERO,
        allowance=mm(Fraction(draw(st.integers(0, 80)), 10)),
    )


def close(artwork: Size, around: tuple[Frame, ...]) -> Spec:
    """An artwork in frames whose lips leave something to see, made larger until they do."""
    covered = sum((each.lip * 2 for each in around), mm(1))
    artwork = Size(width=artwork.width + covered, height=artwork.height + covered)
    return Spec(
        unit=Unit.MM,
        artwork=artwork,
        presentation=Presentation.CLOSE,
        overlap=ZERO,
        gap=ZERO,
        frames=around,
    )


@given(SIZES, st.lists(frames(), max_size=3).map(tuple))
def test_an_outside_gives_the_package_that_has_that_outside(
    artwork: Size, around: tuple[Frame, ...]
) -> None:
    made = work_out(close(artwork, around))
    asked = work_out(replace(made.spec, outside=made.outside))
    assert asked.package == made.package
    assert asked.outside == made.outside
    assert asked.frames == made.frames


@given(SIZES, frames())
def test_a_made_frame_measured_as_a_given_one_takes_the_same_package(
    artwork: Size, frame: Frame
) -> None:
    made = work_out(close(artwork, (frame,)))
    measured = GivenFrame(
        rebate=made.frames[0].rebate,
        allowance=frame.allowance,
        outside=made.outside,
        face=frame.face,
    )
    again = work_out(replace(made.spec, frames=(), given_frame=measured))
    assert again.package == made.package
    assert measured.known_lip == frame.lip
    assert again.surrounds == made.frames


def root(number: Fraction) -> Length:
    return mm(Fraction(isqrt(int(number * 10**12)), 10**6))


@given(st.integers(50, 3000), st.integers(50, 3000), st.integers(0, 40), st.booleans())
def test_a_parallelogram_laid_out_on_the_plane_has_the_diagonals_and_the_lean_that_are_found(
    width: int, height: int, lean: int, turned: bool
) -> None:
    """Corners at (0, 0), (w, 0), (w + s, h), (s, h): the sides are w and √(s² + h²), the diagonals follow."""
    upright = root(Fraction(lean**2 + height**2))
    falling, rising = (
        root(Fraction((width + lean) ** 2 + height**2)),
        root(Fraction((width - lean) ** 2 + height**2)),
    )
    rebate = Size(mm(width), upright)
    frame = GivenFrame(
        rebate=rebate.turned() if turned else rebate,
        allowance=ZERO,
        diagonals=Diagonals(falling=falling, rising=rising),
    )
    found = frame.rising_by_sides()
    assert found is not None
    assert abs(found - rising) < mm(Fraction(1, 100))
    longer = max(mm(width), upright)
    assert abs(frame.lean - mm(lean) * width / (longer / mm(1))) < mm(Fraction(1, 100))


@given(st.integers(100, 2000), st.integers(100, 2000), st.integers(0, 30), st.integers(0, 30))
def test_any_four_sides_laid_out_on_the_plane_have_the_diagonal_that_is_found(
    width: int, height: int, out: int, down: int
) -> None:
    """Corners at (0, 0), (w, 0), (w + a, h + b), (0, h)."""
    frame = GivenFrame(
        rebate=Size(mm(width), mm(height)),
        opposite=Size(
            root(Fraction((width + out) ** 2 + down**2)),
            root(Fraction(out**2 + (height + down) ** 2)),
        ),
        allowance=ZERO,
        diagonals=Diagonals(
            falling=root(Fraction((width + out) ** 2 + (height + down) ** 2)),
            rising=root(Fraction(width**2 + height**2)),
        ),
    )
    found = frame.rising_by_sides()
    assert found is not None
    assert frame.diagonals is not None
    assert abs(found - frame.diagonals.rising) < mm(Fraction(1, 100))
