"""What the machine refuses: a full disk, a file that cannot be written, the parts that a PDF takes."""

import errno
import os
from collections.abc import Iterator
from importlib import import_module
from types import ModuleType

import pytest
from sqlalchemy import text
from starlette.testclient import TestClient

from app.documents.kit import pdf
from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from app.web.app import create_app
from app.web.papers import routes as documents
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW, OWN_ADDRESS
from tests.web.shown import Counter, Shown

NOTES = "Rings on Mondays.\nBrings <large> & old prints. " * 30
CUSTOMER = {"name": "Amber Quill", "notes": NOTES}


def tell_writers(store: Store, pragma: str) -> None:
    """Set the one connection of the writers."""
    with store.writing() as work:
        work.session.execute(text(f"PRAGMA {pragma}"))


@pytest.fixture
def full(stocked: Store) -> Iterator[Store]:
    """A shop whose disk has no room for another page of the database."""
    with stocked.writing() as work:
        pages = work.session.execute(text("PRAGMA page_count")).scalar_one()
        free = work.session.execute(text("PRAGMA freelist_count")).scalar_one()
    tell_writers(stocked, f"max_page_count = {pages - free}")
    yield stocked
    tell_writers(stocked, "max_page_count = 4294967294")


@pytest.fixture
def order(stocked: Store) -> str:
    """The address of a saved quote."""
    act = Stamp(who="", now=NOW)
    return (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, act)}"
    )


def names(store: Store) -> list[str]:
    with store.reading() as work:
        return [row.name for row in work.customers.listed().rows]


def until_full(counter: Counter, path: str) -> tuple[Shown, int]:
    """The first answer that says there is no room left, and how many were kept before it."""
    for kept in range(60):
        answer = counter.post(path, CUSTOMER)
        if answer.status != 303:
            return answer, kept
    raise AssertionError("the disk was never full")


# Source: RFC 4918, 11.5: 507, Insufficient Storage.
def test_a_full_disk_is_said_and_nothing_is_lost(counter: Counter, full: Store) -> None:
    refused, kept = until_full(counter, "/customers?from=desk")
    assert (refused.status, refused.heading) == (507, "The disk is full")
    assert f"the disk that holds {full.path} is full. Make room on it" in refused.main
    assert "could not be read" not in refused.main
    assert names(full) == ["Amber Quill"] * kept
    again = refused.form("/customers?from=desk")
    assert again == CUSTOMER
    tell_writers(full, "max_page_count = 4294967294")
    assert counter.post("/customers?from=desk", again).status == 303
    assert names(full) == ["Amber Quill"] * (kept + 1)


def test_while_the_disk_is_full_pages_are_still_given(counter: Counter, full: Store) -> None:
    refused, _ = until_full(counter, "/customers")
    assert refused.status == 507
    assert counter.get("/customers").status == 200
    assert counter.get("/").status == 200
    assert full.current_shop() is not None


def test_a_file_that_cannot_be_written_is_said_with_what_was_typed(
    counter: Counter, stocked: Store
) -> None:
    tell_writers(stocked, "query_only = ON")
    try:
        refused = counter.post("/customers", CUSTOMER)
    finally:
        with stocked.reading():
            stocked._writers.dispose()  # the next connection may write again
    assert (refused.status, refused.heading) == (503, "Nothing was saved")
    assert "it is read-only" in refused.main
    assert refused.form("/customers") == CUSTOMER
    assert names(stocked) == []


@pytest.mark.usefixtures("made_here")
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT])
def test_a_full_disk_met_outside_the_database_is_said_too(
    counter: Counter, order: str, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def refuse(*_args: object, **_more: object) -> bytes:
        raise OSError(number, os.strerror(number), "/somewhere/a file")

    monkeypatch.setattr(documents, "with_logo", refuse)
    page = counter.get(f"{order}/quote.pdf")
    assert (page.status, page.heading) == (507, "The disk is full")
    assert "the disk that holds /somewhere/a file is full" in page.main
    assert "Send it again" not in page.buttons()


@pytest.mark.usefixtures("made_here")
def test_any_other_refusal_of_the_system_is_a_bug(
    stocked: Store, order: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_args: object, **_more: object) -> bytes:
        raise OSError(errno.EMFILE, "Too many open files")

    monkeypatch.setattr(documents, "with_logo", refuse)
    app = create_app(stocked)
    with TestClient(app, base_url=OWN_ADDRESS, raise_server_exceptions=False) as client:
        answer = client.get(f"{order}/quote.pdf")
    assert answer.status_code == 500
    assert "Reference" in answer.text


@pytest.fixture
def without_pango(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    def fails(name: str) -> ModuleType:
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'")
        return import_module(name)

    pdf._engine.cache_clear()
    monkeypatch.setattr(pdf, "import_module", fails)
    yield
    pdf._engine.cache_clear()


@pytest.mark.usefixtures("without_pango", "made_here")
def test_without_pango_a_document_says_which_packages_are_missing(
    counter: Counter, order: str
) -> None:
    for path in (f"{order}/quote.pdf", f"{order}/pieces/1/ticket.pdf"):
        page = counter.get(path)
        assert (page.status, page.heading) == (503, "No PDF can be made here yet")
        assert "apt-get install libpango-1.0-0 libpangoft2-1.0-0" in page.main
        assert "could not be read" not in page.main
    assert counter.get(order).status == 200


@pytest.mark.usefixtures("made_here")
def test_a_full_disk_is_not_taken_for_a_missing_part(
    counter: Counter, order: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(name: str) -> ModuleType:
        raise OSError(errno.ENOSPC, "No space left on device")

    pdf._engine.cache_clear()
    monkeypatch.setattr(pdf, "import_module", fails)
    assert counter.get(f"{order}/quote.pdf").status == 507
    pdf._engine.cache_clear()
