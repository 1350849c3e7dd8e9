"""A day at the counter, worked by hand: two designs, twenty alike, a brought-in frame, an object, a sale, a late change.

Design B of the worked piece, with one mat, is 89.91 (`tests/unit/orders/test_designs`). Twenty of the piece itself
(see `tests/builders/worked`): materials 66.00 each; of 62.52 min 2 for the guide and 4 for the saw are once, 56.52 each:
20 × 66.00 + (20 × 56.52 + 6) × 0.60 = 1320.00 + 681.84 = 2001.84, over 20 is 100.092, so 20 × 100.09 = 2001.80 (P11).
Cards: 12 × 3.50 = 42.00 (P12). The glass of a rebate of 402 × 302 is 3 less each way, 399 × 299 = 0.119301 m², at 50.00
a square metre 5.97 (G24). The object: 2 + 1.5 + 25 + 3 + 3 = 34.5 (G22).
"""

from datetime import timedelta

import pytest

from app.services import price_book
from app.storage import Stamp, Store
from tests.builders.lines import GOODS
from tests.builders.worked import TYPED
from tests.documents.reading import text_of
from tests.unit.orders.test_designs import ONE_MAT
from tests.unit.orders.test_quoting_object import BOX, SPACER, deep
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown

pytestmark = pytest.mark.documents

REGLAZED = {
    "artwork.title": "Grandmother",
    "presentation": "as-it-came",
    "frame.source": "own",
    "given_frame.rebate": "402 x 302",
    "given_frame.depth": "14",
    "glazing.material": "G-2",
}


def send(counter: Counter, page: str, action: str, **typed: str) -> Shown:
    """Fill in a form of a page, save it, and look at the page after."""
    form = counter.get(page).form(action)
    values = {name.replace("__", "."): text for name, text in typed.items()}
    return counter.go(action, form | values | {"action": "save"})


def fields(typed: dict[str, str]) -> dict[str, str]:
    return {path.replace(".", "__"): text for path, text in typed.items()}


def test_a_day_of_the_shop(counter: Counter, stocked: Store, clock: Clock) -> None:
    act = Stamp(who="", now=NOW)
    for material in (*GOODS, SPACER, deep("D-40", "40")):
        price_book.add(stocked, material, act)

    # Two designs of one artwork: from the least to the most, and the customer takes the second with the order.
    send(counter, "/quotes/new", "/quotes", customer="Amber Quill", **fields(TYPED))
    order = "/orders/1"
    page = send(
        counter, f"{order}/pieces/1/designs/new", f"{order}/pieces/1/designs", **fields(ONE_MAT)
    )
    assert page.words("price-range") == "89.91 to 103.51"

    # Twenty alike are a further piece with a number, and cards are a line without artwork.
    page = send(
        counter, f"{order}/pieces/new", f"{order}/pieces", **fields(TYPED | {"copies": "20"})
    )
    page = send(counter, f"{order}/lines/new", f"{order}/lines", goods="CARD", number="12")
    assert page.words("price-range") == "2,133.71 to 2,147.31"  # 89.91 or 103.51 + 2001.80 + 42.00

    page = send(counter, order, f"{order}/take", deposit="1000", due="2026-12-10", design__1="2")
    assert page.heading == "Order 2026-0001"
    assert page.words("price", tag="p") == "1,133.71"

    # A ticket is printed, then the customer wants a wider border: the paper in the shop is old.
    ticket = counter.client.get(f"{order}/pieces/1/ticket.pdf").content
    assert "Version 1, printed 10:30" in text_of(ticket)
    clock.time += timedelta(hours=1)
    change = f"{order}/pieces/1"
    form = counter.get(f"{change}/change").form(change) | {"borders.left": "110", "action": "save"}
    page = counter.change(change, form)
    # One mat with borders of 100; now 110 + 400 + 110 = 620 and 623 + 27 = 650, the height stays.
    assert "630 / 530 are now 650 / 530" in page.main
    again = text_of(counter.client.get(f"{order}/pieces/1/ticket.pdf").content)
    assert "Version 2" in again
    assert "replaces the one printed 10:30" in again

    # A frame that the customer brings is reglazed: no rails, glass by its rebate.
    page = send(counter, "/quotes/new", "/quotes", customer="Ben Alder", **fields(REGLAZED))
    assert "399 × 299" in page.main
    assert "5.97" in page.main
    page = send(counter, "/orders/2", "/orders/2/take", deposit="", due="2026-12-10")
    ticket = text_of(counter.client.get("/orders/2/pieces/1/ticket.pdf").content)
    assert "402 × 302 measured" in ticket.replace("\n", " ")
    assert "rails" not in ticket

    # An object in a box stands inside its spacers.
    box = BOX | {"frames.0.material": "D-40", "artwork.title": "Fan"}
    page = send(counter, "/quotes/new", "/quotes", customer="Cato Wren", **fields(box))
    assert "34.5 of 40 mm in the rebate" in page.main
