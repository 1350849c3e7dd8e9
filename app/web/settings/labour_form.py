"""Reads the hourly rate and the table of operations from their form, and writes the form's text."""

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

from app.forms.kinds import MONEY, TICK, FieldKind, FormContext, Options, choice, text_of
from app.forms.reader import Reader, number_text
from app.forms.rows import kept_code
from app.forms.table import Field, Form, Rows, Typed
from app.lengths import Unit
from app.orders import Labour, Shop
from app.pricing import Operation, When
from app.pricing.measure import FOOT, SQUARE_FOOT_M2
from app.pricing.wording import decimal
from app.web.kit import stating

WHENS: Options = (
    (When.ALWAYS, "every piece"),
    (When.FRAME, "each frame that is made"),
    (When.GIVEN_FRAME, "a frame that is given"),
    (When.OWN_FRAME, "a customer’s own frame"),
    (When.MAT, "a mat"),
    (When.BEHIND_MAT, "each artwork behind a mat"),
    (When.FLOAT, "each artwork that floats"),
    (When.OBJECT, "each object in a box"),
    (When.FILLET, "each window with a fillet"),
    (When.GLAZING, "glazing"),
    (When.SPACER, "spacers"),
    (When.MOUNT_BOARD, "a mount board"),
    (When.BACKING, "a backing"),
    (When.CANVAS, "a canvas in a rebate"),
    (When.TRAY, "a canvas in a tray"),
    (When.HANGING, "hanging parts"),
)

CODE: FieldKind[str] = text_of(24, "hidden")
"""Of what is named in a row, carried along."""

_NAME = replace(
    text_of(80, "area"), read=lambda read, path, _usual: " ".join(read.text(path, 80).split())
)
"""A name that may be longer than its column; it takes a further line there, and is one line all the same."""

_MINUTES = FieldKind[Fraction](
    control="number",
    read=lambda read, path, _usual: read.number(path, "time in minutes"),
    text=lambda minutes, _known: number_text(minutes) if minutes else "",
)


def _minutes_for(foot: Fraction) -> FieldKind[Fraction]:
    """Return the kind of field for minutes a metre or a m², which a shop in inches types a foot or a sq ft.

    They are kept a metre, exact, so that what was typed comes back. foot: the metres or m² that a foot or sq ft is.
    """

    def read(read: Reader, path: str, usual: object) -> Fraction:
        if read.unit is not Unit.IN:
            return _MINUTES.read(read, path, usual)
        if _FINE.fullmatch(typed := read.raw(path)):
            read.used.add(path)
            return Fraction(typed.replace(",", ".")) / foot
        return _MINUTES.read(read, path, usual) / foot

    def text(minutes: Fraction, known: FormContext) -> str:
        if known.unit is not Unit.IN:
            return _MINUTES.text(minutes, known)
        own = minutes * foot
        fine = own * 10**_FINE_PLACES
        if fine.denominator == 1:
            return decimal(own, _FINE_PLACES) if own else ""
        return number_text(own)

    return FieldKind(control="number", read=read, text=text)


_FINE_PLACES = 12
_FINE = re.compile(rf"[0-9]{{1,9}}[.,][0-9]{{7,{_FINE_PLACES}}}", re.ASCII)
"""Minutes a sq ft of what was set a m²: 5 minutes are 0.4645152, exact."""


def in_feet(metric: str, imperial: str) -> Callable[[Shop], str]:
    """Return the words for a unit of the shop's: "a metre" or "a foot"."""
    return lambda shop: imperial if shop.unit is Unit.IN else metric


OPERATION = Form[Shop](
    Field("code", "Code", CODE),
    Field("name", "What is done", _NAME, needed=True),
    Field("when", "For", choice(When, WHENS), usual=When.ALWAYS, beside=True),
    Field("fixed", "each time", _MINUTES),
    Field("per_metre", in_feet("a metre", "a foot"), _minutes_for(FOOT.mm / 1000)),
    Field("per_layer", "a layer", _MINUTES),
    Field("per_window", "a window", _MINUTES),
    Field("per_m2", in_feet("a m²", "a sq ft"), _minutes_for(SQUARE_FOOT_M2)),
    Field(
        "once",
        "once for all alike",
        TICK,
        rule="P11",
    ),
)

LABOUR = Form[Shop](
    Field(
        "hourly_rate",
        "Hourly rate you charge",
        MONEY,
        lambda shop: shop.currency.code,
        needed=True,
        stated=lambda shop, typed: stating.prices(
            shop, shop.rules.rate_of(typed.get("labour_tax") or shop.labour.tax)
        ),
    ),
    Field(
        "labour_tax",
        "Tax on work",
        text_of(24, "select"),
        usual=lambda shop: shop.labour.tax,
        options=lambda shop: tuple((rate.code, rate.name) for rate in shop.tax_rates),
        beside=True,
    ),
    repeats=(Rows("operations", "Operation", OPERATION, label="Operations"),),
)


def read_labour(typed: Typed, shop: Shop) -> Shop:
    """Return the shop with the labour of a form. Raises: Invalid with every fault, at the form's fields."""
    read = LABOUR.reader(typed, shop)
    values = LABOUR.values(read, shop)
    operations: list[Operation] = []
    for row in LABOUR.rows_filled("operations", read):
        given = row.values(read, shop)
        code = kept_code(given.pop("code"), given["name"], {each.code for each in operations})
        operation = read.take(partial(Operation, code=code, **given), row.root)
        if operation is not None:
            operations.append(operation)
    tax = values["labour_tax"]
    if shop.rules.rate_of(tax) is None:
        read.faults.add("labour_tax", shop.rules.no_such_rate(tax))
    read.faults.finish()
    return replace(
        shop,
        labour=Labour(hourly_rate=values["hourly_rate"], operations=tuple(operations), tax=tax),
    )
