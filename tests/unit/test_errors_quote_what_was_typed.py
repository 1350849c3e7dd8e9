"""What was typed stands in a message without harming it."""

import pytest

from app.errors import quoted


@pytest.mark.parametrize(
    ("text", "quote"),
    [
        ("15 3/4", "“15 3/4”"),
        ("  16\t x\n20 ", "“16 x 20”"),
        ("a\x00b\x1b[31m", "“ab[31m”"),
        ("\u202eevil\u2066", "“evil”"),
        ("\ud800", "“”"),
        ("<b>x</b>", "“<b>x</b>”"),
        ("x" * 40, f"“{'x' * 40}”"),
        ("x" * 41, f"“{'x' * 39}…”"),
        ("9" * 10_000, f"“{'9' * 39}…”"),
        (" " * 10_000 + "9", "“…”"),
    ],
)
def test_a_quote_is_one_short_printable_line(text: str, quote: str) -> None:
    assert quoted(text) == quote


def test_the_limit_can_be_set() -> None:
    assert quoted("abcdef", limit=4) == "“abc…”"
