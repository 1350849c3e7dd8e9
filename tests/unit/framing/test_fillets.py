"""Fillets worked by hand from G19 and G12: every figure is arithmetic that stands beside it.

No published table of fillets was found; how one is mitred, tucked and glued is common practice.
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from app.framing import (
    Arrangement,
    Fillet,
    Opening,
    Presentation,
    Shape,
    Slot,
    Spec,
    UnderMats,
    UnderWay,
    in_steps,
    work_out,
)
from app.framing.given_frame import GivenFrame
from app.framing.notice import Concern
from app.framing.notices.care import CareFacts, Work, WorkFacts, care_notices, cautions_for
from app.framing.notices.weight import Masses, weigh
from app.lengths import Steps, Unit, inches, mm
from tests.builders.specs import (
    BARE,
    DOUBLE,
    MATTED,
    edges,
    faults,
    in_inches,
    mat,
    notices,
    size,
)


def fillet(face: str = "10", lip: str = "4", tuck: str = "4", thickness: str = "3") -> Fillet:
    return Fillet(face=mm(face), lip=mm(lip), tuck=mm(tuck), thickness=mm(thickness))


LINED = replace(MATTED, fillet=fillet())
"""Window 287 × 410 in one mat of 1.4; of a face of 10, 4 are tucked and 6 show."""

FLOATING = replace(LINED, presentation=Presentation.FLOAT)
"""Window 297 + 2 × 10 = 317 × 440."""

PAIR = replace(
    BARE,
    presentation=Presentation.WINDOW,
    mats=(mat(),),
    borders=edges("60", "60", "60", "60"),
    openings=(
        Opening(name="A", window=size("100", "140")),
        Opening(name="B", window=size("140", "140")),
    ),
    arrangement=Arrangement(rows=(2,), across=mm(25)),
    fillet=fillet(),
)
"""Two windows with 25 of mat between them."""


def test_a_fillet_is_the_window_with_its_tuck_on_every_side() -> None:
    """Outside 287 + 2 × 4 = 295, 410 + 8 = 418; sight 295 − 2 × 10 = 275, 418 − 20 = 398."""
    (one,) = work_out(LINED).fillets
    assert (one.name, one.outside, one.sight) == ("", size("295", "418"), size("275", "398"))
    assert one.long_points == (mm(295), mm(418))
    assert one.short_points == (mm(275), mm(398))


def test_what_is_seen_is_the_window_less_what_shows_of_the_face() -> None:
    """287 − 2 × (10 − 4) = 275; tucked by 3 only, 287 − 2 × 7 = 273."""
    assert work_out(LINED).fillets[0].sight.width == mm(287) - mm(6) * 2
    assert work_out(replace(LINED, fillet=fillet(tuck="3"))).fillets[0].sight.width == mm(273)


def test_an_inch_fillet_is_exact() -> None:
    """Window 7 5/8 × 9 5/8 (8 − 3/8, 10 − 3/8); tuck 1/8: 7 7/8 × 9 7/8; less 2 × 3/8: 7 1/8 × 9 1/8."""
    strip = Fillet(
        face=inches("3/8"), lip=inches("1/8"), tuck=inches("1/8"), thickness=inches("1/8")
    )
    (one,) = work_out(in_inches(fillet=strip)).fillets
    assert one.outside == size("7.875", "9.875", Unit.IN)
    assert one.sight == size("7.125", "9.125", Unit.IN)


def test_rails_come_in_pairs_the_longest_first() -> None:
    long, short = work_out(LINED).fillet_rails
    assert (long.long, long.short, long.count) == (mm(418), mm(398), 2)
    assert (short.long, short.short, short.count) == (mm(295), mm(275), 2)


def test_a_square_window_has_four_rails_of_one_length() -> None:
    """410 − 10 = 400 square: 408 long, 388 short."""
    (rails,) = work_out(replace(LINED, artwork=size("410", "410"))).fillet_rails
    assert (rails.long, rails.short, rails.count) == (mm(408), mm(388), 4)


def test_the_fillet_lies_behind_the_last_mat() -> None:
    """G3: the window next to the artwork stays 287 × 410, the one above it is 299 × 422."""
    assert work_out(replace(DOUBLE, fillet=fillet())).fillets[0].outside == size("295", "418")


def test_every_window_is_lined_and_equal_rails_are_counted_together() -> None:
    """A 100 × 140 and B 140 × 140: outsides 108 × 148, 148 × 148: 148 (128) 2 + 4, 108 (88) 2."""
    worked = work_out(PAIR)
    assert [(one.name, one.outside) for one in worked.fillets] == [
        ("A", size("108", "148")),
        ("B", size("148", "148")),
    ]
    assert [(r.long, r.short, r.count, r.names) for r in worked.fillet_rails] == [
        (mm(148), mm(128), 6, ("A", "B")),
        (mm(108), mm(88), 2, ("A",)),
    ]


def test_a_title_slot_has_no_fillet() -> None:
    first = replace(PAIR.openings[0], slot=Slot(size=size("60", "12"), gap=mm(15)))
    worked = work_out(replace(PAIR, openings=(first, PAIR.openings[1])))
    assert [one.name for one in worked.fillets] == ["A", "B"]


def test_its_thickness_counts_in_the_stack() -> None:
    """D1: mat 1.4 + fillet 3 = 4.4."""
    assert work_out(MATTED).stack == mm("1.4")
    assert work_out(LINED).stack == mm("4.4")


def test_its_rails_weigh_by_their_length() -> None:
    """D2: 2 × (295 + 418) = 1426 mm at 150 g/m = 213.9 g."""
    weight = weigh(work_out(LINED), Masses(mats=(0,), frames=(0,), fillet=150))
    assert dict(weight.parts)["fillet"] == Fraction(2139, 10_000)


def test_rails_round_up_and_its_window_to_the_nearest_step() -> None:
    """L2: 287 + 2 × 3.2 = 293.4 → 294, 416.4 → 417; 293.4 − 19 = 274.4 → 275, 397.4 → 398."""
    spec = replace(LINED, fillet=fillet(face="9.5", tuck="3.2"))
    cut = in_steps(work_out(spec), Steps(unit=Unit.MM, step=mm(1)))
    assert cut.fillets[0].outside == size("294", "417")
    assert cut.fillets[0].sight == size("275", "398")


def test_fillets_that_meet_only_by_rounding_are_told() -> None:
    """Windows 24.4 apart, cut 24 apart: B is at 184.4, the mat of 384.4 is cut at 384, which moves it
    by − 0.2 to 184.2 → 184. Tuck 12.1: 24.4 − 24.2 leave 0.2; cut, 100 + 24.2 → 125 and 140 + 24.2
    → 165 are tucked 12.5 each, 25 > 24. Tuck 12: 124 and 164, 12 each, just 24.
    """
    close = replace(PAIR, arrangement=Arrangement(rows=(2,), across=mm("24.4")))
    for tuck, told in (("12.1", True), ("12", False)):
        spec = replace(close, fillet=fillet(face="20", lip="13", tuck=tuck))
        said = notices(in_steps(work_out(spec), Steps(unit=Unit.MM, step=mm(1))))
        assert ("A and B" in said.get("fillets-tight-after-rounding", "")) is told


def test_a_piece_without_one_has_no_fillets() -> None:
    assert work_out(MATTED).fillets == ()
    assert work_out(MATTED).fillet_rails == ()


@pytest.mark.parametrize(
    ("change", "path", "parts"),
    [
        ({"face": "0"}, "fillet.face", ("0 mm", "above zero")),
        ({"tuck": "0"}, "fillet.tuck", ("0 mm", "above zero")),
        ({"thickness": "0"}, "fillet.thickness", ("0 mm", "above zero")),
        ({"lip": "-1"}, "fillet.lip", ("−1 mm", "below zero")),
        ({"lip": "10"}, "fillet.lip", ("lip is 10 mm", "face is 10 mm", "narrower")),
        ({"tuck": "10"}, "fillet.tuck", ("tuck is 10 mm", "face is 10 mm", "under that")),
    ],
)
def test_a_profile_that_cannot_be_tucked_is_a_fault(
    change: dict[str, str], path: str, parts: tuple[str, ...]
) -> None:
    said = faults(replace(LINED, fillet=fillet(**change)))
    assert list(said) == [path]
    for part in parts:
        assert part in said[path]


@pytest.mark.parametrize(
    "presentation", [p for p in Presentation if not p.matted], ids=lambda one: one.value
)
def test_without_a_mat_there_is_nothing_to_tuck_it_behind(presentation: Presentation) -> None:
    given = GivenFrame(rebate=size("302", "425"), allowance=mm(3))
    asked = replace(BARE, presentation=presentation, fillet=fillet())
    if presentation is Presentation.AS_IT_CAME:
        asked = replace(asked, frames=(), given_frame=given)
    said = faults(asked)
    assert set(said) == {"fillet"}
    assert presentation.value in said["fillet"]


def test_a_float_without_a_mat_has_no_window_for_a_fillet() -> None:
    assert set(faults(replace(BARE, presentation=Presentation.FLOAT, fillet=fillet()))) == {
        "fillet"
    }


@pytest.mark.parametrize(("shape", "word"), [(Shape.OVAL, "an oval"), (Shape.ARCH, "an arch")])
def test_a_straight_fillet_follows_no_curve(shape: Shape, word: str) -> None:
    second = replace(PAIR.openings[1], shape=shape)
    said = faults(replace(PAIR, openings=(PAIR.openings[0], second)))
    assert list(said) == ["fillet"]
    assert f"{word}: window B" in said["fillet"]
    assert "window A" not in said["fillet"]


def test_a_fillet_leaves_something_to_see() -> None:
    """287 wide: 143.5 from both sides leave nothing; 147.4 − 4 = 143.4 leave 0.2."""
    said = faults(replace(LINED, fillet=fillet(face="147.5")))
    assert list(said) == ["fillet.face"]
    for part in ("143.5 mm", "287 × 410 mm", "under 143.5 mm"):
        assert part in said["fillet.face"]
    assert faults(replace(LINED, fillet=fillet(face="147.4"))) == {}


def test_a_fillet_stays_behind_its_mat() -> None:
    """The left border is 60: a tuck of 60 just reaches the edge, 60.5 is past it."""
    assert faults(replace(LINED, fillet=fillet(face="70", tuck="60"))) == {}
    said = faults(replace(LINED, fillet=fillet(face="70", tuck="60.5")))
    assert list(said) == ["fillet.tuck"]
    for part in ("60.5 mm", "60 mm of mat at the left"):
        assert part in said["fillet.tuck"]


def test_a_trimmed_under_mat_ends_earlier() -> None:
    """G7: border 60 + reveal 6 − trim 3 = 63 of the under mat beside its window, either way of working."""
    for way in UnderWay:
        under = UnderMats(way=way, trim=mm(3))
        spec = replace(DOUBLE, under=under, fillet=fillet(face="80", tuck="63"))
        assert faults(spec) == {}
        said = faults(replace(spec, fillet=fillet(face="80", tuck="63.5")))
        assert "63 mm of mat at the left" in said["fillet.tuck"]


def test_fillets_of_neighbours_lie_apart_behind_the_bridge() -> None:
    """25 between the windows: two tucks of 12.5 touch, of 12 leave 1."""
    assert faults(replace(PAIR, fillet=fillet(face="20", tuck="12"))) == {}
    said = faults(replace(PAIR, fillet=fillet(face="20", tuck="12.5")))
    assert list(said) == ["fillet.tuck"]
    for part in ("A and B", "12.5 mm each", "25 mm between", "under 12.5 mm"):
        assert part in said["fillet.tuck"]


def test_a_fillet_does_not_show_in_a_title_slot() -> None:
    """A slot 5 under window A: a tuck of 4 ends before it, of 5 at its edge."""
    first = replace(PAIR.openings[0], slot=Slot(size=size("60", "12"), gap=mm(5)))
    slotted = replace(PAIR, openings=(first, PAIR.openings[1]))
    assert faults(slotted) == {}
    said = faults(replace(slotted, fillet=fillet(tuck="5")))
    assert list(said) == ["fillet.tuck"]
    assert "window A" in said["fillet.tuck"]
    assert "5 mm away" in said["fillet.tuck"]


@pytest.mark.parametrize(("gap", "word"), [("6", "touched"), ("5", "covered")])
def test_a_fillet_keeps_off_an_artwork_that_floats(gap: str, word: str) -> None:
    """6 show; the gap must be over 6."""
    said = faults(replace(FLOATING, gap=mm(gap)))
    assert list(said) == ["fillet.face"]
    for part in (f"only {gap} mm", word, "over 6 mm"):
        assert part in said["fillet.face"]


def test_what_a_fillet_leaves_of_the_gap_is_told() -> None:
    """Gap 10 − 6 = 4, under half of the usual 10; gap 11 − 6 = 5 is not."""
    near, far = work_out(FLOATING), work_out(replace(FLOATING, gap=mm(11)))
    assert "leaves 4 mm of the gap" in notices(near)["fillet-in-gap"]
    assert "leaves 5 mm of the gap" in notices(far)["fillet-in-gap"]
    concerns = [n.concern for w in (near, far) for n in w.notices if n.code == "fillet-in-gap"]
    assert concerns == [Concern.LOOK, Concern.NOTE]


def test_what_a_fillet_covers_of_the_artwork_is_told() -> None:
    """Overlap 5 + 6 that show = 11 at each edge; 275 × 398 is seen."""
    said = notices(LINED)
    assert list(said) == ["fillet-covers-artwork"]
    for part in ("shows 6 mm inside the window", "11 mm of the artwork", "275 × 398 mm is seen"):
        assert part in said["fillet-covers-artwork"]


def test_a_window_as_large_as_its_artwork_is_held_by_its_fillet() -> None:
    """G1 with no overlap: the fillet covers its 6; a fillet that shows 2 covers less than 2.5."""
    said = notices(replace(LINED, overlap=mm(0)))
    assert "artwork-barely-covered" not in said
    assert "6 mm of the artwork" in said["fillet-covers-artwork"]
    barely = work_out(replace(LINED, overlap=mm(0), fillet=fillet(face="6")))
    (notice,) = (n for n in barely.notices if n.code == "fillet-covers-artwork")
    assert notice.concern is Concern.LOOK


def test_artwork_that_the_fillet_does_not_reach_is_bare() -> None:
    """G6: package 437 − 2 × 60 = window 317 wide, 317 − 12 = 305 seen of 297: 4 bare at each edge.
    In height 560 − 130 = 430, 418 seen of 420: 1 covered.
    """
    said = notices(replace(LINED, package=size("437", "560")))
    assert "4 mm beside it stays bare" in said["artwork-bare"]
    covered = notices(replace(LINED, package=size("427", "560")))
    assert "artwork-bare" not in covered  # 307 - 12 = 295 of 297
    assert "1 mm of the artwork" in covered["fillet-covers-artwork"]


def test_each_windows_cover_is_told_once_for_all_that_are_alike() -> None:
    openings = tuple(
        Opening(name=name, artwork=size("110", "150"), overlap=mm(overlap))
        for name, overlap in (("A", 5), ("B", 5), ("C", 8))
    )
    spec = replace(PAIR, openings=openings, arrangement=Arrangement(rows=(3,), across=mm(25)))
    said = notices(spec)["fillet-covers-artwork"].split("\n")
    assert len(said) == 2
    assert "windows A, B" in said[0]
    assert "11 mm of the artwork" in said[0]
    assert "window C" in said[1]
    assert "14 mm of the artwork" in said[1]


@pytest.mark.parametrize(
    ("change", "code", "part"),
    [
        ({"tuck": "6"}, "fillet-tucked-past-lip", "tucked 6 mm, but its lip is only 4 mm"),
        ({"tuck": "3"}, "fillet-lip-shows", "1 mm of the fillet's flat lip"),
        ({"tuck": "1.5", "lip": "1.5"}, "fillet-barely-held", "Only 1.5 mm"),
    ],
)
def test_how_the_mat_holds_it_is_told(change: dict[str, str], code: str, part: str) -> None:
    assert part in notices(replace(LINED, fillet=fillet(**change)))[code]
    assert code not in notices(LINED)


def test_a_fillet_is_sawn_and_glued_with_the_same_cautions_as_a_frame() -> None:
    bare = WorkFacts(mats=False, glass=False, acrylic=False, frame=False, heavy=False)
    assert cautions_for(bare) == ()
    works = [work for work, _ in cautions_for(replace(bare, fillet=True))]
    assert works == [Work.RAILS, Work.JOIN]


def test_a_fillet_on_paper_is_kept_off_it() -> None:
    facts = CareFacts(on_paper=True, uv_filter=True)
    assert care_notices(facts) == ()
    (notice,) = care_notices(replace(facts, fillet=True))
    assert notice.code == "fillet-on-paper"
    assert care_notices(replace(facts, on_paper=False, fillet=True)) == ()


def test_a_fillet_turns_with_its_piece() -> None:
    """G21: turned by 90°, width and height are exchanged."""
    turned: Spec = replace(LINED, artwork=size("420", "297"))
    (one,) = work_out(turned).fillets
    assert (one.outside, one.sight) == (size("418", "295"), size("398", "275"))
