"""Text for a spreadsheet: nothing that somebody typed becomes a formula there.

Source: common practice against formulas in exported text.
"""

from app.money import Money

FORMULA = ("=", "+", "-", "@", "\t", "\r")


def is_formula(text: str) -> bool:
    """Whether a spreadsheet would take a text for a formula."""
    return text.lstrip("'").startswith(FORMULA)


def safe(text: str) -> str:
    """A text with an apostrophe in front where it would be one. Never for our own numbers."""
    return f"'{text}" if is_formula(text) else text


def amount(money: Money) -> str:
    """An amount as a number: a decimal point, no grouping, "-56.40"."""
    digits = money.currency.digits
    whole, rest = divmod(abs(money.minor), money.currency.minor_per_unit)
    sign = "-" if money.minor < 0 else ""
    return f"{sign}{whole}.{rest:0{digits}d}" if digits else f"{sign}{whole}"
