"""Documents at their addresses: what they are sent as, of which orders, and long after."""

from io import BytesIO

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from app.documents.kit.pdf import Unending
from app.services import price_book, quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.app import create_app
from app.web.papers import routes as documents
from tests.builders.worked import SHOP, TO_PAY, TYPED
from tests.web.conftest import NOW, OWN_ADDRESS
from tests.web.shown import Counter
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)

pytestmark = pytest.mark.documents


@pytest.fixture
def quote(stocked: Store) -> str:
    """The address of a saved quote of the worked piece."""
    return (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )


def text_of(counter: Counter, path: str) -> str:
    """The words of a document, as a browser is given it."""
    answer = counter.client.get(path)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    pages = PdfReader(BytesIO(answer.content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_a_quote_is_a_file_named_by_its_number(counter: Counter, quote: str) -> None:
    answer = counter.client.get(f"{quote}/quote.pdf")
    assert answer.headers["content-disposition"] == 'inline; filename="Q-2026-0001.pdf"'
    assert answer.headers["cache-control"] == "no-store"
    assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_a_quote_shows_the_price_and_nothing_of_the_shops_own(counter: Counter, quote: str) -> None:
    text = text_of(counter, f"{quote}/quote.pdf")
    assert TO_PAY in text
    assert "Harbour at dusk" in text
    for secret in ("23.00", "63.26", "60.71", "73 %"):
        assert secret not in text


def test_tickets_of_an_order_are_one_file(counter: Counter, quote: str) -> None:
    second = {**TYPED, "artwork.title": "Dunes", "version": counter.get(quote).fields["version"]}
    counter.go(f"{quote}/pieces", second | {"action": "save"})
    do(counter, quote, "take", deposit="")
    text = text_of(counter, f"{quote}/tickets.pdf")
    assert "Harbour at dusk" in text
    assert "Dunes" in text
    alone = text_of(counter, f"{quote}/pieces/2/ticket.pdf")
    assert "Dunes" in alone
    assert "Harbour at dusk" not in alone


def test_documents_outlive_the_materials_that_they_name(
    counter: Counter, stocked: Store, quote: str
) -> None:
    do(counter, quote, "take", deposit="")
    text_of(counter, f"{quote}/pieces/1/ticket.pdf")
    before = text_of(counter, f"{quote}/pieces/1/ticket.pdf")  # a copy, as the one after it
    for code in ("LIN-20", "M-101", "G-2"):
        price_book.remove(stocked, code, price_book.get(stocked, code).version)
    assert text_of(counter, f"{quote}/pieces/1/ticket.pdf") == before
    assert TO_PAY in text_of(counter, f"{quote}/quote.pdf")


@pytest.mark.parametrize(("phone_url", "there"), [(None, False), ("http://192.0.2.7:8027", True)])
def test_a_ticket_bears_the_code_of_its_page_only_where_phones_reach_it(
    stocked: Store, quote: str, phone_url: str | None, *, there: bool
) -> None:
    app = create_app(stocked, now=lambda: NOW, phone_url=phone_url)
    with TestClient(app, base_url=OWN_ADDRESS) as client:
        text = text_of(Counter(client), f"{quote}/pieces/1/ticket.pdf")
    assert "Q-2026-0001" in text
    assert (f"{quote}/pieces/1" in text) is there
    assert "no phone" not in text


@pytest.mark.parametrize(
    "path",
    ["/orders/9/quote.pdf", "/orders/9/tickets.pdf", "/orders/1/pieces/9/ticket.pdf"],
)
def test_a_document_of_nothing_is_not_found(counter: Counter, quote: str, path: str) -> None:
    assert counter.get(path).status == 404


def test_html_in_a_name_is_printed_as_it_was_typed(counter: Counter, stocked: Store) -> None:
    typed = {**TYPED, "artwork.title": "<b>Dusk</b> & dawn"}
    order = quotes.save_new(stocked, CustomerRequest(name="<i>Quill</i>"), typed, SHOP, ACT)
    text = text_of(counter, f"/orders/{order}/quote.pdf")
    assert "<b>Dusk</b> & dawn" in text
    assert "<i>Quill</i>" in text


@pytest.mark.usefixtures("made_here")
def test_a_document_that_never_ends_on_its_paper_says_what_to_do(
    counter: Counter, quote: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never_ends(*_args: object, **_more: object) -> bytes:
        raise Unending

    monkeypatch.setattr(documents, "with_logo", never_ends)
    page = counter.get(f"{quote}/quote.pdf")
    assert page.status == 409
    assert "Choose a larger paper" in page.main
    assert "could not be read" not in page.main
    assert page.links()["Choose another paper"] == "/settings/shop"
    assert counter.get("/settings/shop").fields["paper"] == "A4"
