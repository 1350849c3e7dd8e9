# ruff: noqa: RUF001  the characters that people really type are the point
"""Amounts and percentages as people type them."""

from fractions import Fraction

import pytest

from app.errors import Invalid
from app.money import Money, currency, parse_money, parse_percent, show_money, show_percent

EUR = currency("EUR")


@pytest.mark.parametrize(
    ("text", "minor"),
    [
        ("12.50", 1250),
        ("12,50", 1250),
        ("12.5", 1250),
        ("12", 1200),
        ("12.", 1200),
        (".5", 50),
        ("0", 0),
        ("1,234.50", 123450),
        ("1.234,50", 123450),
        ("1 234,50", 123450),
        ("1\u202f234,50", 123450),
        ("1'234.50", 123450),
        ("1’234.50", 123450),
        ("1,234", 123400),
        ("1,234,567.89", 123456789),
        ("1.234.567", 123456700),
        ("1234.50", 123450),
        ("10,000,000.00", 1_000_000_000),
        ("€12.50", 1250),
        ("12,50 €", 1250),
        ("EUR 12.50", 1250),
        ("12.50eur", 1250),
        ("  €\u00a012.50 EUR ", 1250),
        ("１２．５０", 1250),
    ],
)
def test_an_amount_is_read_with_point_or_comma_and_marks_around_it(text: str, minor: int) -> None:
    assert parse_money(text, EUR) == Money(minor, EUR)


@pytest.mark.parametrize("text", ["-12.50", "−12.50", "-€12.50", "€ -12,50", "EUR −12.50"])
def test_less_than_zero_is_read_where_it_is_allowed(text: str) -> None:
    assert parse_money(text, EUR, negative_ok=True) == Money(-1250, EUR)
    with pytest.raises(Invalid, match="less than zero"):
        parse_money(text, EUR)


@pytest.mark.parametrize(
    ("code", "text", "minor"),
    [
        ("JPY", "1,234", 1234),
        ("JPY", "¥1234", 1234),
        ("KWD", "1.234", 1234),
        ("KWD", "1,234.500", 1234500),
        ("USD", "$1,234.5", 123450),
        ("CAD", "C$5", 500),
        ("CHF", "Fr. 12.50", 1250),
        ("CHF", "-Fr.12.50", -1250),
        ("INR", "Rs. 1,250", 125000),
        ("SEK", "12,50 kr", 1250),
        ("GBP", "£5", 500),
        ("VND", "12.000.000 ₫", 12_000_000),
    ],
)
def test_each_currency_has_its_own_decimals_and_symbols(code: str, text: str, minor: int) -> None:
    money = parse_money(text, currency(code), negative_ok=True)
    assert money == Money(minor, currency(code))


@pytest.mark.parametrize(
    ("code", "text", "says"),
    [
        ("EUR", "", "Nothing was typed"),
        ("EUR", " \u200b ", "Nothing was typed"),
        ("EUR", "1.234", "“1.234” may mean thousands or decimals"),
        ("JPY", "1.234", "may mean thousands or decimals"),
        ("KWD", "1,234", "may mean thousands or decimals"),
        ("EUR", "0.125", "too many decimals; EUR has at most 2"),
        ("EUR", "1,234.505", "too many decimals"),
        ("JPY", "12.50", "too many decimals; JPY has no decimals"),
        ("JPY", "1,234.50", "too many decimals; JPY has no decimals"),
        ("EUR", "1,23,456", "cannot be read as an amount"),
        ("EUR", "1,234,50", "cannot be read as an amount"),
        ("EUR", "1.2.3", "cannot be read as an amount"),
        ("EUR", "12 50", "cannot be read as an amount"),
        ("EUR", "1e3", "cannot be read as an amount"),
        ("EUR", "NaN", "cannot be read as an amount"),
        ("EUR", "inf", "cannot be read as an amount"),
        ("EUR", "1/2", "cannot be read as an amount"),
        ("EUR", "12⁵⁰", "beside the number"),
        ("EUR", "💶", "cannot be read as an amount"),
        ("EUR", "€", "cannot be read as an amount"),
        ("EUR", "--5", "beside the number"),
        ("EUR", "5-", "beside the number"),
        ("EUR", "$5", "“$” beside the number, which is in EUR"),
        ("EUR", "5 usd", "beside the number, which is in EUR"),
        ("EUR", "<b>5</b>", "beside the number"),
        ("EUR", "10,000,000.01", "more than 10,000,000"),
        ("EUR", "99999999999999999", "more than 10,000,000"),
        ("VND", "10,000,000,001", "more than 10,000,000,000"),
        ("EUR", "9" * 10_000, "10000 characters long"),
    ],
)
def test_what_cannot_be_read_says_why_and_shows_an_amount(code: str, text: str, says: str) -> None:
    with pytest.raises(Invalid) as caught:
        parse_money(text, currency(code), path="deposit")
    (fault,) = caught.value.faults
    assert fault.path == "deposit"
    assert says in fault.message
    assert f"Type an amount of {code} such as 12" in fault.message
    assert fault.message.isprintable()


