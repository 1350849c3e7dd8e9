"""The first-run page: what a shop cannot start without, or the sample shop to look around in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.errors import Fault, Invalid
from app.forms.table import Options
from app.lengths import Unit
from app.money import TaxRate, currency, parse_percent
from app.orders import Paper
from app.web.kit.fields import Fields, FieldView
from app.web.kit.stating import Stated, at
from app.web.kit.templating import Page
from app.web.settings.tax_form import PriceMode as Stating

UNITS: Options = ((Unit.MM, "millimetres"), (Unit.IN, "inches and fractions"))
SCALES: Options = (("", "the same unit"), *UNITS)
PAPERS: Options = ((Paper.A4, "A4"), (Paper.LETTER, "US Letter"), (Paper.A5, "A5"))
STATED: Options = (
    (Stating.WITH, "Tax is in the prices"),
    (Stating.WITHOUT, "Tax comes on top of the prices"),
)

EURO = currency("EUR")
"""What stands in until a currency can be read; nothing is told of an amount then."""

UNTOUCHED = {
    "unit": Unit.MM.value,
    "cutter.unit": "",
    "stated": Stating.WITH.value,
    "paper": Paper.A4.value,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstRunPage(Page):
    """The page of one form."""

    title: str = "Welcome"
    name: FieldView
    unit: FieldView
    currency: FieldView
    tax: FieldView
    stated: FieldView
    paper: FieldView
    cutter_name: FieldView
    cut_length: FieldView
    scale: FieldView
    hourly_rate: FieldView


def _as_chosen(typed: Mapping[str, str]) -> Stated:
    """How the shop's prices are stated by what is chosen on this page, and what they are the other way."""
    words = "stated as your prices are"
    try:
        chosen = currency(typed.get("currency", ""))
        tax = parse_percent(typed.get("tax", "") or "0")
    except Invalid:
        return Stated(currency=EURO, words=words)
    with_tax = typed.get("stated") != Stating.WITHOUT
    otherwise = at(TaxRate("standard", "Tax", tax), with_tax=with_tax) if tax else None
    return Stated(currency=chosen, words=words, otherwise=otherwise)


def first_run_page(typed: Mapping[str, str], faults: Iterable[Fault] = ()) -> FirstRunPage:
    """Return the page with what was typed."""
    faults = tuple(faults)
    make = Fields(typed, faults)
    return FirstRunPage(
        faults=faults,
        name=make.field("name", "Name of the shop", hint="It heads every quote.", required=True),
        unit=make.field("unit", "Work in", options=UNITS),
        currency=make.field("currency", "Currency", hint="EUR, GBP, USD …", required=True),
        tax=make.field("tax", "Tax rate, %", hint="Blank for none."),
        stated=make.field("stated", "Prices", options=STATED),
        paper=make.field("paper", "Paper", options=PAPERS),
        cutter_name=make.field(
            "cutter.name",
            "Your mat cutter",
            hint="What you call it. Blank for now: tickets take a usual one, Settings describes yours.",
        ),
        cut_length=make.field("cutter.cut_length", "Longest cut", hint='As 1016 mm or 40".'),
        scale=make.field("cutter.unit", "Its scale is in", options=SCALES),
        hourly_rate=make.amount(
            "hourly_rate",
            "Hourly rate you charge",
            _as_chosen(typed),
            hint="36 to start with; every price rests on it, so set your own.",
        ),
    )
