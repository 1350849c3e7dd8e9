"""What is typed on the pages of the stock, read into what the services ask for.

A blank cost is the price book's, a blank place the usual one, a blank size the usual one.
"""

from collections.abc import Callable, Iterable, Mapping

from app.errors import Fault, Invalid, quoted
from app.forms.reader import Reader
from app.lengths import Example, Length, Size, inches, mm, show, show_size, to_grains
from app.money import Money
from app.orders import Shop
from app.pricing import Material
from app.services.stock import Edit, Meant, Received, Withdrawal
from app.stock.costs import cost_by_book, part_cost, usual_length, usual_size
from app.stock.items import Form, Item, form_of
from app.stock.levels import LARGEST_COUNT, Levels
from app.stock.movements import MovementKind
from app.stock.offcuts import Offcut
from app.web.materials.fields import EXAMPLES

TAKEN = {MovementKind.SPOILED: "spoiled", MovementKind.CUT: "cut without a plan"}

WHOLE = (EXAMPLES["profile.stick"], EXAMPLES["sheet.size"])
OFFCUT = (
    Example(mm(740), inches(29)),
    Example(Size(mm(400), mm(300)), Size(inches(16), inches(12))),
)
"""Examples of a stick and of a sheet, for the one field of both."""

type Finder = Callable[[str], Meant]
"""Which material a typed text means; Invalid at "material" where none does."""


def read_received(typed: Mapping[str, str], shop: Shop, meant: Finder) -> Received:
    """Whole stock that came in. Raises: Invalid with every fault, at the form's fields."""
    read = Reader(typed, shop.unit, shop.currency)
    known = read.take(lambda: meant(typed.get("material", "")))
    count = _count(read, "How many came?")
    note, batch, place = read.text("note", 500), read.text("batch", 60), read.text("place", 60)
    length, size = _measure(read, known.material, WHOLE) if known else (None, None)
    cost = read.money("unit_cost", Money.zero(shop.currency))
    received = None
    if known is not None and not read.faults:
        material = known.material
        if not read.given("unit_cost"):
            cost = cost_by_book(material, length=length, size=size)
        received = read.take(
            lambda: Received(
                item=Item(
                    material=material.code,
                    form=form_of(material),
                    unit_cost=cost,
                    length=length,
                    size=size,
                    batch=batch,
                    place=place or known.levels.place,
                ),
                count=count,
                note=note,
            )
        )
    return _finished(read, received)


def _measure(
    read: Reader, material: Material, like: tuple[Example, Example]
) -> tuple[Length | None, Size | None]:
    """The length or the size that was typed, or the usual one. like: of a stick, of a sheet."""
    stick_like, sheet_like = like
    form = form_of(material)
    if form is Form.STICK:
        usual = usual_length(material)
        if usual is None or read.given("size"):
            usual = read.length("size", zero_ok=False, like=stick_like)
        return _keepable(read, usual), None
    if form is Form.SHEET:
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
    """The length, with a fault where it is too fine to be kept exactly."""
    read.take(lambda: to_grains(length, path="size"))
    return length


