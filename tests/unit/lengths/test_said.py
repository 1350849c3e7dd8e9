"""Sizes as said (L4): which bare sizes are asked about, and which reading is drawn meanwhile.

Source of the rule and of its examples: handbook L4. Usual sizes: ISO 216, and photographs and frames that
are common practice, as the table of standard sizes names its sources. The longest sheet of the price book
is 1200 mm unless a case says otherwise.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.lengths import Length, Size, Unit, inches, mm, parse_size
from app.lengths.reading import is_bare_size
from app.lengths.said import doubt_about, doubt_about_border, mark_bare, with_mark

LONGEST = mm(1200)

ASKED: list[tuple[Unit, str, str]] = [
    # L4: centimetres said in a shop of millimetres. 50 is under 60 mm; 50 × 70 cm is a usual frame.
    (Unit.MM, "50x70", "50x70 cm"),
    (Unit.MM, "30 x 40", "30 x 40 cm"),  # usual in inches too: metric wins
    (Unit.MM, "40 x 30", "40 x 30 cm"),
    (Unit.MM, "42 x 29.7", "42 x 29.7 cm"),  # A3, ISO 216
    (Unit.MM, "42 x 29,7", "42 x 29,7 cm"),
    (Unit.MM, "29,7 × 42", "29,7 × 42 cm"),
    (Unit.MM, "21 by 29.7", "21 by 29.7 cm"),  # A4
    (Unit.MM, "59.4 x 84.1", "59.4 x 84.1 cm"),  # A1
    (Unit.MM, "13x18", "13x18 cm"),  # a photograph
    (Unit.MM, "10 x 15", "10 x 15 cm"),
    # L4: inches said in a shop of millimetres: usual frames and photographs that centimetres do not know.
    (Unit.MM, "16 x 20", "16 x 20 in"),
    (Unit.MM, "8 x 10", "8 x 10 in"),
    (Unit.MM, "20x16", "20x16 in"),
    (Unit.MM, "11 x 14", "11 x 14 in"),
    (Unit.MM, "24 x 36", "24 x 36 in"),
    (Unit.MM, "8.5 x 11", "8.5 x 11 in"),  # Letter: a size with a name beats one without
    (Unit.MM, "15 3/4 x 19 1/2", "15 3/4 x 19 1/2 in"),  # fractions are said of inches
    (Unit.MM, "15¾ × 19½", "15¾ × 19½ in"),
    (Unit.MM, "33 x 47", "33 x 47 cm"),  # no usual size in either; centimetres come first
    # Only one reading of the three is an artwork.
    (Unit.MM, "41 x 93", "41 x 93 cm"),  # 93 in = 2362 mm are over the longest sheet
    (Unit.MM, "5 x 7", "5 x 7 in"),  # 5 cm are under 60 mm
    # L4: both under 130 mm and the same numbers a usual size in centimetres.
    (Unit.MM, "70 x 100", "70 x 100 cm"),
    (Unit.MM, "100x70", "100x70 cm"),
    (Unit.MM, "60 x 80", "60 x 80 cm"),
    (Unit.MM, "60 x 90", "60 x 90 cm"),
    # L4: millimetres said in a shop of inches. 400 in are over any sheet.
    (Unit.IN, "400 x 500", "400 x 500 mm"),
    (Unit.IN, "297 x 420", "297 x 420 mm"),
    (Unit.IN, "210x297", "210x297 mm"),
    (Unit.IN, "380 x 510", "380 x 510 mm"),
    (Unit.IN, "50x70", "50x70 cm"),  # 70 in = 1778 mm are over the longest sheet
    (Unit.IN, "60 x 80", "60 x 80 cm"),
]

NOT_ASKED: list[tuple[Unit, str]] = [
    # A usual artwork as it is read.
    (Unit.MM, "297 x 420"),
    (Unit.MM, "400 x 500"),
    (Unit.MM, "420 x 297"),
    (Unit.MM, "410x310"),
    (Unit.MM, "100 x 150"),  # one side is not under 130 mm
    (Unit.MM, "90 x 130"),  # 130 is not under 130
    (Unit.MM, "60 x 60"),  # neither under 60 nor a usual size in cm or inches
    (Unit.MM, "74 x 105"),  # A7, no usual size in cm or inches
    (Unit.MM, "100 x 120"),
    (Unit.MM, "62 x 88"),  # B8
    (Unit.MM, "1200 x 900"),  # not over the longest sheet
    (Unit.IN, "16 x 20"),
    (Unit.IN, "16x20"),
    (Unit.IN, "8 x 10"),
    (Unit.IN, "30 x 40"),  # 40 in = 1016 mm
    (Unit.IN, "15 3/4 x 20"),
    (Unit.IN, "4 x 6"),
    (Unit.IN, "3.5 x 5"),  # 5 is not under 5
    (Unit.IN, "2 3/8 x 3"),  # 2 3/8 is not under 2 3/8
    # No artwork in any reading: there is nothing to ask.
    (Unit.MM, "2 x 1000"),
    (Unit.MM, "1 x 2"),
    (Unit.IN, "1 x 2"),
    (Unit.MM, "3000 x 300"),
    (Unit.MM, "55 x 400"),  # 400 cm are over any sheet
    # A mark always wins and is never asked about.
    (Unit.MM, "50x70 mm"),
    (Unit.MM, "50x70 cm"),
    (Unit.MM, "50x70 in"),
    (Unit.MM, '16 x 20"'),
    (Unit.MM, "16'' x 20''"),
    (Unit.MM, "1' x 16"),
    (Unit.MM, "50 mm x 70"),
    (Unit.MM, "50 x 70mm"),
    (Unit.IN, "400 x 500 mm"),
    (Unit.IN, "40 x 50 cm"),
    # So does a name.
    (Unit.MM, "A3"),
    (Unit.MM, "a9"),
    (Unit.IN, "A3 landscape"),
    # What cannot be read is another fault's.
    (Unit.MM, "16x"),
    (Unit.MM, "16"),
    (Unit.MM, "16 x 20 x 3"),
    (Unit.MM, "0 x 40"),
    (Unit.MM, "-16 x 20"),
    (Unit.MM, "wide"),
    (Unit.MM, ""),
    (Unit.MM, "7" * 100),
]


@pytest.mark.parametrize(("unit", "text", "likely"), ASKED)
def test_a_bare_size_that_is_no_usual_artwork_is_asked_about(
    unit: Unit, text: str, likely: str
) -> None:
    doubt = doubt_about(text, unit=unit, longest=LONGEST)
    assert (doubt.likely if doubt else "") == likely


@pytest.mark.parametrize(("unit", "text"), NOT_ASKED)
def test_a_usual_artwork_a_mark_and_a_name_are_not_asked_about(unit: Unit, text: str) -> None:
    assert doubt_about(text, unit=unit, longest=LONGEST) is None


@pytest.mark.parametrize(
    ("longest", "likely"),
    [
        (mm(1500), None),  # 58 in = 1473.2 mm lie on such a sheet
        (mm("1473.2"), None),
        (mm(1473), "40 x 58 cm"),
    ],
)
def test_the_longest_sheet_says_what_is_too_long(longest: Length, likely: str | None) -> None:
    doubt = doubt_about("40 x 58", unit=Unit.IN, longest=longest)
    assert (doubt and doubt.likely) == likely


def test_without_a_sheet_in_the_price_book_a_long_board_of_the_trade_counts() -> None:
    """2440 mm, of a board of 8 × 4 ft (common practice): 96 in = 2438.4 mm are no longer, 97 in are."""
    assert doubt_about("40 x 96", unit=Unit.IN) is None
    doubt = doubt_about("40 x 97", unit=Unit.IN)
    assert doubt is not None
    assert doubt.likely == "40 x 97 cm"


def test_the_answers_are_all_the_sizes_that_may_be_meant_the_likely_one_first() -> None:
    doubt = doubt_about("50x70", unit=Unit.MM, longest=LONGEST)
    assert doubt is not None
    assert doubt.answers == ("50x70 cm", "50x70 in", "50x70 mm")
    said_in_inches = doubt_about("16 x 20", unit=Unit.MM, longest=LONGEST)
    assert said_in_inches is not None
    assert said_in_inches.answers == ("16 x 20 in", "16 x 20 cm", "16 x 20 mm")


def test_what_is_over_ten_metres_is_no_answer() -> None:
    """500 in = 12.7 m (L1)."""
    doubt = doubt_about("400 x 500", unit=Unit.IN, longest=LONGEST)
    assert doubt is not None
    assert doubt.answers == ("400 x 500 mm", "400 x 500 cm")


@pytest.mark.parametrize(
    ("text", "marked", "size"),
    [
        ("50x70", "50x70 cm", Size(mm(500), mm(700))),
        (" 50 x 70 ", " 50 x 70 cm ", Size(mm(500), mm(700))),
        ("42 x 29,7", "42 x 29,7 cm", Size(mm(420), mm(297))),
        ("50x70.", "50x70. cm", Size(mm(500), mm(700))),
        ("30 x 40 landscape", "30 x 40 cm landscape", Size(mm(400), mm(300))),
        ("30 x 40 (landscape)", "30 x 40 cm (landscape)", Size(mm(400), mm(300))),
        ("20h x 16w", "20h x 16 cm w", Size(mm(160), mm(200))),
        ("20 high by 16 wide", "20 high by 16 cm wide", Size(mm(160), mm(200))),
        ("w 16 x h 20", "w 16 x h 20 cm", Size(mm(160), mm(200))),
        ("15¾ × 19½", "15¾ × 19½ cm", Size(mm("157.5"), mm(195))),
        ("15 3/4 x 19 1/2", "15 3/4 x 19 1/2 cm", Size(mm("157.5"), mm(195))),
    ],
)
def test_a_mark_is_put_where_it_is_read_for_both_sides(text: str, marked: str, size: Size) -> None:
    assert with_mark(text, "cm") == marked
    assert parse_size(with_mark(text, "cm"), unit=Unit.IN) == size


_number = st.decimals("0.1", "390", places=1).map(str)


@given(_number, _number, st.sampled_from(Unit), st.integers(300, 3000).map(mm))
def test_an_answer_is_the_same_numbers_in_its_unit_and_is_never_asked_about(
    width: str, height: str, unit: Unit, longest: Length
) -> None:
    text = f"{width} x {height}"
    sides = {
        "mm": Size(mm(width), mm(height)),
        "cm": Size(mm(width) * 10, mm(height) * 10),
        "in": Size(inches(width), inches(height)),
    }
    assert is_bare_size(text)
    for mark, size in sides.items():
        assert parse_size(with_mark(text, mark), unit=unit) == size
    doubt = doubt_about(text, unit=unit, longest=longest)
    for answer in doubt.answers if doubt else ():
        assert not is_bare_size(answer)
        assert doubt_about(answer, unit=unit, longest=longest) is None


@pytest.mark.parametrize(
    ("border", "size", "answers"),
    [
        ("3", '16x20"', ("3 in", "3 mm")),
        ("2 1/2", "16 x 20 in", ("2 1/2 in", "2 1/2 mm")),
        ("6", "16 x 20 inches", ("6 in", "6 mm")),
        ("3", "16” x 20”", ("3 in", "3 mm")),
    ],
)
def test_a_bare_border_beside_a_size_in_inches_is_asked_about(
    border: str, size: str, answers: tuple[str, ...]
) -> None:
    """L4: borders of 1 to 6 in are usual of mats, of 1 to 6 mm none are."""
    doubt = doubt_about_border(border, size)
    assert doubt is not None
    assert doubt.answers == answers


@pytest.mark.parametrize(
    ("border", "size"),
    [
        ("60", '16x20"'),
        ("6.5", '16x20"'),
        ("3 mm", '16x20"'),
        ('3"', '16x20"'),
        ("3", "16x20"),
        ("3", "400 x 500"),
        ("3", "A4"),
        ("", '16x20"'),
        ("three", '16x20"'),
        ("0", '16x20"'),
    ],
)
def test_other_borders_are_as_they_are_read(border: str, size: str) -> None:
    assert doubt_about_border(border, size) is None


@pytest.mark.parametrize(
    ("typed", "marked"),
    [
        ("3", "3 mm"),
        ("2,5", "2,5 mm"),
        ("400 x 500", "400 x 500 mm"),
        ("400 x 500 landscape", "400 x 500 mm landscape"),
        ("3 in", "3 in"),
        ('16x20"', '16x20"'),
        ("A4", "A4"),
        ("", ""),
        ("wide", "wide"),
    ],
)
def test_what_was_read_bare_is_marked_with_its_unit(typed: str, marked: str) -> None:
    assert mark_bare(typed, Unit.MM) == marked
