"""Quotes and orders of pieces that are there, without a store."""

from dataclasses import replace
from datetime import date
from typing import Any

from app.orders import Order, Piece
from tests.builders.values import TODAY


def quote_of(*pieces: Piece, **changes: Any) -> Order:
    """A quote of today for Amber Quill, which is valid for a month."""
    quote = Order(
        id=1,
        version=1,
        customer_id=1,
        customer_name="Amber Quill",
        quote_number="Q-2026-0001",
        quoted_on=TODAY,
        valid_until=date(2026, 12, 25),
        pieces=pieces,
    )
    return replace(quote, **changes)


def order_of(*pieces: Piece, **changes: Any) -> Order:
    """What such a quote became when it was ordered on the same day."""
    return replace(
        quote_of(*pieces), **{"order_number": "2026-0001", "ordered_on": TODAY, **changes}
    )
