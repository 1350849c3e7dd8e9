"""Tax rates and how prices are stated, from their form, and back."""

from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum

from app.forms.reader import Reader, counted, percent_text
from app.forms.rows import code_from, filled_rows
from app.money import TaxPolicy, TaxRate, TaxRounding
from app.orders import Shop

STANDARD = "standard"


class PriceMode(StrEnum):
    """Whether the prices that a shop states have the tax in them (M2)."""

    WITH = "with"
    WITHOUT = "without"


def read_tax(typed: Mapping[str, str], shop: Shop, used: Mapping[str, int]) -> Shop:
    """The shop with the tax of a form. used: how many materials bear each rate, by its code.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency)
    policy = TaxPolicy(
        included=read.choice("stated", PriceMode, PriceMode.WITH) is PriceMode.WITH,
        rounding=read.choice("rounding", TaxRounding, TaxRounding.BY_DOCUMENT),
    )
    rates = _rates(read, typed)
    _check_kept(read, shop, {rate.code for rate in rates}, used)
    read.faults.finish()
    return replace(shop, tax_policy=policy, tax_rates=tuple(rates))


def _rates(read: Reader, typed: Mapping[str, str]) -> list[TaxRate]:
    rates: list[TaxRate] = []
    for _, path in filled_rows(typed, "rates", ("name", "percent")):
        name = read.required(f"{path}.name", "Name the rate, as it stands on a quote.", 40)
        if not read.given(f"{path}.percent"):
            read.faults.add(f"{path}.percent", "Type the rate, as 20 or 7.5; 0 for none.", "empty")
        percent = read.percent(f"{path}.percent")
        taken = {rate.code for rate in rates}
        code = read.text(f"{path}.code", 24)
        if not code or code in taken:
            code = code_from(name, taken | {STANDARD})
        rates.append(TaxRate(code, name, percent))
    return rates


def _check_kept(read: Reader, shop: Shop, kept: set[str], used: Mapping[str, int]) -> None:
    """What is still borne by something must stay."""
    for rate in shop.tax_rates:
        if rate.code not in kept and (why := _why_it_stays(rate, shop, used)):
            read.faults.add("rates", why)


def _why_it_stays(rate: TaxRate, shop: Shop, used: Mapping[str, int]) -> str:
    if rate.code == STANDARD:
        return f"“{rate.name}” is the standard rate; change it, but keep it."
    if used.get(rate.code):
        count = counted(used[rate.code], "material bears", "materials bear")
        return f"{count} “{rate.name}”; give another rate first."
    if rate.code == shop.labour.tax:
        return f"The work bears “{rate.name}”; give it another rate first."
    return ""


def tax_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    stated = PriceMode.WITH if shop.tax_policy.included else PriceMode.WITHOUT
    typed = {"stated": stated.value, "rounding": shop.tax_policy.rounding.value}
    for row, rate in enumerate(shop.tax_rates):
        typed[f"rates.{row}.code"] = rate.code
        typed[f"rates.{row}.name"] = rate.name
        typed[f"rates.{row}.percent"] = percent_text(rate.percent)
    return typed
