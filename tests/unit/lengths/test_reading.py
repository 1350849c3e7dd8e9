# ruff: noqa: RUF001  the characters that people really type are the point
"""Every way of typing that L1 names, and more that people use."""

import pytest

from app.errors import Invalid
from app.lengths import Length, Size, Unit, inches, mm, parse_length, parse_size

FIFTEEN_AND_THREE_QUARTERS = inches("15.75")


@pytest.mark.parametrize(
    ("text", "length"),
    [
        ('15 3/4"', FIFTEEN_AND_THREE_QUARTERS),
        ('15-3/4"', FIFTEEN_AND_THREE_QUARTERS),
        ('15 - 3/4 "', FIFTEEN_AND_THREE_QUARTERS),
        ("15 and 3/4 inches", FIFTEEN_AND_THREE_QUARTERS),
        ("15 & 3/4 in.", FIFTEEN_AND_THREE_QUARTERS),
        ("15¾ in", FIFTEEN_AND_THREE_QUARTERS),
        ("15 ¾ inch", FIFTEEN_AND_THREE_QUARTERS),
        ("15¾IN", FIFTEEN_AND_THREE_QUARTERS),
        ("15³⁄₄″", FIFTEEN_AND_THREE_QUARTERS),
        ("15 3⁄4 in", FIFTEEN_AND_THREE_QUARTERS),
        ("15.75”", FIFTEEN_AND_THREE_QUARTERS),
        ("15,75''", FIFTEEN_AND_THREE_QUARTERS),
        ("63/4 in", FIFTEEN_AND_THREE_QUARTERS),
        ("1' 3 3/4\"", FIFTEEN_AND_THREE_QUARTERS),
        ("1'-3 3/4\"", FIFTEEN_AND_THREE_QUARTERS),
        ("1′ 3¾″", FIFTEEN_AND_THREE_QUARTERS),
        ("1’ 3¾”", FIFTEEN_AND_THREE_QUARTERS),
        ("1 ft 3 3/4", FIFTEEN_AND_THREE_QUARTERS),
        ("1 foot, 3 3/4 in", FIFTEEN_AND_THREE_QUARTERS),
        ("1'3\"", inches(15)),
        ("1'3", inches(15)),
        ("2ft 6in", inches(30)),
        ("2 feet and 6 inches", inches(30)),
        ("2 ft", inches(24)),
        ("2.5'", inches(30)),
        ('¾"', inches("3/4")),
        ("⅝ in", inches("5/8")),
        (".5 in", inches("1/2")),
        ("1/3 in", inches("1/3")),
        ("15,75 cm", mm("157.5")),
        ("40 cm", mm(400)),
        ("40CM.", mm(400)),
        ("40 centimetres", mm(400)),
        ("40 centimeter", mm(400)),
        ("400mm", mm(400)),
        ("400 millimetres", mm(400)),
        ("0.4 m", mm(400)),
        ("0,4 metre", mm(400)),
        ("1 m 20 cm", mm(1200)),
        ("1m, 5mm", mm(1005)),
        ("40 cm 5 mm", mm(405)),
        ("\t 40\u00a0cm \n", mm(400)),
        ("40\u202fcm", mm(400)),
        ("\ufeff\u202a40 cm\u202c", mm(400)),
        ("４０ｃｍ", mm(400)),
        ("٤٠ cm", mm(400)),
        ("10 m", mm(10_000)),
    ],
)
@pytest.mark.parametrize("unit", Unit)
def test_a_mark_wins_over_the_shops_unit(text: str, length: Length, unit: Unit) -> None:
    assert parse_length(text, unit=unit) == length


