"""Parts of a piece, a price book and a labour table, made into a price that explains itself.

Owns the price book's values (`book`) and the arithmetic of rules P1 to P7 and P9. It knows no
customers, no orders and no storage, reads nothing and writes nothing.
"""

from app.pricing.book import (
    Charge,
    ChargeBy,
    CostPer,
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

__all__ = [
    "Charge",
    "ChargeBy",
    "CostPer",
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
