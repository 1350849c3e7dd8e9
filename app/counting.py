"""How a count stands before its word: "1 piece", "12 pieces". Imports nothing of ours."""

from collections.abc import Mapping
from types import MappingProxyType

_MINUS = "\N{MINUS SIGN}"

IRREGULAR: Mapping[str, str] = MappingProxyType(
    {
        "box": "boxes",
        "copy": "copies",
        "delivery": "deliveries",
        "entry": "entries",
        "foot": "feet",
        "glass": "glasses",
        "glazing": "glazing",
        "inch": "inches",
        "stock": "stock",
    }
)
"""The words of the shop whose plural is not made by an s."""


def plural(one: str) -> str:
    """Return the plural of a word; of several words that of the last: "supplier order", "supplier orders"."""
    before, blank, last = one.rpartition(" ")
    return f"{before}{blank}{IRREGULAR.get(last, f'{last}s')}"


def count_text(count: int) -> str:
    """Return a count alone, thousands set apart as in amounts: "12", "1,200"; below zero with the minus sign of figures."""
    return f"{_MINUS if count < 0 else ''}{abs(count):,}"


def counted(count: int, one: str, many: str = "") -> str:
    """Return a count with its word: "1 material", "12 materials", "0 materials".

    one: the word, or the words, for a single one. many: those for any other count, where they are not its
    plural: counted(2, "cost is", "costs are"). Thousands are set apart as in amounts, "1,200 parts"; below zero
    stands the minus sign of figures.
    """
    return f"{count_text(count)} {one if abs(count) == 1 else many or plural(one)}"
