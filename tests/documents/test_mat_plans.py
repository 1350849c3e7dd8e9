"""Mats as they lie on the cutter: what stands where, worked by hand (G7, G9, G10, G20, B5)."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from app.bench import Cutter, Scale, Stops, marks_of, usual_cutter
from app.documents.kit.printing import Figures
from app.documents.ticket.back_plan import Picture, back_plan
from app.documents.ticket.cut_list import curve_in_words, slot_label, window_label
from app.documents.ticket.guide_work import guide_work
from app.documents.ticket.mat_plans import LyingMats, Table, ends_of, mat_plans, places_of
from app.documents.ticket.plan_canvas import CAPTION, FIGURE
from app.framing import Shape, UnderWay
from app.framing.window_names import in_short
from app.lengths import Length, Size, Steps, Unit, inches, mm
from app.orders import Shop
from app.orders.piece_report import findings
from app.orders.workbench import Workbench, workbench
from tests.builders.printed import EIGHT, INCHES, OVAL, SKETCH, a_shop, an_order

NO_BREAK = "\N{NO-BREAK SPACE}"

ONE = {**SKETCH, "mats.1.material": "", "mats.1.reveal": ""}
ARCH = {**ONE, "artwork.size": "200x260", "windows.0.shape": "arch", "windows.0.rise": "60"}


def a_cutter(**changes: object) -> Cutter:
    plain = Cutter(
        name="Long bench",
        cut_length=mm(1000),
        guide_reach=mm(200),
        scales=(Scale(unit=Unit.MM, step=mm("0.5")),),
        deepest_board=mm(3),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


OFFSET = a_cutter(start_offset=mm("1.5"), end_offset=mm(1))


def at_bench(typed: dict[str, str], shop: Shop) -> tuple[Workbench, Figures]:
    piece = an_order(typed, shop=shop).pieces[0]
    found = findings(piece.artwork, piece.agreed, shop)
    return workbench(piece.agreed, found, shop), Figures(piece.agreed.steps)


def lying(typed: dict[str, str], shop: Shop | None = None) -> LyingMats:
    bench, figures = at_bench(typed, shop or a_shop())
    return LyingMats(bench=bench, figures=figures, word="mat")


def rows_of(tables: tuple[Table, ...]) -> list[tuple[tuple[str, ...], ...]]:
    return [table.rows for table in tables]


def plan_of(typed: dict[str, str], layer: int = 1, room: tuple[float, float] = (70, 58)) -> Picture:
    bench, figures = at_bench(typed, a_shop())
    assert bench.plan is not None
    marks = marks_of(bench.mats[layer - 1], bench.cutter)
    return back_plan(marks, bench.plan, figures, caption=f"back of mat {layer}", room=room)


def settings_of(typed: dict[str, str], shop: Shop | None = None) -> list[tuple[str, str, str]]:
    bench, figures = at_bench(typed, shop or a_shop())
    work = guide_work(bench, figures, "mat")
    assert work is not None
    return [(row.stand.at, row.mat, row.text) for row in work.rows if row.stand]


def texts(picture: Picture) -> list[tuple[str, float, float, float]]:
    name = "{http://www.w3.org/2000/svg}"
    return [
        (text.text or "", *(float(text.attrib[key]) for key in ("x", "y", "font-size")))
        for text in ElementTree.fromstring(picture.svg).iter(f"{name}text")
    ]


# From the far end of the guide: 80, 70 for mat 1, then 76, 86 for mat 2 are the shortest way.
def test_settings_stand_in_the_order_of_work_with_their_edges() -> None:
    assert settings_of(SKETCH) == [
        ("80", "mat 1", "bottom"),
        ("70", "mat 1", "right, top, left"),
        ("76", "mat 2", "right, top, left"),
        ("86", "mat 2", "bottom"),
    ]


def test_equal_borders_are_one_setting() -> None:
    assert settings_of({**ONE, "borders.bottom": "70"}) == [("70", "mat", "all four sides")]


# Borders of mat 2 on its own edges: 70 + 3 − 3 trimmed, 80 + 3 − 3: those of mat 1.
def test_mats_on_their_own_edges_share_a_setting_and_the_guide_stays() -> None:
    shop = a_shop()
    shop = replace(shop, allowances=replace(shop.allowances, under_way=UnderWay.OWN_EDGES))
    assert settings_of({**SKETCH, "mats.1.reveal": "3"}, shop) == [
        ("80", "mat 1", "bottom"),
        ("", "mat 2", "bottom"),
        ("70", "mat 1", "right, top, left"),
        ("", "mat 2", "right, top, left"),
    ]


# 610 × 460: from the back A begins at 610 − 60 − 100 = 450, B at 320, C at 190, D at 60.
def test_positions_of_several_windows_are_given_from_the_back() -> None:
    (table,) = places_of(lying(EIGHT))
    assert table.title == "Mat from the back"
    assert table.heads == ("window", "from left", "from top")
    assert table.rows == (
        ("A", "450", "60"), ("B", "320", "60"), ("C", "190", "60"), ("D", "60", "60"),
        ("E", "450", "240"), ("F", "320", "240"), ("G", "190", "240"), ("H", "60", "240"),
    )  # fmt: skip
    assert [part.rows for part in table.parts] == [table.rows]


def test_one_plain_window_has_no_table_of_positions() -> None:
    assert places_of(lying(SKETCH)) == ()


# Windows 202 × 262 and 190 × 250; middle at 70 + 101, 70 + 131 and at 76 + 95, 76 + 125.
def test_an_oval_is_placed_by_its_middle_too() -> None:
    assert rows_of(places_of(lying(OVAL))) == [
        (("the window", "70", "70"), ("its middle", "171", "201")),
        (("the window", "76", "76"), ("its middle", "171", "201")),
    ]


# Window 190 × 250 at 70, 70 under a rise of 60: 70 + 95 from the left, 70 + 60 from the top.
def test_an_arch_is_placed_by_the_centre_of_its_arc() -> None:
    assert rows_of(places_of(lying(ARCH))) == [
        (("the window", "70", "70"), ("centre of the arc", "165", "130"))
    ]


@pytest.mark.parametrize(
    ("size", "shape", "rise", "words"),
    [
        (Size(mm(190), mm(250)), Shape.RECTANGLE, None, ""),
        (Size(mm(190), mm(300)), Shape.ARCH, mm(95), ", radius 95 over sides of 205"),
        (Size(mm(190), mm(250)), Shape.ARCH, mm(60), ", rise 60 over sides of 190"),
        (Size(mm(202), mm(262)), Shape.OVAL, None, ", half axes 101 and 131"),
        (Size(mm(140), mm(140)), Shape.OVAL, None, ", radius 70"),
    ],
)
def test_a_curve_is_told_by_what_it_is_drawn_by(
    size: Size, shape: Shape, rise: Length | None, words: str
) -> None:
    figures = Figures(Steps(unit=Unit.MM, step=mm("0.5")))
    assert curve_in_words(size, shape, rise, figures) == words


# 668.8 / 25.4 = 26.3307, in 1/32: 10.58, so 26 11/32, which is 26.34375 × 25.4 = 669.13.
def test_a_check_value_is_of_the_figure_as_it_is_printed() -> None:
    figure = Figures(Steps(unit=Unit.IN, step=inches("1/16"))).of_rule(mm("668.8"))
    assert (figure.text, figure.check) == ("26 11/32", "669.1")


# Pulled, the head comes from the edge clockwise of the one at the guide: 1.5 before the corner to
# 1 behind the next. Borders 70 70 70 80: left from 70 − 1.5 below the top to 80 − 1 above the bottom.
def test_starts_and_ends_are_told_where_the_cutter_has_offsets() -> None:
    (table,) = ends_of(lying(ONE, a_shop(cutters=(OFFSET,))))
    assert table.title == "Mat: cuts start and end"
    assert sorted(table.rows) == [
        ("bottom", "68.5 from left", "69 from right"),
        ("left", "68.5 from top", "79 from bottom"),
        ("right", "78.5 from bottom", "69 from top"),
        ("top", "68.5 from right", "69 from left"),
    ]


def test_without_offsets_cuts_run_from_crossing_to_crossing_and_nothing_is_told() -> None:
    assert ends_of(lying(SKETCH)) == ()


# Window 190 × 250 under a rise of 60: straight sides from 70 + 60 = 130 below the top.
def test_the_sides_of_an_arch_end_where_it_begins() -> None:
    (table,) = ends_of(lying(ARCH))
    assert sorted(table.rows) == [
        ("bottom", "70 from left", "70 from right"),
        ("left", "130 from top", "80 from bottom"),
        ("right", "80 from bottom", "130 from top"),
    ]


# Mat 2 lies 6 further in on every side: 74.5 and 75 where mat 1 has 68.5 and 69, 84.5 and 85 where it has 78.5 and 79.
def test_mats_of_one_window_stand_beside_each_other() -> None:
    (table,) = ends_of(lying(SKETCH, a_shop(cutters=(OFFSET,))))
    assert table.said == "Where cuts start and end, each from its edge"
    assert [head.replace(NO_BREAK, " ") for head in table.heads] == [
        "cut", "mat 1 start", "mat 1 end", "mat 2 start", "mat 2 end",
    ]  # fmt: skip
    assert sorted(table.rows) == [
        ("bottom, left to right", "68.5", "69", "74.5", "75"),
        ("left, top to bottom", "68.5", "79", "74.5", "85"),
        ("right, bottom to top", "78.5", "69", "84.5", "75"),
        ("top, right to left", "68.5", "69", "74.5", "75"),
    ]


def test_where_a_stop_binds_one_end_only_the_other_has_a_column() -> None:
    cutter = replace(OFFSET, stops=Stops(near=True), arm_reach=mm(1000))
    (table,) = ends_of(lying(SKETCH, a_shop(cutters=(cutter,))))
    assert table.said == "Where cuts start"
    assert sorted(table.rows) == [
        ("bottom, from left", "68.5", "74.5"),
        ("left, from top", "68.5", "74.5"),
        ("right, from bottom", "78.5", "84.5"),
        ("top, from right", "68.5", "74.5"),
    ]


# Borders 2 1/2 and 3 in, mat 2 1/4 further in; cuts begin 1/16 before and end 1/32 behind a corner: 2 7/16 and 2 15/32
# from an edge of 2 1/2. Four such figures in a row have no room in a column of small paper.
def test_longer_figures_have_a_row_for_each_end() -> None:
    cutter = replace(usual_cutter(Unit.IN), start_offset=inches("1/16"), end_offset=inches("1/32"))
    typed = {**INCHES, "mats.1.material": "M2", "mats.1.reveal": "1/4"}
    (table,) = ends_of(lying(typed, a_shop(Unit.IN, cutters=(cutter,))))
    assert table.said == "Where cuts start and end"
    assert len(table.rows) == 8
    assert ("top starts, from right", "2 7/16", "2 11/16") in table.rows
    assert ("top ends, from left", "2 15/32", "2 23/32") in table.rows


def test_mats_of_several_windows_have_a_table_each() -> None:
    typed = {**EIGHT, "mats.1.material": "M2", "mats.1.reveal": "4"}
    first, second = ends_of(lying(typed, a_shop(cutters=(OFFSET,))))
    assert first.said == "Mat 1: cuts start and end"
    assert second.said == "Mat 2: cuts start and end"


# A and E begin alike, 450 from the left; with 8 windows 4 starts above, 4 below and 2 at each side.
def test_cuts_that_start_and_end_alike_stand_in_one_row() -> None:
    (table,) = ends_of(lying(EIGHT, a_shop(cutters=(OFFSET,))))
    said = {cuts: (start, end) for cuts, start, end in table.rows}
    assert len(said) == 12
    assert said["left of A–D"] == ("58.5 from top", "249 from bottom")
    assert said["bottom of A, E"] == ("448.5 from left", "59 from right")


@pytest.mark.parametrize("room", [(70.0, 58.0), (44.0, 32.0)])
def test_the_plan_has_its_figures_at_their_sides_and_12_points_high(
    room: tuple[float, float],
) -> None:
    picture = plan_of({**SKETCH, "borders.left": "61", "borders.right": "74"}, room=room)
    at = {text: x for text, x, _, _ in texts(picture)}
    assert at["74"] < at["70"] < at["61"]  # from the back the right border lies at the left
    sizes = {text: size for text, _, _, size in texts(picture)}
    assert sizes["74"] == pytest.approx(FIGURE, abs=0.01)
    assert pytest.approx(12 * 25.4 / 72) == FIGURE
    assert pytest.approx(9.5 * 25.4 / 72) == CAPTION
    assert min(sizes.values()) == pytest.approx(CAPTION, abs=0.01)
    assert picture.width <= room[0] + 1e-9
    assert picture.height <= room[1] + 1e-9


def test_each_border_has_the_number_of_its_setting() -> None:
    numbers = [text for text, *_ in texts(plan_of(SKETCH)) if len(text) == 1]
    assert sorted(numbers) == ["1", "2", "2", "2"]


# Settings 1 to 3 are 190, 70, 60; beyond the reach of 200 lie 240, 250, 320, 450, cut by straight-edge. Measured from
# the left edge as it lies the lines stand along the top: D's at 60, C's at 190, B's at 320, A's at 450.
def test_of_several_windows_each_guide_line_has_the_number_of_its_setting() -> None:
    picture = plan_of(EIGHT)
    found = texts(picture)
    letters = {text: (x, y) for text, x, y, _ in found if text in "ABCDEFGH"}
    assert [name for name, _ in sorted(letters.items(), key=lambda item: item[1][::-1])] == [
        "D", "C", "B", "A", "H", "G", "F", "E",
    ]  # fmt: skip
    rings = [(x, y, text) for text, x, y, _ in found if text.isdigit() or text == "SE"]
    assert [text for _, y, text in sorted(rings) if y < 6] == ["3", "1", "SE", "SE"]
    assert len(rings) == 12


def test_a_plan_says_in_words_what_it_shows() -> None:
    assert plan_of(SKETCH, 2).words == (
        "back of mat 2. Borders: left 76, right 76, top 76, bottom 86."
    )
    assert plan_of(EIGHT).words == "back of mat 1. 8 windows, 12 guide lines."


def test_equal_windows_are_named_together() -> None:
    assert window_label([], Shape.RECTANGLE) == "window"
    assert window_label(["B"], Shape.OVAL) == "window B, oval"
    assert window_label(list("ABCDEFGH"), Shape.RECTANGLE) == "8 windows A–H"
    assert slot_label(["D", "E"]) == "2 title slots under D, E"


@pytest.mark.parametrize(
    ("names", "short"),
    [
        ("ABCD", "A–D"),
        ("AB", "A, B"),
        ("ACD", "A, C, D"),
        ("ABCEFGX", "A–C, E–G, X"),
        (["left", "right"], "left, right"),
        (["A", "A slot", "B"], "A, A slot, B"),
    ],
)
def test_letters_that_follow_one_another_are_told_by_the_first_and_the_last(
    names: str | list[str], short: str
) -> None:
    assert in_short(names) == short


TWO_STOPS = replace(OFFSET, stops=Stops(near=True, far=True))
ONE_STOP = replace(OFFSET, stops=Stops(near=True))


def test_between_two_stops_no_start_and_no_end_is_told() -> None:
    assert ends_of(lying(ONE, a_shop(cutters=(TWO_STOPS,)))) == ()
    assert ends_of(lying(ARCH, a_shop(cutters=(TWO_STOPS,)))) == ()


def test_with_one_stop_only_the_other_ends_are_told() -> None:
    """Pulled, the cut ends at the near stop; starts as without one."""
    (table,) = ends_of(lying(ONE, a_shop(cutters=(ONE_STOP,))))
    assert (table.title, table.heads) == ("Mat: cuts start", ("cut", "start"))
    assert sorted(table.rows) == [
        ("bottom", "68.5 from left"),
        ("left", "68.5 from top"),
        ("right", "78.5 from bottom"),
        ("top", "68.5 from right"),
    ]


def drawn_with(cutter: Cutter, typed: dict[str, str] = ONE) -> ElementTree.Element:
    bench, figures = at_bench(typed, a_shop(cutters=(cutter,)))
    assert bench.plan is not None
    marks = marks_of(bench.mats[0], bench.cutter)
    picture = back_plan(marks, bench.plan, figures, caption="back of mat", room=(70, 58))
    return ElementTree.fromstring(picture.svg)


def dots(root: ElementTree.Element) -> int:
    """Dots at the starts of cuts; the discs of settings are no circles but one path."""
    circles = root.iter("{http://www.w3.org/2000/svg}circle")
    return sum(circle.get("fill") == "#000" for circle in circles)


def dashed(root: ElementTree.Element) -> int:
    return sum(
        one.get("stroke-dasharray") == "1.2 0.9"
        for one in root.iter("{http://www.w3.org/2000/svg}path")
    )


def test_what_stops_make_needless_is_not_drawn_on_paper() -> None:
    """A dot for each start that is marked; without a mark, no line has to cross another in a corner."""
    drawn = [drawn_with(cutter) for cutter in (OFFSET, ONE_STOP, TWO_STOPS)]
    assert [dots(one) for one in drawn] == [4, 4, 0]
    assert [dashed(one) for one in drawn] == [1, 1, 0]
    far = drawn_with(replace(OFFSET, stops=Stops(far=True)))
    assert (dots(far), dashed(far)) == (0, 1)


def test_of_several_windows_the_lines_stay_that_settings_are_read_at() -> None:
    assert dashed(drawn_with(TWO_STOPS, EIGHT)) == 1


def boxes(picture: Picture) -> list[tuple[float, float]]:
    """(left, right) of what is drawn as a rectangle."""
    root = ElementTree.fromstring(picture.svg)
    found = [
        (float(one.attrib["x"]), float(one.attrib["width"]))
        for one in root.iter("{http://www.w3.org/2000/svg}rect")
    ]
    return [(x, x + width) for x, width in found]


# Mat 2 of the sketch is 3 smaller at each edge of 562: at 70 mm of paper not even half a millimetre.
def test_a_smaller_mat_is_drawn_a_millimetre_inside_the_edge_it_is_measured_from() -> None:
    (whole, *_), (smaller, *_) = boxes(plan_of(SKETCH)), boxes(plan_of(SKETCH, 2))
    assert smaller[0] - whole[0] == pytest.approx(1, abs=0.01)
    assert whole[1] - smaller[1] == pytest.approx(1, abs=0.01)


def test_a_smaller_mat_says_from_whose_edge_it_is_measured() -> None:
    first, second = mat_plans(lying(SKETCH), room=(70, 58))
    assert "edge" not in first.words
    assert second.words.startswith("back of mat 2, from mat 1’s edge. ")
    assert second.caption == ""
    narrow = mat_plans(lying(SKETCH), room=(24, 20))
    assert [each.caption for each in narrow] == [
        "back of mat 1",
        "back of mat 2, from mat 1’s edge",
    ]
