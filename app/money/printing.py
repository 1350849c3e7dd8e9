"""Amounts and percentages as text for people; `reading` reads each of them back."""

from fractions import Fraction

from app.money.amount import Money, round_half_up

_MINUS = "\N{MINUS SIGN}"


def show_money(money: Money, *, code: bool = False) -> str:
    """Return an amount with all its decimals, "1,234.50"; with code, "EUR 1,234.50"."""
    units, rest = divmod(abs(money.minor), money.currency.minor_per_unit)
    decimals = f".{rest:0{money.currency.digits}d}" if money.currency.digits else ""
    before = f"{money.currency.code} " if code else ""
    return f"{before}{_MINUS if money.minor < 0 else ''}{units:,}{decimals}"


def show_percent(share: Fraction, places: int = 3) -> str:
    """Return a share as a percentage with up to so many decimals, rounded half up: "20 %", "12.5 %".

    places: 3 for what was typed, as a rate of tax; 1 for what was measured, as waste; 0 for what is compared at a glance.
    """
    scale: int = 10**places
    parts = round_half_up(share * 100 * scale)
    whole, rest = divmod(abs(parts), scale)
    decimals = f".{rest:0{places}d}".rstrip("0") if rest else ""
    return f"{_MINUS if parts < 0 else ''}{whole}{decimals} %"
