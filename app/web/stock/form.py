"""Reads what is typed on the pages of the stock into what the services ask for."""

from collections.abc import Callable, Iterable, Mapping

from app.errors import Fault, Invalid, quoted
from app.forms.reader import Reader, whole_number
from app.forms.table import Typed
from app.lengths import Example, Length, Size, show, show_size, to_grains
from app.money import Money
from app.orders import Shop
from app.pricing import Material
from app.services.stock import Edit, Meant, Received, Withdrawal
from app.stock.costs import cost_by_book, part_cost, usual_length, usual_size
from app.stock.items import Item, form_of
from app.stock.items import StockForm as ItemForm
from app.stock.levels import LARGEST_COUNT, Levels
from app.stock.offcuts import Offcut
from app.web.stock.fields import (
    EDIT,
    LEVELS,
    OFFCUT_LIKE,
    RECEIVED,
    TAKING,
    WHOLE,
    OfMaterial,
    offcut_form,
)

type Finder = Callable[[str], Meant]
"""Which material a typed text means; Invalid at "material" where none does."""


def read_received(typed: Typed, shop: Shop, meant: Finder) -> Received:
    """Read whole sticks, sheets or pieces that came in. Raises: Invalid with every fault, at the form's fields."""
    read = RECEIVED.reader(typed, OfMaterial(shop))
    known = read.take(lambda: meant(typed.get("material", "")))
    values = RECEIVED.values(read, OfMaterial(shop))
    length, size = _measure(read, known.material, WHOLE) if known else (None, None)
    if known is None or read.faults:
        raise Invalid(_on_the_form(read.faults.faults))
    cost = values["unit_cost"]
    received = read.take(
        lambda: Received(
            item=Item(
                material=known.material.code,
                form=form_of(known.material),
                unit_cost=cost_by_book(known.material, length=length, size=size)
                if cost is None
                else cost,
                length=length,
                size=size,
                batch=values["batch"],
                place=values["place"] or known.levels.place,
            ),
            count=values["count"],
            note=values["note"],
        )
    )
    return _finished(read, received)


def _measure(
    read: Reader, material: Material, like: tuple[Example, Example]
) -> tuple[Length | None, Size | None]:
    """Read the length of a stick or the size of a sheet; blank is the usual one.

    like: examples for a stick and for a sheet.
    """
    stick_like, sheet_like = like
    form = form_of(material)
    if form is ItemForm.STICK:
        usual = usual_length(material)
        if usual is None or read.given("size"):
            usual = read.length("size", zero_ok=False, like=stick_like)
        return _keepable(read, usual), None
    if form is ItemForm.SHEET:
        usual_sheet = usual_size(material)
        assert usual_sheet is not None, "a sheet material has its sheet"
        size = read.size("size", usual_sheet, like=sheet_like)
        _keepable(read, size.width)
        _keepable(read, size.height)
        return None, size
    if read.given("size"):
        read.faults.add("size", f"{material.code} is counted; leave its size blank.")
    return None, None


def _keepable(read: Reader, length: Length) -> Length:
    """Return the length, noting a fault where it is too fine to be kept exactly."""
    read.take(lambda: to_grains(length, path="size"))
    return length


def read_offcut(
    typed: Typed, shop: Shop, meant: Finder, source: Item | None = None, *, costs: bool = True
) -> Offcut:
    """Read an offcut to be kept.

    source: what it was cut from, whose cost it shares. costs: whether what it is worth may be said.

    Raises: Invalid with every fault, at the form's fields.
    """
    form = offcut_form(costs=costs)
    read = form.reader(typed, OfMaterial(shop))
    known = read.take(lambda: meant(typed.get("material", "")))
    values = form.values(read, OfMaterial(shop))
    length, size = (None, None)
    if known is not None and read.given("size"):
        if form_of(known.material) is ItemForm.EACH:
            read.faults.add("material", f"{known.material.code} is counted; it leaves no offcuts.")
        else:
            length, size = _measure(read, known.material, OFFCUT_LIKE)
            _check_part(read, known.material, source, length, size)
        _check_source(read, known.material, source)
    if known is None or read.faults:
        raise Invalid(_on_the_form(read.faults.faults))
    cost = values.get("unit_cost")
    offcut = read.take(
        lambda: Offcut(
            material=known.material.code,
            unit_cost=_share(known.material, source, length, size) if cost is None else cost,
            length=length,
            size=size,
            batch=values["batch"],
            place=values["place"] or known.levels.place,
            note=values["note"],
        )
    )
    return _finished(read, offcut)


