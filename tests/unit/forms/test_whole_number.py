"""Whole numbers in plain digits, as versions, counts and numbers of rows are posted."""

import pytest

from app.errors import Invalid
from app.forms.reader import whole_number
from app.forms.rows import edited_rows
from app.web.materials.price_rises_page import read_seen

ENDLESS = "9" * 5000
"""More digits than Python reads as a number."""


@pytest.mark.parametrize(("text", "number"), [("0", 0), ("7", 7), ("007", 7), ("999", 999)])
def test_plain_digits_are_read(text: str, number: int) -> None:
    assert whole_number(text, digits=3) == number


@pytest.mark.parametrize("text", ["", "-1", "+1", "1.0", " 1", "1000", "٣", "²", "x", ENDLESS])
def test_anything_else_is_none(text: str) -> None:
    assert whole_number(text, digits=3) is None


def test_a_list_of_prices_with_an_endless_version_is_refused_in_words() -> None:
    assert read_seen("SALT14:3 W-1:12") == {"SALT14": 3, "W-1": 12}
    with pytest.raises(Invalid, match="The list of prices is not readable"):
        read_seen(f"SALT14:{ENDLESS}")


def test_a_button_for_an_endless_row_takes_no_row_away() -> None:
    typed = {"rates.0.name": "Full"}
    assert edited_rows(typed, "remove:rates:0") == {}
    assert edited_rows(typed, f"remove:rates:{ENDLESS}") is None