@pytest.mark.parametrize(
    ("text", "unit", "length"),
    [
        ("400", Unit.MM, mm(400)),
        ("297.5", Unit.MM, mm("297.5")),
        ("297,5", Unit.MM, mm("297.5")),
        ("400.", Unit.MM, mm(400)),
        ("1,2005", Unit.MM, mm("1.2005")),
        ("1234,567", Unit.MM, mm("1234.567")),
        ("0,125", Unit.MM, mm("0.125")),
        ("15 3/4", Unit.IN, FIFTEEN_AND_THREE_QUARTERS),
        ("15-3/4", Unit.IN, FIFTEEN_AND_THREE_QUARTERS),
        ("15.75", Unit.IN, FIFTEEN_AND_THREE_QUARTERS),
        ("63/4", Unit.IN, FIFTEEN_AND_THREE_QUARTERS),
        ("16", Unit.IN, mm("406.4")),
    ],
)
def test_a_bare_number_is_in_the_shops_unit(text: str, unit: Unit, length: Length) -> None:
    assert parse_length(text, unit=unit) == length


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "Nothing was typed"),
        (" \u200b\t", "Nothing was typed"),
        ("0", "“0” is zero"),
        ("0 in", "is zero"),
        ("-3", "“-3” is less than zero"),
        ("−15 3/4", "is less than zero"),
        ("1e9", "“1e9” cannot be read as a length"),
        ("1e3", "cannot be read as a length"),
        ("NaN", "cannot be read as a length"),
        ("inf", "cannot be read as a length"),
        ("wide", "cannot be read as a length"),
        ("🖼️", "cannot be read as a length"),
        ("15 3/4 🖼", "cannot be read as a length"),
        ("in", "cannot be read as a length"),
        ("15min", "cannot be read as a length"),
        ("--3", "cannot be read as a length"),
        ("5²", "cannot be read as a length"),
        ("1_000", "cannot be read as a length"),
        ("<b>4</b>", "“<b>4</b>” cannot be read as a length"),
        ("12 3/0", "“12 3/0” has a fraction over 0"),
        ("12 9/8", "fraction of 1 or more"),
        ("1 1/2 3", "“1 1/2 3” has two numbers"),
        ("¾3", "two numbers that do not go together"),
        ("7½2", "two numbers that do not go together"),
        ("³⁄₄5", "two numbers that do not go together"),
        ("½½", "two numbers that do not go together"),
        ("1/½", "cannot be read"),
        ("16 20", "two numbers that do not go together"),
        ("1.5 1/2", "two numbers that do not go together"),
        ("3 in 2 ft", "two numbers that do not go together"),
        ("1 ft 20 cm", "two numbers that do not go together"),
        ("1.5 ft 3 in", "fraction before its last number"),
        ("1' 15\"", "too many inches"),
        ("1' 12\"", "too many inches"),
        ("12 8/8", "fraction of 1 or more"),
        ("1,200", "may mean thousands or decimals"),
        ("1,234.5", "may mean thousands or decimals"),
        ("16x20", "“16x20” is a size"),
        ("10.001 m", "more than 10 m"),
        ("999999999999", "more than 10 m"),
        ("33 ft", "more than 10 m"),
        ("9" * 10_000, "10000 characters long; at most 80"),
        (" " * 10_000, "10000 characters long"),
        ("1 " * 5_000, "10000 characters long"),
    ],
)
@pytest.mark.parametrize("unit", Unit)
def test_what_cannot_be_read_says_why_and_what_is_allowed(text: str, says: str, unit: Unit) -> None:
    with pytest.raises(Invalid) as caught:
        parse_length(text, unit=unit, path="artwork.width")
    (fault,) = caught.value.faults
    assert fault.path == "artwork.width"
    assert says in fault.message
    assert "length such as" in fault.message
    assert len(fault.message) < 240
    assert fault.message.isprintable()


