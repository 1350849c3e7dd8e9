"""What is typed on the pages of buying, read into what the services ask for.

A line of an order is known by its id, a row of what is short by its number on the page.
"""

from collections.abc import Iterable, Mapping

from app.errors import Fault, Invalid
from app.forms.reader import Reader
from app.money import Money
from app.orders import Shop
from app.services.buying import DraftEdit, LineEdit, ToOrder
from app.services.deliveries import CameOfLine
from app.stock.buying.supplier_orders import (
    LONGEST_NOTE,
    LONGEST_SUPPLIER,
    LONGEST_WORD,
    OrderLine,
    SupplierOrder,
)
from app.stock.levels import LARGEST_COUNT
from app.web.kit.common_fields import read_version

MOST_ROWS = 95
"""Materials that one page of what is short can ask for: five fields each, and a form has 500 at most."""

type Typed = Mapping[str, str]


def row_path(number: int, field: str) -> str:
    """Where a field of a row of what is short stands."""
    return f"buy.{number}.{field}"


def line_path(line_id: int, field: str) -> str:
    """Where a field of a line of an order stands."""
    return f"lines.{line_id}.{field}"


def read_chosen(typed: Typed, shop: Shop) -> tuple[ToOrder, ...]:
    """What is ticked, with how many. Raises: Invalid with every fault, at "buy.<row>.quantity"."""
    read = Reader(typed, shop.unit, shop.currency)
    supplier = read.text("supplier", LONGEST_SUPPLIER)
    wanted: list[ToOrder] = []
    for number in range(MOST_ROWS):
        code = typed.get(row_path(number, "code"), "").strip()
        if not code or not read.given(row_path(number, "chosen")):
            continue
        count = _count(read, row_path(number, "quantity"), "Say how many are to be ordered.")
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


def read_added(typed: Typed, shop: Shop, code: str) -> ToOrder:
    """A material that is put on a draft. Raises: Invalid at "add.quantity"."""
    read = Reader(typed, shop.unit, shop.currency)
    count = _count(read, "add.quantity", "Say how many are to be ordered.")
    read.faults.finish()
    return ToOrder(material=code, quantity=count)


def read_draft(typed: Typed, order: SupplierOrder, shop: Shop) -> DraftEdit:
    """A draft as it was typed; a quantity of 0 takes a line off. Raises: Invalid with every fault."""
    read = Reader(typed, shop.unit, shop.currency)
    lines: dict[int, LineEdit] = {}
    for line in order.lines:
        path = line_path(line.id, "quantity")
        if path not in typed:
            continue
        quantity = 0
        if read.given(path):
            quantity = read.whole(path, "quantity", 1, low=0, high=LARGEST_COUNT)
        else:
            read.faults.add(path, "Say how many; 0 takes the line off.", "empty")
        lines[line.id] = LineEdit(
            quantity=quantity,
            cost=read.money(line_path(line.id, "cost")),
            note=read.text(line_path(line.id, "note"), LONGEST_NOTE),
        )
    edit = DraftEdit(
        supplier=read.required("supplier", "Say who the order goes to.", LONGEST_SUPPLIER),
        note=read.text("note", LONGEST_NOTE),
        lines=lines,
    )
    read.faults.finish()
    return edit


def read_came(typed: Typed, order: SupplierOrder, shop: Shop) -> tuple[tuple[CameOfLine, ...], str]:
    """What came, and the note to it; lines with no number did not come.

    A blank cost is that of the order. Raises: Invalid with every fault, at "lines.<id>.<field>", "came.note".
    """
    read = Reader(typed, shop.unit, shop.currency)
    came = [_came_of(read, line) for line in order.lines if read.given(line_path(line.id, "came"))]
    note = read.text("came.note", LONGEST_NOTE)
    if not came:
        read.faults.add("", "Nothing came by this list; say how many of which line did.", "empty")
    read.faults.finish()
    return tuple(each for each in came if each is not None), note


def _came_of(read: Reader, line: OrderLine) -> CameOfLine | None:
    count = _count(read, line_path(line.id, "came"), "Say how many came.")
    cost = read.money(line_path(line.id, "paid"), usual_cost(line))
    batch = read.text(line_path(line.id, "batch"), LONGEST_WORD)
    place = read.text(line_path(line.id, "place"), LONGEST_WORD)
    return read.take(
        lambda: CameOfLine(line_id=line.id, quantity=count, cost=cost, batch=batch, place=place)
    )


def usual_cost(line: OrderLine) -> Money:
    """What a further part of a line probably costs: as the last one, else as was ordered."""
    last = line.last_paid
    return line.ordered.cost if last is None else last.cost


def read_taken_costs(typed: Typed) -> dict[str, int]:
    """The materials whose costs are to be taken over, with their versions as they were shown.

    Raises: Invalid where a version is no number: somebody else wrote it.
    """
    seen: dict[str, int] = {}
    for name, value in typed.items():
        if not name.startswith("cost."):
            continue
        code, _, version = value.rpartition(":")
        if not code or not version.isascii() or not version.isdigit() or len(version) > 12:
            raise Invalid.at("", "The list of costs is not readable; look at it again.")
        seen[code] = int(version)
    return seen


def faults_at_fields(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults of what came, at the fields in which it is typed: the domain's words are others there."""
    named = {"quantity": "came", "cost": "paid"}
    return tuple(_moved(fault, named) for fault in faults)


def _moved(fault: Fault, named: Mapping[str, str]) -> Fault:
    head, _, field = fault.path.rpartition(".")
    if not head.startswith("lines.") or field not in named:
        return fault
    return Fault(path=f"{head}.{named[field]}", message=fault.message, code=fault.code)


def _count(read: Reader, path: str, sentence: str) -> int:
    """A whole number from 1; 1, with a fault, where it is blank or unreadable."""
    if not read.given(path):
        read.faults.add(path, sentence, "empty")
        return 1
    return read.whole(path, "quantity", 1, low=1, high=LARGEST_COUNT)
