"""A long document is laid out piece after piece, and says the same as one that is laid out whole."""

from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from app.documents.kit import pdf
from app.documents.kit.pdf import TOLD, PageSetting, StyleSheets, fit, in_parts, joined

pytestmark = pytest.mark.documents


def page(number: int) -> Any:
    html = (
        f'<!doctype html><html lang="en"><head><title>Piece {number}</title></head><body>'
        f"<h1>Piece {number}</h1><p>Cut {number} mm.</p></body></html>"
    )
    return fit((PageSetting(html=html),), StyleSheets(names=("document",)))


def linked(number: int) -> Any:
    """A page whose words look like a reference of a PDF, with a link and a heading below another."""
    html = (
        f'<!doctype html><html lang="en"><head><title>Piece {number}</title></head><body>'
        f"<h1>Piece (3 0 R) {number}</h1><h2>Mat {number} – 7 0 R</h2>"
        f'<p>See <a href="https://example.org/{number}">here</a>.</p></body></html>'
    )
    return fit((PageSetting(html=html),), StyleSheets(names=("document",)))


@pytest.fixture
def two_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "PAGES_AT_ONCE", 2)


@pytest.mark.usefixtures("two_at_once")
def test_parts_become_one_document_with_all_pages_tags_and_outlines() -> None:
    reader = PdfReader(BytesIO(in_parts((page(number) for number in range(1, 6)), 5)))
    assert [each.extract_text().replace("\n", "") for each in reader.pages] == [
        f"Piece {number}Cut {number} mm." for number in range(1, 6)
    ]
    assert [each["/StructParents"] for each in reader.pages] == [0, 1, 2, 3, 4]
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Piece 1"
    tree = root["/StructTreeRoot"]
    (document,) = tree["/K"]
    parts = [joined([page(number) for number in numbers]) for numbers in ((1, 2), (3, 4), (5,))]
    assert len(document["/K"]) == sum(_elements(part) for part in parts)
    for element in document["/K"]:
        assert element.get_object()["/P"].get_object() == document.get_object()
    numbers = list(tree["/ParentTree"]["/Nums"])
    assert numbers[::2] == [0, 1, 2, 3, 4]
    for elements, at in zip(numbers[1::2], reader.pages, strict=True):
        for element in elements.get_object():
            assert element.get_object()["/Pg"] == at
    assert [entry.title for entry in reader.outline] == [f"Piece {n}" for n in range(1, 6)]  # type: ignore[union-attr]


def _elements(part: bytes) -> int:
    root: Any = PdfReader(BytesIO(part)).trailer["/Root"]
    return len(root["/StructTreeRoot"]["/K"][0]["/K"])


@pytest.mark.usefixtures("two_at_once")
def test_links_and_words_that_look_like_references_stay_whole_in_parts() -> None:
    reader = PdfReader(BytesIO(in_parts((linked(number) for number in range(1, 6)), 5)))
    whole = PdfReader(BytesIO(joined([linked(number) for number in range(1, 6)])))
    assert _titles(reader.outline) == _titles(whole.outline)
    assert _titles(reader.outline)[:2] == ["Piece (3 0 R) 1", ["Mat 1 – 7 0 R"]]
    root: Any = reader.trailer["/Root"]
    numbers = list(root["/StructTreeRoot"]["/ParentTree"]["/Nums"])
    assert sorted(set(numbers[::2])) == numbers[::2]
    of = dict(zip(numbers[::2], numbers[1::2], strict=True))
    for number, each in enumerate(reader.pages, 1):
        (note,) = each["/Annots"]
        link: Any = note.get_object()
        assert link["/A"]["/URI"] == f"https://example.org/{number}"
        element = of[link["/StructParent"]].get_object()
        assert element["/S"] == "/Link"
        assert element["/Pg"] == each
        for piece in of[each["/StructParents"]].get_object():
            assert piece.get_object()["/Pg"] == each


def _titles(outline: Any) -> list[Any]:
    return [_titles(each) if isinstance(each, list) else each.title for each in outline]


def test_parts_take_hardly_more_room_than_the_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = joined([page(number) for number in range(1, 25)])
    monkeypatch.setattr(pdf, "PAGES_AT_ONCE", 12)
    parts = in_parts((page(number) for number in range(1, 25)), 24)
    assert len(parts) < 2 * len(whole)  # the faces are in each part once


@pytest.mark.usefixtures("two_at_once")
def test_a_long_document_is_written_part_by_part_and_tells_how_far_it_is() -> None:
    told: list[tuple[int, int]] = []
    token = TOLD.set(lambda done, of: told.append((done, of)))
    try:
        made = in_parts((page(number) for number in range(1, 6)), 5)
    finally:
        TOLD.reset(token)
    assert told == [(1, 5), (2, 5), (3, 5), (4, 5), (5, 5)]
    assert len(PdfReader(BytesIO(made)).pages) == 5


def test_a_short_document_is_written_as_before() -> None:
    assert len(in_parts((page(number) for number in (1, 2)), 2)) == len(joined([page(1), page(2)]))
