"""Items of stock: whole sticks and sheets, offcuts with a label of their own, things that are counted.

Owns what an item is. How many there are follows from its movements (`movements`).
"""

from dataclasses import dataclass
from enum import StrEnum

from app.errors import FaultCollector
from app.lengths import ZERO, Length, Size
from app.money import Money
from app.pricing import Kind, Material


class StockForm(StrEnum):
    """How a material lies in the shop."""

    STICK = "stick"
    SHEET = "sheet"
    EACH = "each"


def form_of(material: Material) -> StockForm:
    """Return the form of a material: what has a profile comes in sticks; what has a sheet, in sheets."""
    if material.kind.is_sheet:
        return StockForm.SHEET
    if material.profile is not None and material.kind in (Kind.MOULDING, Kind.EXTRA):
        return StockForm.STICK
    return StockForm.EACH


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """What one line of the rack is, before it is kept.

    material: its code in the price book. length: of a stick; size: of a sheet; neither for what is
    counted. whole: as bought. label: an offcut's own code, "" for whole stock. batch: the supplier's
    lot, or the finish lot. unit_cost: what one of them cost.
    Raises: Invalid with every fault, at "length", "size", "label", "batch", "place", "unit_cost".
    """

    material: str
    form: StockForm
    unit_cost: Money
    length: Length | None = None
    size: Size | None = None
    whole: bool = True
    label: str = ""
    batch: str = ""
    place: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        faults = FaultCollector()
        if (self.length is not None) != (self.form is StockForm.STICK):
            faults.add("length", "A stick has its length, and nothing else has one.")
        if (self.size is not None) != (self.form is StockForm.SHEET):
            faults.add("size", "A sheet has its size, and nothing else has one.")
        if self.length is not None and self.length <= ZERO:
            faults.add("length", "The length must be above zero.")
        if self.size is not None and min(self.size.width, self.size.height) <= ZERO:
            faults.add("size", "Width and height must be above zero.")
        if self.whole and self.label:
            faults.add("label", "Only an offcut has a label of its own.")
        if not self.whole and (not self.label or self.form is StockForm.EACH):
            faults.add("label", "An offcut is of a stick or a sheet, and has a label of its own.")
        if self.unit_cost.minor < 0:
            faults.add("unit_cost", "The cost must be zero or more.")
        for field, limit in (("batch", 60), ("place", 60), ("note", 500)):
            given = len(getattr(self, field))
            if given > limit:
                faults.add(field, f"The {field} has {given} characters; at most {limit} are kept.")
        faults.finish()


@dataclass(frozen=True, slots=True, kw_only=True)
class StockItem:
    """An item as it is kept. on_hand: the sum of its movements; below zero only with a notice."""

    id: int
    version: int
    item: Item
    on_hand: int
