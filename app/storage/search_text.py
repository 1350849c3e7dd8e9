"""Makes what is typed into a search box safe and comparable.

The query language of FTS5 has operators; nothing typed ever reaches it bare. Words are runs of
letters and digits, without accents and case.
"""

import unicodedata

MOST_WORDS = 8
LONGEST_WORD = 40
_LONGEST_TEXT = 4 * MOST_WORDS * LONGEST_WORD
_SHORTEST_END = 7
"""Digits that two numbers share at their ends where they are one with and without a country code; fewer say nothing."""

_WHOLE_NUMBER = 9
"""Digits from which on a number is taken for a whole one with its area code."""

_DIGITS_ONLY = frozenset("0123456789 +-/().")


def folded(text: str) -> str:
    """Text without accents and case, for comparing and sorting."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in plain if not unicodedata.combining(char))


def _runs(text: str) -> tuple[str, ...]:
    return tuple("".join(char if char.isalnum() else " " for char in text).split())


def words_of(text: str) -> tuple[str, ...]:
    """Return the words of a text, folded, in order."""
    return _runs(folded(text))


def typed_words(text: str) -> tuple[str, ...]:
    """Return the words of a search, folded: the first eight, each cut at forty characters."""
    return _few(words_of(text[:_LONGEST_TEXT]))


def _few(words: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(word[:LONGEST_WORD] for word in words[:MOST_WORDS])


def digits_of(text: str) -> str:
    """Return the digits of a phone number as it is written: "(01632) 960-011" is "01632960011"."""
    return "".join(char for char in text if char.isascii() and char.isdigit())


def same_phone(one: str, other: str) -> bool:
    """Tell whether two phone numbers are one, written with a country code or without: "+44 1632 960101", "01632 960 101".

    The zero before an area code is dialled within a country only (ITU-T E.123 writes the two forms, from memory).
    """
    (abroad, first), (far, second) = _dialled(one), _dialled(other)
    if abroad is far:
        return first == second
    whole, end = (first, second) if abroad else (second, first)
    return len(end) >= _SHORTEST_END and whole.endswith(end)


def _dialled(text: str) -> tuple[bool, str]:
    """Return whether a number is written with a country code, and its digits without the zeros that are dialled before."""
    digits = digits_of(text.replace("(0)", ""))
    abroad = text.strip().startswith("+") or digits.startswith("00")
    return abroad, digits.lstrip("0")


def _sought(text: str) -> str:
    """Return the digits by which a typed phone number is found, however it was kept: the last of a whole one."""
    digits = digits_of(text)
    return digits[-_SHORTEST_END:] if len(digits) >= _WHOLE_NUMBER else digits


def beginnings(text: str) -> str | None:
    """Return an FTS5 query for all typed words, each of which may go on; None where there is no word.

    What is typed without a blank stands together: “Q-2026-0148” is not “0148 … 2026”. Case and
    accents are left to the index, which folds both sides in its own way.
    """
    typed = unicodedata.normalize("NFC", text[:_LONGEST_TEXT]).split()
    together = (" ".join(_runs(word[:LONGEST_WORD])) for word in typed)
    found = [phrase for phrase in together if phrase][:MOST_WORDS]
    return " ".join(f'"{phrase}"*' for phrase in found) or None


def parts(text: str) -> tuple[str, ...]:
    """Return what to look for in the middle of words: the words, or one run of digits for a number, by its end where it is whole."""
    if text.strip() and set(text) <= _DIGITS_ONLY:
        return (_sought(text)[:LONGEST_WORD],)
    return typed_words(text)