def _share(
    material: Material, source: Item | None, length: Length | None, size: Size | None
) -> Money:
    if source is not None and source.material == material.code:
        return part_cost(source, length=length, size=size)
    return cost_by_book(material, length=length, size=size)


def _check_source(read: Reader, material: Material, source: Item | None) -> None:
    """Check that what is said to be used up is of the offcut's own material."""
    if source is not None and source.material != material.code and read.given("cut_up"):
        read.faults.add(
            "material",
            f"An offcut of {material.code} is not cut from {source.material}; take off the tick "
            f"below, or keep an offcut of {source.material}.",
        )


def _check_part(
    read: Reader, material: Material, source: Item | None, length: Length | None, size: Size | None
) -> None:
    """Check that an offcut is no larger than what it was cut from, or than the usual stick or sheet."""
    ours = source if source is not None and source.material == material.code else None
    stick = ours.length if ours else usual_length(material)
    if length is not None and stick is not None and length > stick:
        read.faults.add(
            "size",
            f"{show(length, read.unit, mark=True)} is longer than a stick of {material.code}, "
            f"{show(stick, read.unit, mark=True)}. A whole stick of another length is received.",
        )
    sheet = ours.size if ours else usual_size(material)
    if size is not None and sheet is not None and not _fits(size, sheet):
        read.faults.add(
            "size",
            f"{show_size(size, read.unit, mark=True)} is larger than a sheet of {material.code}, "
            f"{show_size(sheet, read.unit, mark=True)}. A whole sheet of another size is received.",
        )


def _fits(part: Size, sheet: Size) -> bool:
    turned = part.turned()
    return any(way.width <= sheet.width and way.height <= sheet.height for way in (part, turned))


def read_taken(typed: Typed, shop: Shop) -> Withdrawal:
    """Read what left the rack. Raises: Invalid with every fault."""
    values = TAKING.read(typed, shop)
    return Withdrawal(**values)


def read_edit(typed: Typed, shop: Shop) -> Edit:
    """Read what was changed of an item. Raises: Invalid with every fault."""
    return Edit(**EDIT.read(typed, OfMaterial(shop)))


def read_levels(typed: Typed, shop: Shop) -> Levels:
    """Read the levels of a material. Raises: Invalid with every fault."""
    return Levels(**LEVELS.read(typed, shop))


def read_counts(typed: Mapping[str, str], shop: Shop, ids: Iterable[int]) -> dict[int, int]:
    """Read what was counted, by the item's id; a blank was not counted.

    Raises: Invalid with every fault, at "count.<id>"; at "" where nothing was counted.
    """
    read = Reader(typed, shop.unit, shop.currency)
    counts = {
        item_id: read.whole(f"count.{item_id}", "count", 0, high=LARGEST_COUNT)
        for item_id in ids
        if read.given(f"count.{item_id}")
    }
    read.text("note", 500)
    if not counts and not read.faults:
        read.faults.add("", "Nothing was counted: type how many there are of at least one item.")
    return _finished(read, counts)


def read_seen(text: str) -> dict[int, int]:
    """Read what was on hand of each item, by its id, when its count was looked at: "12:5 13:-1"."""
    seen: dict[int, int] = {}
    for word in text.split()[:1000]:
        item_id, _, on_hand = word.partition(":")
        item = whole_number(item_id, digits=15)
        count = whole_number(on_hand.removeprefix("-"), digits=15)
        if item is not None and count is not None:
            seen[item] = -count if on_hand.startswith("-") else count
    return seen


def seen_text(seen: Mapping[int, int]) -> str:
    """Write the text that `read_seen` reads."""
    return " ".join(f"{item_id}:{on_hand}" for item_id, on_hand in seen.items())


def read_ids(text: str, most: int) -> tuple[int, ...]:
    """Read the items that an address names, "4,7,12", each once. Raises: Invalid at "items"."""
    words = [word.strip() for word in text.replace(" ", ",").split(",") if word.strip()]
    items = [item for word in words if (item := whole_number(word, digits=15)) is not None]
    if not words or len(words) > most or len(items) < len(words):
        raise Invalid.at(
            "items",
            f"{quoted(text)} was given; give the numbers of items, such as 4,7,12, up to {most} of them.",
        )
    return tuple(dict.fromkeys(items))


def _finished[T](read: Reader, made: T | None) -> T:
    if read.faults:
        raise Invalid(_on_the_form(read.faults.faults))
    assert made is not None, "what has no fault was made"
    return made


def _on_the_form(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Move faults of an item to the fields of the form, where one field is for length and size."""
    moved = (
        Fault(path="size" if fault.path == "length" else fault.path, message=fault.message)
        for fault in faults
    )
    return tuple(dict.fromkeys(moved))
