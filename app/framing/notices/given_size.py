"""What a given outside, or a frame that is given, calls for saying: uneven borders, a frame out of square (G23,
G24).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from app.framing.dimensions import Dimensions
from app.framing.given_frame import GivenFrame
from app.framing.notice import Concern, Notice
from app.framing.openings import frames_take
from app.framing.spec import Edges, Spec
from app.lengths import ZERO, Length, Size, Steps, say

UNEVEN = "borders-uneven"


def remarks_on_given_size(dimensions: Dimensions) -> tuple[Notice, ...]:
    """Borders that come out uneven in a given outside, then what is out of square in a frame that is given."""
    spec = dimensions.spec
    square = _out_of_square(spec, spec.given_frame) if spec.given_frame else ()
    return (*_uneven(dimensions), *square)


def _uneven(dimensions: Dimensions) -> Iterator[Notice]:
    spec, borders = dimensions.spec, borders_left(dimensions)
    if borders is None or spec.outside is None:
        return
    beside, above = borders.left, borders.top
    if beside == above:
        return
    more = f", and {say(spec.weighting, spec.unit)} more at the bottom" if spec.weighting else ""
    yield Notice(
        code=UNEVEN,
        message="The outside that is given leaves unequal borders around the window of "
        f"{say(dimensions.windows[0].size, spec.unit)}: {say(beside, spec.unit)} left and right, "
        f"{say(above, spec.unit)} top and bottom{more}.",
        concern=Concern.NOTE,
    )


def borders_left(dimensions: Dimensions) -> Edges | None:
    """Return the borders that an outside or a frame leaves (G5); None where they do not follow from one."""
    spec = dimensions.spec
    follows = spec.outside is not None or spec.given_frame is not None
    if not follows or spec.borders is not None or not dimensions.layers:
        return None
    return dimensions.layers[0].borders


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenOutside:
    """An outside in which all borders are alike, but for the weighting."""

    outside: Size
    border: Length


def even_outsides(dimensions: Dimensions, steps: Steps) -> tuple[EvenOutside, ...]:
    """Return the nearest outsides that make the borders equal, the one that differs least first.

    The borders beside the window are taken all around, or those above it; a border goes down to the shop's step. None
    where they are equal, or do not follow from an outside. Source: handbook G4, G5, G23.
    """
    spec, borders = dimensions.spec, borders_left(dimensions)
    if borders is None or spec.outside is None or borders.left == borders.top:
        return ()
    if len(dimensions.windows_of(1)) > 1:
        return ()
    asked = spec.outside
    found = [_even(dimensions, steps.down(border)) for border in (borders.left, borders.top)]
    possible = [each for each in found if each.border > ZERO and each.outside != asked]
    return tuple(sorted(possible, key=lambda each: _apart(each.outside, asked)))


def _even(dimensions: Dimensions, border: Length) -> EvenOutside:
    spec, package, borders = dimensions.spec, dimensions.package, dimensions.layers[0].borders
    around = border * 2 + frames_take(spec)
    return EvenOutside(
        outside=Size(
            width=package.width - borders.left - borders.right + around,
            height=package.height - borders.top - borders.bottom + around + spec.weighting,
        ),
        border=border,
    )


def _apart(one: Size, other: Size) -> Length:
    return abs(one.width - other.width) + abs(one.height - other.height)


def _out_of_square(spec: Spec, given: GivenFrame) -> Iterator[Notice]:
    """G24: what differs, and whether a package with square corners enters all the same."""
    differs = given.diagonals.difference if given.diagonals else ZERO
    other = given.opposite or given.rebate
    if not differs and other == given.rebate:
        return
    said = [f"its diagonals differ by {say(differs, spec.unit)}"] if differs else []
    if other != given.rebate:
        said.append(
            f"opposite sides are {say(given.rebate, spec.unit)} and {say(other, spec.unit)}, of which the "
            f"smaller ones count, {say(given.counted, spec.unit)}"
        )
    enters = given.lean <= given.allowance
    rest = "" if enters else _does_not_enter(spec, given)
    yield Notice(
        code="frame-out-of-square",
        message=f"The frame is out of square: {'; '.join(said)}.{rest}",
        concern=Concern.LOOK if enters else Concern.RISK,
    )


def _does_not_enter(spec: Spec, given: GivenFrame) -> str:
    tenths = Length(Fraction(ceil(given.lean.mm * 10), 10))
    return (
        f" Its sides lean by {say(tenths, spec.unit)}, more than the play of "
        f"{say(given.allowance, spec.unit)}: glass and boards that are cut square do not go in. Allow that much "
        "play, or square the frame up first."
    )
