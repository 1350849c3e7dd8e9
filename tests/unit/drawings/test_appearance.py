"""What the words of a price book mean for a drawing. Which word means what: common practice."""

from dataclasses import replace
from itertools import pairwise

import pytest

from app.drawings import Colour, Finish, FrameLook, FrontView, Look, front, section
from app.drawings.piece.appearance import Surface, reflects_little, woven
from app.framing import Mat, ProfileShape, work_out
from app.framing.spec import Core
from app.lengths import Unit, mm
from tests.builders.drawn import moulding, of_class, points, read, sketch, sketch_spec
from tests.unit.drawings.several import many_windows

COLOUR = Colour.parse("#a9814f")
WIDE = work_out(replace(sketch_spec(), frames=(moulding(40, 8, 20),)))


@pytest.mark.parametrize(
    ("finish", "name", "surface"),
    [
        ("raw, matt", "Sedge block 15, raw oak", Surface.WOOD),
        ("limed, matt", "Sedge block 20, limed oak", Surface.LIMED),
        ("polished", "Lantern dome 14, cherry", Surface.WOOD),
        ("satin", "Thread fillet 8, ebony", Surface.WOOD),
        ("chalk, matt", "Tallow cushion 18, ash grey", Surface.PLAIN),
        ("lacquer, gloss", "Lantern dome 14, white lacquer", Surface.PLAIN),
        ("gilt leaf, rubbed", "Orrery step 45", Surface.LEAF),
        ("bronze leaf", "Orrery step 38", Surface.LEAF),
        ("brushed metal foil", "Smelt flat 10", Surface.BRUSHED),
        ("matt cloth", "Whisper liner 30", Surface.CLOTH),
        ("", "Washed stone", Surface.PLAIN),
        ("something new 🖼", "", Surface.PLAIN),
    ],
)
def test_a_finish_and_a_name_tell_the_surface(finish, name, surface):
    assert Surface.named(finish, name) is surface


def test_a_shape_that_is_said_goes_before_one_that_the_name_tells():
    told = FrameLook.described(COLOUR, "waxed", "Scoop 35")
    assert told == FrameLook(
        colour=COLOUR, finish=Finish.SATIN, surface=Surface.WOOD, shape=ProfileShape.SCOOP
    )
    assert (
        FrameLook.described(COLOUR, "waxed", "Scoop 35", ProfileShape.OGEE).shape
        is ProfileShape.OGEE
    )
    assert FrameLook.described(COLOUR, "", "Linden").shape is None
    assert FrameLook.described(COLOUR, "gilt leaf, rubbed", "").rubbed


@pytest.mark.parametrize(
    ("words", "little"),
    [
        ("Low-reflection glass, 2 mm", True),
        ("Non-reflecting glass", True),
        ("Acrylic, anti reflective", True),
        ("Float glass, one side etched", True),
        ("Float glass, clear, 2 mm", False),
        ("Acrylic, UV-filter", False),
    ],
)
def test_a_name_tells_whether_glazing_mirrors_little(words, little):
    assert reflects_little(words) is little


@pytest.mark.parametrize(
    ("words", "cloth"), [("Linen-faced, natural", True), ("Silk", True), ("Salt", False)]
)
def test_a_name_tells_whether_a_mat_is_faced_with_cloth(words, cloth):
    assert woven(words) is cloth


def looks() -> list[FrameLook]:
    return [
        FrameLook(colour=COLOUR, finish=finish, surface=surface, rubbed=rubbed, shape=shape)
        for finish in Finish
        for surface in Surface
        for rubbed in (False, True)
        for shape in (None, ProfileShape.SCOOP)
    ]


def test_every_finish_on_every_surface_is_drawn_within_the_frame_and_the_same_each_time():
    for look in looks():
        drawn = front(WIDE, Look(frames=(look,)))
        assert drawn == front(WIDE, Look(frames=(look,)))
        (frame,) = of_class(read(drawn), "frame")
        corners = [corner for one in frame.iter() for corner in points(one)]
        assert all(0 <= x <= 633 and 0 <= y <= 520 for x, y in corners), look


@pytest.mark.parametrize(
    ("surface", "rubbed"), [(Surface.WOOD, False), (Surface.LEAF, False), (Surface.PLAIN, True)]
)
def test_grain_leaf_and_rubbed_edges_are_left_out_where_the_piece_is_small(surface, rubbed):
    """They are finer than a line of a paper's small drawing."""
    plain, shown = (
        Look(frames=(FrameLook(colour=COLOUR, surface=s, rubbed=r),))
        for s, r in ((Surface.PLAIN, False), (surface, rubbed))
    )
    assert front(WIDE, plain) != front(WIDE, shown)
    assert front(WIDE, plain, view=FrontView.ALONE) == front(WIDE, shown, view=FrontView.ALONE)


def test_grain_runs_along_the_rails_and_meets_at_the_mitres():
    look = Look(frames=(FrameLook(colour=COLOUR, surface=Surface.WOOD),))
    (frame,) = of_class(read(front(WIDE, look)), "frame")
    (pores,) = (one for one in frame if one.get("stroke-dasharray"))
    lines = [line.split("L") for line in pores.get("d").split("M")[1:]]
    for first in range(0, len(lines), 4):
        top, right, bottom, left = lines[first : first + 4]
        ends = [top[-1], right[-1], bottom[-1], left[-1]]
        assert ends == [right[0], bottom[0], left[0], top[0]]
        x, y = map(float, top[0].split(","))
        assert x == y