def read_offcut(
    typed: Mapping[str, str], shop: Shop, meant: Finder, source: Item | None = None
) -> Offcut:
    """An offcut to be kept. source: what it was cut from, whose cost it shares.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency)
    known = read.take(lambda: meant(typed.get("material", "")))
    note, batch, place = read.text("note", 500), read.text("batch", 60), read.text("place", 60)
    cost = read.money("unit_cost", Money.zero(shop.currency))
    read.required("size", "Say how large it is: the length of a stick, width x height of a sheet.")
    length, size = (None, None)
    if known is not None and read.given("size"):
        if form_of(known.material) is Form.EACH:
            read.faults.add("material", f"{known.material.code} is counted; it leaves no offcuts.")
        else:
            length, size = _measure(read, known.material, OFFCUT)
            _check_part(read, known.material, source, length, size)
        _check_source(read, known.material, source)
    offcut = None
    if known is not None and not read.faults:
        if not read.given("unit_cost"):
            cost = _share(known.material, source, length, size)
        offcut = read.take(
            lambda: Offcut(
                material=known.material.code,
                unit_cost=cost,
                length=length,
                size=size,
                batch=batch,
                place=place or known.levels.place,
                note=note,
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
    """Only what an offcut was cut from is used up by it."""
    if source is not None and source.material != material.code and read.given("cut_up"):
        read.faults.add(
            "material",
            f"An offcut of {material.code} is not cut from {source.material}; take off the tick "
            f"below, or keep an offcut of {source.material}.",
        )


def _check_part(
    read: Reader,
    material: Material,
    source: Item | None,
    length: Length | None,
    size: Size | None,
) -> None:
    """An offcut is no larger than what it was cut from, or than the usual stick or sheet."""
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


def read_taken(typed: Mapping[str, str], shop: Shop) -> Withdrawal:
    """What left the rack. Raises: Invalid with every fault."""
    read = Reader(typed, shop.unit, shop.currency)
    count = _count(read, "How many?")
    chosen = typed.get("kind", "")
    kind = next((each for each in TAKEN if each.value == chosen), None)
    if kind is None:
        read.faults.add("kind", "Say whether it was spoiled or cut.")
    note = read.text("note", 500)
    taken = None
    if kind is not None and not read.faults:
        taken = read.take(lambda: Withdrawal(kind=kind, count=count, note=note))
    return _finished(read, taken)


def read_edit(typed: Mapping[str, str], shop: Shop) -> Edit:
    """What was changed of an item. Raises: Invalid with every fault."""
    read = Reader(typed, shop.unit, shop.currency)
    edit = Edit(
        place=read.text("place", 60),
        batch=read.text("batch", 60),
        note=read.text("note", 500),
        unit_cost=read.money("unit_cost"),
    )
    return _finished(read, edit)


def read_levels(typed: Mapping[str, str], shop: Shop) -> Levels:
    """The levels of a material. Raises: Invalid with every fault."""
    read = Reader(typed, shop.unit, shop.currency)
    at = read.whole("reorder_at", "reorder level", 0, high=LARGEST_COUNT)
    pack = read.whole("pack", "pack", 1, low=1, high=LARGEST_COUNT)
    place = read.text("place", 60)
    levels = Levels(reorder_at=at if read.given("reorder_at") else None, pack=pack, place=place)
    return _finished(read, levels)


def read_counts(typed: Mapping[str, str], shop: Shop, ids: Iterable[int]) -> dict[int, int]:
    """What was counted, by the item's id; what was left blank was not counted.

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
    """What was on hand of each item when its count was looked at: "12:5 13:-1"."""
    seen: dict[int, int] = {}
    for word in text.split()[:1000]:
        item_id, _, on_hand = word.partition(":")
        if _is_number(item_id) and _is_number(on_hand.removeprefix("-")):
            seen[int(item_id)] = int(on_hand)
    return seen


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 16


def seen_text(seen: Mapping[int, int]) -> str:
    """The text that `read_seen` reads."""
    return " ".join(f"{item_id}:{on_hand}" for item_id, on_hand in seen.items())


def read_ids(text: str, most: int) -> tuple[int, ...]:
    """The items that an address names, "4,7,12", each once. Raises: Invalid at "items"."""
    words = [word.strip() for word in text.replace(" ", ",").split(",") if word.strip()]
    if not words or len(words) > most or not all(map(_is_number, words)):
        raise Invalid.at(
            "items",
            f"{quoted(text)} names no items; numbers such as 4,7,12 do, up to {most} of them.",
        )
    return tuple(dict.fromkeys(map(int, words)))


def _count(read: Reader, question: str) -> int:
    read.required("count", question, 80)
    return read.whole("count", "count", 1, low=1, high=LARGEST_COUNT)


def _finished[T](read: Reader, made: T | None) -> T:
    if read.faults:
        raise Invalid(_on_the_form(read.faults.faults))
    assert made is not None, "what has no fault was made"
    return made


def _on_the_form(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults of an item at the fields of the form: one field is for length and size."""
    moved = (
        Fault(path="size" if fault.path == "length" else fault.path, message=fault.message)
        for fault in faults
    )
    return tuple(dict.fromkeys(moved))
