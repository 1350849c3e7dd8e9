"""Exact money: whole minor units of one currency, one rounding policy, and tax.

Owns amounts, their reading and printing, currencies and the split into net, tax and gross. Knows
nothing of what is sold.
"""

from app.money.amount import Money, round_half_up, round_to_step
from app.money.currency import CURRENCIES, Currency, currency
from app.money.document import Taxed
from app.money.printing import show_money, show_percent
from app.money.reading import parse_money, parse_percent
from app.money.sharing import shared, shared_steadily
from app.money.tax import (
    TaxPart,
    TaxPolicy,
    TaxRate,
    TaxRounding,
    TaxSummary,
    by_rate,
    taxed,
    taxed_parts,
    work_out_tax,
)

__all__ = [
    "CURRENCIES",
    "Currency",
    "Money",
    "TaxPart",
    "TaxPolicy",
    "TaxRate",
    "TaxRounding",
    "TaxSummary",
    "Taxed",
    "by_rate",
    "currency",
    "parse_money",
    "parse_percent",
    "round_half_up",
    "round_to_step",
    "shared",
    "shared_steadily",
    "show_money",
    "show_percent",
    "taxed",
    "taxed_parts",
    "work_out_tax",
]