def test_glazing_is_seen_within_the_frame_and_only_where_there_is_some():
    (bands,) = of_class(read(front(sketch(), Look())), "glass")
    # The sight of the sketch is 553 by 440 at 25, 25.
    assert all(25 <= x <= 578 and 25 <= y <= 465 for x, y in points(bands[0]))
    order = [one.get("class") for one in read(front(sketch(), Look()))]
    assert order.index("glass") < order.index("frame")
    bare = work_out(replace(sketch_spec(), glazing=None))
    assert not of_class(read(front(bare, Look())), "glass")
    assert not of_class(read(front(sketch(), Look(), view=FrontView.ALONE)), "glass")


def test_glazing_that_mirrors_little_is_seen_less():
    clear, low = (
        float(
            of_class(read(front(sketch(), Look(low_reflection=low))), "glass")[0].get(
                "fill-opacity"
            )
        )
        for low in (False, True)
    )
    assert 0 < low < clear < 0.15


def test_threads_of_a_mat_lie_on_it_and_never_in_a_window():
    threads = of_class(read(front(sketch(), Look(woven=(True,)))), "weave")
    assert len(threads) == 1
    # The face's hole of the sketch: 424.8 by 301.8 at 89.1, 89.1.
    for run in threads[0].iter():
        if not run.get("stroke-width"):
            continue
        half, ends = float(run.get("stroke-width")) / 2, points(run)
        for (x1, y1), (x2, y2) in zip(ends[::2], ends[1::2], strict=True):
            wide, high = (0, half) if y1 == y2 else (half, 0)
            box = (min(x1, x2) - wide, min(y1, y2) - high, max(x1, x2) + wide, max(y1, y2) + high)
            beside = box[2] <= 89.12 or box[0] >= 513.88 or box[3] <= 89.12 or box[1] >= 390.88
            assert beside, box
    assert not of_class(read(front(sketch(), Look())), "weave")


@pytest.mark.parametrize("name", ["oval", "arch", "eight"])
def test_threads_are_drawn_around_windows_of_every_shape(name):
    drawn = front(many_windows()[name], Look(woven=(True, True)))
    assert of_class(read(drawn), "weave")
    assert len(drawn.encode()) < 30_000


def test_a_section_has_its_parts_in_their_colours():
    mats = (
        Mat(thickness=mm("1.4"), core=Core.BLACK),
        replace(sketch_spec().mats[1], core=Core.SOLID),
    )
    look = Look(
        frames=(FrameLook(colour=Colour.parse("#5a3f2b")),),
        mats=(Colour.parse("#f4efe3"), Colour.parse("#5f7480")),
        backing=Colour.parse("#a9a297"),
    )
    drawn = read(section(work_out(replace(sketch_spec(), mats=mats)), Unit.MM, look))
    fills = [one.get("fill") for one in of_class(drawn, "section")[0].iter() if one.get("fill")]
    black = "#3a3734"
    for colour in ("#5a3f2b", "#f4efe3", black, "#5f7480", "#a9a297"):
        assert colour in fills, colour
    # The core first, its face over it.
    assert fills.index(black) < fills.index("#f4efe3")


def test_what_lies_behind_one_another_is_told_by_hatching_and_not_by_colour_alone():
    white = Colour.parse("#ffffff")
    look = Look(frames=(FrameLook(colour=white),), mats=(white, white), backing=white)
    (parts,) = of_class(read(section(sketch(), Unit.MM, look)), "section")
    hatched = [one for one in parts.iter() if one.get("d") and one.get("stroke") != "#ffffff"]
    # The moulding, the glazing and the backing.
    assert len(hatched) >= 3


def test_rubbed_edges_are_few_and_short_marks_paler_than_the_ground():
    """About one mark on 110 mm of two edges around 633 × 520: 2 × 2306 / 110 = 42; none longer than 11 mm."""
    look = Look(frames=(FrameLook(colour=COLOUR, rubbed=True),))
    (frame,) = of_class(read(front(WIDE, look)), "frame")
    worn = [one for one in frame if one.get("stroke-linecap") == "round"]
    marks = [mark.split("L") for one in worn for mark in one.get("d").split("M")[1:]]
    assert 20 <= len(marks) <= 44
    long = []
    for start, end in marks:
        (x1, y1), (x2, y2) = (tuple(map(float, at.split(","))) for at in (start, end))
        long.append(abs(x2 - x1) + abs(y2 - y1))
    assert max(long) <= 11.1
    assert len({round(each, 1) for each in long}) > 10  # no pattern of dashes
    assert not [one for one in worn if one.get("stroke-dasharray")]


def test_leaf_lies_unevenly_with_faint_laps_and_a_warm_shine_along_its_steps():
    """Leaves of about 80 mm; hand-laid ones are not spaced like boards, and gold mirrors the light in its own hue."""
    gilt = FrameLook.described(
        Colour.parse("#ab8646"), "gilt leaf", "Orrery step 45", ProfileShape.STEPPED
    )
    (frame,) = of_class(read(front(WIDE, Look(frames=(gilt,)))), "frame")
    laps = next(
        one for one in frame if one.get("stroke-opacity") and float(one.get("stroke-opacity")) < 0.2
    )
    starts = [line.split("L")[0].split(",") for line in laps.get("d").split("M")[1:]]
    top = sorted(float(x) for x, y in starts if float(y) == 0)
    gaps = [after - before for before, after in pairwise(top)]
    assert max(gaps) > 1.25 * min(gaps)
    shines = [one for one in frame if one.get("fill-rule") == "evenodd"]
    assert len(shines) >= 3
    lit = Colour.parse(shines[0].get("fill"))
    assert lit.red > lit.green > lit.blue + 60
    assert len(front(WIDE, Look(frames=(gilt,)))) < 12_500
