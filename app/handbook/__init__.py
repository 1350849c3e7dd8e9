"""The rules of the trade, as data: what the program goes by, where it comes from, a worked example each.

Code cites a rule by its number. Pages and tests read it here. It knows nothing of the rest of the house.
"""

from app.handbook import bench, cutting, depth, geometry, lengths, money, price
from app.handbook.rule import Foundation, Rule, Source, WorkedExample

__all__ = ["BY_NUMBER", "RULES", "SUBJECTS", "Foundation", "Rule", "Source", "WorkedExample"]

SUBJECTS: dict[str, str] = {
    "L": "Lengths",
    "G": "Geometry of a piece",
    "D": "Depth, weight, hanging, care",
    "B": "At the mat cutter",
    "P": "Prices",
    "C": "Cutting plans and offcuts",
    "M": "Money and tax",
}
"""Each letter's subject, in the order of a piece's way through the shop."""

RULES: tuple[Rule, ...] = (
    *lengths.RULES,
    *geometry.RULES,
    *depth.RULES,
    *bench.RULES,
    *price.RULES,
    *cutting.RULES,
    *money.RULES,
)

BY_NUMBER: dict[str, Rule] = {rule.number: rule for rule in RULES}
