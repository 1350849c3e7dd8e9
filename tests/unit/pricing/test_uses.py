"""What a piece takes of each material, by the name that its line on the quote has."""

from dataclasses import replace

from app.framing import Frame, work_out
from app.lengths import mm
from app.pricing.uses import uses_of
from tests.builders.values import size
from tests.builders.watercolour import WATERCOLOUR, chosen, moulding, watercolour

OUTER = Frame(face=mm(40), lip=mm(6), rebate_depth=mm(20), allowance=mm(3))


def test_one_frame_is_called_the_frame() -> None:
    assert uses_of(watercolour(), chosen())[0].part == "frame"


def test_of_two_frames_each_has_its_number_and_goes_around_the_one_before() -> None:
    """The package of 562 × 449 has long points of 603 × 490: (562 + 3) + 2 × (25 − 6), 452 + 38. So much is
    the inner frame's outside, which the outer frame goes around: 603 + 3 + 2 × (40 − 6) = 674, 561."""
    nested = replace(WATERCOLOUR, frames=(*WATERCOLOUR.frames, OUTER))
    first, second = uses_of(work_out(nested), chosen(frames=(moulding(), moulding())))[:2]
    assert (first.part, first.size) == ("frame 1", size(562, 449))
    assert first.runs == ((mm(603), 2), (mm(490), 2))
    assert (second.part, second.size) == ("frame 2", size(603, 490))
    assert second.runs == ((mm(674), 2), (mm(561), 2))
