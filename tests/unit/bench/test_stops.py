"""Where the stops stand along the bar for each cut, worked by hand (B9)."""

from dataclasses import replace

import pytest

from app.bench import (
    Cut,
    Cutter,
    Edge,
    MatToCut,
    Scale,
    StopPlaces,
    Stops,
    Stroke,
    by_stops,
    cuts_of,
    mats_to_cut,
)
from app.framing import Shape
from app.lengths import Length, Size, Unit, inches, mm
from tests.builders.at_cutter import CUTTER, framed_by, mat, piece_cut, window

BOTH = replace(CUTTER, stops=Stops(near=True, far=True))
UNEVEN = framed_by("60", "65", "70", "80")
"""A board of 325 x 250 with a window of 200 x 100."""


def by_edge(of: MatToCut, cutter: Cutter) -> dict[Edge, Cut]:
    return {cut.edge: cut for cut in cuts_of(of, cutter)}


def at(near: str | None, far: str | None) -> StopPlaces:
    def length(text: str | None) -> Length | None:
        return None if text is None else mm(text)

    return StopPlaces(near=length(near), far=length(far))


@pytest.mark.parametrize(
    ("edge", "near_edge", "near", "far"),
    [
        # Back up, the left edge lies to the right; against the guide on the left the mat stands half
        # round, so that its top lies at the arm: 70, and 250 - 80.
        (Edge.LEFT, Edge.TOP, "70", "170"),
        # Turned a quarter, the top against the guide; what lies on the left goes to the arm, and back
        # up that is the right edge: 65, and 325 - 60.
        (Edge.TOP, Edge.RIGHT, "65", "265"),
        # Back up the right edge lies to the left already: the bottom is at the arm.
        (Edge.RIGHT, Edge.BOTTOM, "80", "180"),
        (Edge.BOTTOM, Edge.LEFT, "60", "260"),
    ],
)
def test_stops_are_set_from_the_edge_at_the_squaring_arm(
    edge: Edge, near_edge: Edge, near: str, far: str
) -> None:
    cut = by_edge(UNEVEN, BOTH)[edge]
    assert (cut.near_edge, cut.stops) == (near_edge, at(near, far))


def test_each_end_has_the_overcut_of_the_stroke() -> None:
    """By hand: pulled, the cut begins at the far end, 1.5 beyond its corner, and ends near the hand, 0.5
    beyond: 65 - 0.5 and 265 + 1.5. Pushed, the near end is the beginning: 65 - 1.5 and 265 + 0.5."""
    pulled = replace(BOTH, start_offset=mm("1.5"), end_offset=mm("0.5"))
    pushed = replace(pulled, stroke=Stroke.PUSH)
    assert by_edge(UNEVEN, pulled)[Edge.TOP].stops == at("64.5", "266.5")
    assert by_edge(UNEVEN, pushed)[Edge.TOP].stops == at("63.5", "265.5")


def test_a_cut_of_a_weighted_mat_in_a_handbook_example() -> None:
    """By hand: a board 537 high, borders 60 and 75, overcut 1.5 at either end, the top at the arm:
    near 60 - 1.5 = 58.5; far 537 - 75 + 1.5 = 463.5."""
    cutter = replace(BOTH, start_offset=mm("1.5"), end_offset=mm("1.5"))
    weighted = mat("400", "537", window("A", "60", "60", "280", "402"))
    assert by_edge(weighted, cutter)[Edge.LEFT].stops == at("58.5", "463.5")


def test_the_corrections_of_the_stops_are_added_with_their_sign() -> None:
    corrected = replace(
        CUTTER,
        stops=Stops(near=True, far=True, near_correction=mm("0.5"), far_correction=mm("-1")),
    )
    assert by_edge(UNEVEN, corrected)[Edge.TOP].stops == at("65.5", "264")


def test_a_stop_stands_on_a_step_of_the_scale_and_says_what_was_wanted() -> None:
    """By hand: 65 - 0.3 = 64.7, between 64.5 and 65; 64.5 is nearer."""
    cut = by_edge(UNEVEN, replace(BOTH, end_offset=mm("0.3")))[Edge.TOP]
    assert cut.stops_wanted.near == mm("64.7")
    assert cut.stops.near == mm("64.5")


def test_a_scale_in_inches_has_its_stops_in_inches() -> None:
    """By hand: borders of 2 1/2 on a board of 10 x 12, overcut 1/16: 2 7/16 and 9 9/16 along 12."""
    cutter = replace(
        BOTH,
        scales=(Scale(unit=Unit.IN, step=inches("1/32")),),
        start_offset=inches("1/16"),
        end_offset=inches("1/16"),
    )
    border, size = inches("5/2"), Size(inches(10), inches(12))
    one = replace(
        mat("254", "304.8", window("A", "63.5", "63.5", "127", "177.8")), blank=size, reference=size
    )
    assert one.border(one.windows[0], Edge.RIGHT) == border
    assert by_edge(one, cutter)[Edge.LEFT].stops == StopPlaces(
        near=inches("39/16"), far=inches("153/16")
    )


