"""What is left of one new stick or sheet that is enough, without making a plan.

Owns the two questions that need no search: rails that all lie on one stick, one blank on one sheet. The
answers are those of the simple plan, for pages that ask while somebody types.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from app.cutting.problem import SheetProblem, StickProblem
from app.lengths import ZERO, Length, Size


def left_of_one_stick(asked: StickProblem) -> tuple[Length, ...] | None:
    """Return the offcut worth keeping of one stick that holds all parts, if any (C1).

    None where a plan is wanted: one stick does not hold them, or there is more than one kind on offer.
    """
    if len(asked.stock) != 1:
        return None
    count = sum(part.copies for part in asked.parts)
    taken = sum((part.length * part.copies for part in asked.parts), ZERO) + asked.kerf * count
    left = asked.usable(asked.stock[0]) - taken
    if count == 0 or left + asked.kerf < ZERO:
        return None
    return (left,) if left > ZERO and left >= asked.keep else ()


def left_of_one_sheet(asked: SheetProblem) -> tuple[Size, ...] | None:
    """Return the offcuts worth keeping of one sheet that one blank is cut from, the largest first (C2, C3).

    The blank lies in a corner, turned or not, and the first cut runs across or down, as leaves the
    largest offcut, then the most of the other. None where a plan is wanted: for more blanks than one,
    one that the sheet does not hold, or more than one kind on offer.
    """
    if len(asked.stock) != 1 or sum(part.copies for part in asked.parts) != 1:
        return None
    usable, (part,) = asked.usable(asked.stock[0]), asked.parts
    ways = (part.size, part.size.turned()) if part.turn else (part.size,)
    layouts = [
        _worth_keeping(asked, rests)
        for way in ways
        if way.width <= usable.width and way.height <= usable.height
        for rests in _rests(usable, way, asked.kerf)
    ]
    best = max(layouts, key=lambda kept: [area for area, _ in kept], default=None)
    return None if best is None else tuple(size for _, size in best)


def _rests(sheet: Size, blank: Size, kerf: Length) -> Iterator[tuple[Size, Size]]:
    """Yield what is beside and below a blank in the corner, cut down first, then cut across first."""
    beside, below = sheet.width - blank.width - kerf, sheet.height - blank.height - kerf
    yield Size(beside, sheet.height), Size(blank.width, below)
    yield Size(beside, blank.height), Size(sheet.width, below)


def _worth_keeping(
    asked: SheetProblem, rests: tuple[Size, Size]
) -> Sequence[tuple[Fraction, Size]]:
    """With their areas in mm², the largest first."""
    real = (size for size in rests if size.width > ZERO and size.height > ZERO)
    kept = [(size.width.mm * size.height.mm, size) for size in real if asked.worth_keeping(size)]
    return sorted(kept, key=lambda each: each[0], reverse=True)
