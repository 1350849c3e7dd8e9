"""The measured view; figures worked by hand as in the handbook's rules G1 to G18."""

from app.drawings import measured
from app.framing import Dimensions, work_out
from app.lengths import Steps, Unit, inches, mm
from tests.builders.drawn import SVG, borders, many, mat, moulding, read, sketch, spec, texts

MANY = many()


def figures(dimensions: Dimensions, unit: Unit = Unit.MM, steps: Steps | None = None) -> list[str]:
    return [one.text for one in texts(read(measured(dimensions, unit, steps)))]


def test_the_sketch_shows_every_dimension_that_a_framer_asks_for():
    said = figures(sketch())
    for figure in (
        "outside 603", "outside 490", "glass size 562", "glass size 449", "rebate 565", "rebate 452",
        "sight 553", "sight 440", "window of mat 1: 422", "window of mat 1: 299", "window of mat 2: 410",
        "window of mat 2: 287", "artwork 420", "artwork 297", "reveal 6", "face 25",
    ):  # fmt: skip
        assert said.count(figure) == 1, figure
    # Left, right and top borders 70, bottom 80.
    assert said.count("70") == 3
    assert said.count("80") == 1


def test_no_figure_stands_on_the_piece():
    for name, dimensions in MANY.items():
        outside = dimensions.outside
        width, height = float(outside.width.mm), float(outside.height.mm)
        for one in texts(read(measured(dimensions, Unit.MM))):
            clear = one.right <= 0 or one.left >= width or one.bottom <= 0 or one.top >= height
            assert clear, (name, one)


def test_borders_stand_beside_their_own_side():
    dimensions = work_out(
        spec(400, 300, mats=(mat(),), borders=borders(61, 62, 63, 84), frames=(moulding(),))
    )
    where = {one.text: one for one in texts(read(measured(dimensions, Unit.MM)))}
    # Package 390 + 123 by 290 + 147, at 17.5 within the outside of 551 by 475.
    assert 17.5 <= where["61"].left < where["61"].right <= 17.5 + 61 + 1
    assert where["62"].left >= 17.5 + 61 + 390 - 1
    assert where["63"].right <= 0
    assert where["63"].bottom <= 17.5 + 63
    assert where["84"].top >= 17.5 + 63 + 290


def test_figures_follow_the_shops_steps_where_they_are_given():
    dimensions = work_out(
        spec(1, 1, artwork=sketch().spec.artwork, overlap=mm("4.7"), mats=(mat(),),
             borders=borders(70, 70, 70, 80), frames=(moulding(),))
    )  # fmt: skip
    # 420 - 9.4 = 410.6; to the nearest 0.5: 410.5 (L2). The artwork stays as it is.
    assert "window 410.6" in figures(dimensions)
    stepped = figures(dimensions, steps=Steps(unit=Unit.MM, step=mm("0.5")))
    assert "window 410.5" in stepped
    assert "artwork 420" in stepped


def test_inches_are_fractions_and_the_unit_is_said():
    said = figures(MANY["inches"], Unit.IN, Steps(unit=Unit.IN, step=inches("1/16")))
    assert "artwork 10 3/8" in said
    # 10 3/8 - 2 × 3/16 = 10; above it 2 × 1/4 larger.
    assert "window of mat 2: 10" in said
    assert "window of mat 1: 10 1/2" in said
    assert any("inches" in text for text in said)


def test_the_gap_of_a_float_and_of_a_tray_is_shown():
    assert "gap 10" in figures(MANY["float"])
    tray = figures(MANY["tray"])
    assert {"gap 5", "wall 9", "inside of tray 510", "inside of tray 410"} <= set(tray)
    assert not any(text.startswith(("rebate", "sight")) for text in tray)


def test_two_frames_each_show_their_face_rebate_and_sight():
    said = set(figures(MANY["two frames"]))
    assert {"face 1: 12", "face 2: 45", "rebate 2: 550", "sight 2: 538", "outside 628"} <= said


def test_extension_lines_give_way_to_figures():
    root = read(measured(MANY["panorama"], Unit.MM))
    boxes = texts(root)
    for one in root.iter(f"{SVG}path"):
        if one.get("class") != "extension":
            continue
        for stroke in (one.get("d") or "").split("M")[1:]:
            (x1, y1), (x2, y2) = (tuple(map(float, p.split(","))) for p in stroke.split("L"))
            left, right, top, bottom = min(x1, x2), max(x1, x2), min(y1, y2), max(y1, y2)
            for box in boxes:
                apart = (
                    right <= box.left or left >= box.right
                    or bottom <= box.top or top >= box.bottom
                )  # fmt: skip
                assert apart, (box, stroke)
