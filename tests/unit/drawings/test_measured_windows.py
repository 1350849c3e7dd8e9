"""Several windows in the measured view; figures by hand from G1, G3, G4 and G9."""

from app.drawings import measured, measured_for_a_phone, section
from app.framing import Dimensions
from app.lengths import Steps, Unit, mm
from tests.builders.drawn import Written, read, texts
from tests.unit.drawings.several import arch, eight, many_windows, oval, uneven

MANY = many_windows()


def written(dimensions: Dimensions, unit: Unit = Unit.MM) -> list[Written]:
    return texts(read(measured(dimensions, unit)))


def said(dimensions: Dimensions) -> list[str]:
    return [one.text.replace("\u00a0", " ") for one in written(dimensions)]


def notes(dimensions: Dimensions) -> str:
    return " ".join(said(dimensions))


def test_eight_equal_windows_have_their_figures_once():
    figures = said(eight())
    for figure, times in {
        "A 100": 1, "A 150": 1, "B 100": 0, "E 150": 0,
        # The gap across and the gap down; left, right and top border; the bottom one.
        "25": 2, "60": 3, "70": 1, "glass size 595": 1, "glass size 455": 1,
    }.items():  # fmt: skip
        assert figures.count(figure) == times, figure
    assert "Windows: A to H 100 × 150." in notes(eight())
    assert "Artworks: A to H 110 × 160." in notes(eight())
    assert "Equal figures in a row stand once." in notes(eight())


def test_for_a_phone_the_notes_stand_apart_and_the_figures_are_the_same():
    drawing = measured_for_a_phone(eight(), Unit.MM)
    figures = {one.text for one in texts(read(drawing.svg))}
    assert {"A 100", "A 150", "25", "60", "70", "glass size 595", "glass size 455"} < figures
    assert not any("Windows" in text for text in figures)
    beneath = " ".join(drawing.notes).replace("\u00a0", " ")
    assert beneath.startswith("All figures in millimetres.")
    assert "Windows: A to H 100 × 150." in beneath


def test_each_window_has_its_name_inside_it():
    names = {one.text: one for one in written(eight()) if len(one.text) == 1}
    assert sorted(names) == list("ABCDEFGH")
    # C begins at 20.5 + 60 + 2 × 125, G is under it.
    assert 330.5 < names["C"].left < names["C"].right < 430.5
    assert 80.5 < names["C"].top < names["C"].bottom < 230.5
    assert 255.5 < names["G"].top < names["G"].bottom < 405.5


def test_rows_of_other_widths_are_measured_below():
    figures = said(MANY["three over two"])
    # Above 140 + 12, 90 + 12, 110 + 12 (G1, G3); below 190 + 12 and 80 + 12, centred in a field
    # of 152 + 102 + 122 + 50 = 426: 60 + (426 - 202 - 92 - 25) / 2 = 113.5.
    for figure in ("A 152", "B 102", "C 122", "D 202", "E 92", "reveal 6"):
        assert figures.count(figure) == 1, figure
    assert figures.count("113.5") == 2
    # Down: the taller of each row, 140 + 12 and 130 + 12.
    assert {"B 152", "E 142", "30"} <= set(figures)


def test_windows_of_every_mat_are_listed_with_what_is_behind_them():
    words = notes(MANY["three mats"])
    assert "Windows of mat 1: A to D 120 × 170." in words
    assert "Windows of mat 2: A to D 108 × 158." in words
    assert "Windows of mat 3: A to D 100 × 150." in words


def test_placed_windows_show_their_outer_borders_and_all_else_in_words():
    figures = said(uneven())
    # A begins at 60; C ends at 530 + 110 + 12 = 652 of 700: 48 are left. 652 - 60 = 592.
    assert {"60", "all windows 592", "48"} <= set(figures)
    words = notes(uneven())
    assert "C round 122 × 122" in words
    assert "title slot D 102 × 24" in words
    assert "D 300 × 140 floating by 10" in words


def test_a_title_slot_stands_in_the_chain_under_its_window():
    figures = said(MANY["title slot and groove"])
    # Window 240 + 10 by 340 + 10, slot 18 + 10.
    assert {"A 250", "A 350", "35", "slot 28"} <= set(figures)
    assert "Grooves 10 outside the windows at the face." in notes(MANY["title slot and groove"])


def test_an_arch_says_its_rise_and_its_straight_sides():
    assert {"rise 80", "side 310"} <= set(said(arch()))
    assert "arched 290 × 390 with a rise of 80" in notes(arch())
    assert "oval 290 × 390" in notes(oval())


def test_figures_of_several_windows_follow_the_shops_steps():
    steps = Steps(unit=Unit.MM, step=mm(1))
    figures = [one.text for one in texts(read(measured(MANY["three over two"], Unit.MM, steps)))]
    # 113.5 on either side becomes 113 and, since remainders go to the right, 114 (G9).
    assert figures.count("113") == 1
    assert figures.count("114") == 1


def test_the_piece_is_told_in_words():
    description = read(measured(eight(), Unit.MM))[1].text or ""
    assert description.replace("\u00a0", " ").startswith(
        "8 artworks behind the windows of one mat: A to H 100 × 150, in millimetres."
    )
    assert "oval window" in (read(measured(oval(), Unit.MM))[1].text or "")


def test_the_section_goes_through_the_window_at_the_left_and_says_which():
    words = " ".join(one.text for one in texts(read(section(uneven(), Unit.MM))))
    assert "Cut through window A." in words
    assert "Cut through window" not in " ".join(
        one.text for one in texts(read(section(oval(), Unit.MM)))
    )
