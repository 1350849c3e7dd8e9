"""The examples of the rules of money, worked. Amounts are in a currency of hundredths."""

from fractions import Fraction

from app.handbook.worked.figures import Figures, Given
from app.handbook.worked.price import EUR, amount
from app.money import TaxPolicy, TaxRate, TaxRounding, show_money, show_percent, taxed, work_out_tax
from app.pricing.wording import decimal

_RATE = TaxRate("standard", "Tax", Fraction(1, 5))


def rounding(_given: Given) -> Figures:
    """M1."""
    net = amount("0.12")
    policy = TaxPolicy(included=False, rounding=TaxRounding.BY_LINE)
    tax = work_out_tax([(net, _RATE)], policy, EUR).tax
    return {
        "tax": show_percent(_RATE.percent),
        "amount": show_money(net),
        "exact": decimal(Fraction(net.minor, 100) * _RATE.percent, 3),
        "rounded": show_money(tax),
    }


def tax_within(_given: Given) -> Figures:
    """M2."""
    gross = amount("120.00")
    policy = TaxPolicy(included=True, rounding=TaxRounding.BY_DOCUMENT)
    return {
        "gross": show_money(gross),
        "tax": show_percent(_RATE.percent),
        "part": show_money(work_out_tax([(gross, _RATE)], policy, EUR).tax),
    }


def stated(_given: Given) -> Figures:
    """M5."""
    net = amount("36.00")
    return {
        "net": show_money(net),
        "gross": show_money(taxed(net, _RATE, included=False).gross),
        "tax": show_percent(_RATE.percent),
    }


def of_document(_given: Given) -> Figures:
    """M6."""
    net = amount("99.97")
    policy = TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT)
    return {
        "net": show_money(net),
        "tax": show_percent(_RATE.percent),
        "part": show_money(work_out_tax([(net, _RATE)], policy, EUR).tax),
    }
