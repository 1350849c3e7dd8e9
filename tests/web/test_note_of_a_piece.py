"""A note to a piece: typed with it, shown where it is worked, and no reason to price anew."""

from dataclasses import replace

import pytest

from app.services import price_book, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TO_PAY, TYPED
from tests.documents.reading import text_of
from tests.web.conftest import NOW
from tests.web.shown import Counter
from tests.web.test_orders import do, record

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
NOTE = "Keep the old label from the back"


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    """An order of one piece with a note, 103.51."""
    typed = {**TYPED, "note": NOTE}
    saved = quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), typed, SHOP, ACT)
    do(counter, f"/orders/{saved}", "take")
    return f"/orders/{saved}"


def test_it_stands_on_the_order_and_at_the_bench(counter: Counter, order: str) -> None:
    assert NOTE in counter.get(order).words("piece-card")
    assert NOTE in counter.get(f"{order}/pieces/1").main
    assert counter.get(f"{order}/pieces/1/change").fields["note"] == NOTE


@pytest.mark.documents
@pytest.mark.poppler
def test_it_stands_on_the_ticket_and_not_on_the_customers_paper(
    counter: Counter, order: str
) -> None:
    assert NOTE in text_of(counter.client.get(f"{order}/pieces/1/ticket.pdf").content)
    assert NOTE not in text_of(counter.client.get(f"{order}/quote.pdf").content)


def test_another_note_leaves_the_price_as_agreed(
    counter: Counter, stocked: Store, order: str
) -> None:
    """The price book was raised since, so pricing anew would show."""
    moulding = price_book.get(stocked, TYPED["frames.0.material"])
    dearer = replace(moulding.value, cost=moulding.value.cost * 2)
    price_book.save(stocked, dearer.code, dearer, moulding.version, ACT)
    form = counter.get(f"{order}/pieces/1/change").form(f"{order}/pieces/1")
    page = counter.go(f"{order}/pieces/1", form | {"note": "None kept", "action": "save"})
    assert page.words("price") == TO_PAY
    assert "None kept" in page.words("piece-card")
    assert "note changed, price as agreed" in record(page)


def test_a_note_that_is_too_long_is_refused_and_kept_as_typed(counter: Counter, order: str) -> None:
    form = counter.get(f"{order}/pieces/1/change").form(f"{order}/pieces/1")
    form |= {"note": "x" * 1001, "action": "save"}
    answer = counter.post(f"{order}/pieces/1", form)
    assert answer.status == 422
    assert "1000" in answer.error("note")
    assert answer.fields["note"] == "x" * 1001
