"""Hardware that leaves the rack with a framed piece, as a browser meets it."""

from tests.web.shown import Counter
from tests.web.test_orders import do, quote
from tests.web.test_stock import receive

__all__ = ["quote"]


def test_hardware_leaves_the_rack_when_a_piece_is_framed_and_says_so(
    counter: Counter, quote: str
) -> None:
    """The piece of tests/builders/worked takes two hanging rings."""
    receive(counter, material="R-1", count="3", size="")
    do(counter, quote, "take")
    do(counter, quote, "pieces/1/stage", stage="cut")
    framed = do(counter, quote, "pieces/1/stage", stage="framed")
    assert "Piece 1 is framed. Took 2 × Hanging ring off the rack." in framed.main
    for page in (quote, f"{quote}/pieces/1"):
        assert "2 used" in counter.get(page).main
    item = counter.get("/stock/items/1")
    assert item.links()["for 2026-0001/1"] == f"{quote}/pieces/1"
    back = do(counter, quote, "pieces/1/take-back")
    assert "Put 2 × Hanging ring back on the rack." in back.main
    assert "2 used" not in counter.get(quote).main


def test_hardware_that_was_never_noted_is_below_zero_and_says_so(
    counter: Counter, quote: str
) -> None:
    receive(counter, material="R-1", count="1", size="")
    do(counter, quote, "take")
    do(counter, quote, "pieces/1/stage", stage="cut")
    framed = do(counter, quote, "pieces/1/stage", stage="framed")
    assert "The record of Hanging ring is below zero now; count what is there." in framed.main
    assert "\N{MINUS SIGN}1" in counter.get("/stock/items/1").main
