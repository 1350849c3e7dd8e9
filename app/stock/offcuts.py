"""Offcuts before they are kept: what was left over, before it has a label."""

from dataclasses import dataclass

from app.lengths import Length, Size
from app.money import Money
from app.stock.items import Item, StockForm

_UNLABELLED = "K-"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A part of a stick or a sheet that is worth keeping (C3, C5).

    Raises: Invalid as `Item` does.
    """

    material: str
    unit_cost: Money
    length: Length | None = None
    size: Size | None = None
    batch: str = ""
    place: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        self.labelled(_UNLABELLED)

    def labelled(self, label: str) -> Item:
        """Return the item that it becomes."""
        return Item(
            material=self.material,
            form=StockForm.STICK if self.size is None else StockForm.SHEET,
            unit_cost=self.unit_cost,
            length=self.length,
            size=self.size,
            whole=False,
            label=label,
            batch=self.batch,
            place=self.place,
            note=self.note,
        )