def test_zero_and_less_are_read_where_they_are_allowed() -> None:
    assert parse_length("0", unit=Unit.MM, zero_ok=True) == mm(0)
    assert parse_length("-3", unit=Unit.MM, negative_ok=True) == mm(-3)
    assert parse_length("−1' 3 3/4\"", unit=Unit.MM, negative_ok=True) == inches("-63/4")
    with pytest.raises(Invalid, match="zero or more is wanted"):
        parse_length("-3", unit=Unit.MM, zero_ok=True)
    with pytest.raises(Invalid, match="more than 10 m"):
        parse_length("-11 m", unit=Unit.MM, negative_ok=True)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("30 x 40 cm", Size(mm(300), mm(400))),
        ("30cmx40cm", Size(mm(300), mm(400))),
        ("40 cm x 50", Size(mm(400), mm(500))),
        ('16x20"', Size(inches(16), inches(20))),
        ('16" x 20"', Size(inches(16), inches(20))),
        ('16" × 20', Size(inches(16), inches(20))),
        ("16in by 20in", Size(inches(16), inches(20))),
        ('15 3/4 x 20 1/2"', Size(inches("63/4"), inches("41/2"))),
        ("8½ × 11 in", Size(inches("17/2"), inches(11))),
        ("2' x 3'", Size(inches(24), inches(36))),
        ("1'3 x 2'", Size(inches(15), inches(24))),
        ("1' 3\" X 20", Size(inches(15), inches(20))),
        ("30 cm x 16 in", Size(mm(300), inches(16))),
        ("20 X 16 in", Size(inches(20), inches(16))),
        ("20 in × 16 in portrait", Size(inches(16), inches(20))),
        ("16x20in landscape", Size(inches(20), inches(16))),
        ('16"w x 20"h', Size(inches(16), inches(20))),
        ("20h x 16 in w", Size(inches(16), inches(20))),
        ("20 in high by 16 in wide", Size(inches(16), inches(20))),
        ("20 in tall x 16 in", Size(inches(16), inches(20))),
        ("20 x 16 in w", Size(inches(16), inches(20))),
        ("16 x 20 in h", Size(inches(16), inches(20))),
        ("W 30 cm x H 40 cm", Size(mm(300), mm(400))),
        ("height 40 x width 30 cm", Size(mm(300), mm(400))),
        ("DIN A3", Size(mm(297), mm(420))),
        ("a3", Size(mm(297), mm(420))),
        (" A3 ", Size(mm(297), mm(420))),
        ("A 3", Size(mm(297), mm(420))),
        ("Ａ３", Size(mm(297), mm(420))),
        ("A3 landscape", Size(mm(420), mm(297))),
        ("a3, landscape", Size(mm(420), mm(297))),
        ("A3 (Landscape)", Size(mm(420), mm(297))),
        ("a3-portrait", Size(mm(297), mm(420))),
        ("Letter", Size(inches("8.5"), inches(11))),
        ("ansi b landscape", Size(inches(17), inches(11))),
        ("Arch D", Size(inches(24), inches(36))),
    ],
)
@pytest.mark.parametrize("unit", Unit)
def test_a_size_is_width_by_height_and_one_mark_is_for_both(
    text: str, size: Size, unit: Unit
) -> None:
    assert parse_size(text, unit=unit) == size


@pytest.mark.parametrize("text", ["400 × 500", "400*500", "400x500", "400 by 500", "400by500"])
def test_a_bare_size_is_in_the_shops_unit(text: str) -> None:
    assert parse_size(text, unit=Unit.MM) == Size(mm(400), mm(500))


def test_a_bare_size_in_inches_takes_fractions() -> None:
    assert parse_size("15-3/4 x 20", unit=Unit.IN) == Size(inches("63/4"), inches(20))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "Nothing was typed"),
        ("16", "“16” is one length; two are wanted"),
        ("16x", "“16x” lacks a length"),
        ("x", "lacks a length"),
        ("16 x 20 x 3", "“16 x 20 x 3” is 3 lengths; two are wanted"),
        ("0 x 20", "a side of 0"),
        ("-3 x 4", "a side of −3"),
        ("16 x 11 m", "more than 10 m"),
        ("1e3 x 4", "cannot be read"),
        ("12 3/0 x 4", "fraction over 0"),
        ("16w x 20w", "names the same side twice"),
        ("A11", "cannot be read"),
        ("landscape", "names no size"),
        ("🖼 x 🖼", "cannot be read"),
        ("x" * 10_000, "10000 characters long"),
    ],
)
@pytest.mark.parametrize("unit", Unit)
def test_what_is_no_size_says_why_and_that_two_are_wanted(text: str, says: str, unit: Unit) -> None:
    with pytest.raises(Invalid) as caught:
        parse_size(text, unit=unit, path="artwork")
    (fault,) = caught.value.faults
    assert fault.path == "artwork"
    assert says in fault.message
    assert "a width and a height such as" in fault.message
    assert fault.message.isprintable()


def test_eighty_characters_are_read_and_one_more_is_not() -> None:
    assert parse_size("40 x 50 cm".ljust(80), unit=Unit.MM) == Size(mm(400), mm(500))
    with pytest.raises(Invalid, match="81 characters long; at most 80 are read"):
        parse_size("40 x 50 cm".ljust(81), unit=Unit.MM)


def test_a_size_with_a_side_under_the_least_says_what_it_was_read_as():
    assert parse_size("300 x 12 in", unit=Unit.MM, least=mm(300)) == Size(inches(300), inches(12))
    with pytest.raises(Invalid) as bare:
        parse_size("12 x 8", unit=Unit.IN, least=inches(12), such_as="144 x 96")
    assert bare.value.faults[0].message == (
        '“12 x 8” is 12 × 8"; each side is 12" or more; a number without a mark is in inches. '
        "Type a width and a height such as 144 x 96."
    )
