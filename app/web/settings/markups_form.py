"""The rules of selling from their form, and back: rounding step, markup tables, loss at the saw."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from app.errors import Invalid
from app.forms.reader import Reader, counted, length_text, number_text
from app.forms.rows import code_from, filled_rows
from app.lengths import Example, Examples, inches
from app.money import Money, show_money
from app.orders import Shop
from app.pricing import MarkupStep, MarkupTable, loss_at_saw
from app.pricing.rules import DEFAULT_KERF, DEFAULT_SAW_LOSS

MOST_STEPS = 8
STEP_FIELDS = tuple(
    f"steps.{step}.{name}" for step in range(MOST_STEPS) for name in ("up_to", "factor")
)

EXAMPLES: Examples = {
    "saw_loss": Example(DEFAULT_SAW_LOSS, inches("3/8")),
    "kerf": Example(DEFAULT_KERF, inches("1/8")),
}


def read_markups(typed: Mapping[str, str], shop: Shop, used: Mapping[str, int]) -> Shop:
    """The shop with the rules of a form. used: how many materials sell by each table, by its code.

    A kerf that is typed wins over the loss beside it (C1). Raises: Invalid with every fault, at the
    form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency, EXAMPLES)
    rounding = read.money("rounding_step", Money.zero(shop.currency))
    loss = read.length("saw_loss", shop.saw_loss)
    if read.given("kerf"):
        loss = loss_at_saw(read.length("kerf"))
    tables: list[MarkupTable] = []
    for _, path in filled_rows(typed, "tables", ("name", *STEP_FIELDS)):
        table = _table(read, path, {each.code for each in tables})
        if table is not None:
            tables.append(table)
    _check_kept(read, typed, shop, used)
    read.faults.finish()
    return replace(shop, rounding_step=rounding, saw_loss=loss, markup_tables=tuple(tables))


def _table(read: Reader, path: str, taken: set[str]) -> MarkupTable | None:
    name = read.required(f"{path}.name", "Name the table; materials are given it by its name.", 60)
    code = read.text(f"{path}.code", 24)
    if not code or code in taken:
        code = code_from(name, taken)
    before = len(read.faults.faults)
    found = {row: _step(read, f"{path}.steps.{row}") for row in range(MOST_STEPS)}
    steps = {row: step for row, step in found.items() if step is not None}
    if len(read.faults.faults) > before or not name:
        return None
    try:
        return MarkupTable(code=code, name=name, steps=tuple(steps.values()))
    except Invalid as invalid:
        read.faults.take(_at_rows(invalid, list(steps)).under(path))
        return None


def _at_rows(invalid: Invalid, rows: list[int]) -> Invalid:
    """Each fault at the row of the form in which its step was typed; of all steps at the first.

    rows: of the steps that were typed, in their order; a row between may have been left blank.
    """
    at = {f"steps.{place}.up_to": f"steps.{row}.up_to" for place, row in enumerate(rows)}
    at["steps"] = f"steps.{rows[0] if rows else 0}.up_to"
    return Invalid(replace(fault, path=at.get(fault.path, fault.path)) for fault in invalid.faults)


def _step(read: Reader, path: str) -> MarkupStep | None:
    if not read.given(f"{path}.up_to") and not read.given(f"{path}.factor"):
        return None
    up_to = read.money(f"{path}.up_to") if read.given(f"{path}.up_to") else None
    if not read.given(f"{path}.factor"):
        read.faults.add(f"{path}.factor", "Type what the cost is multiplied by, as 2.5.", "empty")
    factor = read.number(f"{path}.factor", "markup", Fraction(1))
    try:
        return MarkupStep(up_to=up_to, factor=factor)
    except Invalid as invalid:
        read.faults.take(invalid.under(path))
        return None


def _check_kept(
    read: Reader, typed: Mapping[str, str], shop: Shop, used: Mapping[str, int]
) -> None:
    """A table by which materials sell must stay."""
    kept = {typed.get(f"{path}.code", "") for _, path in filled_rows(typed, "tables", ("name",))}
    for table in shop.markup_tables:
        if table.code not in kept and used.get(table.code):
            count = counted(used[table.code], "material sells", "materials sell")
            read.faults.add("tables", f"{count} by “{table.name}”; give another markup first.")


def markups_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    typed = {
        "rounding_step": show_money(shop.rounding_step) if shop.rounding_step else "",
        "saw_loss": length_text(shop.saw_loss, shop.unit),
        "kerf": "",
    }
    for row, table in enumerate(shop.markup_tables):
        typed[f"tables.{row}.code"] = table.code
        typed[f"tables.{row}.name"] = table.name
        for place, step in enumerate(table.steps):
            path = f"tables.{row}.steps.{place}"
            typed[f"{path}.up_to"] = show_money(step.up_to) if step.up_to else ""
            typed[f"{path}.factor"] = number_text(step.factor)
    return typed