def test_a_guide_on_the_right_puts_the_arm_at_the_other_end() -> None:
    """A pulled cutter with its guide on the right is described as pushed. By hand: back up with the top
    against a guide on the right, what lies on the right is at the arm, the left edge of the front."""
    right = replace(
        BOTH,
        stroke=Stroke.PUSH,
        start_offset=mm("1.5"),
        end_offset=mm("0.5"),
        stops=Stops(near=True, far=True, guide_on_right=True),
    )
    cut = by_edge(UNEVEN, right)[Edge.TOP]
    assert (cut.near_edge, cut.begins_near) == (Edge.LEFT, False)
    assert cut.stops == at("59.5", "261.5")  # 60 - 0.5; 325 - 65 + 1.5


@pytest.mark.parametrize(
    ("stops", "places", "to_mark"),
    [
        (Stops(), at(None, None), (True, True)),
        (Stops(near=True), at("65", None), (True, False)),
        (Stops(far=True), at(None, "265"), (False, True)),
        (Stops(near=True, far=True), at("65", "265"), (False, False)),
    ],
)
def test_an_end_without_a_stop_is_marked(
    stops: Stops, places: StopPlaces, to_mark: tuple[bool, bool]
) -> None:
    """Pulled, the cut begins at the far stop."""
    cut = by_edge(UNEVEN, replace(CUTTER, stops=stops))[Edge.TOP]
    assert cut.stops == places
    assert (cut.start_to_mark, cut.end_to_mark) == to_mark


def test_an_under_mat_worked_attached_is_stopped_from_the_edges_of_the_mat_above() -> None:
    """By hand: a package of 410 + 12 + 140 by 287 + 12 + 150; the under blank is 3 smaller at each edge
    and lies in its middle, so what counts are the edges of the package. Its left edge: 70 + 6 = 76 from
    the top, 449 - 80 - 6 = 363."""
    under = mats_to_cut(piece_cut("6", trim="3"))[1]
    assert (under.reference, under.blank) == (Size(mm(562), mm(449)), Size(mm(556), mm(443)))
    assert by_edge(under, BOTH)[Edge.LEFT].stops == at("76", "363")


def test_a_reverse_bevel_lies_face_up_and_is_stopped_at_the_smaller_hole() -> None:
    """By hand: not mirrored, the top against the guide has the left edge at the arm: 60 + 2, and
    325 - 65 - 2."""
    reverse = replace(UNEVEN, reverse=True, run=mm(2))
    cut = by_edge(reverse, BOTH)[Edge.TOP]
    assert (cut.near_edge, cut.stops) == (Edge.LEFT, at("62", "258"))


def test_the_sides_of_an_arch_are_stopped_where_it_begins_to_round() -> None:
    """By hand: the window stands 50 from the top, rises 60 and ends 60 above the foot of 310. Its left side
    has the top at the arm: 110 without an overcut, and 310 - 60 + 1 where the stroke begins."""
    arched = replace(window("A", "60", "50", "120", "200"), shape=Shape.ARCH, rise=mm(60))
    cutter = replace(BOTH, start_offset=mm(1), end_offset=mm(2))
    cut = by_edge(mat("240", "310", arched), cutter)[Edge.LEFT]
    assert cut.stops == at("110", "251")


def test_a_far_stop_beyond_the_bar_is_not_set_and_its_end_is_marked() -> None:
    """By hand: 265 along the top, on a bar of 262."""
    cut = by_edge(UNEVEN, replace(BOTH, cut_length=mm(262)))[Edge.TOP]
    assert cut.stops == at("65", None)
    assert (cut.start_to_mark, cut.end_to_mark) == (True, False)


def test_a_near_stop_before_the_arm_is_not_set_and_its_end_is_marked() -> None:
    """By hand: a border of 1 less an overcut of 1.5."""
    thin = mat("202", "300", window("A", "1", "100", "200", "100"))
    cut = by_edge(thin, replace(BOTH, end_offset=mm("1.5")))[Edge.TOP]
    assert cut.stops == at(None, "201")
    assert cut.end_to_mark


def test_stops_that_would_meet_are_neither_set() -> None:
    """By hand: a slot of 4 with both overcuts 2 short leaves nothing to run."""
    slot = mat("204", "300", window("A", "100", "100", "4", "100"))
    short = replace(BOTH, start_offset=mm(-2), end_offset=mm(-2))
    assert by_edge(slot, short)[Edge.TOP].stops == at(None, None)


def test_cuts_with_the_same_places_of_the_stops_come_together() -> None:
    equal = framed_by("60", "60", "60", "60")
    groups = by_stops(cuts_of(equal, BOTH))
    assert [(places, [cut.edge for cut in cuts]) for places, cuts in groups] == [
        (at("60", "160"), [Edge.LEFT, Edge.RIGHT]),
        (at("60", "260"), [Edge.TOP, Edge.BOTTOM]),
    ]
    ((places, cuts),) = by_stops(cuts_of(equal, CUTTER))
    assert (places, len(cuts)) == (at(None, None), 4)
