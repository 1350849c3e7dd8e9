"""Text for a spreadsheet: nothing that somebody typed becomes a formula there.

Source: common practice against formulas in exported text.
"""

FORMULA = ("=", "+", "-", "@", "\t", "\r")


def is_formula(text: str) -> bool:
    """Whether a spreadsheet would take a text for a formula."""
    return text.lstrip("'").startswith(FORMULA)


def safe(text: str) -> str:
    """A text with an apostrophe in front where it would be one. Never for our own numbers."""
    return f"'{text}" if is_formula(text) else text
