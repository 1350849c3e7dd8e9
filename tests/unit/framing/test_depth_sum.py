"""The sum of what lies in a rebate; 1 in = 25.4 mm exactly (international yard and pound agreement, 1959), the rest by hand."""

import pytest

from app.framing.depth_sum import depth_sum
from app.lengths import Length, Unit, inches, mm


def test_millimetres_are_summed_as_they_are() -> None:
    said = depth_sum((("glazing", mm(2)), ("artwork", mm("0.3"))), mm(14), Unit.MM)
    assert said.parts == (("glazing", "2"), ("artwork", "0.3"))
    assert (said.about, said.stack, said.depth, said.left, said.over) == (
        "",
        "2.3",
        "14",
        "11.7",
        "",
    )


def test_fractions_of_an_inch_stay_fractions_where_all_are_on_a_rule() -> None:
    """3/32 + 2/32 = 5/32; 18/32 - 5/32 = 13/32."""
    said = depth_sum(
        (("glazing", inches("3/32")), ("mats", inches("1/16"))), inches("9/16"), Unit.IN
    )
    assert said.parts == (("glazing", "3/32"), ("mats", "1/16"))
    assert (said.about, said.stack, said.depth, said.left) == ("", "5/32", "9/16", "13/32")


@pytest.mark.parametrize(
    ("depth", "left", "over"),
    [
        # 0.5625, down: 0.562 - 0.309
        (inches("9/16"), "0.253", ""),
        # 5 mm are 0.19685, down: 0.309 - 0.196
        (mm(5), "", "0.113"),
    ],
)
def test_millimetres_in_inches_add_up_as_printed_and_leave_no_more_than_there_is(
    depth: Length, left: str, over: str
) -> None:
    """2, 2.8 and 3 mm are 0.07874, 0.11024 and 0.11811 in, each up: 0.079 + 0.111 + 0.119 = 0.309."""
    parts = (("glazing", mm(2)), ("mats", mm("2.8")), ("backing", mm(3)))
    said = depth_sum(parts, depth, Unit.IN)
    assert [text for _, text in said.parts] == ["0.079", "0.111", "0.119"]
    assert (said.about, said.stack, said.left, said.over) == ("about ", "0.309", left, over)
