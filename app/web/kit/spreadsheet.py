"""Writes text for a spreadsheet so that nothing that somebody typed becomes a formula there.

Source: common practice against formulas in exported text.
"""

from app.money import Money

FORMULA = ("=", "+", "-", "@", "\t", "\r")


def is_formula(text: str) -> bool:
    """Tell whether a spreadsheet would take a text for a formula."""
    return text.lstrip("'").startswith(FORMULA)


def safe(text: str) -> str:
    """Put an apostrophe before a text that would be a formula. Never for our own numbers."""
    return f"'{text}" if is_formula(text) else text


def amount(money: Money) -> str:
    """Write an amount as a number: a decimal point, no grouping, "-56.40"."""
    digits = money.currency.digits
    whole, rest = divmod(abs(money.minor), money.currency.minor_per_unit)
    sign = "-" if money.minor < 0 else ""
    return f"{sign}{whole}.{rest:0{digits}d}" if digits else f"{sign}{whole}"
