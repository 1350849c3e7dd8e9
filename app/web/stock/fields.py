"""The forms of the stock as tables of fields, which `form` reads: what came in, an offcut, an item, levels, what is taken.

A blank cost is the price book's; a blank place and a blank size are the material's usual ones.
"""

from dataclasses import dataclass, replace

from app.forms.kinds import MONEY, TEXT, FieldKind, optional, text_of, whole
from app.forms.reader import Reader, length_text, size_text
from app.forms.table import Field, Form, Typed
from app.lengths import Example, Size, inches, mm
from app.money import show_money
from app.orders import Shop
from app.pricing import Material
from app.services.stock import Meant
from app.stock.costs import usual_length, usual_size, whole_cost
from app.stock.items import StockForm as ItemForm
from app.stock.items import form_of
from app.stock.levels import LARGEST_COUNT
from app.stock.movements import MovementKind
from app.web.kit.fields import OfShop
from app.web.kit.stating import Stated, costs
from app.web.materials.fields import EXAMPLES

TAKEN = {MovementKind.SPOILED: "spoiled", MovementKind.CUT: "cut without a plan"}

WHOLE = (EXAMPLES["profile.stick"], EXAMPLES["sheet.size"])
OFFCUT_LIKE = (
    Example(mm(740), inches(29)),
    Example(Size(mm(400), mm(300)), Size(inches(16), inches(12))),
)
"""Examples of a stick and of a sheet, for the one field of both."""


@dataclass(frozen=True, slots=True)
class OfMaterial(OfShop):
    """The shop, and the material once it is known.

    The material decides what a blank field stands for and which tax its cost bears.
    """

    meant: Meant | None = None
    of: Material | None = None

    @property
    def material(self) -> Material | None:
        """The material; None until it is known."""
        return self.meant.material if self.meant else self.of


def _stated(known: OfMaterial, _typed: Typed) -> Stated:
    rates = known.shop.rules
    return costs(known.shop, rates.rate_of(known.material.tax) if known.material else None)


def _pack_hint(known: OfMaterial) -> str:
    if known.meant is None or known.meant.levels.pack == 1:
        return ""
    return f"Bought by {known.meant.levels.pack}; type what came, one by one."


def _size_hint(known: OfMaterial) -> str:
    if known.material is None:
        return "Blank for what the price book says."
    length, size = usual_length(known.material), usual_size(known.material)
    form = form_of(known.material)
    if form is ItemForm.STICK and length is not None:
        return f"Blank for the usual stick, {length_text(length, known.unit)}."
    if form is ItemForm.SHEET and size is not None:
        return f"Blank for the usual sheet, {size_text(size, known.unit)}."
    return "Leave it blank: this is counted."


def _cost_hint(known: OfMaterial) -> str:
    if known.material is None:
        return "Blank for the price book’s."
    usual = show_money(whole_cost(known.material))
    return f"Blank for the price book’s, {usual} for the usual one."


def _place_hint(known: OfMaterial) -> str:
    if known.meant is None or not known.meant.levels.place:
        return ""
    return f"Blank for the usual place, {known.meant.levels.place}."


MATERIAL = FieldKind[str](control="finder", read=TEXT.read, text=TEXT.text)
"""Any material, by its code or a part of its name."""

_MEASURE = FieldKind[str](control="size", read=TEXT.read, text=TEXT.text)
"""A length or a size, whichever the material asks for (`_measure`)."""

_COUNT = whole("count", 1, LARGEST_COUNT)
_WORD, _NOTE = text_of(60), text_of(500, "area")
_COST = optional(MONEY)

_MATERIAL = Field[OfMaterial](
    "material", "Material", MATERIAL, "Part of a code or a name.", needed=True
)
_BATCH = Field[OfMaterial]("batch", "Batch or finish lot", _WORD)
_PLACE = Field[OfMaterial]("place", "Place", _WORD, _place_hint)
_REMARK = Field[OfMaterial]("note", "Note", _NOTE)

RECEIVED = Form[OfMaterial](
    _MATERIAL,
    Field("count", "How many", _COUNT, _pack_hint, usual=1, needed=True, wish="How many came?"),
    Field(
        "size",
        lambda known: f"Size, if not the usual ({known.unit.value})",
        _MEASURE,
        _size_hint,
        beside=True,
    ),
    Field("unit_cost", "Cost of one", _COST, _cost_hint, stated=_stated),
    replace(_BATCH, beside=True),
    _PLACE,
    _REMARK,
)

OFFCUT = Form[OfMaterial](
    _MATERIAL,
    Field(
        "size",
        lambda known: f"Size ({known.unit.value})",
        _MEASURE,
        "Length of a stick, width x height of a sheet.",
        needed=True,
        wish="Say how large it is: the length of a stick, width x height of a sheet.",
    ),
    replace(_PLACE, beside=True),
    _BATCH,
    Field(
        "unit_cost",
        "Value",
        _COST,
        "Blank for its share of the whole one’s cost.",
        stated=_stated,
        beside=True,
    ),
    _REMARK,
)

OFFCUT_WITHOUT_VALUE = Form[OfMaterial](
    *(field for field in OFFCUT.fields if field.path != "unit_cost")
)
"""For whom costs are not shown: it is worth its share of the whole one's."""


def offcut_form(*, costs: bool) -> Form[OfMaterial]:
    """Return the form of an offcut. costs: whether what it is worth may be said."""
    return OFFCUT if costs else OFFCUT_WITHOUT_VALUE


EDIT = Form[OfMaterial](
    Field("place", "Place", _WORD),
    _BATCH,
    Field("unit_cost", "Cost of one", MONEY, needed=True, stated=_stated),
    _REMARK,
)

LEVELS = Form[Shop](
    Field(
        "reorder_at",
        "Buy when so many or fewer are free",
        optional(whole("reorder level", high=LARGEST_COUNT)),
        "Whole ones that no plan has reserved; blank where it need not be watched.",
    ),
    Field(
        "pack",
        "Bought by",
        replace(
            whole("pack", 1, LARGEST_COUNT), text=lambda pack, _known: str(pack) if pack > 1 else ""
        ),
        "How many come together, as in a pack of 10; blank for 1.",
        usual=1,
    ),
    Field("place", "Usual place", _WORD, "Where new stock goes unless something else is typed."),
)


def _why(read: Reader, path: str, _usual: None) -> MovementKind | None:
    kind = next((each for each in TAKEN if each.value == read.raw(path)), None)
    if kind is None:
        read.faults.add(path, "Say whether it was spoiled or cut.")
    return kind


TAKING = Form[Shop](
    Field("count", "How many", _COUNT, usual=1, needed=True, wish="How many?"),
    Field(
        "kind",
        "Why",
        FieldKind(
            control="select",
            read=_why,
            text=lambda kind, _known: str(kind),
            options=tuple((kind.value, word) for kind, word in TAKEN.items()),
        ),
        beside=True,
    ),
    Field("note", "Note", text_of(500)),
)
