"""Reads the shop's own settings from their forms, and writes their text: who it is, allowances, promises."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

from app.days import DayOrder
from app.errors import quoted
from app.forms.in_other_marks import marked, told_length
from app.forms.kinds import (
    LENGTH,
    PERCENT,
    FieldKind,
    Options,
    choice,
    optional,
    otherwise,
    percent,
    text_of,
    whole,
)
from app.forms.reader import Reader, length_text
from app.forms.table import Field, Form, Typed, values_in
from app.framing import DEFAULTS, UnderWay
from app.lengths import ALLOWED_STEPS, DEFAULT_STEP, Example, Length, Unit, inches, mm
from app.money import currency
from app.orders import Allowances, MatWord, Paper, Promise, QuotePrices, Shop
from app.orders.change_of_currency import shop_in
from app.orders.shop import USUAL_KEEP
from app.orders.weight_rules import WeightRules
from app.pricing.rules import USUAL_SAW_LOSS
from app.web.settings.open_days_form import OPEN_DAYS, OfShopToday, open_days_of

MOST_PEOPLE = 12
LONGEST_PERSON = 40

UNITS: Options = ((Unit.MM, "millimetres"), (Unit.IN, "inches and fractions"))
PAPERS: Options = ((Paper.A4, "A4"), (Paper.LETTER, "US Letter"), (Paper.A5, "A5"))
QUOTE_PRICES: Options = (
    (QuotePrices.LINES, "line by line"),
    (QuotePrices.TOTAL, "the total only"),
)
MAT_WORDS: Options = ((MatWord.MAT, "mat"), (MatWord.MOUNT, "mount"))
DAY_ORDERS: Options = ((DayOrder.DAY_FIRST, "13/12"), (DayOrder.MONTH_FIRST, "12/13"))
WAYS: Options = (
    (UnderWay.ATTACHED, "Attached: fixed behind the cut layer above, by its edges"),
    (UnderWay.OWN_EDGES, "Cut separately: with edges of its own, trimmed at each"),
)

NAME: FieldKind[str] = text_of(80)
NO_NAME = "The shop's name is empty; it heads every quote"
CURRENCY = FieldKind[Any](
    control="text",
    read=lambda read, path, _usual: (
        read.take(lambda: currency(read.raw(path))) if read.given(path) else None
    ),
    text=lambda money, _known: money.code,
)
NO_CURRENCY = "Type the currency as three letters, as EUR, GBP or USD"


def _people(read: Reader, path: str, _usual: object) -> tuple[str, ...]:
    people = tuple(dict.fromkeys(read.lines(path)))
    for person in people:
        if len(person) > LONGEST_PERSON:
            read.faults.add(
                path, f"{quoted(person)} is too long; at most {LONGEST_PERSON} characters are."
            )
    if len(people) > MOST_PEOPLE:
        read.faults.add(
            path, f"{len(people)} people were typed; at most {MOST_PEOPLE} can be named."
        )
    return people


IDENTITY = Form[Shop](
    Field("name", "Name of the shop", NAME, needed=True, wish=NO_NAME),
    Field("address", "Address", text_of(400, "lines"), "As it stands on quotes."),
    Field(
        "contact",
        "Phone, e-mail, web",
        text_of(200, "lines"),
        "As they stand on quotes.",
        beside=True,
    ),
    Field(
        "tax_number",
        "Tax number",
        text_of(60),
        "Stands on invoices, where most countries ask for one; check local law.",
    ),
    Field(
        "people",
        "Who works here",
        FieldKind(control="lines", read=_people, text=lambda people, _known: "\n".join(people)),
        "A name a line; whoever is at the screen is noted with each change.",
    ),
    Field("unit", "Work in", choice(Unit, UNITS), usual=lambda shop: shop.unit),
    Field(
        "currency",
        "Currency",
        CURRENCY,
        "Three letters.",
        needed=True,
        wish=NO_CURRENCY,
        beside=True,
    ),
    Field("paper", "Paper", choice(Paper, PAPERS, "across"), usual=lambda shop: shop.paper),
    Field(
        "quote_prices",
        "Prices on a quote",
        choice(QuotePrices, QUOTE_PRICES, "across"),
        usual=lambda shop: shop.quote_prices,
        beside=True,
    ),
    Field(
        "mat_word",
        "Your word for a window board",
        choice(MatWord, MAT_WORDS, "across"),
        usual=lambda shop: shop.mat_word,
    ),
    Field(
        "day_order",
        "13 December in numbers",
        choice(DayOrder, DAY_ORDERS, "across"),
        "For days that are typed; 13 Dec and 2026-12-13 are read as well.",
        usual=lambda shop: shop.day_order,
        beside=True,
    ),
)


def read_identity(typed: Typed, shop: Shop) -> Shop:
    """Return the shop with the name, unit, currency and so on of a form.

    With another unit the shop takes that unit's cutting step, and its usual allowances, loss at the saw, keep size
    and rules of weight where it had the usual ones; with another currency every figure stays as far as the currency's decimals allow.

    Raises: Invalid with every fault.
    """
    read = IDENTITY.reader(typed, shop)
    values = IDENTITY.values(read, shop)
    unit, money = values.pop("unit"), values.pop("currency") or shop.currency
    order = values.pop("day_order")
    days = shop.days if order is shop.day_order else order
    moved = read.take(lambda: shop_in(shop, money)) or shop
    read.faults.finish()
    return replace(_in_unit(moved, unit), days=days, **values)


def _in_unit(shop: Shop, unit: Unit) -> Shop:
    if unit is shop.unit:
        return shop
    usual = shop.allowances == Allowances.usual(shop.unit)
    return replace(
        shop,
        unit=unit,
        step=DEFAULT_STEP[unit],
        allowances=Allowances.usual(unit) if usual else shop.allowances,
        saw_loss=_moved(shop.saw_loss, USUAL_SAW_LOSS.__getitem__, shop.unit, unit),
        keep=_moved(shop.keep, USUAL_KEEP.__getitem__, shop.unit, unit),
        weights=_moved(shop.weights, WeightRules.usual, shop.unit, unit),
    )


def _moved[T](value: T, usual: Callable[[Unit], T], before: Unit, after: Unit) -> T:
    """Return the usual value of the new unit where the shop has that of the old one, else its own."""
    return usual(after) if value == usual(before) else value


def _step(read: Reader, path: str, usual: Length) -> Length:
    """Read a cutting step; only some are allowed, by the shop's unit."""
    step = read.length(path, usual)
    if step not in ALLOWED_STEPS[read.unit]:
        allowed = " or ".join(length_text(each, read.unit) for each in ALLOWED_STEPS[read.unit])
        read.faults.add(path, f"The cutting step must be {allowed} {read.unit.value}.")
    return step


