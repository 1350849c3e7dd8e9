"""Parts of a piece, a price book and a labour table, made into a price that explains itself.

Owns the price book's values (`book`) and the arithmetic of rules P1 to P7 and P9. It knows no
customers, no orders and no storage, reads nothing and writes nothing.
"""

from app.pricing.book import (
    Bears,
    Charge,
    ChargeBy,
    CostPer,
    FrameStock,
    HangingPart,
    Kind,
    MarkupStep,
    MarkupTable,
    Material,
    Profile,
    Selling,
    SheetStock,
    SizeBand,
    Trait,
)
from app.pricing.chosen import Chosen, ChosenCount
from app.pricing.customer import CustomerLine, CustomerPrice, CustomerTotals
from app.pricing.kinds import CHARGES, TRAITS_OF, cost_bases
from app.pricing.lines import PriceLine
from app.pricing.measure import Measure
from app.pricing.opened import NOTHING_OPENED, Opened, OpenedSheets, OpenedSticks
from app.pricing.operations import DEFAULT_OPERATIONS, Operation, When
from app.pricing.price import PiecePrice, known_lines, price_piece
from app.pricing.quantities import handbook_length
from app.pricing.raising import Raised, raised
from app.pricing.repricing import LineChange, Repricing, compare
from app.pricing.rules import (
    DEFAULT_KERF,
    DEFAULT_SAW_LOSS,
    MOST_ALIKE,
    NO_ADJUSTMENTS,
    Adjustments,
    NumberBreak,
    PriceRules,
    TaxTerms,
    loss_at_saw,
)
from app.pricing.sell_price import UnitPrice, charged_in, unit_price
from app.pricing.totals import OrderTotals, charged_for, price_order
from app.pricing.uses import LineGroup, Use

__all__ = [
    "CHARGES",
    "DEFAULT_KERF",
    "DEFAULT_OPERATIONS",
    "DEFAULT_SAW_LOSS",
    "MOST_ALIKE",
    "NOTHING_OPENED",
    "NO_ADJUSTMENTS",
    "TRAITS_OF",
    "Adjustments",
    "Bears",
    "Charge",
    "ChargeBy",
    "Chosen",
    "ChosenCount",
    "CostPer",
    "CustomerLine",
    "CustomerPrice",
    "CustomerTotals",
    "FrameStock",
    "HangingPart",
    "Kind",
    "LineChange",
    "LineGroup",
    "MarkupStep",
    "MarkupTable",
    "Material",
    "Measure",
    "NumberBreak",
    "Opened",
    "OpenedSheets",
    "OpenedSticks",
    "Operation",
    "OrderTotals",
    "PiecePrice",
    "PriceLine",
    "PriceRules",
    "Profile",
    "Raised",
    "Repricing",
    "Selling",
    "SheetStock",
    "SizeBand",
    "TaxTerms",
    "Trait",
    "UnitPrice",
    "Use",
    "When",
    "charged_for",
    "charged_in",
    "compare",
    "cost_bases",
    "handbook_length",
    "known_lines",
    "loss_at_saw",
    "price_order",
    "price_piece",
    "raised",
    "unit_price",
]
