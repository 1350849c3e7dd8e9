"""Reads the rules of selling from their form, and writes its text: rounding step, markup tables, prices by number,
loss at the saw.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from app.counting import counted
from app.errors import Invalid
from app.forms.in_other_marks import marked, told_length
from app.forms.kinds import LENGTH, MONEY, PERCENT, number, optional, otherwise, text_of, whole
from app.forms.reader import Reader
from app.forms.rows import kept_code
from app.forms.table import Field, Form, Rows, Typed
from app.lengths import Example, Unit, inches, show
from app.money import Money, show_money
from app.orders import Shop
from app.pricing import MOST_ALIKE, MarkupStep, MarkupTable, NumberBreak, loss_at_saw
from app.pricing.rules import DEFAULT_KERF, USUAL_SAW_LOSS, breaks_out_of_order
from app.web.kit import stating
from app.web.settings.labour_form import CODE

MOST_STEPS = 8
LEAST_STEPS = 4

STEP = Form[Shop](
    Field(
        "up_to", "Unit cost up to", optional(MONEY), stated=lambda shop, _typed: stating.costs(shop)
    ),
    Field(
        "factor",
        lambda shop: f"Cost × = price {stating.prices(shop, None).words}".rstrip(),
        otherwise(number("markup"), Fraction(1)),
        wish="Type what the cost is multiplied by, as 2.5",
        beside=True,
    ),
)

WIDEST_KERF = inches(1)
"""Blades for mouldings cut 2 to 4 mm; more than this is a slip of the finger. Source: common practice."""

TABLE = Form[Shop](
    Field("code", "Code", CODE),
    Field(
        "name",
        "Name of the table",
        text_of(60),
        needed=True,
        wish="Name the table; materials are given it by its name",
    ),
    repeats=(Rows("steps", "Step", STEP, first=("factor",), least=LEAST_STEPS, most=MOST_STEPS),),
)

BREAK = Form[Shop](
    Field(
        "from_number",
        "From so many alike",
        whole("number of pieces that are alike", 2, MOST_ALIKE),
        needed=True,
        wish="Type from how many alike on, as 10",
    ),
    Field(
        "off",
        "Off the price of one, %",
        PERCENT,
        needed=True,
        wish="Type what is taken off, as 5",
        beside=True,
    ),
)

MARKUPS = Form[Shop](
    Field(
        "rounding_step",
        "Round the price of a piece to steps of",
        replace(MONEY, text=lambda step, _known: show_money(step) if step else ""),
        "As 0.50; blank for none.",
        usual=lambda shop: Money.zero(shop.currency),
        stated=lambda shop, _typed: stating.prices(shop, None),
    ),
    Field(
        "saw_loss",
        "Length lost with each rail",
        marked(LENGTH, told_length),
        "Charged with every rail of a frame.",
        usual=lambda shop: shop.saw_loss,
        like=Example.of(USUAL_SAW_LOSS.__getitem__),
    ),
    Field(
        "kerf",
        "or the saw's cut width",
        optional(LENGTH),
        "We work the loss out from it: twice that × √2.",
        like=Example(DEFAULT_KERF, inches("1/8")),
        beside=True,
    ),
    repeats=(
        Rows("tables", "Table", TABLE, label="Markup tables"),
        Rows("number_breaks", "Row", BREAK, label="Prices by number", most=MOST_STEPS),
    ),
)


def read_markups(typed: Typed, shop: Shop, used: Mapping[str, int]) -> Shop:
    """Return the shop with the rules of a form.

    A kerf that is typed takes precedence over the loss beside it (C1). used: how many materials sell by
    each table, by its code.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = MARKUPS.reader(typed, shop)
    values = MARKUPS.values(read, shop)
    kerf = values["kerf"]
    if kerf is not None and kerf > WIDEST_KERF:
        most = f"{show(WIDEST_KERF, Unit.MM, mark=True)} or {show(WIDEST_KERF, Unit.IN, mark=True)}"
        read.faults.add(
            "kerf", f"The saw's cut is {show(kerf, shop.unit, mark=True)}; at most {most} is read."
        )
    tables: list[MarkupTable] = []
    kept = set()
    for row in MARKUPS.rows_filled("tables", read):
        table = _table(read, row, shop, {each.code for each in tables})
        if table is not None:
            tables.append(table)
        if read.given(row.at["name"].path):
            kept.add(read.raw(row.at["code"].path))
    _check_kept(read, kept, shop, used)
    breaks = _breaks(read, shop)
    read.faults.finish()
    return replace(
        shop,
        rounding_step=values["rounding_step"],
        saw_loss=values["saw_loss"] if kerf is None else loss_at_saw(kerf),
        markup_tables=tuple(tables),
        number_breaks=breaks,
    )


def _breaks(read: Reader, shop: Shop) -> tuple[NumberBreak, ...]:
    """Return the prices by number; faults of how they follow one another stand at the row that was typed."""
    before = len(read.faults.faults)
    rows = tuple(MARKUPS.rows_filled("number_breaks", read))
    breaks = [_break(read, row, shop) for row in rows]
    kept = tuple(each for each in breaks if each)
    if len(read.faults.faults) == before:
        for number, fault in breaks_out_of_order(kept):
            read.faults.add(f"{rows[number].root}from_number", fault)
    return kept


def _break(read: Reader, row: Form[Shop], shop: Shop) -> NumberBreak | None:
    before = len(read.faults.faults)
    values = row.values(read, shop)
    if len(read.faults.faults) > before:
        return None
    return read.take(lambda: NumberBreak(**values), row.root)


def _table(read: Reader, row: Form[Shop], shop: Shop, taken: set[str]) -> MarkupTable | None:
    before = len(read.faults.faults)
    values = row.values(read, shop)
    rows = tuple(row.rows_filled("steps", read))
    steps = [_step(read, each, shop) for each in rows]
    if len(read.faults.faults) > before:
        return None
    code = kept_code(values["code"], values["name"], taken)
    try:
        return MarkupTable(
            code=code, name=values["name"], steps=tuple(step for step in steps if step)
        )
    except Invalid as invalid:
        read.faults.take(_at_rows(invalid, row, rows))
        return None


def _at_rows(invalid: Invalid, row: Form[Shop], rows: Sequence[Form[Shop]]) -> Invalid:
    """Move each fault of a table to the row in which its step was typed; a fault of all steps goes to
    the first.

    rows: those of the steps that were typed, in their order. A row between may have been left blank.
    """
    first = rows[0].root if rows else f"{row.root}steps.0."
    at = {f"steps.{place}.up_to": f"{each.root}up_to" for place, each in enumerate(rows)}
    at["steps"] = f"{first}up_to"
    return Invalid(
        replace(fault, path=at.get(fault.path, f"{row.root}{fault.path}"))
        for fault in invalid.faults
    )


def _step(read: Reader, row: Form[Shop], shop: Shop) -> MarkupStep | None:
    values = row.values(read, shop)
    return read.take(lambda: MarkupStep(**values), row.root)


def _check_kept(read: Reader, kept: set[str], shop: Shop, used: Mapping[str, int]) -> None:
    """Check that no table is dropped by which materials sell."""
    for table in shop.markup_tables:
        if table.code not in kept and used.get(table.code):
            count = counted(used[table.code], "material sells", "materials sell")
            read.faults.add("tables", f"{count} by “{table.name}”; give another markup first.")
