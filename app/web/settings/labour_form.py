"""Reads the hourly rate and the table of operations from their form, and writes the form's text."""

from dataclasses import replace
from fractions import Fraction
from functools import partial

from app.forms.reader import number_text
from app.forms.rows import kept_code
from app.forms.table import (
    MONEY,
    TICK,
    Field,
    FieldKind,
    Form,
    Options,
    Rows,
    Typed,
    choice,
    text_of,
)
from app.orders import Labour, Shop
from app.pricing import Operation, When
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

_MINUTES = FieldKind[Fraction](
    control="number",
    read=lambda read, path, _usual: read.number(path, "time in minutes"),
    text=lambda minutes, _known: number_text(minutes) if minutes else "",
)

OPERATION = Form[Shop](
    Field("code", "Code", CODE),
    Field("name", "What is done", text_of(80), needed=True),
    Field("when", "For", choice(When, WHENS), usual=When.ALWAYS, beside=True),
    Field("fixed", "each time", _MINUTES),
    Field("per_metre", "a metre", _MINUTES),
    Field("per_layer", "a layer", _MINUTES),
    Field("per_window", "a window", _MINUTES),
    Field("per_m2", "a m²", _MINUTES),
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
