"""What is said to the shop of a price that does not bring what the materials cost (P9)."""

from collections.abc import Iterator

from app.framing import Concern, Notice
from app.pricing import PiecePrice


def notices_of_price(price: PiecePrice) -> Iterator[Notice]:
    """Yield what the shop should notice of the price of a piece: that nothing is to be paid, or that it is below cost.

    Neither says a cost, for a page may be printed. Source: handbook P9.
    """
    if price.subtotal and not price.total:
        message = "All of the price is taken off; nothing is to be paid."
        yield Notice(code="nothing-to-pay", message=message, concern=Concern.RISK)
    elif price.below_cost:
        message = (
            "This is below cost: what is left without tax is less than the materials cost, and the "
            "work is not paid at all."
        )
        yield Notice(code="below-cost", message=message, concern=Concern.RISK)
