"""The hourly rate and the table of operations from their form, and back."""

from collections.abc import Mapping
from dataclasses import replace

from app.errors import Invalid
from app.forms.reader import Reader, number_text
from app.forms.rows import code_from, filled_rows
from app.money import show_money
from app.orders import Labour, Shop
from app.pricing import Operation, When

TIMES = ("fixed", "per_metre", "per_layer", "per_window", "per_m2")


def read_labour(typed: Mapping[str, str], shop: Shop) -> Shop:
    """The shop with the labour of a form. Raises: Invalid with every fault, at the form's fields."""
    read = Reader(typed, shop.unit, shop.currency)
    rate = read.money("hourly_rate")
    operations: list[Operation] = []
    for _, path in filled_rows(typed, "operations", ("name", *TIMES)):
        operation = _operation(read, path, {each.code for each in operations})
        if operation is not None:
            operations.append(operation)
    tax = read.text("labour_tax", 24) or shop.labour.tax
    if shop.rules.rate_of(tax) is None:
        read.faults.add("labour_tax", shop.rules.no_such_rate(tax))
    read.faults.finish()
    return replace(shop, labour=Labour(hourly_rate=rate, operations=tuple(operations), tax=tax))


def _operation(read: Reader, path: str, taken: set[str]) -> Operation | None:
    name = read.text(f"{path}.name", 80)
    code = read.text(f"{path}.code", 24)
    times = {field: read.number(f"{path}.{field}", "time in minutes") for field in TIMES}
    when = read.choice(f"{path}.when", When, When.ALWAYS)
    if not code or code in taken:
        code = code_from(name, taken)
    try:
        return Operation(code=code, name=name, when=when, **times)
    except Invalid as invalid:
        read.faults.take(invalid.under(path))
        return None


def labour_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    typed = {"hourly_rate": show_money(shop.labour.hourly_rate), "labour_tax": shop.labour.tax}
    for row, operation in enumerate(shop.labour.operations):
        path = f"operations.{row}"
        typed[f"{path}.code"] = operation.code
        typed[f"{path}.name"] = operation.name
        typed[f"{path}.when"] = operation.when.value
        for field, minutes in operation.times():
            typed[f"{path}.{field}"] = number_text(minutes) if minutes else ""
    return typed
