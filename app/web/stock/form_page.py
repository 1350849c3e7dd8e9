"""The forms of the stock: receiving, keeping an offcut, taking, editing, levels, counting."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from app.errors import Fault
from app.forms.table import Typed
from app.lengths import Unit
from app.money import Money
from app.pricing import Kind
from app.stock.counting import StockCount
from app.stock.items import Item
from app.stock.planning.fitting import extent_text
from app.stock.wording import figure, signed
from app.storage import StockLine
from app.web.kit.fields import Fields, FieldView, FormView
from app.web.kit.listing import Chip
from app.web.stock.parts import StockPage


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFormPage(StockPage):
    """A page with one form.

    hidden: (name, text) of what it carries along. cut_up: for an offcut, the box that says its source
    is used up. focus: the path of the field that one begins at.
    """

    heading: str
    lead: str
    action: str
    yes: str
    back: str
    fields: FormView[Any]
    focus: str = ""
    hidden: tuple[tuple[str, str], ...] = ()
    cut_up: FieldView | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRow:
    """One item on the count sheet.

    field: where its count is typed. noted: how many the record says there are.
    """

    name: str
    label: str
    details: str
    place: str
    noted: str
    field: FieldView


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One item of which more or fewer were counted than the record says. value: at cost; None where that is not shown."""

    name: str
    details: str
    noted: str
    counted: int
    change: str
    value: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CountPage(StockPage):
    """The count sheet, or the differences once it was looked at.

    ready: whether it was chosen what to count. more: how many items do not fit on the sheet. hidden:
    (name, text) of what was typed, carried along. agreed: how many counts agree with the record. found,
    missing: what is there beyond the record, and what is not, at cost; None where costs are not shown. sheets: where it is
    printed, without and with what is noted.
    """

    wide: bool = True
    choice: tuple[FieldView, ...]
    ready: bool
    rows: tuple[CountRow, ...] = ()
    more: int = 0
    note: FieldView | None = None
    hidden: tuple[tuple[str, str], ...] = ()
    differences: tuple[Difference, ...] | None = None
    agreed: int = 0
    found: Money | None = None
    missing: Money | None = None
    everything: Chip | None = None
    sheets: tuple[str, str] = ("", "")


def count_rows(
    lines: Sequence[StockLine], typed: Typed, faults: Iterable[Fault], unit: Unit
) -> tuple[CountRow, ...]:
    """Return the rows of the count sheet, place by place as one walks past the racks."""
    fields = Fields(typed, faults)
    walked = sorted(lines, key=lambda line: line.kept.item.place.casefold())
    return tuple(
        CountRow(
            name=line.name,
            label=line.kept.item.label or line.kept.item.material,
            details=_details(line.kept.item, unit),
            place=line.kept.item.place,
            noted=figure(line.kept.on_hand),
            field=fields.field(f"count.{line.kept.id}", f"Count of {_called(line, unit)}"),
        )
        for line in walked
    )


def _called(line: StockLine, unit: Unit) -> str:
    return " ".join(
        filter(
            None, (line.kept.item.label or line.kept.item.material, _details(line.kept.item, unit))
        )
    )


def _details(item: Item, unit: Unit) -> str:
    return ", ".join(filter(None, (extent_text(item, unit), item.batch)))


def differences_of(
    count: StockCount, lines: Sequence[StockLine], unit: Unit, *, costs: bool = True
) -> tuple[Difference, ...]:
    """Return what a count would change. costs: whether it says what that is worth."""
    names = {line.kept.id: line for line in lines}
    return tuple(
        Difference(
            name=names[each.kept.id].name,
            details=_called(names[each.kept.id], unit),
            noted=figure(each.kept.on_hand),
            counted=each.counted,
            change=signed(each.change),
            value=each.value if costs else None,
        )
        for each in count.changed
    )


def kind_options(words: Mapping[Kind, str]) -> tuple[tuple[str, str], ...]:
    """Return the choices of what to count: everything, or one kind of material."""
    return (("", "everything"), *((kind.value, word) for kind, word in words.items()))