def _steps(shop: Shop) -> Options:
    texts = (length_text(step, shop.unit) for step in ALLOWED_STEPS[shop.unit])
    return tuple((text, f"{text} {shop.unit.value}") for text in texts)


def _usual(unit: Unit) -> Callable[[str], Any]:
    """Return a function that finds the usual value of a field; for the limits of notices it is the handbook's."""
    own, handbook = values_in(Allowances.usual(unit)), values_in(DEFAULTS[unit])
    return lambda name: handbook(name) if own(name) is None else own(name)


_LENGTH = marked(LENGTH, told_length)


def _length(
    name: str,
    label: str,
    hint: str,
    kind: FieldKind[Any] = _LENGTH,
    *,
    like: Example | None = None,
    beside: bool = False,
) -> Field[Shop]:
    """Return the field of a length among the allowances.

    like: an example where there is no usual value.
    """
    like = like or Example.of(lambda unit: _usual(unit)(name))
    return Field(name, label, kind, f"{hint} Usual: {{usual}}.", like=like, beside=beside)


_LIMIT = optional(_LENGTH)
"""Below which a notice is given; blank follows the unit."""

_TRIM = Example(mm(1), inches("1/32"))

ALLOWANCES = Form[Shop](
    _length("overlap", "Overlap at each edge", "How far a window covers the artwork."),
    _length("gap", "Gap at each edge", "Around an artwork that floats in a window.", beside=True),
    _length("border", "Border to start from", "From the edge to the window."),
    _length(
        "weighting",
        "More at the bottom",
        "Added to the bottom border.",
        like=Example(mm(10), inches("3/8")),
        beside=True,
    ),
    _length("reveal", "Reveal", "How much of an under layer shows."),
    _length("canvas_gap", "Gap in a tray", "Around a canvas that floats in a frame.", beside=True),
    _length("spacer_width", "Width of spacers", "As seen from the front."),
    _length(
        "object_clearance",
        "Room over an object",
        "Between the glazing and an object that stands in a box.",
        beside=True,
    ),
    _length("allowance", "Play in the rebate (total)", "Rebate size over glass size."),
    Field("under_way", "Under layers", choice(UnderWay, WAYS, "radios"), usual=UnderWay.ATTACHED),
    _length("under_trim", "Trim of under layers", "At each edge, where they have their own."),
    _length("glazing_trim", "Trim of glazing", "At each edge.", like=_TRIM, beside=True),
    _length("backing_trim", "Trim of backing", "At each edge.", like=_TRIM, beside=True),
    _length(
        "smallest_border",
        "Smallest border",
        "A narrower one gets a notice; teaching hand-outs have 2 to 3 in.",
        _LIMIT,
    ),
    _length(
        "least_bridge",
        "Least board between windows",
        "Less of it gets a notice; common practice.",
        _LIMIT,
        beside=True,
    ),
    Field(
        "step",
        "Cut in steps of",
        replace(LENGTH, control="select", read=_step),
        usual=lambda shop: shop.step,
        like=Example.of(DEFAULT_STEP.__getitem__),
        options=_steps,
    ),
    usual=lambda shop: _usual(shop.unit),
)


def read_allowances(typed: Typed, shop: Shop) -> Shop:
    """Return the shop with the allowances and the cutting step of a form; a blank stands for the usual
    value.

    Raises: Invalid with every fault, at the form's fields.
    """
    values = ALLOWANCES.read(typed, shop)
    return replace(shop, step=values.pop("step"), allowances=Allowances(**values))


_DAYS, _HABIT = "number of days", Promise()

PROMISES = Form[OfShopToday](
    Field(
        "valid_days", "A quote holds for, days", otherwise(whole(_DAYS, 1, 366), _HABIT.valid_days)
    ),
    Field(
        "ready_days",
        "A piece is ready in, days",
        otherwise(whole(_DAYS, high=366), _HABIT.ready_days),
        beside=True,
    ),
    Field("deposit", "Deposit, % of the total", otherwise(PERCENT, _HABIT.deposit)),
    Field("rush", "Rush adds, %", otherwise(percent(500), _HABIT.rush), beside=True),
    *OPEN_DAYS,
)


def read_promises(typed: Typed, shop: Shop, today: date) -> Shop:
    """Return the shop with the promises and the open days of a form; a blank stands for the usual value.

    Raises: Invalid.
    """
    values = PROMISES.read(typed, OfShopToday(shop, today))
    return replace(shop, open_days=open_days_of(values), promise=Promise(**values))
