"""Reads the tax rates, and whether prices are stated with tax, from their form, and writes the form's text."""

from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from app.counting import counted
from app.forms.kinds import PERCENT, Options, choice, text_of
from app.forms.reader import Reader
from app.forms.rows import kept_code
from app.forms.table import Field, Form, Rows, Typed
from app.money import TaxPolicy, TaxRate, TaxRounding
from app.orders import Shop
from app.web.settings.labour_form import CODE

STANDARD = "standard"


class PriceMode(StrEnum):
    """Whether the prices that a shop states have the tax in them (M2)."""

    WITH = "with"
    WITHOUT = "without"


STATED: Options = (
    (PriceMode.WITH, "Tax is in the prices"),
    (PriceMode.WITHOUT, "Tax comes on top of the prices"),
)
ROUNDINGS: Options = (
    (TaxRounding.BY_DOCUMENT, "once for a whole quote or order"),
    (TaxRounding.BY_LINE, "at each line"),
)

RATE = Form[Shop](
    Field("code", "Code", CODE),
    Field(
        "name",
        "Name",
        text_of(40),
        needed=True,
        wish="Name the rate, as it stands on a quote",
    ),
    Field(
        "percent",
        "Percent",
        PERCENT,
        usual=Fraction(0),
        needed=True,
        wish="Type the rate, as 20 or 7.5; 0 for none",
    ),
)

TAX = Form[Shop](
    Field(
        "stated", "Prices", choice(PriceMode, STATED, "radios"), usual=lambda _shop: PriceMode.WITH
    ),
    Field(
        "rounding",
        "Tax is rounded",
        choice(TaxRounding, ROUNDINGS, "radios"),
        usual=TaxRounding.BY_DOCUMENT,
    ),
    repeats=(Rows("rates", "Tax rate", RATE, label="Rates"),),
)


def read_tax(typed: Typed, shop: Shop, used: Mapping[str, int]) -> Shop:
    """Return the shop with the tax of a form.

    used: how many materials bear each rate, by its code.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = TAX.reader(typed, shop)
    values = TAX.values(read, shop)
    rates: list[TaxRate] = []
    for row in TAX.rows_filled("rates", read):
        given = row.values(read, shop)
        taken = {rate.code for rate in rates}
        code = kept_code(given["code"], given["name"], taken, never={STANDARD})
        rates.append(TaxRate(code, given["name"], given["percent"]))
    _check_kept(read, shop, {rate.code for rate in rates}, used)
    read.faults.finish()
    policy = TaxPolicy(included=values["stated"] is PriceMode.WITH, rounding=values["rounding"])
    return replace(shop, tax_policy=policy, tax_rates=tuple(rates))


def _check_kept(read: Reader, shop: Shop, kept: set[str], used: Mapping[str, int]) -> None:
    """Check that no rate is dropped that a material or the labour still bears, nor the standard rate."""
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


def stated_by(shop: Shop) -> PriceMode:
    """Return whether a shop states its prices with tax or without."""
    return PriceMode.WITH if shop.tax_policy.included else PriceMode.WITHOUT
