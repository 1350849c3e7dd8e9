"""What is typed on the pages of buying, read into what the services ask for.

A line of an order is known by its id, a row of what is short by its number on the page.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from app.errors import Fault, Invalid, quoted
from app.forms.kinds import MONEY, otherwise, text_of, whole
from app.forms.reader import Reader, whole_number
from app.forms.table import Field, Form, Typed, values_in
from app.money import Money
from app.orders import Shop
from app.services.buying import DraftEdit, LineEdit, ToOrder
from app.services.deliveries import CameOfLine
from app.stock.buying.supplier_orders import (
    LONGEST_NOTE,
    LONGEST_SUPPLIER,
    LONGEST_WORD,
    NewLine,
    OrderLine,
    SupplierOrder,
)
from app.stock.levels import LARGEST_COUNT
from app.web.kit.common_fields import read_version
from app.web.kit.stating import Stated, costs
from app.web.stock.fields import MATERIAL

MOST_ROWS = 95
"""Materials that one page of what is short can ask for: five fields each, and a form has 500 at most."""

_COUNT = whole("quantity", 1, LARGEST_COUNT)
_CAME = whole("quantity", 0, LARGEST_COUNT)
_ORDERED = "Say how many are to be ordered."

HEAD = Form[Shop](
    Field(
        "supplier",
        "Supplier",
        text_of(LONGEST_SUPPLIER),
        needed=True,
        wish="Say who the order goes to.",
    ),
    Field("note", "Note on the order", text_of(LONGEST_NOTE, "area"), "Stands on the order sheet."),
)
"""Of a draft."""

ADDED = Form[Shop](
    Field("material", "Material", MATERIAL, "Part of a code or a name."),
    Field("quantity", "How many", _COUNT, usual=1, beside=True),
).under("add")
"""A further material on a draft, part of its form."""

DELIVERY = Form[Shop](
    Field("note", "Delivery note", text_of(LONGEST_NOTE), "Its number, or what was wrong.")
).under("came")


def _costs(shop: Shop, _typed: Typed) -> Stated:
    return costs(shop)


def draft_line(line: OrderLine) -> Form[Shop]:
    """Return the form of one line of a draft, whose quantity, cost and note may be changed."""
    ordered = line.ordered
    return Form[Shop](
        Field(
            "quantity",
            _how_many(ordered),
            whole("quantity", high=LARGEST_COUNT),
            usual=1,
            needed=True,
            wish="Say how many; 0 takes the line off.",
        ),
        Field("cost", f"Cost {_each(ordered)}", MONEY, needed=True, stated=_costs),
        Field(
            "note", "For the supplier", text_of(LONGEST_NOTE), "Such as their own number for it."
        ),
    ).under(f"lines.{line.id}", f"{ordered.material},")


def came_line(line: OrderLine) -> Form[Shop]:
    """Return the form for what came of one line; 0 is as good as a blank. A blank cost is that of the order."""
    ordered = line.ordered
    return Form[Shop](
        Field("came", f"{_how_many(ordered)} came", _CAME),
        Field("paid", f"Paid {_each(ordered)}", otherwise(MONEY, usual_cost(line)), stated=_costs),
        Field("batch", "Batch or finish lot", text_of(LONGEST_WORD)),
        Field("place", "Place, if not the usual", text_of(LONGEST_WORD)),
    ).under(f"lines.{line.id}", f"{ordered.material},")


def _each(ordered: NewLine) -> str:
    return f"for {ordered.cost_for}" if ordered.cost_for > 1 else ordered.unit.per_one


def _how_many(ordered: NewLine) -> str:
    return f"How many {ordered.unit.word()}".rstrip()


def row_path(number: int, field: str) -> str:
    """Return the path of a field in a row of the shopping list."""
    return f"buy.{number}.{field}"


def read_chosen(typed: Typed, shop: Shop) -> tuple[ToOrder, ...]:
    """Read the rows that are ticked, each with its quantity.

    Raises: Invalid with every fault, at "buy.<row>.quantity".
    """
    read = Reader(typed, shop.unit, shop.currency)
    supplier = read.text("supplier", LONGEST_SUPPLIER)
    wanted: list[ToOrder] = []
    for number in range(MOST_ROWS):
        code = typed.get(row_path(number, "code"), "").strip()
        if not code or not read.given(row_path(number, "chosen")):
            continue
        count = _count(read, row_path(number, "quantity"))
        own = typed.get(row_path(number, "without"), "") == "1"
        wanted.append(
            ToOrder(
                material=code,
                quantity=count,
                supplier=supplier if own else "",
                coming=read_version(typed, row_path(number, "coming")),
            )
        )
    read.faults.finish()
    return tuple(wanted)


def _added(typed: Typed, shop: Shop, code: str) -> ToOrder:
    """Read the quantity of a material that is added to a draft. Raises: Invalid at "add.quantity"."""
    return ToOrder(material=code, quantity=ADDED.read(typed, shop)["quantity"])


def draft_typed(order: SupplierOrder, shop: Shop) -> dict[str, str]:
    """Return the text that each field of a draft's form begins with."""
    typed = HEAD.typed(values_in(order), shop) | {ADDED.at["quantity"].path: "1"}
    for line in order.lines:
        typed |= draft_line(line).typed(values_in(line.ordered), shop)
    return typed