def test_zero_can_be_refused() -> None:
    with pytest.raises(Invalid, match=r"“0\.00” is zero; more than zero is wanted"):
        parse_money("0.00", EUR, zero_ok=False)


@pytest.mark.parametrize(
    ("minor", "code", "text", "with_code"),
    [
        (123450, "EUR", "1,234.50", "EUR 1,234.50"),
        (5, "EUR", "0.05", "EUR 0.05"),
        (-123450, "EUR", "−1,234.50", "EUR −1,234.50"),
        (1234, "JPY", "1,234", "JPY 1,234"),
        (1234, "KWD", "1.234", "KWD 1.234"),
        (0, "USD", "0.00", "USD 0.00"),
        (12345, "CLF", "1.2345", "CLF 1.2345"),
    ],
)
def test_an_amount_shows_all_its_decimals(minor: int, code: str, text: str, with_code: str) -> None:
    money = Money(minor, currency(code))
    assert show_money(money) == text
    assert show_money(money, code=True) == with_code


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("20", Fraction(1, 5)),
        ("20%", Fraction(1, 5)),
        ("12.5 %", Fraction(1, 8)),
        ("12,5 %", Fraction(1, 8)),
        ("8.875", Fraction(71, 800)),
        ("7 percent", Fraction(7, 100)),
        ("7 per cent", Fraction(7, 100)),
        (".5", Fraction(1, 200)),
        ("0", Fraction(0)),
        ("100", Fraction(1)),
    ],
)
def test_a_percentage_is_read_as_an_exact_share(text: str, share: Fraction) -> None:
    assert parse_percent(text) == share


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "Nothing was typed"),
        ("-1", "“-1” is less than is allowed"),
        ("100.001", "more than is allowed"),
        ("x", "cannot be read as a percentage"),
        ("1e1", "cannot be read as a percentage"),
        ("NaN", "cannot be read as a percentage"),
        ("1,2,3", "cannot be read as a percentage"),
        ("20 %%", "cannot be read as a percentage"),
        ("9" * 10_000, "10000 characters long"),
    ],
)
def test_what_is_no_percentage_says_why_and_what_is_allowed(text: str, says: str) -> None:
    with pytest.raises(Invalid) as caught:
        parse_percent(text, path="tax.0.percent")
    (fault,) = caught.value.faults
    assert fault.path == "tax.0.percent"
    assert says in fault.message
    assert "Type a percentage from 0 % to 100 %." in fault.message


def test_the_bounds_of_a_percentage_can_be_set() -> None:
    assert parse_percent("-10", low=-50, high=250) == Fraction(-1, 10)
    assert parse_percent("250", low=-50, high=250) == Fraction(5, 2)
    with pytest.raises(Invalid, match=r"from −50 % to 250 %"):
        parse_percent("251", low=-50, high=250)


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (Fraction(1, 5), "20 %"),
        (Fraction(1, 8), "12.5 %"),
        (Fraction(71, 800), "8.875 %"),
        (Fraction(1, 3), "33.333 %"),
        (Fraction(-1, 10), "−10 %"),
        (Fraction(0), "0 %"),
        (Fraction(5, 2), "250 %"),
    ],
)
def test_a_share_shows_as_a_percentage(share: Fraction, text: str) -> None:
    assert show_percent(share) == text


@pytest.mark.parametrize(
    ("share", "places", "text"),
    [
        (Fraction(9, 800), 1, "1.1 %"),
        (Fraction(1, 1000), 0, "0 %"),
        (Fraction(1, 200), 0, "1 %"),
        (Fraction(-123, 1000), 0, "−12 %"),
        (Fraction(7095, 10000), 0, "71 %"),
    ],
)
def test_a_share_that_was_measured_shows_in_fewer_decimals(
    share: Fraction, places: int, text: str
) -> None:
    """1.125 rounds to 1.1, 0.5 half up to 1."""
    assert show_percent(share, places) == text
