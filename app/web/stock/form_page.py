"""The forms of the stock: receiving, keeping an offcut, taking, editing, levels, counting."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from app.errors import Fault
from app.forms.reader import length_text, size_text
from app.lengths import Unit
from app.money import Money, show_money
from app.orders import Shop
from app.pricing import Kind, Material
from app.services.stock import Meant
from app.stock.costs import usual_length, usual_size, whole_cost
from app.stock.counting import StockCount
from app.stock.items import Form, Item, form_of
from app.stock.levels import Levels
from app.stock.wording import figure, signed
from app.storage import StockLine
from app.web.kit.fields import Fields, FieldView
from app.web.kit.listing import Chip
from app.web.kit.stating import Stated, costs
from app.web.stock.form import TAKEN
from app.web.stock.items_page import measure_of
from app.web.stock.parts import StockPage

type Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFormPage(StockPage):
    """A form. hidden: what it carries along. cut_up: of an offcut, whether its source is used up."""

    heading: str
    lead: str
    action: str
    yes: str
    back: str
    fields: Mapping[str, FieldView]
    hidden: tuple[tuple[str, str], ...] = ()
    cut_up: FieldView | None = None


def _costs(shop: Shop, known: Meant | None) -> Stated:
    """Costs of a material at its rate of tax, once it is known."""
    return costs(shop, shop.rules.rate_of(known.material.tax) if known else None)


def receive_fields(
    typed: Typed, faults: Iterable[Fault], shop: Shop, known: Meant | None
) -> Mapping[str, FieldView]:
    """Return the fields of what came in. known: the material, once it is, for what a blank field means."""
    fields, unit = Fields(typed, faults), shop.unit
    return _by_path(
        fields.field("material", "Material", required=True, hint="Part of a code or a name."),
        fields.field("count", "How many", required=True, hint=_pack_hint(known)),
        fields.field(
            "size", f"Size, if not the usual ({unit.value})", hint=_size_hint(known, unit)
        ),
        fields.amount("unit_cost", "Cost of one", _costs(shop, known), hint=_cost_hint(known)),
        fields.field("batch", "Batch or finish lot"),
        fields.field("place", "Place", hint=_place_hint(known)),
        fields.field("note", "Note"),
    )


def offcut_fields(
    typed: Typed, faults: Iterable[Fault], shop: Shop, known: Meant | None
) -> Mapping[str, FieldView]:
    """Return the fields of an offcut."""
    fields, unit = Fields(typed, faults), shop.unit
    return _by_path(
        fields.field("material", "Material", required=True, hint="Part of a code or a name."),
        fields.field(
            "size",
            f"Size ({unit.value})",
            required=True,
            hint="Length of a stick, width x height of a sheet.",
        ),
        fields.field("place", "Place", hint=_place_hint(known)),
        fields.field("batch", "Batch or finish lot"),
        fields.amount(
            "unit_cost",
            "Value",
            _costs(shop, known),
            hint="Blank for its share of the whole one’s cost.",
        ),
        fields.field("note", "Note"),
    )


def _by_path(*views: FieldView) -> Mapping[str, FieldView]:
    return {view.path: view for view in views}


def _pack_hint(known: Meant | None) -> str | None:
    if known is None or known.levels.pack == 1:
        return None
    return f"Bought by {known.levels.pack}; type what came, one by one."


def _size_hint(known: Meant | None, unit: Unit) -> str:
    if known is None:
        return "Blank for what the price book says."
    length, size = usual_length(known.material), usual_size(known.material)
    form = form_of(known.material)
    if form is Form.STICK and length is not None:
        return f"Blank for the usual stick, {length_text(length, unit)}."
    if form is Form.SHEET and size is not None:
        return f"Blank for the usual sheet, {size_text(size, unit)}."
    return "Leave it blank: this is counted."


def _cost_hint(known: Meant | None) -> str:
    if known is None:
        return "Blank for the price book’s."
    return (
        f"Blank for the price book’s, {show_money(whole_cost(known.material))} for the usual one."
    )


def _place_hint(known: Meant | None) -> str | None:
    if known is None or not known.levels.place:
        return None
    return f"Blank for the usual place, {known.levels.place}."


def taking_fields(typed: Typed, faults: Iterable[Fault]) -> Mapping[str, FieldView]:
    """Return the fields of what leaves the rack."""
    fields = Fields(typed, faults)
    return _by_path(
        fields.field("count", "How many", required=True),
        fields.field(
            "kind", "Why", options=tuple((kind.value, word) for kind, word in TAKEN.items())
        ),
        fields.field("note", "Note"),
    )


EDIT_LABELS = {
    "place": "Place",
    "batch": "Batch or finish lot",
    "unit_cost": "Cost of one",
    "note": "Note",
}


def edit_labels(shop: Shop) -> dict[str, str]:
    """Return how the fields of an item are called."""
    return EDIT_LABELS | {"unit_cost": costs(shop).after(EDIT_LABELS["unit_cost"])}


def edit_fields(
    typed: Typed, faults: Iterable[Fault], shop: Shop, material: Material
) -> Mapping[str, FieldView]:
    """Return the fields of an item that may be changed."""
    fields = Fields(typed, faults)
    stated = costs(shop, shop.rules.rate_of(material.tax))
    return _by_path(
        *(
            fields.amount(path, label, stated, required=True)
            if path == "unit_cost"
            else fields.field(path, label)
            for path, label in EDIT_LABELS.items()
        )
    )


def typed_of_item(item: Item) -> dict[str, str]:
    """Return the text that the form of an item begins with."""
    return {
        "place": item.place,
        "batch": item.batch,
        "unit_cost": show_money(item.unit_cost),
        "note": item.note,
    }


LEVEL_LABELS = {
    "reorder_at": "Buy when so many or fewer are free",
    "pack": "Bought by",
    "place": "Usual place",
}
_LEVEL_HINTS = {
    "reorder_at": "Whole ones that no plan has taken; blank where it need not be watched.",
    "pack": "How many come together, as in a pack of 10; blank for 1.",
    "place": "Where new stock goes unless something else is typed.",
}


def level_fields(typed: Typed, faults: Iterable[Fault]) -> Mapping[str, FieldView]:
    """Return the fields of a material's levels."""
    fields = Fields(typed, faults)
    return _by_path(
        *(
            fields.field(path, label, hint=_LEVEL_HINTS[path])
            for path, label in LEVEL_LABELS.items()
        )
    )