def read_draft(
    typed: Typed,
    order: SupplierOrder,
    shop: Shop,
    meant: Callable[[str], str],
) -> DraftEdit:
    """Read a draft as it was typed; a quantity of 0 removes the line, a material that is typed is put on it.

    meant: the code of the material that a text means. Raises: Invalid with every fault.
    """
    read = HEAD.reader(typed, shop)
    forms = {line.id: draft_line(line) for line in order.lines}
    edit = DraftEdit(
        **HEAD.values(read, shop),
        lines={
            line_id: LineEdit(**form.values(read, shop))
            for line_id, form in forms.items()
            if form.at["quantity"].path in typed
        },
    )
    path, action = ADDED.at["material"].path, typed.get("action")
    material = typed.get(path, "").strip()
    if action == "send" and material:
        read.faults.add(
            path,
            f"{quoted(material, limit=24)} is not on the draft yet. Put it on the draft, or clear this field; then send the order.",
        )
    elif action == "add" or material:
        try:
            edit = replace(edit, added=_added(typed, shop, meant(material)))
        except Invalid as invalid:
            read.faults.take(invalid)
    read.faults.finish()
    return edit


def read_came(typed: Typed, order: SupplierOrder, shop: Shop) -> tuple[tuple[CameOfLine, ...], str]:
    """Read what came of each line, and the note to it; lines without a number, or with 0, did not come.

    Raises: Invalid with every fault, at "lines.<id>.<field>", "came.note".
    """
    read = DELIVERY.reader(typed, shop)
    came = [
        _came_of(line.id, values, read)
        for line in order.lines
        if read.given((form := came_line(line)).at["came"].path)
        and (values := form.values(read, shop))["came"] != 0
    ]
    note: str = DELIVERY.values(read, shop)["note"]
    if not came:
        read.faults.add("", "Nothing came by this list; say how many of which line did.", "empty")
    read.faults.finish()
    return tuple(each for each in came if each is not None), note


def _came_of(line_id: int, values: Mapping[str, Any], read: Reader) -> CameOfLine | None:
    return read.take(
        lambda: CameOfLine(
            line_id=line_id,
            quantity=values["came"] or 1,
            cost=values["paid"],
            batch=values["batch"],
            place=values["place"],
        )
    )


def usual_cost(line: OrderLine) -> Money:
    """Return the cost that the form for a delivery begins with: the last one paid, else the one ordered at."""
    last = line.last_paid
    return line.ordered.cost if last is None else last.cost


def read_taken_costs(typed: Typed) -> dict[str, int]:
    """Read the materials whose costs go into the price book, with the versions that were shown.

    Raises: Invalid where a version is no number, since the page never posts that.
    """
    seen: dict[str, int] = {}
    for name, value in typed.items():
        if not name.startswith("cost."):
            continue
        code, _, version = value.rpartition(":")
        number = whole_number(version, digits=12)
        if not code or number is None:
            raise Invalid.at("", "The list of costs is not readable; look at it again.")
        seen[code] = number
    return seen


def faults_at_fields(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Move the domain's faults of a delivery to the fields in which it is typed, which have other names."""
    named = {"quantity": "came", "cost": "paid"}
    return tuple(_moved(fault, named) for fault in faults)


def _moved(fault: Fault, named: Mapping[str, str]) -> Fault:
    head, _, field = fault.path.rpartition(".")
    if not head.startswith("lines.") or field not in named:
        return fault
    return Fault(path=f"{head}.{named[field]}", message=fault.message, code=fault.code)


def _count(read: Reader, path: str) -> int:
    """Read a whole number from 1; it is 1, with a fault, where it is blank or unreadable."""
    read.need(path, _ORDERED)
    return _COUNT.read(read, path, 1)
