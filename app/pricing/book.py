"""The price book: what the shop buys, how it sells it, and what it looks like.

Owns materials as values. A material that exists is valid. It knows nothing of a piece (see `price`)
and nothing of how the book is kept.
"""

import re
from dataclasses import dataclass, field

from app.errors import FaultCollector, quoted
from app.framing import ProfileShape
from app.money import Money, show_money
from app.pricing.charge import Charge, ChargeBy, CostPer, SizeBand
from app.pricing.codes import check_code
from app.pricing.kinds import CHARGES, Kind, cost_bases, shown
from app.pricing.markup import MarkupStep, MarkupTable, Selling
from app.pricing.stock import Bears, FrameStock, HangingPart, Profile, SheetStock, Trait

__all__ = [
    "Bears",
    "Charge",
    "ChargeBy",
    "CostPer",
    "FrameStock",
    "HangingPart",
    "Kind",
    "MarkupStep",
    "MarkupTable",
    "Material",
    "Profile",
    "Selling",
    "SheetStock",
    "SizeBand",
    "Trait",
]


COLOUR_NOT_SAID = "#c8c2b4"
"""The colour in which a material is drawn of which nobody said one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One entry of the price book.

    code: the shop's own, unique over the book, any case. colour: "#rrggbb" for the drawing.
    hanging: of hardware; None where nobody said whether a piece hangs by it. frame: of a ready-made one.
    shape: of the face of a moulding or a ready-made frame; None where nobody said it. tax: code of a tax rate. Raises: Invalid with every fault, each at its field of the form.
    """

    code: str
    name: str
    kind: Kind
    cost: Money
    per: CostPer
    charge: Charge
    selling: Selling
    tax: str = "standard"
    supplier: str = ""
    finish: str = ""
    colour: str = COLOUR_NOT_SAID
    profile: Profile | None = None
    sheet: SheetStock | None = None
    notes: str = ""
    active: bool = True
    tags: tuple[str, ...] = field(default=())
    hanging: HangingPart | None = None
    frame: FrameStock | None = None
    shape: ProfileShape | None = None

    def __post_init__(self) -> None:
        faults = FaultCollector()
        self._check_words(faults)
        if self.cost.minor < 0:
            faults.add("cost", f"The cost is {show_money(self.cost)}; zero or more is allowed.")
        self._check_kind(faults)
        self._check_charge(faults)
        self._check_selling(faults)
        self._check_currency(faults)
        faults.finish()

    def _check_words(self, faults: FaultCollector) -> None:
        check_code(faults, self.code)
        if not self.name.strip():
            faults.add("name", "The name is empty; it is what you will find the material by.")
        elif len(self.name) > 120:
            faults.add("name", f"The name has {len(self.name)} characters; up to 120 are allowed.")
        if not re.fullmatch(r"#[0-9a-fA-F]{6}", self.colour):
            faults.add("colour", f"The colour {quoted(self.colour)} is not of the form #a1b2c3.")
        if not self.tax.strip():
            faults.add("tax", "Say which tax rate goes with the material.")

    def _check_kind(self, faults: FaultCollector) -> None:
        if self.kind is Kind.MOULDING and self.profile is None:
            faults.add("profile", "A moulding needs its face, lip, rebate depth and stick length.")
        if self.kind.is_sheet and self.sheet is None:
            faults.add("sheet", "A sheet material needs its sheet size and thickness.")
        if self.profile is not None and self.kind not in (Kind.MOULDING, Kind.EXTRA):
            faults.add("profile", f"No moulding profile goes with {self.kind.with_article}.")
        if self.sheet is not None and not self.kind.is_sheet:
            faults.add("sheet", f"No sheet size goes with {self.kind.with_article}.")
        if self.kind is Kind.READY_MADE and self.frame is None:
            faults.add("frame", "A ready-made frame needs the size and the depth of its rebate.")
        if self.frame is not None and self.kind is not Kind.READY_MADE:
            faults.add("frame", f"No rebate goes with {self.kind.with_article}.")
        if self.hanging is not None and self.kind is not Kind.HARDWARE:
            faults.add("hanging.load", f"No load goes with {self.kind.with_article}.")

    def _check_charge(self, faults: FaultCollector) -> None:
        rules = CHARGES[self.kind]
        if self.charge.by not in rules:
            faults.add(
                "charge.by",
                f"Charging by {shown((self.charge.by,))} does not go with "
                f"{self.kind.with_article}; possible: by {shown(rules)}.",
            )
            return
        bases = cost_bases(self.kind, self.charge.by)
        if self.per not in bases:
            faults.add(
                "per",
                f"A cost per {shown((self.per,))} does not go with {self.kind.with_article} "
                f"charged by {shown((self.charge.by,))}; possible: per {shown(bases)}.",
            )
        elif self.per is CostPer.STICK and self.kind is Kind.EXTRA and self.profile is None:
            faults.add("profile", "A cost per stick needs the length of the stick.")

    def _check_selling(self, faults: FaultCollector) -> None:
        by_band = self.charge.by is ChargeBy.SIZE_BAND
        if by_band and self.selling.ways:
            faults.add("selling", "A size band has its own prices; no markup goes with it.")
        if not by_band and self.selling.ways != 1:
            faults.add("selling", "Give one of: a markup, a markup table, or a sell price.")

    def _check_currency(self, faults: FaultCollector) -> None:
        prices = [band.price for band in self.charge.bands]
        if self.selling.price is not None:
            prices.append(self.selling.price)
        if any(price.currency != self.cost.currency for price in prices):
            faults.add("cost", "The cost and the sell prices are in different currencies.")