def typed_of_levels(levels: Levels) -> dict[str, str]:
    """Return the text that the form of the levels begins with."""
    return {
        "reorder_at": "" if levels.reorder_at is None else str(levels.reorder_at),
        "pack": str(levels.pack) if levels.pack > 1 else "",
        "place": levels.place,
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRow:
    """One item on the count sheet. field: where its count is typed. noted: what the record says."""

    name: str
    label: str
    details: str
    place: str
    noted: str
    field: FieldView


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One item of which there are more or fewer than were noted."""

    name: str
    details: str
    noted: str
    counted: int
    change: str
    value: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class CountPage(StockPage):
    """The count sheet, or the differences once it was looked at.

    ready: whether what is to be counted was chosen. more: items beyond what one sheet holds.
    hidden: what was typed, carried along. found, missing: worth at cost.
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
    return ", ".join(filter(None, (measure_of(item, unit), item.batch)))


def differences_of(
    count: StockCount, lines: Sequence[StockLine], unit: Unit
) -> tuple[Difference, ...]:
    """Return what a count would change."""
    names = {line.kept.id: line for line in lines}
    return tuple(
        Difference(
            name=names[each.kept.id].name,
            details=_called(names[each.kept.id], unit),
            noted=figure(each.kept.on_hand),
            counted=each.counted,
            change=signed(each.change),
            value=each.value,
        )
        for each in count.changed
    )


def kind_options(words: Mapping[Kind, str]) -> tuple[tuple[str, str], ...]:
    """Return the choice of a kind to count."""
    return (("", "everything"), *((kind.value, word) for kind, word in words.items()))
