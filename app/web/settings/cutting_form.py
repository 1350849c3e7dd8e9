"""Reads how the shop cuts up sticks and sheets from its form, and writes the form's text (C1 to C3)."""

from dataclasses import replace

from app.cutting import Together
from app.forms.in_other_marks import marked, told_length
from app.forms.kinds import LENGTH, SIZE, Options, choice, whole
from app.forms.table import Field, Form, Typed, values_in
from app.lengths import Example, Size, inches, mm
from app.orders import CuttingHabits, Shop
from app.orders.cutting_habits import KEEP_LENGTH, STAGES

TOGETHERS: Options = (
    (Together.PREFERRED, "from one stick where that costs no further one"),
    (Together.ALWAYS, "from one stick, even where that costs a further one"),
    (Together.NO_MATTER, "from any sticks"),
)
STAGE_COUNTS: Options = tuple(
    (str(count), f"{count}, as is usual" if count == CuttingHabits().stages else str(count))
    for count in STAGES
)


_LENGTH = marked(LENGTH, told_length)

CUTTING = Form[Shop](
    Field(
        "end_trim",
        "Trim of sticks",
        _LENGTH,
        "Cut off at each end. Usual: {usual}.",
        like=Example(mm(10), inches("1/2")),
    ),
    Field(
        "keep_length",
        "Keep sticks from",
        _LENGTH,
        "Shorter ones are waste. Usual: {usual}.",
        like=Example.of(KEEP_LENGTH.__getitem__),
        beside=True,
    ),
    Field("together", "Rails of one frame", choice(Together, TOGETHERS, "radios")),
    Field(
        "sheet_trim",
        "Trim of sheets",
        _LENGTH,
        "Cut off at each edge. Usual: {usual}.",
        like=Example(mm(5), inches("1/4")),
    ),
    Field(
        "keep",
        "Keep sheets from",
        replace(SIZE, control="size"),
        "Offcuts and fallouts, either way round.",
        usual=lambda shop: shop.keep,
        like=Example(Size(mm(300), mm(200)), Size(inches(12), inches(8))),
        beside=True,
    ),
    Field(
        "stages",
        "Stages of cuts on a sheet",
        replace(
            whole("number of stages", STAGES[0], STAGES[-1]), control="select", options=STAGE_COUNTS
        ),
        "One for each direction in turn: across, down, across.",
    ),
    usual=lambda shop: values_in(CuttingHabits.usual(shop.unit)),
)


def read_cutting(typed: Typed, shop: Shop) -> Shop:
    """Return the shop with the habits of a form. A blank stands for the usual one, but the keep size
    stays.

    A usual habit is not written down, so that it follows the shop into another unit.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = CUTTING.reader(typed, shop)
    values = CUTTING.values(read, shop)
    keep = values.pop("keep")
    habits = read.take(lambda: CuttingHabits(**values))
    read.faults.finish()
    usual = CuttingHabits.usual(shop.unit)
    return replace(shop, cutting_habits=None if habits == usual else habits, keep=keep)
