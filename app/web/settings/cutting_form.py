"""How the shop cuts up sticks and sheets, from its form and back (C1 to C3)."""

from collections.abc import Mapping
from dataclasses import replace

from app.cutting import Together
from app.forms.reader import Reader, length_text, size_text
from app.lengths import Example, Examples, Length, Size, inches, mm
from app.orders import CuttingHabits, Shop
from app.orders.cutting_habits import KEEP_LENGTH, STAGES

EXAMPLES: Examples = {
    "end_trim": Example(mm(10), inches("1/2")),
    "sheet_trim": Example(mm(5), inches("1/4")),
    "keep_length": Example.of(KEEP_LENGTH.__getitem__),
    "keep": Example(Size(mm(300), mm(200)), Size(inches(12), inches(8))),
}


def read_cutting(typed: Mapping[str, str], shop: Shop) -> Shop:
    """The shop with the habits of a form; blank is the usual one, but the keep size stays.

    Usual habits follow the shop into another unit, since they are not written down.
    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency, EXAMPLES)
    usual = CuttingHabits.usual(shop.unit)

    def length(name: str) -> Length:
        return read.length(name, getattr(usual, name))

    given = {
        "end_trim": length("end_trim"),
        "sheet_trim": length("sheet_trim"),
        "keep_length": length("keep_length"),
        "stages": read.whole(
            "stages", "number of stages", usual.stages, low=STAGES[0], high=STAGES[-1]
        ),
        "together": read.choice("together", Together, usual.together),
    }
    keep = read.size("keep", shop.keep)
    habits = read.take(lambda: CuttingHabits(**given))  # type: ignore[arg-type]
    read.faults.finish()
    return replace(shop, cutting_habits=None if habits == usual else habits, keep=keep)


def cutting_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    habits = shop.cutting
    lengths = {
        name: length_text(getattr(habits, name), shop.unit)
        for name in ("end_trim", "sheet_trim", "keep_length")
    }
    return lengths | {
        "keep": size_text(shop.keep, shop.unit),
        "stages": str(habits.stages),
        "together": habits.together.value,
    }
