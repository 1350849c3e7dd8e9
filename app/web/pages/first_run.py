"""The first-run page: what a shop cannot start without, or the sample shop to look around in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from app.errors import Fault
from app.lengths import Unit
from app.orders import Paper
from app.web.fields import Fields, FieldView, Options
from app.web.forms.tax import Stated
from app.web.templating import Page

UNITS: Options = ((Unit.MM, "millimetres"), (Unit.IN, "inches and fractions"))
SCALES: Options = (("", "the same unit"), *UNITS)
PAPERS: Options = ((Paper.A4, "A4"), (Paper.LETTER, "US Letter"), (Paper.A5, "A5"))
STATED: Options = (
    (Stated.WITH, "Tax is in the prices"),
    (Stated.WITHOUT, "Tax comes on top of the prices"),
)

UNTOUCHED = {
    "unit": Unit.MM.value,
    "cutter.unit": "",
    "stated": Stated.WITH.value,
    "paper": Paper.A4.value,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstRunPage(Page):
    """The page of one form."""

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


def first_run_page(
    typed: Mapping[str, str], chrome: Mapping[str, Any], faults: Iterable[Fault] = ()
) -> FirstRunPage:
    """The page with what was typed."""
    faults = tuple(faults)
    make = Fields(typed, faults)
    return FirstRunPage(
        title="Welcome",
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
        cut_length=make.field("cutter.cut_length", "Longest cut", hint='As 1016 or 40".'),
        scale=make.field("cutter.unit", "Its scale is in", options=SCALES),
        hourly_rate=make.field(
            "hourly_rate",
            "An hour of your work costs",
            hint="36 to start with; every price rests on it, so set your own.",
        ),
        **chrome,
    )
