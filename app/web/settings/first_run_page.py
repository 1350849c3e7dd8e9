"""The first-run page, which asks what a shop cannot start without, or opens the sample shop to look around in."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from app.bench import Cutter, usual_cutter, usual_scale
from app.errors import Fault, Invalid, quoted
from app.forms.kinds import LENGTH, MONEY, PERCENT, TICK, In, Options, choice, optional, text_of
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed, value_of
from app.lengths import Unit
from app.money import CURRENCIES, TaxRate, currency, parse_money, parse_percent
from app.orders import Paper, Shop, usual_shop
from app.web.kit.fields import Fields, FormView
from app.web.kit.stating import Stated, at
from app.web.kit.templating import Page
from app.web.settings.copies_page import CopyRow
from app.web.settings.cutter_fields import CUTTER
from app.web.settings.shop_form import CURRENCY, NAME, NO_CURRENCY, NO_NAME, PAPERS, UNITS
from app.web.settings.tax_form import STATED, PriceMode

SCALES: Options = (("", "the same unit"), *UNITS)

BLANK = In(Unit.MM, currency("EUR"))
"""What stands in until unit and currency can be read; nothing is told of an amount then."""

UNTOUCHED = {
    "unit": Unit.MM.value,
    "cutter.unit": "",
    "stated": PriceMode.WITH.value,
    "paper": Paper.A4.value,
}


def _as_chosen(_known: In, typed: Typed) -> Stated:
    """Return whether the shop's prices are stated with tax, by what is chosen on this page, and the other way."""
    words = "stated as your prices are"
    try:
        chosen = currency(typed.get("currency", ""))
        tax = parse_percent(typed.get("tax", "") or "0")
    except Invalid:
        return Stated(currency=BLANK.currency, words=words)
    with_tax = typed.get("stated") != PriceMode.WITHOUT
    otherwise = at(TaxRate("standard", "Tax", tax), with_tax=with_tax) if tax else None
    return Stated(currency=chosen, words=words, otherwise=otherwise)


FIRST_RUN = Form[In](
    Field("name", "Name of the shop", NAME, "It heads every quote.", needed=True, wish=NO_NAME),
    Field("unit", "Work in", choice(Unit, UNITS, "across"), usual=lambda known: known.unit),
    Field("currency", "Currency", CURRENCY, "EUR, GBP, USD …", needed=True, wish=NO_CURRENCY),
    Field("tax", "Tax rate, %", PERCENT, "Blank for none.", usual=Fraction(0), beside=True),
    Field(
        "stated", "Prices", choice(PriceMode, STATED, "radios"), usual=lambda _known: PriceMode.WITH
    ),
    Field("paper", "Paper", choice(Paper, PAPERS, "across")),
    Field(
        "cutter.name",
        "Your mat cutter",
        text_of(200),
        "What you call it. Blank for now: tickets take a usual one, Settings describes yours.",
    ),
    Field(
        "cutter.cut_length",
        "Longest cut",
        optional(LENGTH),
        'As 1016 mm or 40".',
        like=CUTTER.at["cut_length"].like,
    ),
    Field("cutter.unit", "Its scale is in", choice(Unit, SCALES), beside=True),
    Field("cutter.both", "It has a second scale, in the other unit", TICK),
    Field(
        "hourly_rate",
        "Hourly rate you charge",
        optional(MONEY),
        "36 to start with; every price rests on it, so set your own.",
        stated=_as_chosen,
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstRunPage(Page):
    """The first-run page with its form. left: the newest copy of a shop that is not there any more, None where there is none."""

    fields: FormView[In]
    left: CopyRow | None


def first_run_page(
    typed: Typed, faults: tuple[Fault, ...] = (), *, left: CopyRow | None = None
) -> FirstRunPage:
    """Return the page with what was typed."""
    fields = FormView(FIRST_RUN, BLANK, Fields(typed, faults))
    return FirstRunPage(title="Welcome", faults=faults, fields=fields, left=left)


def read_first_run(typed: Typed) -> Shop:
    """Read the shop of the first-run page. Raises: Invalid with every fault, at the page's fields."""
    read = FIRST_RUN.reader(typed, BLANK)

    def value(path: str) -> Any:
        return value_of(FIRST_RUN.at[path], read, BLANK)

    name, unit = value("name"), value("unit")
    chosen = value("currency")
    read.currency = chosen or BLANK.currency
    shop = usual_shop(name or "?", unit, read.currency.code, value("tax"))
    included = value("stated") is PriceMode.WITH
    paper = value("paper") or shop.paper
    rate = value("hourly_rate") if chosen else None
    if not chosen:
        _check_rate_alone(read)
    cutters = _cutters(read, unit, value)
    read.faults.finish()
    return replace(
        shop,
        paper=paper,
        cutters=cutters,
        tax_policy=replace(shop.tax_policy, included=included),
        labour=shop.labour if rate is None else replace(shop.labour, hourly_rate=rate),
    )


def _check_rate_alone(read: Reader) -> None:
    """Note an hourly rate that is no amount in any currency, where the shop's own cannot be read: it is named in no sentence."""
    path, text = "hourly_rate", read.raw("hourly_rate")
    if not read.given(path):
        return
    for each in CURRENCIES.values():
        with suppress(Invalid):
            parse_money(text, each)
            return
    read.faults.add(
        path, f"{quoted(text)} is no amount of zero or more. Type the rate as a number, such as 45."
    )


def _cutters(read: Reader, unit: Unit, value: Callable[[str], Any]) -> tuple[Cutter, ...]:
    """Read the cutter of the page; there is none where nothing is said of it.

    What the page does not ask is taken from the usual cutter. Faults are noted at the page's fields.
    unit: that of the shop.
    """
    if not read.given("cutter.name") and not read.given("cutter.cut_length"):
        return ()
    usual = usual_cutter(value("cutter.unit") or unit)
    second = (usual_scale(usual.unit.other),) if value("cutter.both") else ()
    read.unit = unit
    name = value("cutter.name") or usual.name
    length = value("cutter.cut_length")
    made = read.take(
        lambda: replace(
            usual,
            name=name,
            cut_length=usual.cut_length if length is None else length,
            scales=(*usual.scales, *second),
        ),
        "cutter",
    )
    return (made,) if made else ()
