"""Customers, orders, pieces, their stages, the ledger and the shop's own rules.

Pure values and their transitions. Nothing here stores, prints or asks what day it is.
"""

from app.orders.customer import Customer
from app.orders.cutting_habits import CuttingHabits
from app.orders.ledger import Entry, EntryKind, Method, NewEntry, check_refund, correction_of, paid
from app.orders.order import (
    Agreed,
    ArtworkKind,
    ArtworkRecord,
    Design,
    DesignAct,
    DesignChange,
    Order,
    Piece,
    design_letter,
    sole_design,
)
from app.orders.order_line import LineAgreed, LineEntry, OrderLine
from app.orders.shop import (
    Allowances,
    Labour,
    MatWord,
    Paper,
    Promise,
    QuotePrices,
    Shop,
    usual_shop,
)
from app.orders.stages import (
    LEFT_THE_WAY,
    MAY_FOLLOW,
    WAY,
    Stage,
    StageChange,
    check_move,
    stage_of_order,
)

__all__ = [
    "LEFT_THE_WAY",
    "MAY_FOLLOW",
    "WAY",
    "Agreed",
    "Allowances",
    "ArtworkKind",
    "ArtworkRecord",
    "Customer",
    "CuttingHabits",
    "Design",
    "DesignAct",
    "DesignChange",
    "Entry",
    "EntryKind",
    "Labour",
    "LineAgreed",
    "LineEntry",
    "MatWord",
    "Method",
    "NewEntry",
    "Order",
    "OrderLine",
    "Paper",
    "Piece",
    "Promise",
    "QuotePrices",
    "Shop",
    "Stage",
    "StageChange",
    "check_move",
    "check_refund",
    "correction_of",
    "design_letter",
    "paid",
    "sole_design",
    "stage_of_order",
    "usual_shop",
]
