"""The way to PDF: what a document may reach, and what is said where PDFs cannot be made."""

from collections.abc import Iterator
from importlib import import_module
from io import BytesIO
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from pypdf import PdfReader

from app.documents.kit import pdf
from app.documents.kit.pdf import (
    PageSetting,
    PdfUnavailable,
    StyleSheets,
    Unending,
    fit,
    static_file,
    to_pdf,
)

NO_SHEETS = StyleSheets(names=())


@pytest.mark.documents
@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/hostname",
        "FILE:///etc/hostname",
        "http://127.0.0.1:9/x.png",
        "https://shop.example/x.png",
        "ftp://shop.example/x.png",
        "bevelbook:../pyproject.toml",
        "bevelbook:/etc/hostname",
        "bevelbook:fonts/../../LICENSE",
        "bevelbook:css/base.css",
    ],
)
def test_a_document_reaches_no_address_and_no_file_of_the_machine(address: str) -> None:
    fetcher = pdf._engine().fetcher
    with pytest.raises(ValueError, match=r"disallowed protocol|no document may use"):
        fetcher.fetch(address)


@pytest.mark.documents
def test_a_document_reaches_what_it_carries_and_our_own_fonts() -> None:
    fetcher = pdf._engine().fetcher
    assert fetcher.fetch("data:text/plain,carried").read() == b"carried"
    font = fetcher.fetch("bevelbook:fonts/bevelbook-sans-400.woff2")
    assert font.read(4) == b"wOF2"  # signature of the WOFF 2.0 file format, W3C 2022


@pytest.mark.documents
def test_a_linked_file_is_not_embedded(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("the till is behind the clock")
    html = (
        '<html lang="en"><title>t</title>'
        f'<link rel="attachment" href="{secret.as_uri()}"><p>Nothing else.</p></html>'
    )
    made = PdfReader(BytesIO(to_pdf(html, NO_SHEETS)))
    assert dict(made.attachments) == {}


@pytest.mark.documents
def test_a_pdf_is_tagged_and_has_its_title_and_language() -> None:
    html = '<html lang="en"><title>A ticket</title><h1>Cut</h1><p>562</p></html>'
    made = PdfReader(BytesIO(to_pdf(html, NO_SHEETS)))
    assert made.metadata is not None
    assert made.metadata.title == "A ticket"
    catalogue: dict[str, Any] = dict(made.root_object)
    assert catalogue["/Lang"] == "en"
    assert catalogue["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in catalogue


@pytest.mark.documents
def test_several_documents_become_one_file_in_their_order() -> None:
    pages = ["<html lang=en><title>one</title>first", "<html lang=en><title>two</title>second"]
    made = PdfReader(
        BytesIO(pdf.joined([pdf.fit((PageSetting(html=page),), NO_SHEETS) for page in pages]))
    )
    assert [page.extract_text() for page in made.pages] == ["first", "second"]


def _lines(count: int, pages: int = 1) -> PageSetting:
    html = "<html lang=en><title>t</title>" + "<p>line</p>" * count
    return PageSetting(html=html, pages=pages)


@pytest.mark.documents
def test_the_first_setting_that_fits_is_taken_and_later_ones_are_not_made() -> None:
    def settings() -> Iterator[PageSetting]:
        yield _lines(200)
        yield _lines(3)
        raise AssertionError("this setting was not needed")

    assert len(pdf.fit(settings(), NO_SHEETS).pages) == 1


@pytest.mark.documents
def test_a_setting_that_is_made_for_several_pages_may_take_them() -> None:
    def settings() -> Iterator[PageSetting]:
        yield _lines(50)
        yield _lines(50, pages=2)
        raise AssertionError("this setting was not needed")

    assert len(pdf.fit(settings(), NO_SHEETS).pages) == 2


@pytest.mark.documents
def test_what_fits_in_no_way_is_set_over_the_fewest_pages() -> None:
    tries = (_lines(200), _lines(100), _lines(150))
    alone = [len(pdf.fit((each,), NO_SHEETS).pages) for each in tries]
    assert len(pdf.fit(tries, NO_SHEETS).pages) == min(alone) > 1


@pytest.mark.documents
def test_documents_are_set_in_the_vendored_faces() -> None:
    html = (
        '<html lang="en"><title>t</title><body style="font-family: Bevelbook Sans">'
        '<h1 style="font: 600 12pt Bevelbook Serif">Cut</h1><p>562</p><b style="font-weight:600">9</b>'
    )
    made = PdfReader(BytesIO(to_pdf(html, NO_SHEETS)))
    resources: Any = made.pages[0]["/Resources"]
    fonts = resources["/Font"]
    names = {fonts[key].get_object()["/BaseFont"].split("+")[1] for key in fonts}
    assert len(names) == 3
    assert all(name.startswith("Bevelbook") for name in names)


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


@pytest.mark.usefixtures("without_pango")
def test_without_pango_it_says_what_to_install() -> None:
    with pytest.raises(PdfUnavailable, match=r"apt-get install libpango-1\.0-0") as raised:
        to_pdf("<html lang=en><title>t</title>", NO_SHEETS)
    assert "libpangoft2-1.0-0 libharfbuzz-subset0" in raised.value.message
    assert raised.value.code == "pdf-unavailable"


def test_an_address_of_ours_names_a_static_file() -> None:
    path = static_file("bevelbook:fonts/bevelbook-sans-400.woff2?v=1")
    assert path.is_file()


def pages_of(count: int) -> str:
    body = '<p style="break-after: page">a page</p>' * (count - 1) + "<p>the last</p>"
    return f'<html lang="en"><head><title>Pages</title></head><body>{body}</body></html>'


@pytest.mark.documents
def test_a_layout_that_goes_on_too_long_is_given_up_for_the_next() -> None:
    tries = (PageSetting(html=pages_of(9)), PageSetting(html=pages_of(3), pages=3))
    assert len(fit(tries, NO_SHEETS, most=5).pages) == 3
    with pytest.raises(Unending, match="Choose a larger paper"):
        fit(tries[:1], NO_SHEETS, most=5)
    assert len(fit(tries[:1], NO_SHEETS, most=9).pages) == 9
