"""Reading amounts and percentages as people type them.

Owns which marks, separators and decimals are understood. Whatever could mean two amounts is
refused, since a price that is wrong by a thousand is worse than a question.
"""

import re
from fractions import Fraction

from app.errors import Invalid, quoted
from app.money.amount import Money
from app.money.currency import Currency
from app.money.printing import show_money, show_percent
from app.money.symbols import stands_for

LONGEST_TEXT = 40
"""Characters; far more than the largest amount needs."""

LARGEST_UNITS = 10_000_000
"""A bound of our own against slips; a thousand times as many where the unit is small."""

_SMALL_UNITS = {
    "COP",
    "GNF",
    "IDR",
    "IQD",
    "IRR",
    "KHR",
    "KRW",
    "LAK",
    "LBP",
    "MMK",
    "PYG",
    "UGX",
    "UZS",
    "VND",
}

_PLAIN_CHARS = str.maketrans(
    dict.fromkeys("\N{MINUS SIGN}\N{EN DASH}\N{FIGURE DASH}\N{NON-BREAKING HYPHEN}", "-")
    | dict.fromkeys("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    | {chr(0xFF01 + offset): chr(0x21 + offset) for offset in range(94)}  # full-width forms
)
_AMOUNT = re.compile(
    r"(?P<before>(?:[^0-9.,]*[a-z]\.)?[^0-9.,]*)(?P<number>[.,]?[0-9][0-9.,' ]*)(?P<after>[^0-9]*)"
)
_GROUPED = re.compile(
    r"[1-9][0-9]{0,2}(?P<group>[,.' ])[0-9]{3}(?P<more>(?:(?P=group)[0-9]{3})*)"
    r"(?:(?!(?P=group))[.,](?P<decimals>[0-9]*))?"
)
_UNGROUPED = re.compile(r"[0-9]*(?:[.,](?P<decimals>[0-9]*))?")
_PERCENT = re.compile(
    r"(?P<minus>-)? ?(?P<number>[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+) ?(?:%|per ?cent|pct\.?)?"
)


class _UnreadableAmount(Exception):
    """Why a text is no amount; the message goes on after what was typed is quoted."""


def parse_money(
    text: str,
    currency: Currency,
    *,
    path: str = "amount",
    negative_ok: bool = False,
    zero_ok: bool = True,
) -> Money:
    """Read an amount with a decimal point or comma, thousands marked or not: "1,234.50", "12,50".

    The currency's own code or symbol may stand around it. Raises: Invalid with one fault at the
    path, for what cannot be read or could mean two amounts, more decimals than the currency has,
    more than LARGEST_UNITS, less than zero (unless negative_ok) or zero (unless zero_ok).
    """
    example = show_money(Money(1250 * currency.minor_per_unit // 100, currency))
    wanted = f"Type an amount of {currency.code} such as {example}."
    try:
        typed = _typed(text)
        if not typed:
            raise Invalid.at(path, f"Nothing was typed. {wanted}", "empty")
        money = _money(typed, currency)
        if money.minor < 0 and not negative_ok:
            raise _UnreadableAmount("is less than zero; zero or more is wanted")
        if not money and not zero_ok:
            raise _UnreadableAmount("is zero; more than zero is wanted")
    except _UnreadableAmount as error:
        raise Invalid.at(path, f"{quoted(text)} {error}. {wanted}") from None
    return money


def parse_percent(
    text: str, *, path: str = "percent", low: int | Fraction = 0, high: int | Fraction = 100
) -> Fraction:
    """Read a percentage as a share: "12.5 %" is 1/8. A point and a comma both mark decimals.

    low, high: percent, both allowed. Raises: Invalid with one fault at the path.
    """
    wanted = f"Type a percentage from {_bound(low)} to {_bound(high)}."
    try:
        typed = _typed(text)
        if not typed:
            raise Invalid.at(path, f"Nothing was typed. {wanted}", "empty")
        match = _PERCENT.fullmatch(typed)
        if match is None:
            raise _UnreadableAmount("cannot be read as a percentage")
        percent = _decimal(match["number"]) * (-1 if match["minus"] else 1)
        if not low <= percent <= high:
            raise _UnreadableAmount(f"is {'less' if percent < low else 'more'} than is allowed")
    except _UnreadableAmount as error:
        raise Invalid.at(path, f"{quoted(text)} {error}. {wanted}") from None
    return percent / 100


def _bound(percent: int | Fraction) -> str:
    return show_percent(Fraction(percent, 100))


def _typed(text: str) -> str:
    """Lower case in plain characters and single blanks, once it is known to be short."""
    if len(text) > LONGEST_TEXT:
        raise _UnreadableAmount(f"is {len(text)} characters long; at most {LONGEST_TEXT} are read")
    kept = (char for char in text if char.isspace() or char.isprintable())
    return " ".join("".join(kept).translate(_PLAIN_CHARS).casefold().split())


def _money(typed: str, currency: Currency) -> Money:
    match = _AMOUNT.fullmatch(typed)
    if match is None:
        raise _UnreadableAmount("cannot be read as an amount")
    minus, before = _without_minus(match["before"].strip())
    for mark in (before, match["after"].strip()):
        if mark and not stands_for(mark, currency):
            raise _UnreadableAmount(
                f"has {quoted(mark)} beside the number, which is in {currency.code}"
            )
    number = _number(match["number"].strip(), currency)
    largest = LARGEST_UNITS * (1000 if currency.code in _SMALL_UNITS else 1)
    if number > largest:
        raise _UnreadableAmount(f"is more than {largest:,}, the most allowed")
    minor = int(number * currency.minor_per_unit)
    return Money(-minor if minus else minor, currency)


def _without_minus(before: str) -> tuple[bool, str]:
    """Tell whether one minus stands first or right at the number, and what else stands there."""
    rest = before.removeprefix("-") if before.startswith("-") else before.removesuffix("-")
    return rest != before, rest.strip()


def _number(typed: str, currency: Currency) -> Fraction:
    """Return the exact number of units. Raises: _Unreadable where it could mean two."""
    match = _GROUPED.fullmatch(typed)
    if match and not _is_decimal(match, currency):
        typed = typed.replace(match["group"], "")
    else:
        match = _UNGROUPED.fullmatch(typed)
    if match is None:
        raise _UnreadableAmount("cannot be read as an amount")
    if len(match["decimals"] or "") > currency.digits:
        allowed = f"at most {currency.digits}" if currency.digits else "no"
        raise _UnreadableAmount(f"has too many decimals; {currency.code} has {allowed} decimals")
    return _decimal(typed)


def _is_decimal(grouped: re.Match[str], currency: Currency) -> bool:
    """Tell whether what looks like one group of thousands is decimals. Raises: _Unreadable in doubt."""
    one_group = not grouped["more"] and grouped["decimals"] is None
    if not one_group or grouped["group"] in "' ":
        return False
    if grouped["group"] == "." and currency.digits == 3:
        return True
    if grouped["group"] == "." or currency.digits == 3:
        raise _UnreadableAmount("may mean thousands or decimals; leave the mark of thousands out")
    return False


def _decimal(typed: str) -> Fraction:
    return Fraction(f"0{typed.replace(',', '.')}0" if "." in typed or "," in typed else typed)
